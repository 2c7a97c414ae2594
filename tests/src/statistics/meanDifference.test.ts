import { describe, expect, test } from "vitest";
import { squatJumpHeights } from "../../support/squatJumpHeights.ts";
import { describeWithData } from "../../support/data.ts";
import { pairedDifference, welchDifference } from "../../../src/statistics/meanDifference.ts";

describe("meanDifference", () => {
  const first = Object.freeze([5.1, 4.9, 6.2, 5.6]);
  const second = Object.freeze([4.2, 4.8, 4.4]);

  // SciPy 1.17.1: ttest_ind(first, second, equal_var=False) and confidence_interval(0.9).
  test("Welch agrees with SciPy", () => {
    const { t, p, degreesOfFreedom, low, high } = welchDifference(first, second, 0.9);
    expect(t).toBeCloseTo(2.896196092675512, 10);
    expect(p).toBeCloseTo(0.03679046741479743, 10);
    expect(degreesOfFreedom).toBeCloseTo(4.67050847457627, 9);
    expect(low).toBeCloseTo(0.2883649832795313, 9);
    expect(high).toBeCloseTo(1.6783016833871334, 9);
  });

  // SciPy 1.17.1: ttest_rel(first[:3], second) and confidence_interval(0.95).
  test("paired agrees with SciPy", () => {
    const { t, p, low, high } = pairedDifference(first.slice(0, 3), second);
    expect(t).toBeCloseTo(1.9007638532459665, 10);
    expect(p).toBeCloseTo(0.19770444291424596, 10);
    expect(low).toBeCloseTo(-1.1794010852926133, 9);
    expect(high).toBeCloseTo(3.0460677519592796, 9);
  });

  test("a common change of both members of a pair leaves the paired difference alone", () => {
    const shifted = pairedDifference([6.1, 8.9, 3.2], [5.2, 8.8, 1.4]);
    expect(shifted.difference).toBeCloseTo(pairedDifference(first.slice(0, 3), second).difference, 12);
  });

  test("without scatter the limits are the difference itself and there is no test", () => {
    expect(welchDifference([2, 2], [1, 1])).toMatchObject({ difference: 1, low: 1, high: 1 });
    expect(welchDifference([2, 2], [1, 1]).p).toBeUndefined();
  });

  test("refuses single numbers and unequal pairs", () => {
    expect(() => welchDifference([1], [2, 3])).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => pairedDifference([1, 2], [2])).toThrow(expect.objectContaining({ code: "wrong-shape" }));
    expect(() => pairedDifference([1], [2])).toThrow(expect.objectContaining({ code: "not-available" }));
  });
});

describeWithData("pairedDifference of squat-jump heights before and after", () => {
  // Jimenez-Reyes et al. (2019), open data; t recomputed once with SciPy ttest_rel.
  test("gives t(59) = 15.640 from the first to the second occasion", () => {
    const heights = squatJumpHeights();
    const { t, degreesOfFreedom } = pairedDifference(heights.map((row) => row[1]), heights.map((row) => row[0]));
    expect(degreesOfFreedom).toBe(59);
    expect(t).toBeCloseTo(15.64, 3);
  });
});
