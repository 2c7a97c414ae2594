import { describe, expect, test } from "vitest";
import type { Analysis, EventName } from "../../../src/protocols/Analysis.ts";
import type { WorkedMetric } from "../../../src/protocols/workings.ts";
import type { SyntheticOptions } from "../../../src/synthetic/SyntheticOptions.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import type { PlateRole, Trace } from "../../../src/trace/Trace.ts";
import { LANDING, NOISE, SAMPLING, type Source, TAKEOFF, THRESHOLD } from "../../../src/uncertainty/sources.ts";
import type { PlainForce } from "../../reference/plainAnalysis.ts";
import { type PlainDoubts, plainInfluences, type PlainInputs, plainStandingJump } from "../../reference/plainStandingJump.ts";
import { type Asked, analysed, budgetDifferences, budgetOf, type Choice, differences, eventAt, less, meanInside, plainForceOf } from "../../support/secondOpinion.ts";

// Short trials at low rates, each against a plain model of a standing jump that shares nothing with the product. Its events are those of the
// analysis, which have tests of their own; from there on every value and every contribution to every uncertainty is worked out anew.

const G = 9.80665;
const short = { rate: 500, quietBefore: 1.3, quietAfter: 1.4, seed: 3 } as const;

interface Case extends Asked {
  readonly options: SyntheticOptions;
  /** Events moved by hand: by so many s from where they are found. */
  readonly by?: Readonly<Partial<Record<EventName, number>>>;
}

const CASES: Readonly<Record<string, Case>> = {
  "two plates": { protocol: "CMJ", options: { ...short, test: "CMJ", leftShare: 0.53, faults: { sway: 1 } } },
  "one plate that reads 12 N when empty, an arm swing and a load": {
    protocol: "CMJ arms=swing load=20",
    options: { ...short, test: "CMJ", arms: "swing", load: 20, plates: "total", faults: { sway: 1, offset: [12, 12] } },
  },
  "the left leg": { protocol: "CMJ limb=left", options: { ...short, test: "CMJ", limb: "left", height: 0.16, timeToTakeoff: 0.8, depth: 0.2, faults: { sway: 1 } } },
  "two plates with zeros of their own, at 300 Hz": { protocol: "CMJ", options: { ...short, rate: 300, test: "CMJ", mass: 58, leftShare: 0.46, faults: { sway: 0.7, offset: [-6, 9] } } },
  "another gravity, gain and posture": {
    protocol: "CMJ",
    choices: [["gravity", 9.78], ["gravity-u", 0.05], ["plate-gain-u", 0.5], ["landing-posture-mean", 0.01], ["landing-posture-u", 0.04], ["onset-half-width", 0.03], ["rfd-window", 0.03]],
    options: { ...short, test: "CMJ", gravity: 9.78, leftShare: 0.53, faults: { sway: 1 } },
  },
  "body weight by hand": { protocol: "CMJ", adjust: "bodyWeight=735", options: { ...short, test: "CMJ", leftShare: 0.53, faults: { sway: 1 } } },
  "events by hand": { protocol: "CMJ", by: { onset: -0.05, takeoff: 0.0003, landing: -0.0002 }, options: { ...short, test: "CMJ", leftShare: 0.53, faults: { sway: 1 } } },
  "a squat on two plates": { protocol: "SJ", options: { ...short, test: "SJ", leftShare: 0.53, faults: { sway: 1 } } },
  "a squat with a dip, on one plate": { protocol: "SJ load=10", options: { ...short, test: "SJ", load: 10, plates: "total", dip: 0.06, faults: { sway: 1, offset: [4, 4] } } },
};

const analysedCase = ({ options, by, ...asked }: Case): { readonly trace: Trace; readonly analysis: Analysis } => {
  const { trace } = syntheticTrial(options);
  const found = analysed(trace, asked);
  if (by === undefined) return { trace, analysis: found };
  const adjust = Object.entries(by).map(([name, seconds]) => `${name}=${eventAt(found, name as EventName) + seconds}`);
  return { trace, analysis: analysed(trace, { ...asked, adjust: adjust.join(";") }) };
};

