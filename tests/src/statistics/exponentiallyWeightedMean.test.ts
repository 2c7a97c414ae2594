import { describe, expect, test } from "vitest";
import { exponentiallyWeightedMean } from "../../../src/statistics/exponentiallyWeightedMean.ts";

describe("exponentiallyWeightedMean", () => {
  const history = Object.freeze([37.8, 38.4, 38.1, 37.5, 38.9, 38.2]);

  // By hand: 37.8, 37.98, 38.016, 37.8612, 38.17284, 38.180988.
  test("gives 38.181 for six sessions with a weight of 0.3", () => {
    expect(exponentiallyWeightedMean(history)).toBeCloseTo(38.180988, 10);
  });

  // Closed form: weights w (1-w)^age, and the first value keeps the rest.
  test("agrees with the sum of its weights", () => {
    const weight = 0.2;
    let sum = 0;
    history.forEach((value, index) => {
      const age = history.length - 1 - index;
      sum += value * (index === 0 ? (1 - weight) ** age : weight * (1 - weight) ** age);
    });
    expect(exponentiallyWeightedMean(history, weight)).toBeCloseTo(sum, 12);
  });

  test("with a weight of one is the last value", () => {
    expect(exponentiallyWeightedMean(history, 1)).toBe(38.2);
  });

  test("refuses a weight of zero and an empty history", () => {
    expect(() => exponentiallyWeightedMean(history, 0)).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => exponentiallyWeightedMean([])).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => exponentiallyWeightedMean([NaN])).toThrow(expect.objectContaining({ code: "not-a-number" }));
  });
});
