import { describe, expect, test } from "vitest";
import { analyse } from "../../../src/protocols/analyse.ts";
import type { Analysis, FindingAction } from "../../../src/protocols/Analysis.ts";
import { parseAdjust } from "../../../src/protocols/parseAdjust.ts";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import { judge, verdictOf } from "../../../src/quality/judge.ts";
import type { Facts } from "../../../src/quality/Facts.ts";
import { RULES } from "../../../src/quality/rules.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { settingsFrom } from "../../../src/settings/settingsFrom.ts";
import type { SyntheticOptions } from "../../../src/synthetic/SyntheticOptions.ts";
import { joinTrials } from "../../../src/synthetic/joinTrials.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import type { Plate, Trace } from "../../../src/trace/Trace.ts";

const CLEAN = { noise: 0.5, sway: 0.5 };
/** A trial of the protocol's test; the plates may be changed before the analysis. */
function analysed(protocol: string, options: Omit<SyntheticOptions, "test"> = {}, adjust = "", change: (trace: Trace) => Trace = (trace) => trace, settings = DEFAULT_SETTINGS): Analysis {
  const asked = parseProtocol(protocol);
  const { trace } = syntheticTrial({ test: asked.test, ...options, faults: { ...CLEAN, ...options.faults } });
  return analyse(change(trace), asked, settings, parseAdjust(adjust));
}
const withForce = (change: (force: Float64Array, plate: Plate) => void) => (trace: Trace): Trace => ({
  ...trace,
  plates: trace.plates.map((plate) => {
    const force = plate.force.slice();
    change(force, plate);
    return { ...plate, force };
  }),
});
/** Adds a gentle wave to the stand before the movement. */
const wave = (newtons: number, hertz: number, seconds: number) => withForce((force) => {
  for (let i = 0; i < seconds * 1000; i++) force[i] += newtons * Math.sin(2 * Math.PI * hertz * i * 0.001);
});
/** A force that rises slowly through the first seconds, as of someone leaning off a rail. */
const leaning = (newtons: number, seconds: number) => withForce((force) => {
  for (let i = 0; i < seconds * 1000; i++) force[i] -= newtons * (1 - i / (seconds * 1000));
});

/** Two seconds of standing and a fast squat before a squat jump that is not held. */
function standingFirst(trace: Trace): Trace {
  const lead = 2600;
  return {
    ...trace,
    plates: trace.plates.map(({ role, force }) => {
      const longer = new Float64Array(lead + force.length);
      const weight = force[0]!;
      // Down and up again by one sine of half a body weight: it ends at rest, lower.
      for (let i = 0; i < lead; i++) longer[i] = weight * (1 - (i < 2000 ? 0 : 0.5 * Math.sin((2 * Math.PI * (i - 2000)) / 600)));
      longer.set(force, lead);
      return { role, force: longer };
    }),
  };
}