function number(choices: readonly Choice[] | undefined, id: string, otherwise: number): number {
  return Number(choices?.find(([one]) => one === id)?.[1] ?? otherwise);
}

/** The inputs of the plain model: the trace with its zero taken from the middle of the flight, and the instants of the analysis. */
function inputsOf(trace: Trace, analysis: Analysis, choices?: readonly Choice[]): PlainInputs {
  const { protocol, adjust } = analysis;
  const squat = protocol.test === "SJ";
  const both = protocol.limb === undefined || protocol.limb === "both";
  const roles: readonly PlateRole[] | undefined = both ? undefined : [protocol.limb as PlateRole];
  const [takeoff, landing] = [eventAt(analysis, "takeoff"), eventAt(analysis, "landing")];
  const zeroed = (force: PlainForce): PlainForce => less(force, meanInside(force, takeoff, landing, 0.045));
  const sum = zeroed(plainForceOf(trace, roles));
  return {
    test: squat ? "SJ" : "CMJ",
    sum,
    sides: both && trace.plates.length === 2 ? (["left", "right"] as const).map((role) => zeroed(plainForceOf(trace, [role]))) : [],
    bodyWeight: adjust.bodyWeight ?? meanInside(sum, eventAt(analysis, "weighingStart"), eventAt(analysis, "weighingEnd")),
    gravity: number(choices, "gravity", G),
    load: protocol.load ?? 0,
    // Integration starts at a sample.
    rest: Math.ceil(eventAt(analysis, squat ? "holdEnd" : "onset") * trace.rate - 1e-6) / trace.rate,
    startVelocity: 0,
    onset: eventAt(analysis, "onset"),
    turn: squat ? 0 : eventAt(analysis, "minimumVelocity"),
    low: squat ? 0 : eventAt(analysis, "lowest"),
    takeoff,
    landing,
    posture: 0,
    window: number(choices, "rfd-window", 0.05),
  };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Spread (n - 1) about the mean. */
function spread(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean(values)) ** 2, 0) / (values.length - 1));
}

interface Window {
  readonly mean: number;
  readonly sd: number;
  /** Difference of the means of the halves, N, and noise from first differences, N. */
  readonly halves: number;
  readonly noise: number;
  readonly samples: number;
  /** s. */
  readonly middle: number;
  /** Spread of the impulse of the swaying force, N s, at the ends of 50 ms. */
  readonly impulse: number;
}

/** What a quiet stand says of itself, from the definitions. */
function windowOf(force: PlainForce, from: number, to: number): Window {
  const first = Math.round(from * force.rate);
  const samples = force.samples.slice(first, Math.round(to * force.rate));
  const half = Math.floor(samples.length / 2);
  const steps = samples.slice(1).map((f, i) => f - samples[i]!);
  const average = mean(samples);
  const width = Math.round(0.05 * force.rate);
  let impulse = 0;
  const impulses: number[] = [];
  for (let i = 0; i + width <= samples.length; i += width) {
    for (const f of samples.slice(i, i + width)) impulse += (f - average) / force.rate;
    impulses.push(impulse);
  }
  return {
    mean: average,
    sd: spread(samples),
    halves: mean(samples.slice(half)) - mean(samples.slice(0, half)),
    noise: Math.sqrt(steps.reduce((sum, step) => sum + step * step, 0) / steps.length / 2),
    samples: samples.length,
    middle: (from + to) / 2,
    impulse: Math.sqrt(mean(impulses.map((one) => one * one)) - mean(impulses) ** 2),
  };
}

/** Slope of a force over the samples around an instant, N/s. */
function slopeAcross(force: PlainForce, time: number): number {
  const i = Math.floor(time * force.rate);
  return (force.samples[i + 1]! - force.samples[i]!) * force.rate;
}

