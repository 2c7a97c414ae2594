import { describe, expect, test } from "vitest";
import { logarithms, mean, standardDeviation, sumOfSquares, variationPercent } from "../../../src/statistics/moments.ts";

describe("moments", () => {
  const values = Object.freeze([2, 4, 4, 4, 5, 5, 7, 9]);

  // By hand: mean 5, squared deviations 9+1+1+1+0+0+4+16 = 32, over 7.
  test("mean, sum of squares and standard deviation of eight numbers", () => {
    expect(mean(values)).toBe(5);
    expect(sumOfSquares(values)).toBe(32);
    expect(standardDeviation(values)).toBeCloseTo(Math.sqrt(32 / 7), 14);
  });

  // By hand: 1.809264 % for these five forces (mean 800, SD 14.4741).
  test("coefficient of variation in per cent", () => {
    expect(variationPercent([812, 790, 805, 780, 813])).toBeCloseTo(1.809264353266266, 10);
  });

  test("a large common offset does not spoil the standard deviation", () => {
    expect(standardDeviation(values.map((value) => value + 1e9))).toBeCloseTo(standardDeviation(values), 6);
  });

  test("logarithms refuse zero, a mean needs a number, a standard deviation two", () => {
    expect(() => logarithms("change", [1, 0])).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => mean([])).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => standardDeviation([1])).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => mean([NaN])).toThrow(expect.objectContaining({ code: "not-a-number" }));
    expect(() => variationPercent([-1, 1])).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(logarithms("change", [1, Math.E])).toEqual([0, 1]);
  });
});
