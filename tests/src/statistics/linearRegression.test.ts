import { describe, expect, test } from "vitest";
import fc from "fast-check";
import { linearRegression } from "../../../src/statistics/linearRegression.ts";

describe("linearRegression", () => {
  // SciPy 1.17.1: linregress([1..5], y); limits with t.ppf(0.975, 3) = 3.1824463.
  test("agrees with SciPy", () => {
    const line = linearRegression(Object.freeze([1, 2, 3, 4, 5]), Object.freeze([2.1, 3.9, 6.2, 7.8, 10.1]));
    expect(line.slope).toBeCloseTo(1.99, 12);
    expect(line.intercept).toBeCloseTo(0.05, 12);
    expect(line.slopeError).toBeCloseTo(0.059721576223897795, 12);
    expect(line.interceptError).toBeCloseTo(0.19807406022327906, 12);
    expect(line.rSquared).toBeCloseTo(0.9986517555689656 ** 2, 12);
    expect(line.slopeLimits[0]).toBeCloseTo(1.99 - 3.1824463052837078 * 0.059721576223897795, 9);
    expect(line.slopeLimits[1]).toBeCloseTo(1.99 + 3.1824463052837078 * 0.059721576223897795, 9);
    expect(line.interceptLimits[1]).toBeCloseTo(0.05 + 3.1824463052837078 * 0.19807406022327906, 9);
  });

  // Textbook identity: the error of the line at the mean of x is residualSd / sqrt(n).
  test("errors and correlation give the error of the line at the mean", () => {
    const x = [1, 2, 4, 8, 9];
    const line = linearRegression(x, [3, 1, 4, 1, 5]);
    const at = 24 / 5;
    const variance =
      line.interceptError ** 2 + (at * line.slopeError) ** 2 + 2 * at * line.correlation * line.interceptError * line.slopeError;
    expect(Math.sqrt(variance)).toBeCloseTo(line.residualSd / Math.sqrt(5), 10);
  });

  test("finds an exact line whatever its place", () => {
    fc.assert(
      fc.property(fc.double({ min: -50, max: 50, noNaN: true }), fc.double({ min: -50, max: 50, noNaN: true }), (slope, intercept) => {
        const x = [0.5, 1, 2, 3.5];
        const line = linearRegression(x, x.map((value) => intercept + slope * value));
        expect(line.slope).toBeCloseTo(slope, 8);
        expect(line.intercept).toBeCloseTo(intercept, 8);
      }),
    );
  });

  test("explains everything where all ordinates are equal", () => {
    expect(linearRegression([1, 2, 3], [4, 4, 4])).toMatchObject({ slope: 0, intercept: 4, rSquared: 1 });
  });

  test("refuses two points, unequal lengths and equal abscissas", () => {
    expect(() => linearRegression([1, 2], [1, 2])).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => linearRegression([1, 2, 3], [1, 2])).toThrow(expect.objectContaining({ code: "wrong-shape" }));
    expect(() => linearRegression([2, 2, 2], [1, 2, 3])).toThrow(expect.objectContaining({ code: "not-available" }));
  });
});
