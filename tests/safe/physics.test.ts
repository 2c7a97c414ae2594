import { describe, expect, test } from "vitest";
import type { Adjust } from "../../src/protocols/Adjust.ts";
import { analyse } from "../../src/protocols/analyse.ts";
import type { Analysis } from "../../src/protocols/Analysis.ts";
import { DEFAULT_SETTINGS } from "../../src/settings/defaultSettings.ts";
import { settingsFrom } from "../../src/settings/settingsFrom.ts";
import type { Trace } from "../../src/trace/Trace.ts";
import { describeWithData, hasData } from "../support/data.ts";
import { type GivenTrial, recordedTrials, vectorTrials } from "../support/realTrials.ts";

/** Every vector and every trial in the recordings: what is done to the force must come out as mechanics says. */
const TRIALS: readonly GivenTrial[] = hasData ? [...vectorTrials(), ...recordedTrials()] : [];
const byName = new Map(TRIALS.map((trial) => [trial.name, trial]));
const NAMES = [...byName.keys()];

const mapped = (trace: Trace, change: (force: Float64Array) => Float64Array): Trace => ({ ...trace, plates: trace.plates.map(({ role, force }) => ({ role, force: change(force) })) });
const analysed = ({ protocol, adjust }: GivenTrial, trace: Trace): Analysis => analyse(trace, protocol, DEFAULT_SETTINGS, adjust);
const valueOf = (analysis: Analysis, id: string): number => analysis.metrics.get(id)?.value ?? NaN;
const zeroedUpstream = (analysis: Analysis): boolean => analysis.findings.some(({ rule, action }) => rule === "Q3" && action === "not checked");

interface Pair {
  readonly id: string;
  readonly unit: string;
  readonly a: number;
  readonly b: number;
}

/** Metrics of two analyses side by side; neither may have one that the other lacks, but for those named. */
function pairs(one: Analysis, two: Analysis, but: readonly string[] = []): readonly Pair[] {
  const ids = (analysis: Analysis): string[] => [...analysis.metrics.keys()].filter((id) => !but.includes(id)).sort();
  expect(ids(two)).toEqual(ids(one));
  return ids(one).map((id) => ({ id, unit: one.metrics.get(id)!.unit, a: valueOf(one, id), b: valueOf(two, id) }));
}

/** The same trial at the weight that a gain would show, where the weight is given by hand. */
function scaledWeight(adjust: Adjust, factor: number): Adjust {
  return adjust.bodyWeight === undefined ? adjust : { ...adjust, bodyWeight: factor * adjust.bodyWeight };
}

const EDGES = ["takeoff", "landing", "touchdown"] as const;
const HEIGHTS = ["jumpHeightTakeoffVelocity", "jumpHeightFlightTime"] as const;

/** How far an edge is known: where the source set its force to nothing below some force, to a sample of the source; else to the straight line between two. */
const edgeDoubt = (analysis: Analysis, trace: Trace): number => (zeroedUpstream(analysis) ? 1.01 / trace.rate : 1e-5);

/** Heights and weight stand within their own standard uncertainty, which is what it is for. */
function expectWithinDoubt(one: Analysis, two: Analysis, factor: number, of: (id: string) => number = () => 1): number {
  const ids = [...HEIGHTS, "bodyWeight"].filter((id) => one.metrics.get(id)?.u !== undefined && two.metrics.has(id));
  for (const id of ids) expect(Math.abs(of(id) * valueOf(two, id) - valueOf(one, id)), `${id} ${valueOf(one, id)}`).toBeLessThan(factor * one.metrics.get(id)!.u!);
  return ids.length;
}

