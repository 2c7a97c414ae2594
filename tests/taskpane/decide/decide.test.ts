import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { settingsFrom } from "../../../src/settings/settingsFrom.ts";
import { dropChart } from "../../../taskpane/decide/charts.ts";
import { combineAthlete } from "../../../taskpane/decide/combineAthlete.ts";
import { dayFindings } from "../../../taskpane/decide/dayFindings.ts";
import { followAthlete } from "../../../taskpane/decide/followAthlete.ts";
import { dropProfilesOf, loadProfilesOf } from "../../../taskpane/decide/profilesOf.ts";
import { reportNames, reportOf } from "../../../taskpane/decide/reportOf.ts";
import { sessionResult, sessionsOf, typicalErrorsOf } from "../../../taskpane/decide/sessions.ts";
import { sidesOfAthlete } from "../../../taskpane/decide/sidesOfAthlete.ts";
import { squadOf } from "../../../taskpane/decide/squadOf.ts";
import { trial } from "./trials.ts";

const settings = settingsFrom([]);
const CMJ = "CMJ arms=hips";
const height = (athlete: string, date: string, metres: number, use: "keep" | "leave out" | "look" = "keep", protocol = CMJ) => trial(athlete, date, protocol, { jumpHeight: metres, "jumpHeight cm": 100 * metres }, use);

describe("sessionsOf", () => {
  test("puts like protocols together, however much of them was stated, and unlike ones apart", () => {
    const sessions = sessionsOf([height("Ida", "2026-03-01", 0.3), height("Ida", "2026-03-01", 0.31, "keep", "CMJ arms=hips limb=both"), height("Ida", "2026-03-01", 0.35, "keep", "CMJ arms=swing"), height("Ida", "2026-03-01", 0.2, "keep", "CMJ arms=hips load=20")]);
    expect(sessions.map((session) => [session.protocolText, session.trials.length])).toEqual([[CMJ, 2], ["CMJ arms=hips load=20", 1], ["CMJ arms=swing", 1]]);
  });
  test("never lets the times of a mat share a session with force plates", () => {
    const mat = trial("Ida", "2026-03-01", CMJ, { jumpHeight: 0.33 }, "keep", "mat");
    const sessions = sessionsOf([height("Ida", "2026-03-01", 0.3), mat]);
    expect(sessions.map((session) => [session.protocolText, session.instrument])).toEqual([[CMJ, "plate"], [`${CMJ} by=mat`, "mat"]]);
    // Two trials, one of each: neither gives the other a typical error.
    expect(typicalErrorsOf([height("Ida", "2026-03-01", 0.3), mat], "jumpHeight", CMJ, settings).squad).toBeUndefined();
    expect(squadOf([height("Ida", "2026-03-01", 0.3), mat], CMJ, "jumpHeight", settings).results.get("Ida")!.value).toBe(0.3);
  });
  // Law: no trial is lost or doubled, and dates never run backwards.
  test("holds every trial once, oldest day first", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.constantFrom("A", "B"), fc.constantFrom("2026-01-01", "2026-02-01"), fc.constantFrom(CMJ, "SJ arms=hips")), { maxLength: 20 }), (list) => {
        const sessions = sessionsOf(list.map(([athlete, date, protocol]) => height(athlete, date, 0.3, "keep", protocol)));
        expect(sessions.reduce((sum, session) => sum + session.trials.length, 0)).toBe(list.length);
        expect(sessions.map((session) => session.date)).toEqual(sessions.map((session) => session.date).sort());
      }),
    );
  });
});

