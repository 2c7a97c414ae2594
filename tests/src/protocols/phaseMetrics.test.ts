import { describe, expect, test } from "vitest";
import * as formulas from "../../../src/protocols/formulas.ts";
import {
  extremeForce, forceAt, forceQuantityAt, largestAt, ofSeveral, phaseForces, riseQuantity, rivals, sideAtInstant, sideImpulse, sideImpulseQuantity, sideImpulses, sideValue, smallestAt,
  steepestRise,
} from "../../../src/protocols/phaseMetrics.ts";
import type { SideForce, Trial } from "../../../src/protocols/Trial.ts";
import { SIDES, TIMES, WEIGHT } from "../../../src/protocols/workings.ts";
import { GAIN, LANDING, NOISE, ONSET, ROUNDING, SAMPLING, TAKEOFF, ZERO } from "../../../src/uncertainty/sources.ts";
import { traceOf } from "../../support/secondOpinion.ts";
import { trialOf } from "../../support/trialOf.ts";

// Forces of a few samples, so that each expected number can be worked out by hand: straight lines between samples, at 10 Hz.

const RATE = 10;

describe("the index of an extreme", () => {
  const force = Float64Array.from([5, 1, 9, 9, 1, 7]);

  test.each([
    ["all samples", 0, 0.6, 2, 1],
    ["from a sample on, that one with it", 0.3, 0.6, 3, 4],
    ["up to a sample, without it", 0, 0.2, 0, 1],
    ["between samples", 0.01, 0.11, 1, 1],
    ["a sample that rounding puts a hair before the start", 0.2 + 1e-9, 0.21, 2, 2],
    ["a sample that rounding puts a hair before the end", 0, 0.2 + 1e-9, 0, 1],
    ["more than there is", -1, 9, 2, 1],
    ["nothing between two samples", 0.21, 0.29, -1, -1],
    ["nothing", 0.2, 0.2, -1, -1],
  ])("over %s", (_, start, end, largest, smallest) => {
    expect([largestAt(force, start, end, RATE), smallestAt(force, start, end, RATE)]).toEqual([largest, smallest]);
  });
});

describe("a side", () => {
  // 100 + 10 i at sample i, with a zero of 4 N at 0.2 s that drifts by 5 N/s.
  const side: SideForce = { force: Float64Array.from([100, 110, 120, 130, 140]), unfiltered: new Float64Array(5), offset: 4, slope: 5, middle: 0.2 };

  test("has its zero and its drift taken off", () => {
    expect(sideValue(side, 2, RATE)).toBeCloseTo(116, 12);
    expect(sideValue(side, 3.5, RATE)).toBeCloseTo(135 - 4 - 5 * 0.15, 12);
  });

  test("has them taken off its impulse", () => {
    // Between 0.1 and 0.4 s: mean 125 N, mean zero 4 + 5 * 0.05.
    expect(sideImpulse(side, 0.1, 0.4, RATE)).toBeCloseTo(0.3 * (125 - 4.25), 12);
  });
});

describe("samples that could have been the largest", () => {
  const values = [10, 8, 10, 7, 1, 10];
  const count = (at: number, noise: number): number => rivals((i) => values[i]!, at, values.length, noise);

  test("are those less than three noises below, on both sides up to one that is six below", () => {
    // 8 is 2 below, 7 is 3 below: with a noise of 1 the one counts, the other does not; 1 is 9 below and ends the way.
    expect(count(0, 1)).toBe(3);
    expect(count(2, 1)).toBe(3);
    // A noise of 1.1: 7 counts as well; 9 is more than 6.6 still.
    expect(count(2, 1.1)).toBe(4);
    // 9 is not more than 9: the way goes on, and 9 is not less than 4.5.
    expect(count(2, 1.5)).toBe(5);
    expect(count(5, 1)).toBe(1);
    expect(count(5, 1.5)).toBe(5);
  });

  test("are told alike on both sides", () => {
    // 3 below on either side, with a noise of 1, is not less than three noises; 2.9 is.
    expect(rivals((i) => [7, 10, 7][i]!, 1, 3, 1)).toBe(1);
    expect(rivals((i) => [7.1, 10, 7][i]!, 1, 3, 1)).toBe(2);
    expect(rivals((i) => [7, 10, 7.1][i]!, 1, 3, 1)).toBe(2);
    // 6 below is not more than six noises: the way goes on over it.
    expect(rivals((i) => [10, 4, 10, 4, 10][i]!, 2, 5, 1)).toBe(3);
    expect(rivals((i) => [10, 3.9, 10, 3.9, 10][i]!, 2, 5, 1)).toBe(1);
  });

  test("are none but itself without noise", () => {
    expect(rivals(() => 1, 2, 5, 0)).toBe(1);
    expect(rivals(() => 1, 2, 5, 1e-9)).toBe(5);
  });
});

