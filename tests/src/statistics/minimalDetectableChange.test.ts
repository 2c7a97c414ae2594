import { describe, expect, test } from "vitest";
import { reliableChangeIndex } from "../../../src/statistics/reliableChangeIndex.ts";
import { minimalDetectableChange } from "../../../src/statistics/minimalDetectableChange.ts";

describe("minimalDetectableChange", () => {
  // SciPy 1.17.1: norm.ppf(0.975) * sqrt(2) * 0.6044478, norm.ppf(0.95), and sqrt(2/3) for means of three.
  test("gives 1.6754 at 95 per cent, 1.4061 at 90 and 0.9673 for means of three", () => {
    const sem = 0.6044477999440001;
    expect(minimalDetectableChange(sem)).toBeCloseTo(1.6754130351242775, 10);
    expect(minimalDetectableChange(sem, { level: 0.9 })).toBeCloseTo(1.4060509423659893, 10);
    expect(minimalDetectableChange(sem, { countBefore: 3, countAfter: 3 })).toBeCloseTo(0.9673001668328096, 10);
  });

  // Definition turned round: a change of this size has a reliable change index of the quantile.
  test("is the change whose reliable change index is 1.96", () => {
    expect(reliableChangeIndex(30, 30 + minimalDetectableChange(0.8), 0.8)).toBeCloseTo(1.959963984540054, 10);
  });

  test("is larger where the error itself is known from few people", () => {
    expect(minimalDetectableChange(0.8, { degreesOfFreedom: 7 })).toBeGreaterThan(minimalDetectableChange(0.8));
  });

  test("refuses a negative error, a level in per cent and half a trial", () => {
    expect(() => minimalDetectableChange(-1)).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => minimalDetectableChange(1, { level: 95 })).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => minimalDetectableChange(1, { countAfter: 1.5 })).toThrow(expect.objectContaining({ code: "out-of-range" }));
  });
});