describe("sessionResult", () => {
  test("is the mean of the first k valid trials; left-out ones count nowhere, and the count is said", () => {
    const [session] = sessionsOf([height("Ida", "d", 0.3), height("Ida", "d", 0.9, "leave out"), height("Ida", "d", 0.31), height("Ida", "d", 0.32), height("Ida", "d", 0.5)]);
    // By hand: the first three valid ones are 0.30, 0.31 and 0.32; SD 0.01, so u = 0.01 / sqrt(3).
    const result = sessionResult(session, "jumpHeight", settings)!;
    expect(result.value).toBeCloseTo(0.31, 12);
    expect(result.u).toBeCloseTo(0.01 / Math.sqrt(3), 12);
    expect(result).toMatchObject({ n: 3, short: false, leftOut: 1, degreesOfFreedom: 2 });
  });
  test("takes the typical error of the squad where it rests on more trials, also for a single trial", () => {
    const all = [height("Ida", "d", 0.3), ...["Noa", "Sam"].flatMap((name) => [height(name, "d", 0.3), height(name, "d", 0.31), height(name, "d", 0.32)])];
    const errors = typicalErrorsOf(all, "jumpHeight", CMJ, settings);
    // By hand: within each of two people SD 0.01, four degrees of freedom.
    expect(errors.squad!.value).toBeCloseTo(0.01, 12);
    const result = sessionResult(sessionsOf(all).find((session) => session.athlete === "Ida")!, "jumpHeight", settings, errors)!;
    expect(result).toMatchObject({ n: 1, short: true, degreesOfFreedom: 4 });
    expect(result.u).toBeCloseTo(0.01, 12);
  });
  test("gives nothing where no valid trial gives the metric", () => {
    expect(sessionResult(sessionsOf([height("Ida", "d", 0.3, "leave out")])[0], "jumpHeight", settings)).toBeUndefined();
  });
});

describe("followAthlete", () => {
  const history = [37.8, 38.4, 38.1, 37.5, 38.9, 38.2].flatMap((value, at) => [trial("Ida", `2026-01-0${at + 1}`, CMJ, { "jumpHeight cm": value })]);
  test("draws the band of the earlier sessions alone; the new one never counts in its own", () => {
    const followed = followAthlete([...history, trial("Ida", "2026-01-09", CMJ, { "jumpHeight cm": 36.4 })], "Ida", { test: "CMJ" }, "jumpHeight cm", "Jump height", settings);
    const last = followed.points[6];
    // Six sessions: mean 38.15, band 36.80 to 39.50 (by hand with t(0.975, 5) = 2.571); 36.4 lies below it.
    expect(last.band!.low).toBeCloseTo(36.8, 1);
    expect(last.band!.high).toBeCloseTo(39.5, 1);
    expect(last).toMatchObject({ place: "below", n: 1 });
    expect(followed.bandFrom).toBe("own");
    expect(followed.baseline!.verdictWord).toBe("below");
    expect(followed.change).toBeUndefined();
  });
  test("marks a changed protocol, and begins a band of its own there", () => {
    const followed = followAthlete([...history, trial("Ida", "2026-02-01", "CMJ arms=swing", { "jumpHeight cm": 43 }), trial("Ida", "2026-02-02", "CMJ arms=swing", { "jumpHeight cm": 44 })], "Ida", { test: "CMJ" }, "jumpHeight cm", "Jump height", settings);
    expect(followed.points.map((point) => point.protocolChange !== undefined)).toEqual([false, false, false, false, false, false, true, false]);
    expect(followed.points[6].protocolChange).toContain("arms");
    expect(followed.points[6].band).toBeUndefined();
    expect(followed.points[7].weighted).toBe(43);
  });
  test("marks a changed instrument as it does a changed protocol", () => {
    const followed = followAthlete([...history, trial("Ida", "2026-02-01", CMJ, { "jumpHeight cm": 41 }, "keep", "mat")], "Ida", { test: "CMJ" }, "jumpHeight cm", "Jump height", settings);
    expect(followed.points[6].protocolChange).toContain("force plate and mat");
    expect(followed.points[6].band).toBeUndefined();
    expect(followed.change).toBeUndefined();
  });
  test("shows doubtful sessions as such and left-out trials apart", () => {
    const followed = followAthlete([trial("Ida", "2026-01-01", CMJ, { jumpHeight: 0.3 }, "look"), trial("Ida", "2026-01-02", CMJ, { jumpHeight: 0.31 }), trial("Ida", "2026-01-02", CMJ, { jumpHeight: 0.5 }, "leave out")], "Ida", { test: "CMJ" }, "jumpHeight", "Jump height", settings);
    expect(followed.points.map((point) => point.doubtful)).toEqual([true, false]);
    expect(followed.points[1].value).toBe(0.31);
    expect(followed.leftOut).toEqual([{ date: "2026-01-02", value: 0.5 }]);
  });
  test("uses the typical error between days of the squad, and reads the change with it", () => {
    // Two days a person; differences 1, 1.5 and 0 cm give 0.540 between days (NumPy), two degrees of freedom.
    const pairs = [["Ida", 35, 36], ["Noa", 38.5, 40], ["Sam", 41, 41]] as const;
    const squad = pairs.flatMap(([name, one, two]) => [trial(name, "2026-01-01", CMJ, { "jumpHeight cm": one }), trial(name, "2026-01-08", CMJ, { "jumpHeight cm": two })]);
    const followed = followAthlete(squad, "Noa", { test: "CMJ" }, "jumpHeight cm", "Jump height", settings);
    expect(followed.typicalError!.value).toBeCloseTo(0.5400617, 6);
    expect(followed.bandFrom).toBe("typicalError");
    // Change 1.5 ± 2.920 (t(0.95, 2)) × 0.764 = 2.23: the interval holds no change.
    expect(followed.change!.verdictWord).toBe("undecided");
    expect(followed.change!.text).toContain("90 % limits");
  });
});

