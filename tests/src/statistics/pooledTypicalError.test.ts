import { describe, expect, test } from "vitest";
import { typicalError } from "../../../src/statistics/typicalError.ts";
import { pooledTypicalError } from "../../../src/statistics/pooledTypicalError.ts";

describe("pooledTypicalError", () => {
  const sessions = Object.freeze([Object.freeze([38.1, 37.4, 38.6]), Object.freeze([36.9, 37.7]), Object.freeze([40.2, 39.1, 39.9])]);

  // NumPy and SciPy 1.17.1: sums of squares within sessions over 2 + 1 + 2, chi2.ppf([0.975, 0.025], 5).
  test("pools the scatter within sessions", () => {
    const { value, low, high, degreesOfFreedom, groups } = pooledTypicalError(sessions);
    expect(value).toBeCloseTo(0.5819507424745398, 12);
    expect(low).toBeCloseTo(0.36325831, 8);
    expect(high).toBeCloseTo(1.42730053, 8);
    expect([degreesOfFreedom, groups]).toEqual([5, 3]);
    expect(pooledTypicalError(sessions, "log").value).toBeCloseTo(1.5253185318643725, 10);
  });

  test("leaves out single trials and counts them", () => {
    const { value, leftOut } = pooledTypicalError([...sessions, [55]]);
    expect(value).toBeCloseTo(pooledTypicalError(sessions).value, 14);
    expect(leftOut).toBe(1);
  });

  // Two trials each, without a trend: the same quantity as the table form up to the trial effect.
  test("with two trials and no trend equals the table form scaled by its degrees of freedom", () => {
    const pairs = [
      [1, 2],
      [4, 3],
      [5, 6],
      [9, 8],
    ];
    const table = typicalError(pairs);
    expect(pooledTypicalError(pairs).value ** 2 * 4).toBeCloseTo(table.value ** 2 * 3, 12);
  });

  test("refuses sessions of single trials, and logarithms of zero", () => {
    expect(() => pooledTypicalError([[1], [2]])).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => pooledTypicalError([[1, 0]], "log")).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => pooledTypicalError([[1, NaN]])).toThrow(expect.objectContaining({ code: "not-a-number" }));
  });
});
