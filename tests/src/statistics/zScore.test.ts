import { describe, expect, test } from "vitest";
import { zScore } from "../../../src/statistics/zScore.ts";

describe("zScore", () => {
  const history = Object.freeze([37.8, 38.4, 38.1, 37.5, 38.9, 38.2]);

  // By hand: (36.4 - 38.15) / 0.484768.
  test("gives -3.61 for 36.4 against six sessions", () => {
    expect(zScore(36.4, history)).toBeCloseTo(-3.609974361905778, 9);
  });

  test("reverses its sign where less is better, and does not depend on the unit", () => {
    expect(zScore(36.4, history, "lower")).toBeCloseTo(-zScore(36.4, history), 12);
    expect(zScore(0.364, history.map((value) => value / 100))).toBeCloseTo(zScore(36.4, history), 9);
  });

  test("refuses a single value and a group without spread", () => {
    expect(() => zScore(1, [1])).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => zScore(1, [2, 2])).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => zScore(NaN, history)).toThrow(expect.objectContaining({ code: "not-a-number" }));
  });
});