describe("combineAthlete", () => {
  const both = (date: string, cmj: readonly number[], sj: readonly number[], sjProtocol = "SJ arms=hips") => [...cmj.map((value) => height("Ida", date, value)), ...sj.map((value) => height("Ida", date, value, "keep", sjProtocol))];
  test("shows the parts, the ratio and its limits, and says undecided where they hold a cut", () => {
    const [eur] = combineAthlete(both("d", [0.36, 0.37, 0.38], [0.33, 0.34, 0.345]), "Ida", "d", settings).filter((each) => each.kind === "eccentricUtilisation");
    expect(eur.results.map((result) => result.n)).toEqual([3, 3]);
    // By hand; the limits with Fieller and t(0.975, 2) from SciPy.
    expect(eur.combined!.value).toBeCloseTo(0.37 / (1.015 / 3), 12);
    expect([eur.combined!.low, eur.combined!.high]).toEqual([expect.closeTo(1.0011679718, 8), expect.closeTo(1.1929238965, 8)]);
    expect(eur.reading!.verdictWord).toBe("undecided");
  });
  // By hand: 0.37 m are 37 cm or 14.57 in.
  test("says its parts in the units that are chosen, and the same of them", () => {
    const of = (m: "m" | "cm" | "in") => combineAthlete(both("d", [0.36, 0.37, 0.38], [0.33, 0.34, 0.345]), "Ida", "d", settings, { m, s: "s", kg: "kg" })[0];
    const [si, centimetres, inches] = [of("m"), of("cm"), of("in")];
    expect(si.reading!.parts[0].text).toMatch(/0\.37\d* ± \S+ m/);
    expect(centimetres.reading!.parts[0].text).toMatch(/37\.\d+ ± \S+ cm/);
    expect(inches.reading!.parts[0].text).toMatch(/14\.6 ± \S+ in/);
    for (const { combined, unit, reading } of [centimetres, inches]) {
      expect({ combined, unit }).toEqual({ combined: si.combined, unit: "m" });
      expect(reading!.parts.slice(1)).toEqual(si.reading!.parts.slice(1));
    }
  });
  test("never mixes unlike protocols: the reason stands in the place of the number", () => {
    const [eur] = combineAthlete(both("d", [0.4, 0.41], [0.33, 0.34], "SJ arms=swing"), "Ida", "d", settings).filter((each) => each.kind === "eccentricUtilisation");
    expect(eur.combined).toBeUndefined();
    expect(eur.reason).toContain("arms differ");
  });
  test("never mixes instruments: the reason names them", () => {
    const jumps = [0.36, 0.37].map((value) => trial("Ida", "d", CMJ, { jumpHeight: value }, "keep", "mat"));
    const [eur] = combineAthlete([...jumps, height("Ida", "d", 0.33, "keep", "SJ arms=hips")], "Ida", "d", settings);
    expect(eur.combined).toBeUndefined();
    expect(eur.reason).toContain("force plate and mat");
  });
  test("never mixes days, and offers nothing that has no second part", () => {
    const trials = [...both("d1", [0.36], []), ...both("d2", [], [0.33])];
    expect(combineAthlete(trials, "Ida", "d1", settings)).toEqual([]);
  });
  test("gives the jump over the pull gross and net, each with its name, never mixed", () => {
    const trials = [1800, 1820].map((value) => trial("Ida", "d", CMJ, { peakForce: value, bodyWeight: 700 })).concat([3000, 2960].map((value) => trial("Ida", "d", "IMTP", { peakForce: value, bodyWeight: 705 })));
    const dsi = combineAthlete(trials, "Ida", "d", settings).filter((each) => each.kind === "dynamicStrength");
    expect(dsi.map((each) => each.combined!.basis)).toEqual(["gross", "net"]);
    // By hand: 1810 / 2980 and (1810 - 700) / (2980 - 700).
    expect(dsi.map((each) => each.combined!.value)).toEqual([expect.closeTo(1810 / 2980, 12), expect.closeTo(1110 / 2280, 12)]);
    const netFirst = combineAthlete(trials, "Ida", "d", settingsFrom([["force-basis", "net"]])).filter((each) => each.kind === "dynamicStrength");
    expect(netFirst.map((each) => each.combined!.basis)).toEqual(["net", "gross"]);
  });
  test("combines jumps with and without arms, and both legs with each alone", () => {
    const swing = combineAthlete([height("Ida", "d", 0.36), height("Ida", "d", 0.43, "keep", "CMJ arms=swing")], "Ida", "d", settings);
    expect(swing.map((each) => each.kind)).toEqual(["armSwing"]);
    expect(swing[0].combined!.value).toBeCloseTo(100 * (0.43 / 0.36 - 1), 9);
    const force = (limb: string, value: number) => trial("Ida", "d", `CMJ arms=hips limb=${limb}`, { peakForcePropulsion: value });
    const legs = combineAthlete([force("both", 2000), force("left", 1150), force("right", 1100)], "Ida", "d", settings);
    // By hand: 100 × 2000 / 2250 - 100.
    expect(legs.find((each) => each.kind === "bilateral")!.combined!.value).toBeCloseTo(-11.1111, 3);
  });
});