type Row = [rule: string, kase: string | undefined, action: FindingAction, () => Analysis];
const ROWS: readonly Row[] = [
  ["Q1", undefined, "look", () => analysed("CMJ", {}, "", wave(7, 3, 1.7))],
  ["Q1", "remove", "look", () => analysed("CMJ", {}, "", wave(14, 3, 1.7))],
  ["Q1", "drift", "look", () => analysed("CMJ", {}, "", leaning(9, 1.7))],
  ["Q2", undefined, "look", () => analysed("CMJ", { mass: 75 }, "mass=72")],
  ["Q2", "missing", "look", () => analysed("CMJ", { mass: 75, load: 20 }, "mass=75")],
  ["Q2", "notChecked", "not checked", () => analysed("CMJ")],
  ["Q3", undefined, "corrected", () => analysed("CMJ", { faults: { offset: [9, -2] } })],
  ["Q3", "notRemoved", "look", () => analysed("CMJ", { faults: { offset: [9, -2] } }, "", undefined, settingsFrom([["zero-correction", "none"]]))],
  ["Q3", "notChecked", "not checked", () => analysed("CMJ", { faults: { zeroedBelow: 12 } })],
  ["Q4", undefined, "corrected", () => analysed("CMJ", { faults: { drift: [1, 0.6] } })],
  ["driftSides", undefined, "note", () => analysed("CMJ", { faults: { drift: [1, 0.6] } })],
  ["Q4", "notChecked", "not checked", () => analysed("CMJ", { quietAfter: 0.1 })],
  ["Q5", undefined, "look", () => analysed("CMJ", { faults: { clip: 800 } })],
  ["Q6", "low", "note", () => analysed("CMJ", { rate: 250 })],
  ["Q6", "veryLow", "look", () => analysed("CMJ", { rate: 100 })],
  ["Q7", undefined, "look", () => analysed("CMJ", { faults: { cutStart: 1.8 } })],
  ["Q7", "moving", "look", () => analysed("CMJ", { faults: { cutStart: 1.8 } }, "bodyWeight=735.5")],
  ["shortWeighing", undefined, "look", () => analysed("CMJ", { quietBefore: 0.8 })],
  ["bodyWeightGiven", undefined, "note", () => analysed("CMJ", {}, "bodyWeight=735.5")],
  ["eventMoved", undefined, "note", () => analysed("CMJ", {}, "onset=1.72")],
  ["filtered", undefined, "note", () => analysed("CMJ", {}, "", undefined, settingsFrom([["filter", "low-pass"]]))],
  ["Q8", undefined, "leave out", () => analysed("CMJ", {}, "", (trace) => ({ ...trace, plates: [{ role: "total", force: new Float64Array(4000).fill(700) }] }))],
  ["Q8", "short", "leave out", () => analysed("CMJ", { height: 0.1 }, "", undefined, settingsFrom([["q8-flight-shortest", 0.3]]))],
  // By hand: 0.0046 m is a flight of 61 ms.
  ["Q8", "short", "leave out", () => analysed("CMJ", { height: 0.0046, shape: { peakVelocity: 0.4 } })],
  ["noLanding", undefined, "look", () => analysed("CMJ", { faults: { cutEnd: 2.7 } })],
  ["recordEndsEarly", undefined, "note", () => analysed("CMJ", { faults: { cutEnd: 3.1 } })],
  ["Q9", undefined, "note", () => analysed("CMJ", { landingLower: 0.06 })],
  ["Q9", "above", "look", () => analysed("CMJ", { landingLower: 0.11 })],
  ["Q9", "below", "look", () => analysed("CMJ", {}, "bodyWeight=729.5")],
  ["Q9", "notChecked", "not checked", () => analysed("CMJ", { faults: { cutEnd: 2.7 } })],
  ["Q10", "notChecked", "not checked", () => analysed("CMJ", { quietAfter: 0.1 })],
  ["Q11", undefined, "leave out", () => analysed("SJ", { dip: 0.12 })],
  ["Q11", "small", "look", () => analysed("SJ", { dip: 0.06 })],
  ["Q11", "displacement", "leave out", () => analysed("SJ", { dip: 0.12 }, "", undefined, settingsFrom([["squat-dip-rule", "displacement"], ["squat-dip-depth", 0.003]]))],
  ["Q12", undefined, "look", () => analysed("SJ", {}, "", wave(13, 3, 2))],
  ["Q12", "short", "look", () => analysed("SJ", { quietBefore: 0.4 }, "", standingFirst)],
  ["Q12", "remove", "look", () => analysed("SJ", {}, "", wave(32, 3, 2))],
  ["Q13", undefined, "leave out", () => analysed("DJ drop=0.30", {}, "", withForce((force) => force.fill(343, 0, 800)))],
  ["Q14", undefined, "leave out", () => analysed("DJ drop=0.30", {}, "", withForce((force) => {
    const at = force.findIndex((f) => f > 100);
    force.fill(0, at + 25, at + 38);
  }))],
  ["Q14", "split", "look", () => analysed("DJ drop=0.30", {}, "", withForce((force, { role }) => {
    const at = force.findIndex((f) => f > 100);
    if (role === "left") force.fill(0, at - 5, at + 27);
  }))],
  ["Q14", "splitRemove", "look", () => analysed("DJ drop=0.30", {}, "", withForce((force, { role }) => {
    const at = force.findIndex((f) => f > 100);
    if (role === "left") force.fill(0, at - 5, at + 55);
  }))],
  ["Q14", "notChecked", "not checked", () => analysed("DJ drop=0.30", { plates: "total" })],
  ["Q15", undefined, "note", () => analysed("DJ drop=0.30", { drop: 0.27 })],
  ["Q15", "look", "look", () => analysed("DJ drop=0.45", { drop: 0.27 })],
  ["Q15", "notChecked", "not checked", () => analysed("DJ")],
  ["Q16", undefined, "note", () => analysed("DJ drop=0.30", { contactTime: 0.32 })],
  ["Q17", undefined, "look", () => analysed("DJ drop=0.30", { quietAfter: 0.75 })],
  ["Q17", "notAvailable", "look", () => analysed("DJ drop=0.30", { faults: { cutEnd: 2 } }, "bodyWeight=686.5")],
  ["Q17", "none", "look", () => analysed("DJ drop=0.30", { faults: { cutEnd: 2 } })],
  ["dropRoute", undefined, "note", () => analysed("DJ drop=0.30", {}, "", undefined, settingsFrom([["drop-velocity", "two plates"]]))],
  ["boxHeight", undefined, "note", () => analysed("DJ drop=0.30", {}, "", undefined, settingsFrom([["drop-velocity", "box"]]))],
  ["notSpringLike", undefined, "note", () => analysed("DJ drop=0.30")],
  ["Q18", undefined, "look", () => analysed("RH", { hops: { takeoffVelocities: [2.5, 2.4, 2.4, 2.4], contactTimes: [0.2, 0.2, 0.2] } })],
  ["Q18", "dropped", "look", () => analysed("RH", {}, "", undefined, settingsFrom([["hop-contact-limit", 0.25]]))],
  ["Q18", "none", "leave out", () => analysed("RH", { hops: { takeoffVelocities: [2.5, 2.4, 2.4], contactTimes: [0.3, 0.3] } }, "", undefined, settingsFrom([["hop-contact-limit", 0.25]]))],
  ["Q19", undefined, "look", () => analysed("IMTP", { mass: 80, pull: { pretension: 90 } }, "bodyWeight=784.5")],
  ["Q19", "restless", "look", () => analysed("IMTP", {}, "", wave(9, 3, 1.7))],
  ["Q19", "remove", "look", () => analysed("IMTP", {}, "", wave(19, 3, 1.7))],
  ["Q19", "dip", "look", () => analysed("IMTP", {}, "", withForce((force) => {
    for (let i = 1700; i < 1790; i++) force[i] -= 30 * Math.sin((Math.PI * (i - 1700)) / 90);
  }))],
  ["Q19", "atEnd", "look", () => analysed("IMTP", { pull: { timeConstant: 0.6 }, faults: { cutEnd: 3.5 } })],
  ["Q19", "notChecked", "not checked", () => analysed("IMTP")],
  ["noPull", undefined, "leave out", () => analysed("IMTP", {}, "", (trace) => ({ ...trace, plates: [{ role: "total", force: new Float64Array(4000).fill(700) }] }))],
  ["Q21", "notChecked", "not checked", () => analysed("CMJ")],
  ["plateDelay", "notChecked", "not checked", () => analysed("CMJ")],
  ["alreadyFiltered", "notChecked", "not checked", () => analysed("IMTP")],
  ["Q22", undefined, "look", () => analysed("CMJ", { leftShare: 0.63 })],
  ["Q23", undefined, "leave out", () => analysed("CMJ limb=left", { leftShare: 0.9 })],
  ["otherFootLands", undefined, "note", () => analysed("CMJ limb=left", { leftShare: { quiet: 1, unweighting: 1, braking: 1, propulsion: 1, flight: 1, landing: 0.5, recovery: 0.5, after: 0.5 } })],
  ["severalPulls", undefined, "note", () => {
    const { trace } = syntheticTrial({ test: "IMTP", faults: CLEAN });
    return analyse(joinTrials([trace, trace]), { test: "IMTP" }, DEFAULT_SETTINGS);
  }],
  ["severalJumps", undefined, "note", () => {
    const jumps = [0.2, 0.3].map((height) => syntheticTrial({ test: "CMJ", height, faults: CLEAN }).trace);
    return analyse(joinTrials(jumps), { test: "CMJ" }, DEFAULT_SETTINGS);
  }],
  ["noLowest", undefined, "leave out", () => analysed("CMJ", {}, "", () => syntheticTrial({ test: "SJ", faults: CLEAN }).trace)],
  ["Q24", undefined, "look", () => analysed("CMJ", { faults: { landingOnPlate: 0.4 } })],
  ["Q24", "standing", "look", () => analysed("CMJ", { faults: { landingOnPlate: 0.9 } })],
  ["Q24", "notChecked", "not checked", () => analysed("CMJ", { quietAfter: 0.1 })],
  ["threshold", undefined, "note", () => analysed("CMJ", { faults: { ringing: { amplitude: 30, frequency: 37 } } })],
  ["thresholdCut", undefined, "note", () => analysed("CMJ", { plates: "total", faults: { zeroedBelow: 28 } })],
  ["onsetLimit", undefined, "look", () => analysed("CMJ", {}, "", wave(9, 30, 1.7))],
];

