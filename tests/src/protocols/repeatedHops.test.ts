import { describe, expect, test } from "vitest";
import type { Analysis } from "../../../src/protocols/Analysis.ts";
import { analyseHops } from "../../../src/protocols/repeatedHops.ts";
import { syntheticTrace } from "../../../src/synthetic/syntheticTrace.ts";
import type { Trace } from "../../../src/trace/Trace.ts";
import { type PlainSeriesInputs, plainSeries, plainSeriesInfluences } from "../../reference/plainHopSeries.ts";
import { analysed, budgetDifferences, budgetOf, type Choice, differences, eventAt, findingsOf, less, meanInside, plainForceOf, traceOf } from "../../support/secondOpinion.ts";
import { forceOf, type HandStretch, handTrial } from "../../support/handTrial.ts";

const G = 9.80665;
const W = 700;
/** Contacts of 2000 N between flights: a stand and a first jump, then contacts and flights by turns, ms, then a stand. */
const PUSH = 2000;
function series(...times: readonly number[]): Float64Array {
  const rest = times.map((ms, k): HandStretch => [ms, k % 2 === 0 ? PUSH : 0]);
  return forceOf([1200, W], [200, PUSH], [500, 0], ...rest, [200, PUSH], [1000, W]);
}
const hopped = (force: Float64Array, choices: readonly Choice[] = [], adjust = ""): Analysis => analysed(traceOf({ total: force }, 1000), { protocol: "RH", choices, adjust });
/** By hand: 0 to 2000 N cross 20 N a hundredth of a sample after the empty one, and mirrored; so a contact is 0.98 samples longer and a flight as much shorter... */
const EDGE = 1 - (2 * 20) / PUSH;
const INTO = 0.001 * (20 / PUSH);
const contactOf = (ms: number): number => (ms + EDGE) / 1000;
const flightOf = (ms: number): number => (ms - EDGE) / 1000;
const value = (analysis: Analysis, id: string): number | undefined => analysis.metrics.get(id)?.value;
const TEN = [200, 480, 210, 470, 190, 460, 205, 490, 195, 500, 200, 450, 185, 440, 215, 495, 205, 455, 190, 465];