describe("dayFindings", () => {
  test("asks for a look at a trial far from the others, by the typical error of the squad", () => {
    const steady = ["Noa", "Sam", "Lea"].flatMap((name) => [0.3, 0.302, 0.304].map((metres) => height(name, "d", metres)));
    const found = dayFindings([...steady, ...[0.35, 0.352, 0.3].map((metres) => height("Ida", "d", metres))], "Ida", "d", settings);
    // By hand: the typical error with Ida's own trials is sqrt((3 × 8e-6 + 0.001736) / 8) = 0.0148 m; 0.300 lies 0.051 m, 3.4 of them, below 0.351.
    expect(found.map((finding) => [finding.rule, finding.action, finding.trial])).toEqual([["Q25", "look", 3]]);
    expect(found[0].sentence.length).toBeGreaterThan(20);
  });
  test("says where two isometric peaks lie too far apart", () => {
    const pulls = [3000, 2500].map((peakForce) => trial("Ida", "d", "IMTP", { peakForce }));
    expect(dayFindings(pulls, "Ida", "d", settings).filter((finding) => finding.rule === "Q20").map((finding) => finding.action)).toEqual(["look"]);
  });
});

describe("sidesOfAthlete", () => {
  const left = [812, 790, 805, 780, 813];
  const right = [688, 705, 715, 690, 702];
  test("pairs the sides of trials with both legs, names the formula and keeps the sign", () => {
    const trials = left.map((value, at) => trial("Ida", "d", CMJ, { peakForceLeft: value, peakForceRight: right[at] }));
    const [sides] = sidesOfAthlete(trials, "Ida", CMJ, "peakForce", settings);
    // Means 800 and 700: 100 × 100 / 1500 = 6.667 % by the symmetry index.
    expect(sides).toMatchObject({ design: "bilateral", formula: "Symmetry index" });
    expect(sides.percentage).toBeCloseTo(6.6667, 3);
    expect(sides.reading!.verdictWord).toBe("real");
  });
  test("compares single-leg trials of one day with their own formula, and counts the side over the days", () => {
    const day = (date: string) => [...left.map((value) => trial("Ida", date, "CMJ arms=hips limb=left", { peakForce: value })), ...right.map((value) => trial("Ida", date, "CMJ arms=hips limb=right", { peakForce: value }))];
    const sides = sidesOfAthlete(["2026-01-01", "2026-01-08", "2026-01-15"].flatMap(day), "Ida", "CMJ arms=hips limb=left", "peakForce", settings);
    expect(sides[2]).toMatchObject({ design: "singleLeg", formula: "Standard percentage difference" });
    expect(sides[2].percentage).toBeCloseTo(12.5, 9);
    expect(sides[2].history.length).toBe(3);
    expect(sides.map((each) => each.reading!.verdictWord)).toEqual(["real", "real", "worth follow-up"]);
  });
  test("keeps the side where the formula has no sign", () => {
    const day = (date: string) => [812, 790, 805].map((value) => trial("Ida", date, CMJ, { peakForceLeft: value - 110, peakForceRight: value }));
    const share = settingsFrom([["asymmetry-formula", "Left share"]]);
    const sides = sidesOfAthlete(["d1", "d2", "d3"].flatMap(day), "Ida", CMJ, "peakForce", share);
    // By hand: 692.33 / (692.33 + 802.33) = 46.3 %, a number above zero though the right side is higher.
    expect(sides[2].percentage).toBeCloseTo(46.32, 2);
    expect(sides[2].history.map((entry) => entry.side)).toEqual(["right", "right", "right"]);
    expect(sides[2].reading!.text).toContain("right higher");
    expect(sides[2].reading!.verdictWord).toBe("worth follow-up");
  });
  test("says why a single trial gets no verdict", () => {
    const [sides] = sidesOfAthlete([trial("Ida", "d", CMJ, { peakForceLeft: 800, peakForceRight: 700 })], "Ida", CMJ, "peakForce", settings);
    expect(sides.reading).toBeUndefined();
    expect(sides.reason).toContain("at least two trials");
  });
});

