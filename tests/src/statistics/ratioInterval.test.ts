import { describe, expect, test } from "vitest";
import { normalFrom, seededRandom } from "../../support/seededRandom.ts";
import { ratioInterval } from "../../../src/statistics/ratioInterval.ts";

describe("ratioInterval", () => {
  // By hand for 38 (0.6) over 35 (0.7); Fieller with NumPy roots of (a - R b)^2 = z^2 (uA^2 + R^2 uB^2), z = norm.ppf(0.975).
  test("gives delta, log and Fieller limits of one ratio", () => {
    const delta = ratioInterval(38, 0.6, 35, 0.7, { method: "delta" });
    expect(delta.ratio).toBeCloseTo(1.0857142857142856, 12);
    expect(delta.u).toBeCloseTo(0.027665642141509034, 12);
    expect([delta.low, delta.high]).toEqual([expect.closeTo(1.0314906, 6), expect.closeTo(1.139938, 6)]);
    const log = ratioInterval(38, 0.6, 35, 0.7, { method: "log" });
    expect([log.low, log.high]).toEqual([expect.closeTo(1.032822, 6), expect.closeTo(1.141315, 6)]);
    const fieller = ratioInterval(38, 0.6, 35, 0.7);
    expect(fieller.low).toBeCloseTo(1.03309406, 8);
    expect(fieller.high).toBeCloseTo(1.14167623, 8);
  });

  test("a correlation of one half narrows the limits", () => {
    const fieller = ratioInterval(38, 0.6, 35, 0.7, { correlation: 0.5 });
    expect(fieller.u).toBeCloseTo(0.019827830369025683, 12);
    expect(fieller.low).toBeCloseTo(1.04782072, 8);
    expect(fieller.high).toBeCloseTo(1.12563047, 8);
  });

  test("Student's t widens the limits", () => {
    expect(ratioInterval(38, 0.6, 35, 0.7, { degreesOfFreedom: 2 }).low).toBeLessThan(ratioInterval(38, 0.6, 35, 0.7).low);
  });

  test("Fieller limits of the inverse ratio are the inverse limits", () => {
    const ratio = ratioInterval(38, 0.6, 35, 0.7, { correlation: 0.2 });
    const inverse = ratioInterval(35, 0.7, 38, 0.6, { correlation: 0.2 });
    expect(inverse.low).toBeCloseTo(1 / ratio.high, 10);
    expect(inverse.high).toBeCloseTo(1 / ratio.low, 10);
  });

  test("Fieller covers the true ratio in 95 of 100 simulated pairs even with an uncertain denominator", () => {
    const normal = normalFrom(seededRandom(23));
    let inside = 0;
    const runs = 8000;
    for (let run = 0; run < runs; run++) {
      const { low, high } = ratioInterval(20 + 2 * normal(), 2, 25 + 4 * normal(), 4);
      if (low <= 0.8 && 0.8 <= high) inside++;
    }
    expect(inside / runs).toBeGreaterThan(0.94);
    expect(inside / runs).toBeLessThan(0.96);
  });

  test("without uncertainty every method gives the ratio itself", () => {
    for (const method of ["fieller", "log", "delta"] as const) {
      const { low, high } = ratioInterval(3, 0, 4, 0, { method });
      expect(low).toBeCloseTo(0.75, 12);
      expect(high).toBeCloseTo(0.75, 12);
    }
  });

  test("has no finite Fieller limits where the denominator may be zero", () => {
    expect(() => ratioInterval(3, 0.1, 1, 0.6)).toThrow(expect.objectContaining({ name: "InputError", code: "not-available" }));
  });

  test("refuses a denominator of zero, negative uncertainty, correlation above one, log of a negative", () => {
    expect(() => ratioInterval(3, 0.1, 0, 0.6)).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => ratioInterval(3, -0.1, 1, 0.1)).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => ratioInterval(3, 0.1, 1, 0.1, { correlation: 2 })).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => ratioInterval(-3, 0.1, 1, 0.1, { method: "log" })).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => ratioInterval(3, 0.1, 1, 0.1, { method: "odd" as "log" })).toThrow(expect.objectContaining({ code: "unknown-name" }));
  });
});
