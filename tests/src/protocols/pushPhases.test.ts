import { describe, expect, test } from "vitest";
import { analyse } from "../../../src/protocols/analyse.ts";
import type { Analysis } from "../../../src/protocols/Analysis.ts";
import { Kinematics } from "../../../src/protocols/Kinematics.ts";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import { braking, lowestPoint, propulsion, takeoffVelocity, type Turn } from "../../../src/protocols/pushPhases.ts";
import type { Trial } from "../../../src/protocols/Trial.ts";
import { INTEGRAL, type Quantity, TIMES, WEIGHT } from "../../../src/protocols/workings.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import type { Trace } from "../../../src/trace/Trace.ts";
import { BODY_WEIGHT, NOISE, START_VELOCITY, TAKEOFF } from "../../../src/uncertainty/sources.ts";
import { traceOf } from "../../support/secondOpinion.ts";
import { trialOf } from "../../support/trialOf.ts";

// A second route: extremes, means and times are read again from the columns over time and the phases, which no metric is taken from.

const RATE = 1000;
const cases = [
  ["CMJ", "CMJ"],
  ["DJ", "DJ drop=0.30"],
] as const;

function analysed(kind: "CMJ" | "DJ", protocol: string): Analysis {
  const { trace } = syntheticTrial({ test: kind, seed: 8, leftShare: 0.54, rate: RATE });
  return analyse(trace, parseProtocol(protocol), DEFAULT_SETTINGS);
}

/** Values of a column over a phase, `start <= t < end`. */
function over(analysis: Analysis, name: "braking" | "propulsion", column: "force" | "velocity" | "power" | "left" | "right"): number[] {
  const { start, end } = analysis.phases.find((phase) => phase.name === name)!;
  const series = analysis.timeSeries();
  return [...series[column]!].filter((_, i) => series.time[i]! >= start - 1e-9 && series.time[i]! < end - 1e-9);
}

const value = (analysis: Analysis, id: string): number => analysis.metrics.get(id)!.value;

describe.each(cases)("the phases of a %s", (kind, protocol) => {
  const analysis = analysed(kind, protocol);

  test("have the least power of braking and the largest of propulsion among their samples", () => {
    expect(value(analysis, "minimumPowerBraking")).toBeLessThan(-100);
    expect(value(analysis, "minimumPowerBraking")).toBeCloseTo(Math.min(...over(analysis, "braking", "power")), 6);
    expect(value(analysis, "peakPower")).toBeCloseTo(Math.max(...over(analysis, "propulsion", "power")), 6);
    expect(value(analysis, "peakPower")).toBeGreaterThan(1000);
  });

  test("meet where the velocity is zero, at the lowest point", () => {
    const [braking, propulsion] = ["braking", "propulsion"].map((name) => analysis.phases.find((phase) => phase.name === name)!);
    expect(braking!.end).toBe(analysis.events.get("lowest")!.time);
    expect(propulsion!.start).toBe(braking!.end);
    expect(Math.max(...over(analysis, "braking", "velocity"))).toBeLessThanOrEqual(0);
    expect(Math.min(...over(analysis, "propulsion", "velocity"))).toBeGreaterThanOrEqual(0);
    expect(value(analysis, "brakingTime")).toBeCloseTo(braking!.end - braking!.start, 9);
    expect(value(analysis, "propulsionTime")).toBeCloseTo(propulsion!.end - propulsion!.start, 9);
  });

  test("have mean velocities, powers and forces that follow from their samples", () => {
    for (const [name, ending] of [["braking", "Braking"], ["propulsion", "Propulsion"]] as const) {
      const mean = (values: readonly number[]): number => values.reduce((sum, x) => sum + x, 0) / values.length;
      // A mean over samples against one over time: half a sample at each end of some 200.
      const near = (id: string, other: number): void => expect(Math.abs(value(analysis, id) / other - 1), id).toBeLessThan(0.03);
      near(`meanForce${ending}`, mean(over(analysis, name, "force")));
      near(`meanForce${ending}Left`, mean(over(analysis, name, "left")));
      near(`meanForce${ending}Right`, mean(over(analysis, name, "right")));
      near(`meanVelocity${ending}`, mean(over(analysis, name, "velocity")));
      near(`meanPower${ending}`, mean(over(analysis, name, "power")));
    }
  });

  test("have impulses of the sides that make up the change of momentum and the weight", () => {
    for (const [name, ending] of [["braking", "Braking"], ["propulsion", "Propulsion"]] as const) {
      const { start, end } = analysis.phases.find((phase) => phase.name === name)!;
      const gross = value(analysis, `${name}ImpulseLeft`) + value(analysis, `${name}ImpulseRight`);
      const net = value(analysis, `${name}Impulse`);
      expect(Math.abs((gross - value(analysis, "bodyWeight") * (end - start)) / net - 1), ending).toBeLessThan(0.005);
    }
  });
});

