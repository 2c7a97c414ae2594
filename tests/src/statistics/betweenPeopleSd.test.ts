import { describe, expect, test } from "vitest";
import { twoWayMeanSquares } from "../../../src/statistics/twoWayMeanSquares.ts";
import { standardDeviation } from "../../../src/statistics/moments.ts";
import { betweenPeopleSd } from "../../../src/statistics/betweenPeopleSd.ts";

describe("betweenPeopleSd", () => {
  // Test and retest of eight invented athletes, cm.
  const table = Object.freeze(
    [
      [34.1, 34.9],
      [38.6, 38.0],
      [41.2, 42.3],
      [29.8, 30.1],
      [45.0, 44.1],
      [36.7, 37.9],
      [33.0, 32.4],
      [40.3, 41.2],
    ].map((row) => Object.freeze(row)),
  );

  // By hand: root of the mean of the two column variances.
  test("pools the variances of the columns", () => {
    expect(betweenPeopleSd(table).value).toBeCloseTo(4.918242281837806, 10);
    expect(betweenPeopleSd(table).degreesOfFreedom).toBe(14);
  });

  // Identity of the analysis of variance: pooled variance = (B + (k - 1) E) / k.
  test("equals the mean squares of people and residual, weighted", () => {
    const { between, residual } = twoWayMeanSquares(table);
    expect(betweenPeopleSd(table).value ** 2).toBeCloseTo((between + residual) / 2, 10);
  });

  test("with one column is the plain standard deviation", () => {
    expect(betweenPeopleSd([[1], [2], [4]]).value).toBeCloseTo(standardDeviation([1, 2, 4]), 14);
  });

  test("uses what each column has and counts the gaps", () => {
    const { value, gaps } = betweenPeopleSd([[1, undefined], [3, 8], [undefined, 10]]);
    // By hand: variances 2 and 2.
    expect(value).toBeCloseTo(Math.SQRT2, 12);
    expect(gaps).toBe(2);
  });

  test("counts an empty row as left out", () => {
    expect(betweenPeopleSd([[1, 2], [3, 4], [undefined, undefined]])).toMatchObject({ people: 2, leftOut: 1, gaps: 2 });
  });

  test("refuses a single person", () => {
    expect(() => betweenPeopleSd([[1, 2]])).toThrow(expect.objectContaining({ name: "InputError", code: "not-available" }));
  });
});