describe("a series of hops by hand", () => {
  test("has each contact with the flight after it, and not the first jump's push", () => {
    const { hops, events, phases } = hopped(series(200, 480, 210, 470));
    expect(hops).toHaveLength(2);
    const touchdown = 1.9 - 0.001 + 20 / PUSH / 1000;
    expect(hops[0]).toMatchObject({ number: 1, valid: true, peakForce: PUSH });
    expect(hops[0]!.touchdown).toBeCloseTo(touchdown, 12);
    expect(hops[0]!.takeoff).toBeCloseTo(touchdown + contactOf(200), 12);
    expect([hops[0]!.contactTime, hops[1]!.contactTime]).toEqual([expect.closeTo(contactOf(200), 12), expect.closeTo(contactOf(210), 12)]);
    expect([hops[0]!.flightTime, hops[1]!.flightTime]).toEqual([expect.closeTo(flightOf(480), 12), expect.closeTo(flightOf(470), 12)]);
    expect(hops[1]!.height).toBeCloseTo((G * flightOf(470) ** 2) / 8, 12);
    expect(hops[1]!.rsi).toBeCloseTo((G * flightOf(470) ** 2) / 8 / contactOf(210), 12);
    expect("reason" in hops[0]!).toBe(false);
    // Events: the first touchdown, the first jump's take-off, the last landing.
    expect(events.get("takeoff")!.time).toBeCloseTo(touchdown - flightOf(500), 12);
    expect(events.get("touchdown")!.time).toBeCloseTo(touchdown, 12);
    expect(events.get("landing")!.time).toBeCloseTo(hops[1]!.takeoff + flightOf(470), 12);
    expect(phases.filter(({ name }) => name !== "weighing").map(({ name, start, end }) => [name, start, end])).toEqual(
      hops.flatMap((hop) => [["contact", hop.touchdown, hop.takeoff], ["flight", hop.takeoff, hop.takeoff + hop.flightTime]]),
    );
  });

  test("can be told by flight over contact time", () => {
    const analysis = hopped(series(200, 480, 210, 470), [["rsi-basis", "flight"]]);
    expect(analysis.hops[0]!.rsi).toBeCloseTo(flightOf(480) / contactOf(200), 12);
    expect(value(analysis, "meanHopRsi")).toBeCloseTo((flightOf(480) / contactOf(200) + flightOf(470) / contactOf(210)) / 2, 12);
    expect(analysis.metrics.get("meanHopRsi")!.unit).toBe("");
  });

  test("ends after ten contacts, and where somebody stays on the plate for more than a second", () => {
    expect(hopped(series(...TEN, 200, 480)).hops).toHaveLength(10);
    const paused = hopped(series(200, 480, 1000, 470, 210, 460, 190, 450));
    expect(paused.hops.map(({ contactTime }) => Math.round(contactTime * 1000))).toEqual([211, 191]);
    expect(hopped(series(200, 480, 995, 470, 210, 460)).hops).toHaveLength(3);
    // The longer of two series, the first of equal ones.
    expect(hopped(series(200, 480, 190, 480, 1100, 470, 210, 460)).hops.map(({ contactTime }) => Math.round(contactTime * 1000))).toEqual([201, 191]);
    expect(hopped(series(200, 480, 1100, 470, 210, 460)).hops.map(({ contactTime }) => Math.round(contactTime * 1000))).toEqual([201]);
  });

  test("has flights from 50 ms to a second, by the blocks of 10 ms in which the plate is empty", () => {
    expect(hopped(series(200, 480, 210, 50, 220, 470)).hops).toHaveLength(3);
    const gap = hopped(series(200, 480, 210, 40, 220, 470));
    expect(gap.hops.map(({ contactTime, valid }) => [Math.round(contactTime * 1000), valid])).toEqual([[201, true], [471, false]]);
    expect(hopped(series(200, 480, 210, 40, 220, 470), [["hop-flight-shortest", 0.04]]).hops).toHaveLength(3);
    expect(hopped(series(200, 480, 210, 1000, 220, 470)).hops).toHaveLength(3);
    // Somebody steps off for longer: the contact before it has no flight.
    expect(hopped(series(200, 480, 210, 1010, 220, 470, 190, 460)).hops.map(({ contactTime }) => Math.round(contactTime * 1000))).toEqual([201]);
  });

  test("does not count a contact that holds a gap of 15 ms, and says so", () => {
    const analysis = hopped(series(200, 480, 100, 20, 100, 470, 210, 460));
    expect(analysis.hops.map(({ valid, reason, stiffness }) => [valid, reason, stiffness !== undefined])).toEqual([[true, undefined, true], [false, "the contact was a double one", false], [true, undefined, true]]);
    expect(value(analysis, "hopCount")).toBe(2);
    expect(value(analysis, "meanContactTime")).toBeCloseTo((contactOf(200) + contactOf(210)) / 2, 12);
    expect(analysis.findings.map(({ message }) => message).join(" ")).toContain("the contact was a double one");
    expect(analysis.hops.map((hop) => "stiffness" in hop)).toEqual([true, false, true]);
    const trial = handTrial({ total: series(200, 480, 100, 20, 100, 470, 210, 460) }, { protocol: "RH" });
    analyseHops(trial);
    expect(trial.facts.droppedWhy).toBe("the contact was a double one");
    // A gap of one block of 10 ms is less.
    expect(hopped(series(200, 480, 100, 10, 100, 470)).hops.map(({ valid }) => valid)).toEqual([true, true]);
  });

  test("does not count a contact that is longer than the limit asked for", () => {
    const analysis = hopped(series(200, 480, 260, 470, 210, 460), [["hop-contact-limit", 0.25]]);
    expect(analysis.hops.map(({ valid, reason }) => [valid, reason])).toEqual([[true, undefined], [false, "the contact is longer than 250 ms"], [true, undefined]]);
    expect(hopped(series(200, 480, 260, 470)).hops.every(({ valid }) => valid)).toBe(true);
    expect(analysis.metrics.has("bestFiveRsi")).toBe(false);
    expect(analysis.missing.get("bestFiveRsi")).toBe("the series has 2 valid hops, and five are needed");
    expect(analysis.missing.get("lastFiveRsi")).toBe("the series has 2 valid hops, and five are needed");
    const none = hopped(series(260, 480, 270, 470), [["hop-contact-limit", 0.1]]);
    expect([value(none, "hopCount"), none.metrics.has("meanHopRsi"), none.hops.length, none.events.has("touchdown")]).toEqual([0, false, 2, false]);
  });

  test("says each reason once", () => {
    const trial = handTrial({ total: series(260, 480, 100, 20, 100, 470, 270, 460) }, { protocol: "RH", settings: [["hop-contact-limit", 0.25]] });
    analyseHops(trial);
    expect(trial.facts).toMatchObject({ validHops: 0, droppedHops: 3, droppedWhy: "the contact is longer than 250 ms; the contact was a double one" });
    const whole = handTrial({ total: series(200, 480) }, { protocol: "RH" });
    analyseHops(whole);
    expect("droppedWhy" in whole.facts).toBe(false);
    expect(whole.facts).toMatchObject({ validHops: 1, droppedHops: 0, bridged: 0 });
    // The longest flight, be it the first jump's.
    expect(whole.facts.flight).toBeCloseTo(flightOf(500), 12);
  });

  test("gives best and last five from five valid hops on, or from as many as the settings ask for", () => {
    const five = series(...TEN.slice(0, 10));
    expect(hopped(five).metrics.has("bestFiveRsi")).toBe(true);
    expect(hopped(series(...TEN.slice(0, 8))).metrics.has("bestFiveRsi")).toBe(false);
    expect(hopped(series(...TEN.slice(0, 8)), [["q18-hops", 3]]).metrics.has("bestFiveRsi")).toBe(false);
    expect(hopped(five, [["q18-hops", 6]]).metrics.has("bestFiveRsi")).toBe(false);
    // With too few, the means are over all.
    expect(value(hopped(five, [["q18-hops", 6], ["hops-used", "last five"]]), "meanContactTime")).toBeCloseTo(contactOf(200), 12);
    const six = series(...TEN.slice(0, 12));
    expect(value(hopped(six, [["q18-hops", 7], ["hops-used", "last five"]]), "meanContactTime")).toBeCloseTo(contactOf(200), 12);
    expect(value(hopped(six, [["hops-used", "last five"]]), "meanContactTime")).toBeCloseTo(contactOf(200), 12);
  });

  test("reads its zero from the longest flight, the first of equal ones", () => {
    const levels = (...flights: readonly number[]): Float64Array => forceOf([1200, W], [200, PUSH], [400, 0], ...flights.flatMap((level, k): HandStretch[] => [[200, PUSH], [[480, 520, 470, 520][k]!, level]]), [200, PUSH], [1000, W]);
    const offset = (force: Float64Array): number | undefined => {
      const trial = handTrial({ total: force }, { protocol: "RH", settings: [["q4-drift", 100]] });
      analyseHops(trial);
      return trial.facts.offset;
    };
    expect(offset(levels(1, 2, 3, 4))).toBe(2);
    expect(offset(levels(1, 2, 3))).toBe(2);
    expect(offset(levels(1))).toBe(1);
  });

  test("knows short excursions in its flights, and a toe that touches from a landing", () => {
    const force = series(200, 480, 210, 470);
    for (const [i, level] of [[2130, 30], [2140, 30], [2141, 25], [2400, 40], [2820, 50]] as const) force[i] = level;
    const trial = handTrial({ total: force }, { protocol: "RH" });
    const hops = analyseHops(trial);
    expect([trial.facts.bridged, hops.length]).toEqual([4, 2]);
    // 60 N are less than a tenth of the load: the take-off before, and the landing after.
    const toe = series(200, 480, 210, 470);
    toe.fill(60, 2150, 2170);
    toe.fill(60, 2400, 2420);
    expect(hopped(toe).hops.map(({ flightTime }) => Math.round(flightTime * 1000))).toEqual([479, 469]);
  });

  test("leaves out a flight whose edges are not in the record", () => {
    // Somebody touches the plate with 60 N at the beginning and at the end: less than a tenth of the load.
    const first = Float64Array.from([...forceOf([10, 60], [300, 0]), ...series(200, 480, 210, 470)]);
    expect([hopped(first).hops.length, hopped(first).hops[0]!.touchdown]).toEqual([2, expect.closeTo(0.31 + 1.899 + INTO, 12)]);
    const last = Float64Array.from([...series(200, 480, 210, 470), ...forceOf([400, 0], [30, 60])]);
    expect(hopped(last).hops).toHaveLength(2);
    const none = handTrial({ total: forceOf([10, 60], [300, 0], [1500, W]) }, { protocol: "RH" });
    expect([analyseHops(none), none.facts.noFlight, none.facts.validHops]).toEqual([[], true, undefined]);
  });

  test("is found whole under a drift that hides its last flights at first", () => {
    const drifting = series(...TEN).map((f, i) => f + (10 * i) / 1000);
    const trial = handTrial({ total: drifting }, { protocol: "RH" });
    expect(analyseHops(trial).map(({ contactTime }) => Math.round(contactTime * 1000))).toEqual([201, 211, 191, 206, 196, 201, 186, 216, 206, 191]);
    expect(trial.facts.driftRemoved).toBe(true);
  });

  test("is not there without a flight between two loads", () => {
    for (const force of [forceOf([3000, W]), forceOf([1200, W], [200, PUSH], [500, 0]), forceOf([500, 0], [1500, W])]) {
      const analysis = hopped(force);
      expect([analysis.hops, analysis.metrics.size, analysis.findings.some(({ rule }) => rule === "Q8" || rule === "Q18")]).toEqual([[], 0, true]);
    }
    // A jump alone has no hop.
    const jump = hopped(forceOf([1200, W], [200, PUSH], [500, 0], [1200, W]));
    expect([jump.hops, value(jump, "hopCount")]).toEqual([[], 0]);
  });

  test("without a body weight has no stiffness, and with one by hand it has", () => {
    const restless = series(200, 480, 210, 470).map((f, i) => (i < 1200 ? f + 250 * Math.sin(i / 15) : f));
    const without = hopped(restless);
    expect([without.hops.map(({ stiffness }) => stiffness), without.metrics.has("hopStiffness"), without.metrics.has("meanHopRsi")]).toEqual([[undefined, undefined], false, true]);
    expect(hopped(restless, [], "bodyWeight=700").hops.every(({ stiffness }) => stiffness! > 0)).toBe(true);
  });

  test("has a stiffness by the largest force or by that at the lowest point", () => {
    const struck = (form: string): number => hopped(forceOf([1200, W], [200, PUSH], [500, 0], [20, 2 * PUSH], [180, PUSH - 200], [480, 0], [200, PUSH], [1000, W]), [["contact-stiffness-force", form]]).hops[0]!.stiffness!;
    expect(struck("peak") / struck("lowest point")).toBeCloseTo((2 * PUSH) / (PUSH - 200), 9);
  });
});

