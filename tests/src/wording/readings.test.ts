import { describe, expect, test } from "vitest";
import { combineTests } from "../../../src/sessions/combineTests.ts";
import { loadProfile } from "../../../src/sessions/loadProfile.ts";
import { sideHistory } from "../../../src/sessions/sideHistory.ts";
import { asymmetryVerdict } from "../../../src/statistics/asymmetryVerdict.ts";
import { baselineBand } from "../../../src/statistics/baselineBand.ts";
import { dropHeightProfile } from "../../../src/statistics/dropHeightProfile.ts";
import { individualChange } from "../../../src/statistics/individualChange.ts";
import { sideRule, type SideRule } from "../../../src/statistics/sideRule.ts";
import { READINGS } from "../../../src/wording/en/readings.ts";
import {
  readArmSwing,
  readAsymmetry,
  readBaseline,
  readBilateralIndex,
  readChange,
  readDropProfile,
  readDynamicStrength,
  readEccentricUtilisation,
  readLoadProfile,
  readReactiveStrength,
  readReliability,
} from "../../../src/wording/readings.ts";
import type { Reading } from "../../../src/wording/readings.ts";

const cm = { name: "Jump height", unit: "cm", better: "higher" } as const;
const IMPERIAL = { m: { unit: "in", factor: 1 / 0.0254 }, s: { unit: "ms", factor: 1000 }, kg: { unit: "lb", factor: 1 / 0.45359237 } };
const newtons = { name: "Peak force", unit: "N", better: "higher" } as const;
/** A result whose uncertainty comes from a typical error known exactly, so that limits use the normal quantile. */
const part = (value: number, u?: number, count?: number) => ({ value, u, count, degreesOfFreedom: Infinity });
const eur = (cmj: number, sj: number, u?: number) => combineTests("eccentricUtilisation", [part(cmj, u, 3), part(sj, u, 3)]);
const dsi = (jump: number, pull: number, u?: number, bodyWeight?: number) => combineTests("dynamicStrength", [part(jump, u, 3), part(pull, u, 1)], { bodyWeight });
const left = [812, 790, 805, 780, 813];
const right = [688, 705, 715, 690, 702];
const close = [740, 775, 815, 690, 760];
const sides = (l: number[], r: number[], history?: number[]) =>
  readAsymmetry(
    { verdict: asymmetryVerdict(l, r, "singleLeg"), formula: "Symmetry index", percentage: 6.7, history: history && sideHistory(history) },
    newtons,
  );
const byRule = (rule: SideRule) =>
  readAsymmetry(
    { verdict: asymmetryVerdict(left, right, "singleLeg"), formula: "Symmetry index", percentage: 6.7, rule: sideRule(rule, left.slice(0, 3), right.slice(0, 3), "singleLeg") },
    newtons,
  );
const change = (after: number, swc?: number, probabilities = false) =>
  readChange(
    { before: 36, after, change: individualChange(36, after, 0.8, { smallestWorthwhile: swc }), smallestWorthwhile: swc, probabilities },
    cm,
  );
const drops = [
  { nominalHeight: 0.2, height: 0.26, contactTime: 0.19, rsi: 1.37, count: 3 },
  { nominalHeight: 0.3, measuredHeight: 0.27, height: 0.31, contactTime: 0.19, rsi: 1.63, count: 3 },
  { nominalHeight: 0.45, height: 0.3, contactTime: 0.21, rsi: 1.43, count: 1 },
];
const slow = drops.map((point) => ({ ...point, contactTime: 0.3 }));
const history = [37.8, 38.4, 38.1, 37.5, 38.9, 38.2];