test("the largest of several noisy samples lies above the force by no less than normal deviates do", () => {
  // Root mean square of the largest of n normal deviates, by integration of its density n phi(x) Phi(x)^(n - 1) in steps of a thousandth.
  const truth = (n: number): number => {
    let below = 0;
    let square = 0;
    for (let x = -8; x < 8; x += 0.001) {
      const density = Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
      below += density * 0.001;
      square += x * x * n * density * below ** (n - 1) * 0.001;
    }
    return Math.sqrt(square);
  };
  for (const n of [1, 2, 5, 10, 100, 1000]) {
    expect(ofSeveral(n)).toBeGreaterThan(truth(n) - 0.005);
    expect(ofSeveral(n)).toBeLessThan(1.45 * truth(n));
  }
  expect(ofSeveral(1)).toBe(1);
  // As its comment says, for ten and for a hundred.
  expect([ofSeveral(10).toFixed(2), ofSeveral(100).toFixed(2)]).toEqual(["2.06", "2.73"]);
});

/** Two plates with 60 and 40 per cent of a force, or one with all. */
function trial(force: readonly number[], plates: 1 | 2 = 2): Trial {
  const part = (share: number): number[] => force.map((f) => share * f);
  const made = trialOf(traceOf(plates === 2 ? { left: part(0.6), right: part(0.4) } : { total: force }, RATE, { step: Math.sqrt(12) }), { protocol: "CMJ" });
  made.noise = 0.5;
  made.uZero = 0.25;
  return made;
}

/** What a quantity is made of, by source. */
function partsOf(made: Trial, id: string): Record<string, number> {
  return Object.fromEntries((made.work.metrics.get(id)?.budget ?? []).map(({ source, u }) => [source, u]));
}

const value = (made: Trial, id: string): number | undefined => made.work.metrics.get(id)?.value;