function doubtsOf(trace: Trace, analysis: Analysis, inputs: PlainInputs, choices?: readonly Choice[]): PlainDoubts {
  const { sum, takeoff, landing } = inputs;
  const weighed = windowOf(sum, eventAt(analysis, "weighingStart"), eventAt(analysis, "weighingEnd"));
  const given = analysis.adjust.bodyWeight;
  const empty = windowOf(sum, takeoff + 0.045, landing - 0.045);
  const edge = (name: "takeoff" | "landing"): number => {
    const time = name === "takeoff" ? takeoff : landing;
    return analysis.adjust.events.has(name) ? 1 / (trace.rate * Math.sqrt(12)) : Math.hypot(1 / (trace.rate * Math.sqrt(12)), weighed.noise / slopeAcross(sum, time));
  };
  const gain = number(choices, "plate-gain-u", 0.25) / 100;
  return {
    // A weight given by hand is known as well as a scale: to the gain of the plates, or a thousandth.
    bodyWeight: given === undefined ? Math.sqrt((weighed.halves / 2) ** 2 + weighed.noise ** 2 / weighed.samples) : given * Math.max(gain, 0.001),
    zero: empty.sd / Math.sqrt(empty.samples),
    startVelocity: (inputs.gravity * weighed.impulse) / inputs.bodyWeight,
    onset: number(choices, "onset-half-width", 0.015) / Math.sqrt(3),
    takeoff: edge("takeoff"),
    landing: edge("landing"),
    posture: Math.hypot(number(choices, "landing-posture-mean", 0.034), number(choices, "landing-posture-u", 0.02)) / 2,
    gravity: number(choices, "gravity-u", 0.17) / 100,
    gain,
    weighed: given === undefined,
    thresholdTakeoff: 20 / -slopeAcross(sum, takeoff) / Math.sqrt(3),
    thresholdLanding: 20 / slopeAcross(sum, landing) / Math.sqrt(3),
  };
}

describe("a standing jump agrees with a plain model of it: every value", () => {
  test.each(Object.entries(CASES))("%s", (_, asked) => {
    const { trace, analysis } = analysedCase(asked);
    const inputs = inputsOf(trace, analysis, asked.choices);
    const { sum } = inputs;
    const weighed = windowOf(sum, eventAt(analysis, "weighingStart"), eventAt(analysis, "weighingEnd"));
    const last = windowOf(sum, sum.samples.length / sum.rate - 1, sum.samples.length / sum.rate);
    const expected: Record<string, number> = {
      ...plainStandingJump(inputs),
      flightOffset: mean(plainForceOf(trace, analysis.protocol.limb === "left" ? ["left"] : undefined).samples) - mean(sum.samples),
      driftRate: (last.mean - weighed.mean) / (last.middle - weighed.middle),
    };
    if (analysis.adjust.bodyWeight === undefined) {
      expected.weighingSd = weighed.sd;
      expected.bodyWeightUncertainty = Math.sqrt((weighed.halves / 2) ** 2 + weighed.noise ** 2 / weighed.samples);
    } else delete expected.driftRate;
    const fine = (id: string): boolean => id === "driftRate" || id === "weighingSd" || id === "bodyWeightUncertainty";
    const near = (id: string): { relative: number; absolute: number } => ({ relative: fine(id) ? 1e-6 : 5e-4, absolute: id === "heightDifference" ? 1e-4 : 3e-5 });
    expect(differences(analysis, expected, near, (id) => id === "endVelocity")).toEqual([]);
  });
});

/** Before the contact the body falls freely; after it, the force rises within the doubt of the instant. Looked at below. */
const OF_THE_IMPACT = ["landingVelocity", "landingImpulse"];
/** These are of single samples: looked at below. */
const OF_SAMPLES: readonly Source[] = ["noise", "sampling", "rounding"];

describe("a standing jump agrees with a plain model of it: every contribution that moves an input", () => {
  test.each(Object.entries(CASES))("%s", (_, asked) => {
    const { trace, analysis } = analysedCase(asked);
    const inputs = inputsOf(trace, analysis, asked.choices);
    const budget = budgetOf(plainStandingJump, inputs, plainInfluences(inputs, doubtsOf(trace, analysis, inputs, asked.choices)));
    const unseen = (id: string, source: Source): boolean =>
      OF_SAMPLES.includes(source) ||
      ((source === "landing" || source === "threshold") && OF_THE_IMPACT.includes(id)) ||
      // The window of the steepest rise, and the stretch within the band, begin at a sample.
      (source === "onset" && id === "maximumRfd") ||
      (source === "bodyWeight" && id === "timeToStabilisation") ||
      // Two parts that nearly cancel.
      ((source === "takeoff" || source === "threshold") && id === "jumpHeightAboveStanding");
    expect(budgetDifferences(analysis, budget, 0.02, unseen)).toEqual([]);
  });
});