describe("the rules of one trial", () => {
  test.each(ROWS)("%s %s: %s", (rule, kase, action, make) => {
    const { findings } = make();
    const found = findings.filter((finding) => finding.rule === rule && finding.values["case"] === kase);
    expect(found.map((finding) => finding.action), JSON.stringify(findings.map(({ rule, values }) => [rule, values]))).toContain(action);
    for (const { message } of found) {
      expect(message.length).toBeGreaterThan(20);
      expect(message).not.toMatch(/unknown value|undefined|NaN|[{}]/);
    }
  });

  test("say nothing of a clean jump but what one trial cannot tell", () => {
    for (const protocol of ["CMJ", "SJ"]) {
      expect(analysed(protocol).findings.filter(({ action }) => action !== "not checked")).toEqual([]);
    }
  });

  test("are each named once", () => {
    expect(new Set(RULES.map(({ id }) => id)).size).toBe(RULES.length);
  });

  test("never stop the computing: a trial to leave out still has its numbers", () => {
    const { verdict, metrics } = analysed("SJ", { dip: 0.12 });
    expect(verdict).toBe("leave out");
    expect(metrics.get("jumpHeight")!.value).toBeGreaterThan(0.2);
  });

  test("take out groups of metrics, with the rule's sentence as the reason", () => {
    const { metrics, missing, findings } = analysed("CMJ", {}, "", wave(14, 3, 1.7));
    const removed = findings.find(({ removes }) => removes.includes("V"))!;
    expect(metrics.has("jumpHeightTakeoffVelocity")).toBe(false);
    expect(missing.get("jumpHeightTakeoffVelocity")).toBe(removed.message);
    expect(metrics.has("jumpHeightFlightTime")).toBe(true);
    expect(metrics.has("peakForce")).toBe(true);
  });

  test("take out what a clipped push spoils, and nothing that rests on times", () => {
    const { metrics } = analysed("CMJ", { faults: { clip: 800 } });
    for (const id of ["peakForce", "peakForceLeft", "jumpHeightTakeoffVelocity", "peakPower"]) expect(metrics.has(id), id).toBe(false);
    for (const id of ["flightTime", "jumpHeightFlightTime", "bodyWeight"]) expect(metrics.has(id), id).toBe(true);
  });
});