test("a push that never turns upward has no lowest point, and is not kept unseen", () => {
  const { trace } = syntheticTrial({ test: "CMJ", seed: 8, rate: RATE });
  const takeoff = analyse(trace, parseProtocol("CMJ"), DEFAULT_SETTINGS).events.get("takeoff")!.time;
  // The force of the push is taken away: the body only falls until it leaves the plate.
  const fallen: Trace = {
    ...trace,
    plates: trace.plates.map(({ role, force }) => ({ role, force: force.map((f, i) => (i / RATE > takeoff - 0.35 && i / RATE < takeoff ? Math.min(f, 250) : f)) })),
  };
  const analysis = analyse(fallen, parseProtocol("CMJ"), DEFAULT_SETTINGS);
  expect(analysis.metrics.has("countermovementDepth")).toBe(false);
  expect(analysis.metrics.has("peakPower")).toBe(false);
  expect(analysis.events.has("lowest")).toBe(false);
  expect(analysis.verdict).not.toBe("keep");
});

// The parts by themselves, on motions of a few samples at 100 Hz whose answers are worked out by hand.
describe("on a motion by hand", () => {
  const W = 800;
  const G = 9.8;

  interface Made {
    readonly trial: Trial;
    readonly kinematics: Kinematics;
    readonly turn: (time: number, velocity?: number, displacement?: number) => Turn;
  }

  /** A motion that begins at sample 10, with the force of the whole record. */
  function made(velocity: readonly number[], force: readonly number[] = Array.from({ length: 40 }, () => 1000)): Made {
    const trial = trialOf(traceOf({ total: force }, 100), { protocol: "CMJ", choices: [["gravity", G]] });
    trial.weight = trial.work.quantity(W, WEIGHT, BODY_WEIGHT, 2);
    trial.mass = trial.work.exact(W / G, WEIGHT);
    Object.assign(trial, { uWeight: 2, noise: 0 });
    const motion = { start: 10, rate: 100, velocity: Float64Array.from(velocity), displacement: new Float64Array(velocity.length) };
    const kinematics = new Kinematics(trial, motion, 0.1, trial.work.quantity(velocity[0]!, 0, START_VELOCITY, 0.03));
    const turn = (time: number, v = 0, z = 0): Turn => ({ instant: trial.work.exact(time, TIMES), velocity: trial.work.exact(v), displacement: trial.work.exact(z) });
    return { trial, kinematics, turn };
  }

  describe("the lowest point", () => {
    const falling = [-0.5, -1, -2, -1, 0.5, 1];

    test("is where the straight line between two samples comes up to zero, as sharp as the acceleration there", () => {
      const { trial, kinematics } = made(falling);
      const low = lowestPoint(trial, kinematics, 2, 5)!;
      // From -1 m/s at sample 13 to 0.5 m/s at sample 14: 150 m/s^2.
      expect(low.instant.value).toBeCloseTo((13 + 2 / 3) / 100, 12);
      expect(trial.events.get("lowest")!.time).toBe(low.instant.value);
      expect(trial.work.part(low.instant, START_VELOCITY)).toBeCloseTo(-0.03 / 150, 12);
      expect([low.velocity.value, low.velocity.needs, trial.work.part(low.velocity, START_VELOCITY)]).toEqual([0, TIMES | WEIGHT | INTEGRAL, 0]);
    });

    test.each([
      ["up to the last sample that is looked at", falling, 2, 4, true],
      ["not after it", falling, 2, 3, false],
      ["from the first sample on", [-1, 0.5, 1], 0, 2, true],
      ["not where the velocity never was below zero", [0, 0.5, 1], 0, 2, false],
      ["not before the sample from which it is looked for", [-1, 0.5, 1, 1], 3, 3, false],
      ["where a sample is exactly zero", [-1, -0.5, 0, 1], 1, 3, true],
      ["not where the velocity stays below", [-1, -2, -3], 1, 2, false],
    ] as const)("is found %s", (_, velocity, from, last, found) => {
      const { trial, kinematics } = made(velocity);
      expect(lowestPoint(trial, kinematics, from, last) !== undefined).toBe(found);
      expect(trial.events.has("lowest")).toBe(found);
    });

    test("at a sample that is exactly zero is that sample", () => {
      const { trial, kinematics } = made([-1, -0.5, 0, 1]);
      expect(lowestPoint(trial, kinematics, 1, 3)!.instant.value).toBeCloseTo(0.12, 12);
    });
  });

  test("the velocity at take-off grows by the acceleration at the threshold with a later take-off", () => {
    for (const [threshold, force] of [[20, 20], [undefined, 0]] as const) {
      const { trial, kinematics } = made([0, 1, 2, 3]);
      if (threshold !== undefined) trial.facts.threshold = threshold;
      const quantity = trial.work.quantity(0.125, TIMES, TAKEOFF, 0.001);
      const velocity = takeoffVelocity(trial, kinematics, { quantity, time: 0.125 });
      expect(velocity.value).toBeCloseTo(2.5, 12);
      expect(trial.work.part(velocity, TAKEOFF)).toBeCloseTo(0.001 * ((force - W) / (W / G)), 12);
      expect(trial.work.part(velocity, START_VELOCITY)).toBeCloseTo(0.03, 12);
    }
  });

  describe("a phase", () => {
    const ids = ({ trial }: Made): string[] => [...trial.work.metrics.keys()];

    test("without length has its ends and nothing over it", () => {
      for (const end of [0.15, 0.14]) {
        const one = made([-1, -1, -1, -1, -1, -1]);
        braking(one.trial, one.kinematics, one.turn(0.15), one.turn(end));
        expect(ids(one)).toEqual(["brakingTime", "brakingDisplacement"]);
        const other = made([1, 1, 1, 1, 1, 1]);
        const takeoff = { quantity: other.trial.work.exact(end), time: end };
        propulsion(other.trial, { kinematics: other.kinematics, takeoff, velocity: other.trial.work.exact(2), displacement: other.trial.work.exact(0.4) }, other.turn(0.15));
        expect(ids(other)).toEqual(["propulsionTime", "propulsionDisplacement"]);
        expect([...one.trial.phases, ...other.trial.phases]).toEqual([]);
      }
    });

    test("between two samples has means, and no extreme of samples", () => {
      const one = made([-1, -1, -1, -1, -1, -1]);
      braking(one.trial, one.kinematics, one.turn(0.121, -1), one.turn(0.129, 0, -0.004));
      expect(ids(one)).toEqual(["brakingTime", "brakingDisplacement", "meanVelocityBraking", "meanPowerBraking", "brakingImpulse", "meanForceBraking"]);
      expect(one.trial.phases).toEqual([{ name: "braking", start: 0.121, end: 0.129 }]);
      const got = (id: string): number => one.trial.work.metrics.get(id)!.value;
      expect(got("meanVelocityBraking")).toBeCloseTo(-0.5, 9);
      // Work over time: m (0 - 1) / 2 + m g dz, over 8 ms.
      expect(got("meanPowerBraking")).toBeCloseTo(((W / G) * (-0.5 - G * 0.004)) / 0.008, 6);
      expect(got("brakingImpulse")).toBeCloseTo(W / G, 9);
      const takeoff = { quantity: one.trial.work.exact(0.129), time: 0.129 };
      propulsion(one.trial, { kinematics: one.kinematics, takeoff, velocity: one.trial.work.exact(2), displacement: one.trial.work.exact(0.4) }, one.turn(0.121, 1, 0.3));
      expect(one.trial.work.metrics.has("peakPower")).toBe(false);
      expect(got("propulsionDisplacement")).toBeCloseTo(0.1, 12);
      expect(got("meanPowerPropulsion")).toBeCloseTo(((W / G) * (1.5 + G * 0.1)) / 0.008, 6);
      expect(got("propulsionImpulse")).toBeCloseTo(W / G, 9);
    });

    test("has its least and its largest power at a sample, from the start on and before the end", () => {
      // Power in W: -1000, -2000, -3000, -4000, then upward.
      const one = made([-1, -2, -3, -4, 1, 2, 3, 4]);
      const power = (id: string, run: (made: Made) => void): number | undefined => {
        const two = made([-1, -2, -3, -4, 1, 2, 3, 4]);
        run(two);
        return two.trial.work.metrics.get(id)?.value;
      };
      const least = (from: number, to: number): number | undefined => power("minimumPowerBraking", ({ trial, kinematics, turn }) => braking(trial, kinematics, turn(from), turn(to)));
      const most = (from: number, to: number): number | undefined =>
        power("peakPower", ({ trial, kinematics, turn }) =>
          propulsion(trial, { kinematics, takeoff: { quantity: trial.work.exact(to), time: to }, velocity: trial.work.exact(1), displacement: trial.work.exact(0) }, turn(from)),
        );
      expect([least(0.1, 0.13), least(0.1, 0.131), least(0.1, 0.13 + 1e-9), least(0.05, 0.12), least(0.13 + 1e-9, 0.15)]).toEqual([-3000, -4000, -3000, -2000, -4000]);
      expect([most(0.14, 0.17), most(0.14, 0.171), most(0.15, 0.16), most(0.14, 0.3)]).toEqual([3000, 4000, 2000, 4000]);
      expect(one.kinematics.motion.velocity).toHaveLength(8);
    });

    test("has the noise of an extreme among samples that could have been it, inside the motion", () => {
      // With 1 N of noise at 2 m/s the power has 2 W: of 2000, 1998, 1995, 1993 W three are within 6 W, and the sample after the motion is none.
      const force = Array.from({ length: 40 }, () => 1000);
      Object.assign(force, { 11: 996.5, 12: 1000, 13: 999, 14: 997.5, 15: 1000 });
      const two = made([0, 2, 2, 2, 2], force);
      two.trial.noise = 1;
      const takeoff = { quantity: two.trial.work.exact(0.15), time: 0.15 };
      propulsion(two.trial, { kinematics: two.kinematics, takeoff, velocity: two.trial.work.exact(2), displacement: two.trial.work.exact(0) }, two.turn(0.105));
      const peak = two.trial.work.metrics.get("peakPower")!;
      expect(peak.value).toBe(2000);
      const ofVelocity = two.trial.work.part(two.kinematics.velocity(0.12), NOISE);
      expect(two.trial.work.part(peak as unknown as Quantity, NOISE)).toBeCloseTo(2 * Math.sqrt(1 + 1.4 * Math.log(3)) + 1000 * ofVelocity, 9);
    });
  });
});
