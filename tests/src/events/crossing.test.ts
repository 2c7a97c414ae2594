import { describe, expect, test } from "vitest";
import { crossing, valueAt } from "../../../src/events/crossing.ts";

describe("crossing", () => {
  // By hand, at 10 Hz: straight lines between neighbours.
  test.each([
    ["a rise", [10, 30], 1, 25, 0.075],
    ["a fall", [100, 0, 80, 40], 3, 50, 0.275],
    ["a level at the first sample", [10, 30], 1, 10, 0],
    ["a level at the second sample", [10, 30], 1, 30, 0.1],
    ["two equal samples", [20, 20], 1, 20, 0],
    ["a level that both are below", [10, 30], 1, 50, 0.1],
    ["a level that both are above", [10, 30], 1, 5, 0],
  ])("of %s", (_what, force, i, level, time) => {
    expect(crossing(Float64Array.from(force), i, level, 10)).toBeCloseTo(time, 12);
  });
});

describe("valueAt", () => {
  test.each([[-1, 10], [0, 10], [0.25, 15], [1, 30], [1.5, 20], [2, 10], [2.5, 10]])("at position %d it is %d", (position, value) => {
    expect(valueAt(Float64Array.of(10, 30, 10), position)).toBeCloseTo(value, 12);
  });
});