describe("judge", () => {
  const facts = (more: Partial<Facts>): Facts => ({ test: "CMJ", rate: 1000, stance: "stand", ...more });
  const rulesOf = (more: Partial<Facts>): string[] => judge(facts(more), DEFAULT_SETTINGS).filter(({ action }) => action !== "not checked").map(({ rule, action, values }) => `${rule}${values["case"] ?? ""} ${action}`);

  // Limits by hand for 700 N: 1 % is 7 N, 2 % is 14 N; for a child of 300 N the floors of 5 and 10 N count.
  test.each([
    [700, 6.9, []],
    [700, 7.1, ["Q1 look"]],
    [700, 14.1, ["Q1remove look"]],
    [300, 4.9, []],
    [300, 5.1, ["Q1 look"]],
    [300, 10.1, ["Q1remove look"]],
  ] as const)("weighing %d N with %d N of movement", (bodyWeight, weighingSway, expected) => {
    expect(rulesOf({ bodyWeight, weighingSway, weighingHalf: 0 })).toEqual(expected);
  });

  // 10 % and 20 % of a small height, 2 and 4 cm of a larger one.
  test.each([
    [0.3, 0.019, []],
    [0.3, 0.021, ["Q9 note"]],
    [0.3, 0.041, ["Q9above look"]],
    [0.3, -0.014, []],
    [0.3, -0.016, ["Q9below look"]],
    [0.12, 0.013, ["Q9 note"]],
    [0.12, 0.025, ["Q9above look"]],
  ] as const)("a height of %d m with %d m between the methods", (heightVelocity, heightDifference, expected) => {
    expect(rulesOf({ heightVelocity, heightDifference })).toEqual(expected);
  });

  test.each([
    [0.009, []],
    [0.011, ["Q10 look"]],
    [-0.021, ["Q10remove look"]],
  ] as const)("a velocity at the end that stands for %d m", (endVelocityHeight, expected) => {
    expect(rulesOf({ endVelocity: 0.03, endVelocityHeight })).toEqual(expected);
  });

  test("a way down that is nearly a fall, and no take-off: no flight, not a short one", () => {
    const { findings } = analysed("CMJ", { faults: { cutEnd: 2.4 } }, "", withForce((force) => force.fill(5, 1850, 1910)));
    expect(findings.filter(({ rule }) => rule === "Q8").map(({ values }) => values["case"])).toEqual([undefined]);
  });

  test("too much tension before a pull asks for a look, and takes nothing away", () => {
    const { findings, metrics } = analysed("IMTP", { mass: 80, pull: { pretension: 90 } }, "bodyWeight=784.5");
    expect(findings.find(({ rule }) => rule === "Q19")).toMatchObject({ action: "look", removes: [] });
    for (const id of ["force100ms", "rfd0to200", "impulse0to200", "peakForce"]) expect(metrics.has(id), id).toBe(true);
  });

  test("orders findings by severity, and calls the worst one the verdict", () => {
    const findings = judge(facts({ bodyWeight: 700, weighingSway: 8, weighingHalf: 0, pushShare: 1.1, bridged: 2 }), DEFAULT_SETTINGS);
    expect(findings.map(({ action }) => action).filter((action, k, all) => all.indexOf(action) === k)).toEqual(["leave out", "look", "note", "not checked"]);
    expect(verdictOf(findings)).toBe("leave out");
    expect(verdictOf([])).toBe("keep");
  });
});
