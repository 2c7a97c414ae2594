import { describe, expect, test } from "vitest";
import { timeSeriesOf } from "../../../src/protocols/timeSeries.ts";
import type { Trial } from "../../../src/protocols/Trial.ts";
import { BODY_WEIGHT } from "../../../src/uncertainty/sources.ts";
import { traceOf } from "../../support/secondOpinion.ts";
import { trialOf } from "../../support/trialOf.ts";

// Constant acceleration at 100 Hz: v = v1 + a (t - t1), z = z1 + v1 (t - t1) + a (t - t1)^2 / 2, in both directions from an instant.

const RATE = 100;
const W = 800;
const G = 9.8;
const A = 2;

function trial(weighed = true): Trial {
  const force = Array.from({ length: 51 }, () => W * (1 + A / G));
  const made = trialOf(traceOf({ left: force.map((f) => 0.6 * f), right: force.map((f) => 0.4 * f) }, RATE), { protocol: "CMJ", choices: [["gravity", G]] });
  if (weighed) made.weight = made.work.quantity(W, 0, BODY_WEIGHT, 1);
  return made;
}

describe("the columns over time", () => {
  test("have the time from sample zero, the force, and each side without its zero and drift", () => {
    const made = trial();
    Object.assign(made.left!, { offset: 4, slope: 5, middle: 0.2 });
    const series = timeSeriesOf(made);
    expect(series.time).toHaveLength(51);
    expect([series.time[0], series.time[37]]).toEqual([0, 0.37]);
    expect(series.force).toBe(made.force);
    const f = W * (1 + A / G);
    for (const i of [0, 20, 50]) expect(series.left![i]).toBeCloseTo(0.6 * f - 4 - 5 * (i / RATE - 0.2), 9);
    expect(series.right![50]).toBeCloseTo(0.4 * f, 9);
    expect(series.left).toHaveLength(51);
  });

  test("have no motion without an instant at which it is known, or without a weight", () => {
    const still = trial();
    expect(Object.keys(timeSeriesOf(still)).sort()).toEqual(["force", "left", "right", "time"]);
    const nobody = trial(false);
    nobody.anchor = { sample: 10, velocity: 0, displacement: 0, restBefore: true };
    expect("velocity" in timeSeriesOf(nobody)).toBe(false);
    const one = trialOf(traceOf({ total: [1, 2, 3] }, RATE), { protocol: "CMJ" });
    expect(Object.keys(timeSeriesOf(one)).sort()).toEqual(["force", "time"]);
  });

  test("begin their motion at rest, where the body stood before", () => {
    const made = trial();
    made.anchor = { sample: 20, velocity: 0, displacement: 0, restBefore: true };
    const { velocity, displacement, power, force } = timeSeriesOf(made);
    for (const i of [0, 12, 20]) expect([velocity![i], displacement![i], power![i]]).toEqual([0, 0, 0]);
    for (const i of [21, 35, 50]) {
      const t = (i - 20) / RATE;
      expect(velocity![i]).toBeCloseTo(A * t, 12);
      // By trapezoids, which for a straight line are exact.
      expect(displacement![i]).toBeCloseTo((A * t * t) / 2, 12);
      expect(power![i]).toBe(force[i]! * velocity![i]!);
    }
  });

  test("go both ways from an instant in the middle of a motion", () => {
    const made = trial();
    made.anchor = { sample: 30, velocity: -1, displacement: 0.4, restBefore: false };
    const { velocity, displacement, power } = timeSeriesOf(made);
    for (let i = 0; i <= 50; i++) {
      const t = (i - 30) / RATE;
      expect(velocity![i]).toBeCloseTo(-1 + A * t, 12);
      expect(displacement![i]).toBeCloseTo(0.4 - t + (A * t * t) / 2, 12);
      expect(power![i]).toBeCloseTo(W * (1 + A / G) * (-1 + A * t), 8);
    }
  });

  test("go back by the force between two samples", () => {
    const force = [0, 800, 1600, 2400];
    const made = trialOf(traceOf({ total: force }, 10), { protocol: "CMJ", choices: [["gravity", G]] });
    made.weight = made.work.exact(800);
    made.anchor = { sample: 3, velocity: 1, displacement: 0, restBefore: false };
    const { velocity, displacement } = timeSeriesOf(made);
    // Accelerations of g times 1.5, 0.5 and -0.5 between the samples.
    expect([...velocity!]).toEqual([1 - G * 0.15, 1 - G * 0.2, 1 - G * 0.15, 1].map((v) => expect.closeTo(v, 12)));
    expect(displacement![2]).toBeCloseTo(-0.1 * (1 - G * 0.075), 12);
  });
});