/** Every case of every reading, so that each sentence is made once. */
const EVERY: Readonly<Record<string, Reading>> = {
  "eur below": readEccentricUtilisation(eur(33, 36, 0.3), cm),
  "eur between": readEccentricUtilisation(eur(36.75, 35, 0.3), cm),
  "eur above": readEccentricUtilisation(eur(42, 35, 0.3), cm),
  "eur undecided": readEccentricUtilisation(eur(38, 35, 0.65), cm),
  augmentation: readEccentricUtilisation(combineTests("prestretchAugmentation", [part(42, 0.3, 3), part(35, 0.3, 3)]), cm),
  "eur without limits": readEccentricUtilisation(combineTests("eccentricUtilisation", [part(38, undefined, 1), part(35)]), cm),
  "dsi below": readDynamicStrength(dsi(1400, 2600, 15)),
  "dsi between": readDynamicStrength(dsi(1750, 2500, 15)),
  "dsi above": readDynamicStrength(dsi(2200, 2500, 15)),
  "dsi net": readDynamicStrength(dsi(2000, 2450, 15, 735.5)),
  "arms gain": readArmSwing(combineTests("armSwing", [part(44, 0.6, 3), part(38, 0.5, 3)]), cm),
  "arms loss": readArmSwing(combineTests("armSwing", [part(35, 0.6, 3), part(38, 0.5, 3)]), cm),
  "arms undecided": readArmSwing(combineTests("armSwing", [part(38.2, 0.6, 3), part(38, 0.5, 3)]), cm),
  deficit: readBilateralIndex(combineTests("bilateral", [part(2000, 20, 3), part(1150, 15, 3), part(1100, 15, 3)]), newtons),
  facilitation: readBilateralIndex(combineTests("bilateral", [part(2400, 20, 3), part(1100, 15, 3), part(1100, 15, 3)]), newtons),
  "bilateral without limits": readBilateralIndex(combineTests("bilateral", [part(2400), part(1100), part(1100)]), newtons),
  "rsi without squad": readReactiveStrength({ rsi: 1.2, unit: "m/s", height: 0.33, contactTime: 0.275 }),
  "rsi fast without squad": readReactiveStrength({ rsi: 2.6, unit: "", height: 0.33, contactTime: 0.2 }),
  "rsi long": readReactiveStrength({ rsi: 1.2, unit: "m/s", height: 0.33, contactTime: 0.275, squad: { heightTScore: 52, indexTScore: 38, n: 18 } }),
  "rsi low": readReactiveStrength({ rsi: 1.1, unit: "m/s", height: 0.2, contactTime: 0.19, squad: { heightTScore: 33, indexTScore: 38, n: 18 } }),
  "rsi both": readReactiveStrength({ rsi: 0.7, unit: "m/s", height: 0.2, contactTime: 0.29, squad: { heightTScore: 33, indexTScore: 31, n: 18 } }),
  "rsi neither": readReactiveStrength({ rsi: 1.9, unit: "m/s", height: 0.36, contactTime: 0.19, squad: { heightTScore: 58, indexTScore: 60, n: 18 } }),
  "sides noise": sides(left, close.map((value) => value + 40)),
  "sides real once": sides(left, right),
  "sides real, not steady": sides(left, right, [3, -2, 6.7]),
  "sides steady": sides(left, right, [-2, 3, 5, 6.7]),
  "sides right": readAsymmetry({ verdict: asymmetryVerdict(right, left, "bilateral"), formula: "Symmetry index", percentage: -6.7 }, newtons),
  "sides by variation": byRule("larger variation"),
  "sides by rank": byRule("rank test"),
  "sides equal": readAsymmetry({ verdict: asymmetryVerdict(left, [...left].reverse(), "singleLeg"), formula: "Symmetry index", percentage: 0 }, newtons),
  "change undecided": change(36.8),
  "change rise": change(39),
  "change fall": change(33),
  "change rise worthwhile": change(41, 1),
  "change fall worthwhile": change(31, 1),
  "change rise, size open": change(38, 1, true),
  "change fall, size open": change(34, 1, true),
  "change trivial": readChange({ before: 36, after: 36.1, change: individualChange(36, 36.1, 0.1), smallestWorthwhile: 1 }, { ...cm, better: "neither" }),
  "change most likely": change(42, 1, true),
  "change very likely": change(39.2, 1, true),
  "change possibly": change(37, 1, true),
  "change unlikely": change(36, 1.5, true),
  "change where less is better": readChange({ before: 0.25, after: 0.2, change: individualChange(0.25, 0.2, 0.005) }, { name: "Contact time", unit: "s", better: "lower" }),
  "baseline below": readBaseline(36.4, baselineBand(history), cm),
  "baseline above": readBaseline(41, baselineBand(history, { typicalError: 0.8 }), cm),
  "baseline inside": readBaseline(38, baselineBand(history), cm),
  "reliability groups": readReliability({ typicalError: 0.604, smallestWorthwhile: 0.984, minimalDetectable: 1.675 }, cm),
  "reliability person": readReliability({ typicalError: 0.2, smallestWorthwhile: 0.984, minimalDetectable: 0.55 }, cm),
  "reliability noisy": readReliability({ typicalError: 1.2, smallestWorthwhile: 0.984, minimalDetectable: 3.3 }, cm),
  "drop best": readDropProfile(dropHeightProfile(drops, { typicalError: 0.05 })),
  "drop undecided": readDropProfile(dropHeightProfile(drops, { typicalError: 0.3 })),
  "drop without error": readDropProfile(dropHeightProfile(drops)),
  "drop none": readDropProfile(dropHeightProfile(slow)),
  "drop only": readDropProfile(dropHeightProfile([drops[0], slow[1]], { typicalError: 0.1 })),
  "drop lower jump": readDropProfile(dropHeightProfile([drops[1], { ...drops[2], contactTime: 0.19 }], { typicalError: 0.05 })),
  "drop longer contact": readDropProfile(dropHeightProfile([drops[1], { ...drops[2], height: 0.32 }], { typicalError: 0.05 })),
  "load line": readLoadProfile(loadProfile([0, 20, 40, 60], [0.36, 0.29, 0.235, 0.19], 80, 0.4)),
  "load few": readLoadProfile(loadProfile([0, 20, 60], [0.36, 0.25, 0.22], 80, 0.4)),
};