describe("an extreme of a phase", () => {
  const force = [100, 300, 900, 500, 700, 200];

  test("at a sample: with the step to a neighbour and the noise in its uncertainty, of the sum and of each side", () => {
    const made = trial(force);
    const { work } = made;
    const extreme = extremeForce(made, formulas.peakForce, work.exact(0.05), work.exact(0.45), TIMES)!;
    expect(extreme.at).toBe(2);
    expect([value(made, "peakForce"), value(made, "peakForceLeft"), value(made, "peakForceRight")]).toEqual([900, expect.closeTo(540, 9), expect.closeTo(360, 9)]);
    const u = partsOf(made, "peakForce");
    // The larger step is 600 N: a quarter. Readings of two plates in steps of sqrt 12 N: sqrt 2. The gain is 0.25 per cent.
    expect(u).toEqual({ sampling: 150, noise: 0.5, zero: 0.25, gain: expect.closeTo(2.25, 9), rounding: expect.closeTo(Math.SQRT2, 9) });
    expect(partsOf(made, "peakForceLeft").sampling).toBeCloseTo(90, 9);
    expect(work.metrics.get("peakForce")!.needs).toBe(TIMES);
    expect(work.metrics.get("peakForceLeft")!.needs).toBe(TIMES | SIDES);
    expect(work.metrics.get("peakForceRight")!.needs).toBe(TIMES | SIDES);
    // Without its zero a side is less by that.
    const zeroed = trial(force);
    zeroed.left!.offset = 10;
    extremeForce(zeroed, formulas.peakForce, zeroed.work.exact(0.05), zeroed.work.exact(0.45), TIMES);
    expect([value(zeroed, "peakForceLeft"), value(zeroed, "peakForceRight")]).toEqual([expect.closeTo(530, 9), expect.closeTo(360, 9)]);
    // From the other side: the larger step comes before the sample.
    const other = trial([100, 800, 900, 500, 700, 200]);
    extremeForce(other, formulas.peakForce, other.work.exact(0.05), other.work.exact(0.45), TIMES);
    expect(partsOf(other, "peakForce").sampling).toBe(100);
  });

  test("at a sample among others that noise could have made the largest", () => {
    const made = trial([100, 899, 900, 899.5, 200, 100]);
    extremeForce(made, formulas.peakForce, made.work.exact(0), made.work.exact(0.5), TIMES);
    // Three samples within 1.5 N: 1 + 1.4 ln 3 of the squared noise.
    expect(partsOf(made, "peakForce").noise).toBeCloseTo(0.5 * Math.sqrt(1 + 1.4 * Math.log(3)), 9);
  });

  test("at an end between samples: with the doubt of that instant", () => {
    const made = trial(force);
    const { work } = made;
    const start = work.quantity(0.25, TIMES, ONSET, 0.01);
    const end = work.quantity(0.43, WEIGHT, TAKEOFF, 0.02);
    // At 0.43 s 550 N, more than the 500 N of the sample at 0.3 s.
    const down = extremeForce(made, formulas.minimumForce, start, end, 0, -1)!;
    expect([down.at, down.quantity.value]).toEqual([3, 500]);
    const later = extremeForce(made, formulas.minimumForce, start, work.quantity(0.46, WEIGHT, TAKEOFF, 0.02), 0, -1)!;
    expect([later.at, later.quantity.value]).toEqual([expect.closeTo(4.6, 9), expect.closeTo(400, 9)]);
    // The slope over one sample to both sides: from 560 N at 0.36 s to 200 N, where the record ends, over 0.2 s.
    expect(partsOf(made, "minimumForce").takeoff).toBeCloseTo(0.02 * ((620 - 200) / 2) * 10, 6);
    expect(partsOf(made, "minimumForce").onset).toBeUndefined();
    expect(work.metrics.get("minimumForce")!.needs).toBe(WEIGHT);
    // Largest: at the start, where the sample before it is out of the stretch.
    const peak = extremeForce(made, formulas.peakForce, work.quantity(0.22, TIMES, ONSET, 0.01), end, 0)!;
    expect([peak.at, peak.quantity.value]).toEqual([2.2, expect.closeTo(820, 9)]);
    // 420 N at 0.12 s, 540 N at 0.32 s.
    expect(partsOf(made, "peakForce").onset).toBeCloseTo(0.01 * 600, 6);
    expect(partsOf(made, "peakForce").sampling).toBeUndefined();
    expect([value(made, "peakForceLeft"), value(made, "peakForceRight")]).toEqual([expect.closeTo(492, 9), expect.closeTo(328, 9)]);
  });

  test("of one plate has no sides, and a stretch without a sample has none", () => {
    const made = trial(force, 1);
    expect(extremeForce(made, formulas.peakForce, made.work.exact(0.21), made.work.exact(0.29), TIMES)).toBeUndefined();
    expect(made.work.metrics.size).toBe(0);
    extremeForce(made, formulas.peakForce, made.work.exact(0), made.work.exact(0.5), TIMES);
    expect([...made.work.metrics.keys()]).toEqual(["peakForce"]);
  });

  test("of a side whose end lies at an empty plate is that of its own sample", () => {
    const made = trial([0, 0, 0, 0, 0, 0]);
    made.left!.offset = -3;
    extremeForce(made, formulas.peakForce, made.work.exact(0.05), made.work.exact(0.45), TIMES);
    expect(value(made, "peakForceLeft")).toBe(3);
    expect(value(made, "peakForceRight")).toBe(0);
    // Plates that cancel at that sample have no shares of it.
    const cancelling = trialOf(traceOf({ left: [50, 50, 5, 60, 60], right: [50, 50, -5, 60, 60] }, RATE), { protocol: "CMJ" });
    extremeForce(cancelling, formulas.peakForce, cancelling.work.exact(0.15), cancelling.work.exact(0.25), TIMES);
    expect([value(cancelling, "peakForceLeft"), value(cancelling, "peakForceRight")]).toEqual([5, -5]);
  });

  test("of a side at an end between samples has the share of the sum that it had at the nearest sample inside", () => {
    // Shares of the left plate: 50, 50, 60, 70, 80, 10 per cent. The sum is 400 N at 0.25 s and 700 N at 0.45 s; inside lie the samples at 0.3 and 0.4 s.
    const sum = [100, 300, 500, 300, 600, 800];
    const share = [0.5, 0.5, 0.6, 0.7, 0.8, 0.1];
    const made = trialOf(traceOf({ left: sum.map((f, i) => f * share[i]!), right: sum.map((f, i) => f * (1 - share[i]!)) }, RATE), { protocol: "CMJ" });
    extremeForce(made, formulas.peakForce, made.work.exact(0.25), made.work.exact(0.45), TIMES);
    expect([value(made, "peakForce"), value(made, "peakForceLeft")]).toEqual([expect.closeTo(700, 9), expect.closeTo(560, 9)]);
    // The right side is largest at the start: 30 per cent of 400 N, against 90 N and 120 N at samples and 140 N at the end.
    expect(value(made, "peakForceRight")).toBeCloseTo(140, 9);
    extremeForce(made, formulas.peakForceBraking, made.work.exact(0.25), made.work.exact(0.35), TIMES);
    expect(value(made, "peakForceBrakingRight")).toBeCloseTo(0.3 * 450, 9);
    extremeForce(made, formulas.peakForcePropulsion, made.work.exact(0.21), made.work.exact(0.35), TIMES);
    expect([value(made, "peakForcePropulsionLeft"), value(made, "peakForcePropulsionRight")]).toEqual([expect.closeTo(0.7 * 480, 9), expect.closeTo(0.3 * 480, 9)]);
  });

  test("outside the record is that of its samples", () => {
    const made = trial(force);
    const extreme = extremeForce(made, formulas.peakForce, made.work.exact(-0.05), made.work.exact(0.75), TIMES)!;
    expect([extreme.at, extreme.quantity.value]).toEqual([2, 900]);
    const rising = trial([100, 300, 400, 500, 700, 800]);
    expect(extremeForce(rising, formulas.peakForce, rising.work.exact(0), rising.work.exact(0.75), TIMES)!.at).toBe(5);
    // The step to the one neighbour that it has.
    expect(partsOf(rising, "peakForce").sampling).toBeCloseTo(25, 9);
    const falling = trial([900, 300, 400, 500, 700, 800]);
    expect(extremeForce(falling, formulas.peakForce, falling.work.exact(-0.05), falling.work.exact(0.5), TIMES)!.at).toBe(0);
    // Up to the last sample itself: 0.5 s.
    expect(extremeForce(rising, formulas.peakForce, rising.work.exact(0), rising.work.exact(0.5), TIMES)!.quantity.value).toBe(800);
    expect(extremeForce(falling, formulas.peakForce, falling.work.exact(0), falling.work.exact(0.5), TIMES)!.quantity.value).toBe(900);
  });
});