describe("a series of hops and a second opinion", () => {
  const MADE = syntheticTrace({
    test: "RH", seed: 4, mass: 71, quietBefore: 1.1, quietAfter: 0.6,
    hops: { takeoffVelocities: [2.6, 2.3, 2.42, 2.5, 2.2, 2.6, 2.35, 2.45], contactTimes: [0.222, 0.208, 0.198, 0.26, 0.19, 0.211, 0.187] },
    faults: { noise: 0.6, sway: 1, offset: [3, -1] },
  }).trace;

  function inputs(trace: Trace, analysis: Analysis, more: Partial<PlainSeriesInputs> = {}): PlainSeriesInputs {
    const raw = plainForceOf(trace);
    const flights = [{ takeoff: eventAt(analysis, "takeoff"), landing: eventAt(analysis, "touchdown") }, ...analysis.hops.map(({ takeoff, flightTime }) => ({ takeoff, landing: takeoff + flightTime }))];
    const longest = [...flights].sort((a, b) => b.landing - b.takeoff - (a.landing - a.takeoff))[0]!;
    const sum = less(raw, meanInside(raw, longest.takeoff, longest.landing, 0.045));
    return {
      sum, bodyWeight: meanInside(sum, eventAt(analysis, "weighingStart"), eventAt(analysis, "weighingEnd")), gravity: G, flights, lower: 0,
      valid: analysis.hops.filter(({ valid }) => valid).map(({ number }) => number), used: "best five", stiffnessBy: "peak", ...more,
    };
  }
  const asked = (choices: readonly Choice[] = []): Analysis => analysed(MADE, { protocol: "RH", choices });
  const UNSEEN = /^(bodyWeight|bodyMass|weighingSd|bodyWeightUncertainty|flightOffset)$/;

  test.each([
    [[], {}],
    [[["hops-used", "last five"]], { used: "last five" }],
    [[["hops-used", "all valid"], ["contact-stiffness-force", "lowest point"]], { used: "all valid", stiffnessBy: "lowest point" }],
    [[["hop-contact-limit", 0.25]], {}],
    [[["hop-contact-limit", 0.2]], {}],
  ] as const satisfies readonly (readonly [readonly Choice[], Partial<PlainSeriesInputs>])[])("agree on every metric and every hop, with %j", (choices, more) => {
    const analysis = asked(choices);
    const plain = plainSeries(inputs(MADE, analysis, more));
    // The lowest point is taken at a sample there and here; between them lie micrometres.
    expect(differences(analysis, plain.metrics, { relative: 0.0005, absolute: 1e-9 }, (id) => UNSEEN.test(id))).toEqual([]);
    expect(analysis.hops).toHaveLength(7);
    for (const [k, hop] of plain.hops.entries()) {
      const own = analysis.hops[k]!;
      for (const key of Object.keys(hop) as (keyof typeof hop)[]) expect(Math.abs(own[key]! - hop[key]), `${key} of hop ${k + 1}`).toBeLessThan(0.0005 * Math.abs(hop[key]));
    }
    expect(analysis.hops.filter(({ valid }) => !valid).map(({ number }) => number)).toEqual(choices.some(([id]) => id === "hop-contact-limit") ? plain.hops.flatMap(({ contactTime }, k) => (contactTime > Number(choices[0]![1]) ? [k + 1] : [])) : []);
  });

  test("agree on the budgets", () => {
    const analysis = asked([["hop-contact-limit", 0.25]]);
    const base = inputs(MADE, analysis);
    const part = (id: string, source: string): number => analysis.metrics.get(id)!.budget!.find((one) => one.source === source)?.u ?? 0;
    const slope = (time: number): number => Math.abs(base.sum.samples[Math.ceil(time * 1000)]! - base.sum.samples[Math.floor(time * 1000)]!) * 1000;
    const mean = (times: readonly number[]): number => times.reduce((sum, time) => sum + 20 / slope(time) / Math.sqrt(3), 0) / times.length;
    const influences = plainSeriesInfluences({
      bodyWeight: part("bodyWeight", "bodyWeight"),
      takeoff: part("meanContactTime", "takeoff"),
      landing: part("meanContactTime", "landing"),
      lower: Math.hypot(0.034, 0.02),
      gravity: 0.0017,
      gain: 0.0025,
      thresholds: { takeoff: mean(base.flights.slice(1).map(({ takeoff }) => takeoff)), landing: mean(base.flights.slice(0, -1).map(({ landing }) => landing)) },
    });
    const budget = budgetOf((x: PlainSeriesInputs) => plainSeries(x).metrics, base, influences);
    expect(budgetDifferences(analysis, budget, 0.03, () => false, influences.map(({ source }) => source))).toEqual([]);
    // Noise of a sample and its sampling, with the steep slope of the edges: JCGM 100, 4.3.7.
    const noise = analysis.metrics.get("weighingSd")!.value;
    expect(part("meanContactTime", "takeoff")).toBeGreaterThan(1 / 1000 / Math.sqrt(12));
    expect(part("meanContactTime", "takeoff")).toBeLessThan(Math.hypot(1 / 1000 / Math.sqrt(12), noise / 20000));
    // The noise of the force, over the drop of each hop that counts.
    const drops = analysis.hops.filter(({ valid }) => valid).sort((a, b) => b.rsi - a.rsi).slice(0, 5).map(({ peakForce, stiffness }) => peakForce / stiffness!);
    const white = Math.sqrt(MADE.plates[0]!.force.slice(100, 1000).reduce((sum, f, i, all) => sum + (i === 0 ? 0 : (f + MADE.plates[1]!.force[100 + i]! - all[i - 1]! - MADE.plates[1]!.force[99 + i]!) ** 2), 0) / 899 / 2);
    expect(part("hopStiffness", "noise") / (drops.reduce((sum, drop) => sum + white / drop, 0) / drops.length)).toBeCloseTo(1, 1);
    expect(part("hopStiffness", "gain")).toBeCloseTo(0.0025 * value(analysis, "hopStiffness")!, 6);
  });

  test("agree where a drift is taken off that the first and the last flight show", () => {
    const drifting = { ...MADE, plates: MADE.plates.map(({ role, force }, side) => ({ role, force: force.map((f, i) => f + (side === 0 ? 4 : 2) * (i / 1000)) })) };
    const analysis = analysed(drifting, { protocol: "RH" });
    expect(findingsOf(analysis)).toContain("Q4 corrected");
    const still = asked();
    for (const id of ["meanContactTime", "meanFlightTime", "hopStiffness", "bodyWeight"]) expect(Math.abs(value(analysis, id)! / value(still, id)! - 1), id).toBeLessThan(0.002);
    expect(analysis.hops).toHaveLength(7);
  });
});
