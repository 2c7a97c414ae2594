import { describe, expect, test } from "vitest";
import { baselineBand } from "../../../src/statistics/baselineBand.ts";
import { betweenPeopleSd } from "../../../src/statistics/betweenPeopleSd.ts";
import { exponentiallyWeightedMean } from "../../../src/statistics/exponentiallyWeightedMean.ts";
import { intraclassCorrelation } from "../../../src/statistics/intraclassCorrelation.ts";
import { individualChange } from "../../../src/statistics/individualChange.ts";
import { limitsOfAgreement } from "../../../src/statistics/limitsOfAgreement.ts";
import { linearRegression } from "../../../src/statistics/linearRegression.ts";
import { mannWhitney } from "../../../src/statistics/mannWhitney.ts";
import { pairedDifference, welchDifference } from "../../../src/statistics/meanDifference.ts";
import { pooledTypicalError } from "../../../src/statistics/pooledTypicalError.ts";
import { ratioInterval } from "../../../src/statistics/ratioInterval.ts";
import { standardErrorOfMeasurement } from "../../../src/statistics/standardErrorOfMeasurement.ts";
import { twoWayMeanSquares } from "../../../src/statistics/twoWayMeanSquares.ts";
import { typicalError } from "../../../src/statistics/typicalError.ts";
import { zScore } from "../../../src/statistics/zScore.ts";

const refused = (code: string): unknown => expect.objectContaining({ name: "InputError", code });

/** The fewest numbers that allow an answer, one fewer, and values exactly on a limit. */
describe("statistics with the fewest numbers there can be", () => {
  test("typical error by root mean square divides each person's spread by their trials less one", () => {
    // By hand: mean 102, squares of deviations 4 + 0 + 4, over 2 is 4; 100 * 2 / 102.
    const { value, degreesOfFreedom } = typicalError([[100, 102, 104]], "rms");
    expect(value).toBeCloseTo(200 / 102, 12);
    expect(degreesOfFreedom).toBe(2);
    expect(() => typicalError([[100, undefined], [101, undefined]], "rms")).toThrow(refused("not-available"));
  });

  test("typical error in per cent refuses zero as it refuses less", () => {
    for (const form of ["log", "rms", "cv"] as const) {
      expect(() => typicalError([[1, 0], [2, 3]], form)).toThrow(refused("out-of-range"));
      expect(() => typicalError([[1, -1], [2, 3]], form)).toThrow(refused("out-of-range"));
    }
    expect(typicalError([[1, 0], [2, 3]], "raw").value).toBeGreaterThan(0);
  });

  test("pooled typical error counts the numbers it used", () => {
    expect(pooledTypicalError([[1, 2], [3], [4, 5, 6]])).toMatchObject({ groups: 2, values: 5, leftOut: 1, degreesOfFreedom: 3 });
  });

  test("differences of means need two numbers a side; without any spread the smaller side gives the degrees of freedom", () => {
    expect(() => pairedDifference([1], [2])).toThrow(refused("not-available"));
    expect(() => welchDifference([1], [2, 3])).toThrow(refused("not-available"));
    expect(() => welchDifference([1, 2], [3])).toThrow(refused("not-available"));
    const { degreesOfFreedom, low, high, t } = welchDifference([5, 5, 5, 5], [3, 3, 3]);
    expect([degreesOfFreedom, low, high, t]).toEqual([2, 2, 2, undefined]);
  });

  test("limits of agreement need two complete pairs", () => {
    expect(limitsOfAgreement([1, 2], [2, 4]).bias).toBe(1.5);
    expect(() => limitsOfAgreement([1, 2], [2, undefined])).toThrow(refused("not-available"));
    expect(() => limitsOfAgreement([1, undefined], [undefined, 3])).toThrow(refused("not-available"));
  });

  test("a z score needs two values to stand against", () => {
    // By hand: mean 2, standard deviation sqrt(2).
    expect(zScore(4, [1, 3])).toBeCloseTo(Math.SQRT2, 12);
    expect(() => zScore(4, [1])).toThrow(refused("not-available"));
  });

  test("a baseline needs two sessions, or one and a typical error", () => {
    expect(baselineBand([30, 32]).mean).toBe(31);
    expect(baselineBand([30], { typicalError: 1, degreesOfFreedom: 20 }).mean).toBe(30);
    expect(() => baselineBand([30])).toThrow(refused("not-available"));
    expect(() => baselineBand([], { typicalError: 1, degreesOfFreedom: 20 })).toThrow(refused("not-available"));
    expect(() => baselineBand([30, NaN])).toThrow(refused("not-a-number"));
  });

  test("limits of a ratio take a correlation of one, and logarithms no zero on either side", () => {
    // By hand: equal relative uncertainties that go along cancel.
    expect(ratioInterval(2, 0.1, 4, 0.2, { correlation: 1 }).u).toBeCloseTo(0, 12);
    expect(() => ratioInterval(2, 0.1, 4, 0.2, { correlation: 1.01 })).toThrow(refused("out-of-range"));
    expect(() => ratioInterval(0, 0.1, 4, 0.2, { method: "log" })).toThrow(refused("out-of-range"));
    expect(() => ratioInterval(2, 0.1, -4, 0.2, { method: "log" })).toThrow(refused("out-of-range"));
  });

  test("a measure of perfect reliability has no error", () => {
    expect(standardErrorOfMeasurement(3, 1)).toBe(0);
    expect(() => standardErrorOfMeasurement(3, 1.01)).toThrow(refused("out-of-range"));
  });

  test("the spread between people needs two of them, and takes one column of single trials", () => {
    expect(betweenPeopleSd([[1], [3]]).value).toBeCloseTo(Math.SQRT2, 12);
    expect(() => betweenPeopleSd([[1]])).toThrow(refused("not-available"));
    expect(() => betweenPeopleSd([])).toThrow(expect.objectContaining({ name: "InputError" }));
    // A short row is one with gaps: by hand, the first column alone has two numbers.
    expect(betweenPeopleSd([[1], [2, 3]])).toMatchObject({ value: Math.SQRT1_2, degreesOfFreedom: 1 });
  });

  // SciPy 1, F quantiles in the limits of McGraw & Wong (1996) for ICC(A,1): the two trials have the same mean, so that only the residual is left.
  test("agreement without any difference between trials has the limits of its residual", () => {
    const { value, low, high } = intraclassCorrelation([[1, 2], [4, 3], [6, 6], [9, 9]], "2,1");
    expect(value).toBeCloseTo(0.9763779527559057, 10);
    expect(low).toBeCloseTo(0.6725267612745932, 8);
    expect(high).toBeCloseTo(0.9984586430657921, 8);
  });

  // scipy.stats.linregress with the t quantile of three degrees of freedom.
  test("a regression line has limits on both sides of its intercept and slope", () => {
    const line = linearRegression([0, 20, 40, 60, 80], [0.41, 0.33, 0.26, 0.205, 0.14]);
    expect(line.interceptLimits[0]).toBeCloseTo(0.3819986351166341, 10);
    expect(line.interceptLimits[1]).toBeCloseTo(0.4220013648833659, 10);
    expect(line.slopeLimits[0]).toBeCloseTo(-0.0037332761510289044, 11);
    expect(line.slopeLimits[1]).toBeCloseTo(-0.002916723848971096, 11);
    expect(line.degreesOfFreedom).toBe(3);
  });

  test("a weighted mean refuses a weight of nothing, and one that is no number", () => {
    expect(exponentiallyWeightedMean([1, 2], 1)).toBe(2);
    expect(() => exponentiallyWeightedMean([1, 2], 0)).toThrow(refused("out-of-range"));
    expect(() => exponentiallyWeightedMean([1, 2], NaN)).toThrow(refused("not-a-number"));
    expect(() => exponentiallyWeightedMean([])).toThrow(refused("not-available"));
  });
});

