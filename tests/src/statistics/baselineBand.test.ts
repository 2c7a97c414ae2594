import { describe, expect, test } from "vitest";
import { normalFrom, seededRandom } from "../../support/seededRandom.ts";
import { baselineBand } from "../../../src/statistics/baselineBand.ts";

describe("baselineBand", () => {
  const history = Object.freeze([37.8, 38.4, 38.1, 37.5, 38.9, 38.2]);

  // SciPy 1.17.1: 38.15 -/+ t.ppf(0.975, 5) * 0.484768 * sqrt(7/6).
  test("from the person's own sessions runs from 36.80 to 39.50", () => {
    const band = baselineBand(history);
    expect(band.mean).toBeCloseTo(38.15, 12);
    expect(band.sd).toBeCloseTo(0.48476798574163277, 10);
    expect(band.low).toBeCloseTo(36.80401952393172, 9);
    expect(band.high).toBeCloseTo(39.49598047606828, 9);
    expect(band.method).toBe("own");
  });

  // SciPy 1.17.1: 38.15 -/+ norm.ppf(0.975) * 0.8 * sqrt(7/6).
  test("from a typical error of 0.80 runs from 36.46 to 39.84", () => {
    const band = baselineBand(history, { typicalError: 0.8 });
    expect(band.low).toBeCloseTo(38.15 - 1.6936024482696486, 9);
    expect(band.high).toBeCloseTo(38.15 + 1.6936024482696486, 9);
    expect(band.method).toBe("typicalError");
  });

  test("looks at the last sessions only where a number is given", () => {
    expect(baselineBand([10, 20, ...history], { sessions: 6 })).toEqual(baselineBand(history));
  });

  test("holds about 95 of 100 next sessions of a person who does not change", () => {
    const normal = normalFrom(seededRandom(17));
    let inside = 0;
    const runs = 8000;
    for (let run = 0; run < runs; run++) {
      const { low, high } = baselineBand(Array.from({ length: 5 }, () => 38 + 0.7 * normal()));
      const next = 38 + 0.7 * normal();
      if (low <= next && next <= high) inside++;
    }
    expect(inside / runs).toBeGreaterThan(0.94);
    expect(inside / runs).toBeLessThan(0.96);
  });

  test("one earlier session is enough with a typical error, not without", () => {
    expect(baselineBand([38], { typicalError: 0.8 }).sd).toBeUndefined();
    expect(() => baselineBand([38])).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => baselineBand([], { typicalError: 0.8 })).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => baselineBand(history, { typicalError: 0 })).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => baselineBand([38, NaN])).toThrow(expect.objectContaining({ code: "not-a-number" }));
  });
});