describe("forces over a phase", () => {
  // 100, 200, ... 600 N: from 0.15 to 0.45 s 250 to 550 N, mean 400 N, 120 N s.
  const force = [100, 200, 300, 400, 500, 600];

  test("have the mean of the straight lines, the impulse of each side, and the doubt of both ends", () => {
    const made = trial(force);
    const { work } = made;
    const start = work.quantity(0.15, TIMES, ONSET, 0.01);
    const end = work.quantity(0.45, WEIGHT, TAKEOFF, 0.02);
    phaseForces(made, formulas.brakingImpulse, formulas.meanForceBraking, start, end, 0);
    expect(Object.fromEntries([...work.metrics.values()].map(({ id, value: one }) => [id, Number(one.toFixed(9))]))).toEqual({
      brakingImpulseLeft: 72, brakingImpulseRight: 48, meanForceBraking: 400, meanForceBrakingLeft: 240, meanForceBrakingRight: 160,
    });
    // A later start drops the force there: d(mean)/d(start) = (400 - 250) / 0.3, d(mean)/d(end) = (550 - 400) / 0.3.
    const sum = partsOf(made, "meanForceBraking");
    expect([sum.onset, sum.takeoff]).toEqual([expect.closeTo(5, 9), expect.closeTo(10, 9)]);
    // Three samples share the noise; the zero and the gain do not shrink.
    expect([sum.noise, sum.zero, sum.gain, sum.rounding]).toEqual([expect.closeTo(0.5 / Math.sqrt(3), 9), 0.25, expect.closeTo(1, 9), expect.closeTo(Math.sqrt(2 / 3), 9)]);
    const left = partsOf(made, "brakingImpulseLeft");
    expect([left.onset, left.takeoff]).toEqual([expect.closeTo(0.01 * 150, 9), expect.closeTo(0.02 * 330, 9)]);
    expect([left.noise, left.zero, left.gain]).toEqual([expect.closeTo((0.3 * 0.5) / Math.sqrt(3), 9), expect.closeTo(0.075, 9), expect.closeTo(0.0025 * 72, 9)]);
    const mean = partsOf(made, "meanForceBrakingRight");
    expect([mean.onset, mean.takeoff, mean.gain]).toEqual([expect.closeTo((0.01 * (160 - 100)) / 0.3, 9), expect.closeTo((0.02 * (220 - 160)) / 0.3, 9), expect.closeTo(0.4, 9)]);
    expect(work.metrics.get("meanForceBraking")!.needs).toBe(TIMES | WEIGHT);
    for (const id of ["brakingImpulseLeft", "brakingImpulseRight", "meanForceBrakingLeft", "meanForceBrakingRight"]) expect(work.metrics.get(id)!.needs).toBe(TIMES | WEIGHT | SIDES);
    // Signs: of an earlier start and of a later end the mean of a rising force grows less and more.
    const quantity = work.metrics.get("meanForceBraking")!;
    expect([Math.sign(work.part(quantity, ONSET)), Math.sign(work.part(quantity, TAKEOFF))]).toEqual([1, 1]);
    const impulse = work.metrics.get("brakingImpulseRight")!;
    expect([Math.sign(work.part(impulse, ONSET)), Math.sign(work.part(impulse, TAKEOFF)), Math.sign(work.part(impulse, ZERO))]).toEqual([-1, 1, -1]);
  });

  test("of less than a sample have the noise of one", () => {
    const made = trial(force);
    phaseForces(made, formulas.brakingImpulse, formulas.meanForceBraking, made.work.exact(0.22), made.work.exact(0.24), 0);
    expect(partsOf(made, "meanForceBraking").noise).toBe(0.5);
    expect(partsOf(made, "brakingImpulseLeft").noise).toBeCloseTo(0.02 * 0.5, 12);
  });

  test("of one plate have no sides, and of nothing are nothing", () => {
    const one = trial(force, 1);
    phaseForces(one, formulas.brakingImpulse, formulas.meanForceBraking, one.work.exact(0.15), one.work.exact(0.45), 0);
    expect([...one.work.metrics.keys()]).toEqual(["meanForceBraking"]);
    sideImpulses(one, formulas.landingImpulse, one.work.exact(0.15), one.work.exact(0.45), 0);
    expect(one.work.metrics.size).toBe(1);
    const two = trial(force);
    for (const end of [0.2, 0.1]) {
      phaseForces(two, formulas.brakingImpulse, formulas.meanForceBraking, two.work.exact(0.2), two.work.exact(end), 0);
      sideImpulses(two, formulas.landingImpulse, two.work.exact(0.2), two.work.exact(end), 0);
    }
    expect(two.work.metrics.size).toBe(0);
    sideImpulses(two, formulas.landingImpulse, two.work.exact(0.15), two.work.exact(0.45), TIMES);
    expect([value(two, "landingImpulseLeft"), value(two, "landingImpulseRight")]).toEqual([expect.closeTo(72, 9), expect.closeTo(48, 9)]);
    expect(sideImpulseQuantity(two, two.left!, two.work.exact(0.15), two.work.exact(0.45), TIMES)).toMatchObject({ value: expect.closeTo(72, 9), needs: TIMES | SIDES });
  });
});