describe("statistics at the ends of what they take", () => {
  test("two people are enough for an analysis of variance", () => {
    // By hand: rows 1, 3 and 5, 7: grand mean 4, between 2 (4 + 4) = 16, no residual.
    expect(twoWayMeanSquares([[1, 3], [5, 7]])).toMatchObject({ people: 2, between: 16, residual: 0 });
    expect(() => twoWayMeanSquares([[1, 3], [5, undefined]])).toThrow("analysis of variance requires at least two people");
  });

  test("a table may have 200 trials, a rank test 60 in all", () => {
    const wide = (trials: number): number[][] => [0, 1].map((person) => Array.from({ length: trials }, (_, i) => 10 + person + (i % 3)));
    expect(betweenPeopleSd(wide(200)).trials).toBe(200);
    expect(() => betweenPeopleSd(wide(201))).toThrow(refused("too-large"));
    const side = (count: number): number[] => Array.from({ length: count }, (_, i) => i);
    expect(mannWhitney(side(30), side(30)).p).toBe(1);
    expect(() => mannWhitney(side(30), side(31))).toThrow(refused("too-large"));
    expect(() => mannWhitney([], [1])).toThrow(refused("not-available"));
    expect(() => mannWhitney([1], [])).toThrow(refused("not-available"));
  });

  test("one column counts as one trial of each only where every row has one", () => {
    expect(betweenPeopleSd([[1], [3]])).toMatchObject({ trials: 1, value: Math.SQRT2 });
    expect(betweenPeopleSd([[1, 2], [3]])).toMatchObject({ trials: 2, gaps: 1, value: Math.SQRT2 });
    expect(() => betweenPeopleSd([])).toThrow(refused("wrong-shape"));
  });

  test("limits of a ratio say which side they cannot take", () => {
    expect(() => ratioInterval(-1, 0.1, 2, 0.1, { method: "log" })).toThrow("both sides above zero");
    expect(() => ratioInterval(0, 0.1, 2, 0.1, { method: "log" })).toThrow("both sides above zero");
    expect(() => ratioInterval(1, 0.1, -2, 0.1, { method: "log" })).toThrow("both sides above zero");
  });

  test("a weight of one is the last value, and above there is none", () => {
    expect(() => exponentiallyWeightedMean([1, 2, 3], 1.01)).toThrow(refused("out-of-range"));
    expect(() => exponentiallyWeightedMean([1, 2, 3], 0)).toThrow(refused("out-of-range"));
  });

  test("a band over the last sessions counts them, and refuses none and half of one", () => {
    expect(baselineBand([10, 20, 31, 33], { sessions: 2 })).toMatchObject({ n: 2, mean: 32 });
    expect(baselineBand([10, 20, 31, 33])).toMatchObject({ n: 4, mean: 23.5 });
    for (const sessions of [0, 1.5, -1]) expect(() => baselineBand([1, 2, 3], { sessions })).toThrow("the number of sessions");
    expect(() => baselineBand([], { typicalError: 1 })).toThrow("baseline requires at least one earlier session");
  });

  test("refuses by its own name where there are too few", () => {
    expect(() => pairedDifference([1], [2])).toThrow("paired difference requires at least two pairs");
    expect(() => limitsOfAgreement([1], [2])).toThrow("limits of agreement requires at least two complete pairs");
    expect(() => zScore(1, [2])).toThrow("z score requires at least two values to stand against");
  });

  test("a change without a smallest worthwhile one has no chances", () => {
    expect(individualChange(30, 33, 1)).not.toHaveProperty("probabilities");
  });
});