describe("contributions that belong to single samples or to a law", () => {
  const asked: Case = { protocol: "CMJ", options: { ...short, test: "CMJ", leftShare: 0.53, faults: { noise: 1.5 } } };

  function made(): { doubts: PlainDoubts; inputs: PlainInputs; noise: number; part: (id: string, source: number) => number; u: (id: string, source: number) => number; value: (id: string) => number } {
    const { trace, analysis } = analysedCase(asked);
    const inputs = inputsOf(trace, analysis);
    const part = (id: string, source: number): number => (analysis.metrics.get(id) as WorkedMetric).parts[source]!;
    return {
      doubts: doubtsOf(trace, analysis, inputs),
      inputs,
      noise: windowOf(inputs.sum, eventAt(analysis, "weighingStart"), eventAt(analysis, "weighingEnd")).noise,
      part,
      u: (id, source) => Math.abs(part(id, source)),
      value: (id) => analysis.metrics.get(id)!.value,
    };
  }

  test("at an edge of the flight: sampling, and the noise over the slope there", () => {
    const { u, doubts } = made();
    expect(u("flightTime", TAKEOFF)).toBeCloseTo(doubts.takeoff, 9);
    expect(u("flightTime", LANDING)).toBeCloseTo(doubts.landing, 9);
    expect(u("timeToTakeoff", TAKEOFF)).toBeCloseTo(doubts.takeoff, 9);
    // The threshold is as early at take-off as it is late at landing: both together in the flight.
    expect(u("flightTime", THRESHOLD)).toBeCloseTo(doubts.thresholdTakeoff + doubts.thresholdLanding, 9);
  });

  test("at the landing: before the contact the body falls freely", () => {
    const { u, doubts, inputs } = made();
    expect(u("landingVelocity", LANDING)).toBeCloseTo(G * doubts.landing, 9);
    expect(u("landingVelocity", THRESHOLD)).toBeCloseTo(G * doubts.thresholdLanding, 9);
    expect(u("landingImpulse", LANDING) / u("landingVelocity", LANDING)).toBeCloseTo(inputs.bodyWeight / G, 6);
  });

  test("at the least velocity: the grid of the samples, and the noise over the slope of the force there", () => {
    const { u, inputs, noise } = made();
    const { sum } = inputs;
    expect(u("unweightingTime", SAMPLING)).toBeCloseTo(1 / (500 * Math.sqrt(12)), 12);
    const slope = (sum.at(inputs.turn + 0.002) - sum.at(inputs.turn - 0.002)) / 0.004;
    expect(slope).toBeGreaterThan(500);
    expect(u("unweightingTime", NOISE)).toBeCloseTo(noise / slope, 9);
  });

  test("in the rate of braking: the noise of two samples", () => {
    const { part, value, noise } = made();
    // (F_low - F_turn) / t: what the force at the least velocity adds, from the other two.
    const t = value("brakingTime");
    const turn = part("forceAtZeroVelocity", NOISE) - t * part("brakingRfd", NOISE) - value("brakingRfd") * part("brakingTime", NOISE);
    expect(turn).toBeCloseTo((1 - Math.SQRT2) * noise, 3);
  });

  test("in a dip: the noise of a sample over body weight; in none nothing else", () => {
    const squat = analysed(syntheticTrial({ ...short, test: "SJ", dip: 0.05, faults: { noise: 1 } }).trace, { protocol: "SJ" });
    const metric = squat.metrics.get("dipFraction") as WorkedMetric;
    const weighed = windowOf(plainForceOf(squat.trace), eventAt(squat, "weighingStart"), eventAt(squat, "weighingEnd"));
    expect(Math.abs(metric.parts[NOISE]!)).toBeCloseTo(weighed.noise / squat.metrics.get("bodyWeight")!.value, 9);
    const none = analysedCase(CASES["a squat on two plates"]!).analysis.metrics.get("dipFraction")!;
    expect([none.value, none.budget!.map(({ source }) => source)]).toEqual([0, ["noise"]]);
  });
});