describe("a force at an instant", () => {
  const force = [100, 200, 300, 500, 900, 900, 900];

  test("is on the straight line between samples, with the slope over one sample to both sides", () => {
    const made = trial(force);
    const instant = made.work.quantity(0.25, TIMES, LANDING, 0.002);
    expect(forceAt(made, formulas.forceAtZeroVelocity, instant).value).toBe(400);
    expect([value(made, "forceAtZeroVelocityLeft"), value(made, "forceAtZeroVelocityRight")]).toEqual([expect.closeTo(240, 9), expect.closeTo(160, 9)]);
    // 250 N at 0.15 s, 700 N at 0.35 s.
    const u = partsOf(made, "forceAtZeroVelocity");
    expect([u.landing, u.noise, u.gain]).toEqual([expect.closeTo(0.002 * 2250, 9), 0.5, expect.closeTo(1, 9)]);
    expect(partsOf(made, "forceAtZeroVelocityLeft").landing).toBeCloseTo(0.002 * 1350, 9);
    expect(made.work.metrics.get("forceAtZeroVelocityLeft")!.needs).toBe(TIMES | SIDES);
    const bare = forceQuantityAt(made, instant);
    expect([bare.value, bare.needs, made.work.part(bare, LANDING)]).toEqual([400, TIMES, expect.closeTo(4.5, 9)]);
  });

  test("of one plate has no sides", () => {
    const made = trial(force, 1);
    forceAt(made, formulas.forceAtZeroVelocity, made.work.exact(0.25, TIMES));
    expect([...made.work.metrics.keys()]).toEqual(["forceAtZeroVelocity"]);
  });

  test("of a side takes its slope before the instant where that is asked for", () => {
    const made = trial(force);
    const instant = made.work.quantity(0.4, TIMES, LANDING, 0.002);
    const around = sideAtInstant(made, made.left!, instant);
    const before = sideAtInstant(made, made.left!, instant, 2);
    expect([around.value, before.value]).toEqual([540, 540]);
    // 0.6 (900 - 500) / 2 and 0.6 (900 - 300) / 2 a sample.
    expect([made.work.part(around, LANDING), made.work.part(before, LANDING)]).toEqual([expect.closeTo(0.002 * 1200, 9), expect.closeTo(0.002 * 1800, 9)]);
    expect([around.needs, before.needs]).toEqual([TIMES | SIDES, TIMES | SIDES]);
  });
});