describe("squadOf", () => {
  test("shares places inside the typical error, and states n and who is missing", () => {
    // Each of three people twice; differences 1, 1.5 and 0 cm: 0.540 between days, margin 1.96 × sqrt(2) × 0.540 = 1.497.
    const values = [["Ida", 35, 36], ["Noa", 38.5, 40], ["Sam", 41, 41]] as const;
    const trials = [...values.flatMap(([name, one, two]) => [trial(name, "2026-01-01", CMJ, { "jumpHeight cm": one }), trial(name, "2026-01-08", CMJ, { "jumpHeight cm": two })]), trial("Lea", "2026-01-08", "SJ arms=hips", { "jumpHeight cm": 30 })];
    const squad = squadOf(trials, CMJ, "jumpHeight cm", settings);
    expect(squad.errorFrom).toBe("between days");
    expect(squad.table!.margin).toBeCloseTo(1.497, 3);
    expect(squad.table!.rows.map((row) => [row.name, row.value, row.placeFrom, row.placeTo])).toEqual([["Sam", 41, 1, 2], ["Noa", 40, 1, 2], ["Ida", 36, 3, 3]]);
    expect(squad.table!.n).toBe(3);
    expect(squad.table!.missing).toEqual(["Lea"]);
  });
  test("gives nobody a place without a typical error", () => {
    const squad = squadOf([height("Ida", "d", 0.3), height("Noa", "d", 0.4)], CMJ, "jumpHeight", settings);
    expect(squad.table!.margin).toBeUndefined();
    expect(squad.table!.rows.every((row) => row.placeFrom === undefined)).toBe(true);
  });
});

