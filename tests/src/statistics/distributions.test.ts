import { describe, expect, test } from "vitest";
import { chiSquareQuantile, fQuantile, normalCdf, normalQuantile, tCdf, tQuantile } from "../../../src/statistics/distributions.ts";

// Expected values: SciPy 1.17.1, for instance scipy.stats.t.ppf(0.975, 3.7).
describe("distributions", () => {
  test.each([
    [0.975, 3.7, 2.8675207071911895],
    [0.95, 7, 1.8945786050900062],
    [0.999, 1, 318.30883898555015],
  ])("t quantile of %d with %d degrees of freedom is %d", (probability, freedom, value) => {
    expect(tQuantile(probability, freedom) / value).toBeCloseTo(1, 10);
  });

  test.each([
    [0.975, 5, 15, 3.5764153492790607],
    [0.975, 15, 5, 6.427728167078779],
    [0.975, 3.3, 10, 4.699540075939993],
    [0.975, 59, 4.2, 7.766996075468375],
  ])("F quantile of %d with %d and %d degrees of freedom is %d", (probability, one, two, value) => {
    expect(fQuantile(probability, one, two) / value).toBeCloseTo(1, 10);
  });

  test.each([
    [0.025, 7, 1.689869180677355],
    [0.975, 7, 16.012764274629326],
    [0.05, 1, 0.003932140000019522],
  ])("chi-squared quantile of %d with %d degrees of freedom is %d", (probability, freedom, value) => {
    expect(chiSquareQuantile(probability, freedom) / value).toBeCloseTo(1, 10);
  });

  test("normal quantiles and probabilities", () => {
    expect(normalQuantile(0.975)).toBeCloseTo(1.959963984540054, 12);
    expect(normalQuantile(0.95)).toBeCloseTo(1.6448536269514722, 12);
    expect(normalCdf(-3)).toBeCloseTo(0.0013498980316300933, 14);
    expect(tCdf(-2.5, 5)).toBeCloseTo(0.02724504967118813, 12);
  });

  test("t without degrees of freedom is the normal distribution", () => {
    expect(tQuantile(0.9)).toBe(normalQuantile(0.9));
    expect(tCdf(1.3)).toBe(normalCdf(1.3));
  });

  // Identity of the distributions: the square of t is F with one degree of freedom in the numerator.
  test("the square of a t quantile is an F quantile", () => {
    expect(tQuantile(0.975, 9) ** 2).toBeCloseTo(fQuantile(0.95, 1, 9), 9);
  });

  test("refuses a probability above one and degrees of freedom below zero", () => {
    expect(() => tQuantile(1.2, 5)).toThrow(expect.objectContaining({ name: "InputError", code: "out-of-range" }));
    expect(() => chiSquareQuantile(0.5, -1)).toThrow(expect.objectContaining({ code: "out-of-range" }));
  });
});