describe("the steepest rise", () => {
  const force = Float64Array.from([0, 10, 50, 60, 200, 210, 800, 900]);

  test("is that of the window with the largest difference, by its length", () => {
    // Over two samples: 50, 50, 150, 150, 600, 690.
    expect(steepestRise(force, 0, 0.7, 0.2, RATE, 0)).toEqual({ rate: 3450, seconds: 0.2, at: 5, rivals: 1 });
    expect(steepestRise(force, 0, 0.3, 0.2, RATE, 0)).toEqual({ rate: 750, seconds: 0.2, at: 2, rivals: 1 });
    expect(steepestRise(force, 0.1, 0.2, 0.2, RATE, 0)).toEqual({ rate: 250, seconds: 0.2, at: 1, rivals: 1 });
    // A start between samples: from the next one on; one a hair after a sample is that sample.
    expect(steepestRise(force, 0.21, 0.5, 0.2, RATE, 0)!.at).toBe(4);
    expect(steepestRise(force, 0.2 + 1e-9, 0.31, 0.2, RATE, 0)!.at).toBe(2);
    expect(steepestRise(force, -1, 0.15, 0.2, RATE, 0)!.at).toBe(0);
    // A window shorter than a sample is one sample.
    expect(steepestRise(force, 0, 0.7, 0.01, RATE, 0)).toEqual({ rate: 5900, seconds: 0.1, at: 5, rivals: 1 });
  });

  test("is none where the window does not fit", () => {
    expect(steepestRise(force, 0, 0.7, 0.8, RATE, 0)).toBeUndefined();
    expect(steepestRise(force, 0.2, 0.2, 0.2, RATE, 0)).toBeUndefined();
    expect(steepestRise(force, 0, 0.7, 0.7, RATE, 0)).toEqual({ rate: 900 / 0.7, seconds: 0.7, at: 0, rivals: 1 });
  });

  test("counts the windows that noise could have made the steepest, with the noise of two samples", () => {
    const line = Float64Array.from([0, 100, 200, 300, 396, 500, 500, 500]);
    // Over one sample: 100, 100, 100, 96, 104, 0, 0: 8 below is less than 3 sqrt 2 times 2, 4 as well; 104 below ends the way.
    expect(steepestRise(line, 0, 0.7, 0.1, RATE, 2)!.rivals).toBe(5);
    expect(steepestRise(line, 0, 0.7, 0.1, RATE, 1)!.rivals).toBe(4);
    // 8 is less than 3 * sqrt 2 * 1.9 = 8.06 and not than 3 * sqrt 2 * 1.88 = 7.98.
    expect(steepestRise(line, 0, 0.7, 0.1, RATE, 1.9)!.rivals).toBe(5);
    expect(steepestRise(line, 0, 0.7, 0.1, RATE, 1.88)!.rivals).toBe(4);
  });

  test("has the noise and the rounding of two samples over its window, and the gain", () => {
    const made = trial([0, 100, 200, 300]);
    const quantity = riseQuantity(made, { rate: 1000, seconds: 0.2, rivals: 3 }, TIMES);
    expect([quantity.value, quantity.needs]).toEqual([1000, TIMES]);
    expect(made.work.part(quantity, NOISE)).toBeCloseTo((Math.SQRT2 * 0.5 * Math.sqrt(1 + 1.4 * Math.log(3))) / 0.2, 9);
    expect(made.work.part(quantity, GAIN)).toBeCloseTo(2.5, 12);
    expect(made.work.part(quantity, ROUNDING)).toBeCloseTo((Math.SQRT2 * Math.SQRT2) / 0.2, 9);
    expect([made.work.part(quantity, ZERO), made.work.part(quantity, SAMPLING)]).toEqual([0, 0]);
  });
});