describe("profiles", () => {
  const drop = (box: string, rsi: readonly number[], contact: number) => rsi.map((value) => trial("Ida", "d", `DJ drop=${box} arms=hips`, { rsi: value, contactTime: contact, jumpHeight: value * contact, measuredDropHeight: Number(box) - 0.03 }));
  test("name a best drop height only where the gap exceeds what error alone would give", () => {
    const clear = dropProfilesOf([...drop("0.20", [1.5, 1.52, 1.48], 0.19), ...drop("0.30", [1.9, 1.92, 1.88], 0.2), ...drop("0.40", [1.6, 1.62, 1.58], 0.22)], "Ida", "d", settings);
    expect(clear.length).toBe(1);
    // Within each height SD 0.02, six degrees of freedom; least gap 2.447 × 0.02 × sqrt(2/3) = 0.04.
    expect(clear[0].typicalError!.value).toBeCloseTo(0.02, 9);
    expect(clear[0].profile!.points[0].leastGap).toBeCloseTo(0.03996, 4);
    expect(clear[0].profile!.points[clear[0].profile!.best!].nominalHeight).toBe(0.3);
    expect(clear[0].reading!.verdictWord).toBe("best height");
    expect(clear[0].reading!.text).toContain("licensed clinician");
    const unclear = dropProfilesOf([...drop("0.20", [1.7, 2.0], 0.19), ...drop("0.30", [1.8, 2.0], 0.2)], "Ida", "d", settings);
    expect(unclear[0].reading!.verdictWord).toBe("undecided");
  });
  test("stand over the measured drop, or over the box where the setting says so", () => {
    const trials = [...drop("0.20", [1.5, 1.52], 0.19), ...drop("0.30", [1.9, 1.92], 0.2)];
    const at = (basis: string) => dropChart(dropProfilesOf(trials, "Ida", "d", settingsFrom([["drop-height-basis", basis]]))[0].profile!, { unit: "m", factor: 1 }, "x", "y").marks.map(({ x }) => x);
    expect(at("measured")).toEqual([expect.closeTo(0.17, 12), expect.closeTo(0.27, 12)]);
    expect(at("nominal")).toEqual([0.2, 0.3]);
  });
  test("have no unit where reactive strength is by flight time", () => {
    const trials = [...drop("0.20", [1.5, 1.52], 0.19), ...drop("0.20", [1.6], 0.19)];
    const byFlight = settingsFrom([["rsi-basis", "flight"]]);
    expect(squadOf(trials, "DJ drop=0.20 arms=hips", "rsi", settings).unit).toBe("m/s");
    expect(squadOf(trials, "DJ drop=0.20 arms=hips", "rsi", byFlight).unit).toBe("");
  });
  test("draw the force-velocity line from three loads, and say why two are too few", () => {
    const loaded = (load: number, metres: number) => trial("Ida", "d", load === 0 ? "SJ arms=hips" : `SJ arms=hips load=${load}`, { jumpHeight: metres, pushOffDistance: 0.4, bodyMass: 80 });
    const three = loadProfilesOf([loaded(0, 0.36), loaded(20, 0.29), loaded(40, 0.23)], "Ida", "d", settings);
    // By hand: force per kilogram at load 0 is 9.80665 × (0.36 / 0.4 + 1) = 18.633 N/kg.
    expect(three[0].profile!.points[0].force).toBeCloseTo(18.6326, 3);
    expect(three[0].reading!.verdictWord).toBe("shown, not judged");
    expect(loadProfilesOf([loaded(0, 0.36), loaded(20, 0.29)], "Ida", "d", settings)[0].reason).toContain("three different loads");
  });
});

describe("reportOf", () => {
  test("holds the last session of each protocol and nothing that was left out", () => {
    const trials = [height("Ida", "2026-01-01", 0.3), height("Ida", "2026-02-01", 0.32), height("Ida", "2026-02-01", 0.33), height("Ida", "2026-02-01", 0.9, "leave out"), height("Ida", "2026-02-01", 0.28, "keep", "SJ arms=hips"), height("Ida", "2026-02-01", 0.29, "keep", "SJ arms=hips"), height("Ida", "2026-02-01", 0.5, "leave out", "DJ drop=0.30 arms=hips"), height("Noa", "2026-02-01", 0.4)];
    const report = reportOf(trials, [], "Ida", ["verdict", "jumpHeight cm", "no such thing", "", "findings"], (name) => name, settings);
    expect(report.sessions.map(({ session, lines }) => [session.date, session.protocolText, lines.map((line) => [line.name, line.result.n])])).toEqual([
      ["2026-02-01", CMJ, [["jumpHeight cm", 2]]],
      ["2026-02-01", "SJ arms=hips", [["jumpHeight cm", 2]]],
    ]);
    expect(report.sessions[0].lines[0].result.value).toBeCloseTo(32.5, 9);
    expect(report.readings.map((reading) => reading.about)).toContain("eccentricUtilisation jumpHeight");
    expect(JSON.stringify(report.readings)).not.toMatch(/injury risk/i);
  });
  test("takes numbers from the head of Results only", () => {
    expect(reportNames(["verdict", "jumpHeight cm", "nonsense", "", "findings", "rsi"])).toEqual(["jumpHeight cm", "rsi"]);
  });
});