describe("readings", () => {
  test.each(Object.entries(EVERY))("%s is whole sentences without holes", (_, { text, parts, verdictWord }) => {
    expect(text).not.toMatch(/[{}[\]]|undefined|NaN|Infinity|unknown value|-0(\.0+)?(?![\d.])/);
    for (const one of parts) {
      expect(one.text).toMatch(/^(\p{Lu}|\d)/u);
      expect(one.text).toMatch(/[.]$/);
    }
    expect(text).toBe(parts.map((one) => one.text).join(" "));
    expect(verdictWord.length).toBeLessThan(25);
  });

  test.each(Object.entries(EVERY))("%s shows components first and says what to look at next", (_, { parts }) => {
    expect(parts[0].role).toBe("components");
    expect(parts.map((one) => one.role)).toContain("reading");
    expect(parts.map((one) => one.role)).toContain("next");
  });

  test.each(Object.entries(EVERY))("%s neither diagnoses, predicts, prescribes nor commands training", (_, { text }) => {
    expect(text).not.toMatch(/injury risk|risk of|predict|diagnos|should|must|normal|abnormal|deficien/i);
    for (const sentence of text.split(/(?<=\.) /)) {
      if (/emphasis on|[Ww]ork on/.test(sentence)) expect(sentence).toMatch(/may be considered/);
    }
  });

  test("every sentence of the table is used by some reading", () => {
    const all = Object.values(EVERY).map((one) => `${one.text} ${one.verdictWord}`).join(" ");
    for (const [key, template] of Object.entries(READINGS)) {
      const longest = template.split(/\{[^}]*\}|[[\]]/).reduce((a, b) => (b.length > a.length ? b : a), "");
      expect(all, key).toContain(longest.trim());
    }
  });
});