describeWithData("every vector and recording, changed in a way whose answer mechanics knows", () => {
  test.each(NAMES)("%s: a gain of one per cent scales what is a force, and moves no height, velocity or time", (name) => {
    const trial = byName.get(name)!;
    // The threshold scales along, so that it stands at the same instants.
    const one = analyse(trial.trace, trial.protocol, settingsFrom([["take-off-threshold", 20]]), trial.adjust);
    let compared = 0;
    for (const gain of [0.99, 1.01]) {
      const two = analyse(
        mapped(trial.trace, (force) => force.map((value) => gain * value)),
        trial.protocol,
        settingsFrom([["take-off-threshold", 20 * gain]]),
        scaledWeight(trial.adjust, gain),
      );
      for (const { id, unit, a, b } of pairs(one, two, DOUBTS)) {
        const expected = /^(N|N s|N·s|W|N\/s|N\/m|kg)$/.test(unit) ? gain * a : a;
        expect(Math.abs(b - expected), `${id}: ${a} to ${b} ${unit}`).toBeLessThanOrEqual(1e-4 * Math.abs(a) + (unit === "N" ? 0.05 : 1e-5));
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(8);
  });

  test.each(NAMES)("%s: a gain that the threshold does not follow moves the edges by what the slope of the force there says", (name) => {
    const trial = byName.get(name)!;
    const one = analysed(trial, trial.trace);
    for (const gain of [0.99, 1.01]) {
      const two = analyse(mapped(trial.trace, (force) => force.map((value) => gain * value)), trial.protocol, DEFAULT_SETTINGS, scaledWeight(trial.adjust, gain));
      // One per cent of 20 N, on a force that changes by 1000 N/s and more where it crosses them.
      for (const edge of EDGES) if (one.events.has(edge)) expect(Math.abs(two.events.get(edge)!.time - one.events.get(edge)!.time), edge).toBeLessThan((0.01 * 20) / 1000 + edgeDoubt(one, trial.trace));
      for (const id of HEIGHTS) if (one.metrics.has(id)) expect(Math.abs(valueOf(two, id) - valueOf(one, id)), id).toBeLessThan(0.0001);
    }
  });

  test.each(NAMES)("%s: a plate that is not zeroed is read as if it were", (name) => {
    const trial = byName.get(name)!;
    const one = analysed(trial, trial.trace);
    let compared = 0;
    for (const offset of [-7, 3, 9]) {
      const two = analysed(trial, mapped(trial.trace, (force) => force.map((value) => value + offset)));
      if (trial.protocol.test === "IMTP") {
        // Nobody leaves the plates in a pull: its zero cannot be read. Forces keep what is added to them, twice with two plates; slopes do not.
        for (const { id, unit, a, b } of pairs(one, two, DOUBTS)) {
          if (unit === "N/s") expect(b, id).toBeCloseTo(a, 6);
          if (unit === "N" && !/Left|Right/.test(id)) expect(b - a, id).toBeCloseTo(trial.trace.plates.length * offset, 6);
          compared++;
        }
        continue;
      }
      if (zeroedUpstream(one)) {
        // An offset on top hides that the source had cut small forces off: the edges lie somewhere in the cliff, one sample wide.
        for (const edge of EDGES) if (one.events.has(edge)) expect(Math.abs(two.events.get(edge)!.time - one.events.get(edge)!.time), edge).toBeLessThan(edgeDoubt(one, trial.trace));
        compared += expectWithinDoubt(one, two, 2) + 1;
        continue;
      }
      for (const { id, unit, a, b } of pairs(one, two, [...DOUBTS, "flightOffset", "driftRate"])) {
        expect(Math.abs(b - a), `${id} at ${offset} N: ${a} to ${b} ${unit}`).toBeLessThanOrEqual(3e-5 * Math.abs(a) + 1e-5);
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(2);
  });

  test.each(NAMES)("%s: it does not matter at which sample the record begins", (name) => {
    const trial = byName.get(name)!;
    const one = analysed(trial, trial.trace);
    for (const lost of [1, 2, 5]) {
      const two = analysed(trial, mapped(trial.trace, (force) => force.slice(lost)));
      for (const edge of EDGES) if (one.events.has(edge)) expect(two.events.get(edge)!.time + lost / trial.trace.rate, edge).toBeCloseTo(one.events.get(edge)!.time, 5);
      expectWithinDoubt(one, two, 1);
      expect([...two.metrics.keys()].sort()).toEqual([...one.metrics.keys()].sort());
    }
  });

  test.each(NAMES)("%s: every second sample moves an edge by less than a sample of its own, and a height by what that is worth", (name) => {
    const trial = byName.get(name)!;
    const one = analysed(trial, trial.trace);
    const rate = trial.trace.rate / 2;
    const two = analysed(trial, { ...mapped(trial.trace, (force) => force.filter((_, i) => i % 2 === 0)), rate });
    // Where the source cut small forces off, the edge of the thinned record lies in a cliff of its own.
    const samples = zeroedUpstream(one) ? 2 : 1;
    for (const edge of EDGES) if (one.events.has(edge)) expect(Math.abs(two.events.get(edge)!.time - one.events.get(edge)!.time), edge).toBeLessThan(samples / rate);
    for (const id of HEIGHTS) {
      // dh = v dv / g with dv = g dt; a flight has two edges of half of that each.
      if (one.metrics.has(id) && two.metrics.has(id)) expect(Math.abs(valueOf(two, id) - valueOf(one, id)), id).toBeLessThan((samples * Math.sqrt(2 * 9.80665 * valueOf(one, id))) / rate);
    }
  });

  test.each(NAMES)("%s: samples set between the samples, on straight lines, tell nothing new", (name) => {
    const trial = byName.get(name)!;
    const one = analysed(trial, trial.trace);
    const between = (force: Float64Array): Float64Array => Float64Array.from({ length: 2 * force.length - 1 }, (_, i) => (force[i >> 1]! + force[(i + 1) >> 1]!) / 2);
    const two = analysed(trial, { ...mapped(trial.trace, between), rate: 2 * trial.trace.rate });
    for (const edge of EDGES) if (one.events.has(edge)) expect(Math.abs(two.events.get(edge)!.time - one.events.get(edge)!.time), edge).toBeLessThan(edgeDoubt(one, trial.trace));
    if (!zeroedUpstream(one)) for (const id of HEIGHTS) if (one.metrics.has(id)) expect(Math.abs(valueOf(two, id) - valueOf(one, id)), id).toBeLessThan(0.00005);
  });

  test.each(NAMES)("%s: a clock one per cent fast shortens times by it, and heights by twice of it", (name) => {
    const trial = byName.get(name)!;
    const one = analysed(trial, trial.trace);
    const two = analysed(trial, { ...trial.trace, rate: trial.trace.rate * 1.01 });
    let compared = 0;
    for (const [id, power] of [["flightTime", 1], ["contactTime", 1], ["jumpHeightFlightTime", 2], ["meanFlightTime", 1], ["meanContactTime", 1], ["timeToPeakForce", 1]] as const) {
      if (!one.metrics.has(id)) continue;
      expect(valueOf(one, id) / valueOf(two, id) / 1.01 ** power, id).toBeCloseTo(1, 4);
      compared++;
    }
    expect(compared).toBeGreaterThan(0);
    // The velocity at take-off scales the same way, but for where the window of weighing comes to lie.
    expectWithinDoubt(one, two, 2, (id) => (id === "jumpHeightTakeoffVelocity" ? 1.01 ** 2 : id === "jumpHeightFlightTime" ? 1.01 ** 2 : 1));
  });

  describe.each(NAMES.filter((name) => /^V0[1-5]|jump1|cmj\d/.test(name)))("%s: a gain that the body weight given by hand does not share", (name) => {
    const trial = byName.get(name)!;
    const weighed = analysed(trial, trial.trace);
    const [onset, takeoff] = [weighed.events.get("onset")!.time, weighed.events.get("takeoff")!.time];
    const adjust: Adjust = { bodyWeight: valueOf(weighed, "bodyWeight"), events: new Map([["onset", onset], ["takeoff", takeoff]]) };
    const withGain = (gain: number): Analysis => analysed({ ...trial, adjust }, mapped(trial.trace, (force) => force.map((value) => gain * value)));

    test("shows in the velocity as the impulse of the gain", () => {
      const one = withGain(1);
      for (const gain of [0.999, 1.001]) {
        // By hand: v = (g / W) times the integral of F - W, so that F (1 + e) adds e (v + g T) over a push of T seconds.
        const expected = (gain - 1) * (valueOf(one, "takeoffVelocity") + 9.80665 * (takeoff - onset));
        expect((valueOf(withGain(gain), "takeoffVelocity") - valueOf(one, "takeoffVelocity")) / expected).toBeCloseTo(1, 2);
      }
    });

    if (!name.startsWith("V")) return;
    // The vectors end in a quiet stand, where the velocity must be zero again.
    test("is told where the record ends in a stand: at one per cent no velocity is given", () => {
      for (const gain of [0.99, 1.01]) {
        const two = withGain(gain);
        expect(two.findings.find(({ rule }) => rule === "Q10")?.removes).toEqual(["V"]);
        expect(two.metrics.has("takeoffVelocity")).toBe(false);
        expect(two.missing.get("takeoffVelocity")).toMatch(/final stand/);
      }
    });
  });
});

/** What says how well something is known is no quantity of mechanics. */
const DOUBTS: readonly string[] = ["bodyWeightUncertainty"];