describe("readEccentricUtilisation", () => {
  // Limits 1.033 to 1.142 by Fieller's equation for 38 (0.6) and 35 (0.7): they reach across 1.1 and not across 1.0.
  test("is undecided where the limits reach across a cut, and names that cut", () => {
    const { text, verdictWord } = readEccentricUtilisation(combineTests("eccentricUtilisation", [part(38, 0.6, 3), part(35, 0.7, 3)]), cm);
    expect(verdictWord).toBe("undecided");
    expect(text).toMatch(/Countermovement jump 38\.0 ± 0\.6 cm \(3 trials\); Squat jump 35\.0 ± 0\.7 cm/);
    expect(text).toMatch(/ratio 1\.086, 95 % limits 1\.033 to 1\.142\. Undecided: the limits reach across 1\.10\./);
  });

  test("names both cuts where the limits hold both", () => {
    expect(readEccentricUtilisation(eur(37, 35, 2), cm).text).toMatch(/across 1\.00 and 1\.10/);
  });

  test("reads an augmentation in per cent as it reads the ratio", () => {
    expect(EVERY.augmentation.verdictWord).toBe(EVERY["eur above"].verdictWord);
    expect(EVERY.augmentation.text).toMatch(/augmentation 20\.0 %.*lies above 10\.0 %/s);
  });

  test("takes other cuts", () => {
    expect(readEccentricUtilisation(eur(42, 35, 0.3), cm, { low: 1, high: 1.3 }).verdictWord).toBe("between");
  });

  test("offers the weak start from the squat beside good use of the countermovement", () => {
    expect(EVERY["eur above"].text).toMatch(/weak start from the held squat/);
  });

  test("says that a single trial is one observation", () => {
    expect(EVERY["eur without limits"].text).toMatch(/single trial.*without limits.*single observation/s);
  });
});

describe("readDynamicStrength", () => {
  test("says whether forces are gross or net, and asks whether the pull was maximal", () => {
    expect(EVERY["dsi above"].text).toMatch(/gross/);
    expect(EVERY["dsi net"].text).toMatch(/Body weight is taken off both/);
    for (const key of ["dsi above", "dsi between", "dsi below"]) expect(EVERY[key].text).toMatch(/if the pull was maximal/);
  });

  // By hand: 2000 / 2450 = 0.816 gross with limits above 0.80; net 0.7375 below it.
  test("can differ between gross and net of the same person", () => {
    expect(readDynamicStrength(dsi(2000, 2450, 5)).verdictWord).toBe("above");
    expect(readDynamicStrength(dsi(2000, 2450, 5, 735.5)).verdictWord).toBe("between");
  });
});

describe("readReactiveStrength", () => {
  test("names the part that holds the index down", () => {
    expect(["rsi long", "rsi low", "rsi both", "rsi neither", "rsi without squad"].map((key) => EVERY[key].verdictWord)).toEqual([
      "long contact",
      "low jump",
      "both parts",
      "neither part",
      "long contact",
    ]);
  });

  test("does not judge the height without a squad", () => {
    expect(EVERY["rsi without squad"].text).toMatch(/cannot be said/);
    expect(EVERY["rsi fast without squad"].text).toMatch(/index 2\.60\. The contact is fast/);
  });
});

describe("readAsymmetry", () => {
  test("needs a real difference and the same side in three sessions for a follow-up", () => {
    expect(["sides noise", "sides real once", "sides real, not steady", "sides steady"].map((key) => EVERY[key].verdictWord)).toEqual([
      "within noise",
      "real",
      "real",
      "worth follow-up",
    ]);
    expect(EVERY["sides steady"].text).toMatch(/3 sessions in a row: worth follow-up by the responsible clinician or coach/);
  });

  test("lets another rule decide and says how often that rule is wrong", () => {
    expect(EVERY["sides by variation"].text).toMatch(/3 trials a side calls equal sides different in 20 of 100/);
    expect(EVERY["sides by rank"].verdictWord).toBe("within noise");
    expect(byRule("interval").text).not.toMatch(/of 100 comparisons/);
  });

  test("keeps the sign and names the side", () => {
    expect(EVERY["sides right"].text).toMatch(/Symmetry index -6\.7 % \(right higher\)/);
    expect(EVERY["sides real once"].text).toMatch(/Symmetry index \+6\.7 % \(left higher\)/);
  });
});

describe("readChange", () => {
  // By hand: SE 0.8 sqrt(2) = 1.131, 90 % half-width 1.861.
  test("is undecided until the limits leave out no change", () => {
    expect(change(37.8).verdictWord).toBe("undecided");
    expect(change(37.9).verdictWord).toBe("rise");
  });

  test("a fall of a quantity where less is better is the better direction", () => {
    expect(EVERY["change where less is better"].text).toMatch(/fell.*better direction/);
    expect(EVERY["change fall"].text).toMatch(/worse direction/);
    expect(EVERY["change trivial"].text).not.toMatch(/direction/);
  });

  test("shows probabilities only when asked, with their assumption", () => {
    expect(EVERY["change rise, size open"].text).toMatch(/81 % rise.*equally likely beforehand/);
    expect(change(38, 1).text).not.toMatch(/equally likely/);
  });
});

describe("readBaseline", () => {
  test("says where the session lies, how often chance does the same, and that few sessions are few", () => {
    expect(EVERY["baseline below"].text).toMatch(/36\.4 cm; baseline 38\.1 cm \(n = 6 sessions\).*36\.8 to 39\.5 cm.*below the band.*one in 20.*6 sessions is unreliable/s);
    expect(EVERY["baseline above"].text).not.toMatch(/unreliable/);
  });
});

describe("readReliability", () => {
  test("does not call a test usable for one person because its error is below the worthwhile change", () => {
    expect(EVERY["reliability groups"].verdictWord).toBe("usable for groups");
    expect(EVERY["reliability groups"].text).toMatch(/one person's change needs more than 1\.68 cm|one person's change needs more than 1\.67 cm/);
  });
});

describe("readDropProfile", () => {
  test("names a best height only when it stands clear, and who should not drop", () => {
    expect(EVERY["drop best"].text).toMatch(/current best height is 0\.30 m.*index falls \(the contact grows longer and the jump gets lower\): higher boxes are not indicated now/);
    expect(EVERY["drop undecided"].text).toMatch(/cannot be told from that at 0\.20, 0\.45 m/);
    for (const key of ["drop best", "drop undecided", "drop none"]) expect(EVERY[key].text).toMatch(/licensed clinician decides first/);
  });
  test("prints heights and times in other units, and says the same otherwise", () => {
    const inOthers = readDropProfile(dropHeightProfile(drops, { typicalError: 0.05 }), 0.25, undefined, IMPERIAL);
    // By hand: 0.30 m / 0.0254 = 11.81 in.
    expect(inOthers.text).toMatch(/current best height is 11\.8 in/);
    expect(inOthers.parts[0].text).toMatch(/^7\.87 in box.*contact \d{3} ms, height \d+\.\d in /);
    expect(inOthers.verdictWord).toBe(EVERY["drop best"].verdictWord);
    expect(readDropProfile(dropHeightProfile(slow), 0.25, undefined, IMPERIAL).text).toContain("No contact was shorter than 250 ms");
  });
});

describe("readLoadProfile", () => {
  test("gives numbers, limits and points, and no verdict on training", () => {
    expect(EVERY["load line"].verdictWord).toBe("shown, not judged");
    expect(EVERY["load line"].text).toMatch(/zero velocity 43\.1 N\/kg \(42\.8 to 43\.4\).*no verdict on training/);
    expect(EVERY["load few"].text).toMatch(/no finite limits.*Fewer than four loads/s);
  });
  // By hand: 20 kg / 0.45359237 = 44.09 lb, 0.29 m / 0.0254 = 11.42 in.
  test("prints loads and heights in other units", () => {
    const { parts } = readLoadProfile(loadProfile([0, 20, 40, 60], [0.36, 0.29, 0.235, 0.19], 80, 0.4), undefined, IMPERIAL);
    expect(parts[0].text).toContain("44.1 lb: height 11.4 in, ");
    expect(parts[1].text).toBe(EVERY["load line"].parts[1].text);
  });
});
