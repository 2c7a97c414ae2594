import { describe, expect, test } from "vitest";
import { normalFrom, seededRandom } from "../../support/seededRandom.ts";
import { squatJumpHeights } from "../../support/squatJumpHeights.ts";
import { describeWithData } from "../../support/data.ts";
import { typicalError } from "../../../src/statistics/typicalError.ts";

describe("typicalError", () => {
  // Test and retest of eight invented athletes, cm.
  const table = Object.freeze(
    [
      [34.1, 34.9],
      [38.6, 38.0],
      [41.2, 42.3],
      [29.8, 30.1],
      [45.0, 44.1],
      [36.7, 37.9],
      [33.0, 32.4],
      [40.3, 41.2],
    ].map((row) => Object.freeze(row)),
  );

  // By hand: SD of the differences 0.8548183 over sqrt(2); limits with SciPy 1.17.1 chi2.ppf([0.975, 0.025], 7).
  test("raw is the standard deviation of the differences over the root of two, with chi-squared limits", () => {
    const { value, low, high, degreesOfFreedom, people, gaps } = typicalError(table);
    expect(value).toBeCloseTo(0.6044477999440001, 12);
    expect(low).toBeCloseTo(0.3996452596409508, 10);
    expect(high).toBeCloseTo(1.2302157375594978, 10);
    expect([degreesOfFreedom, people, gaps]).toEqual([7, 8, 0]);
  });

  // NumPy: SD of 100 ln(b / a) over sqrt(2), back to per cent; by hand 100 * 0.604448 / 37.475; root mean square of eight CVs.
  test("gives three percentages that differ a little", () => {
    const log = typicalError(table, "log");
    expect(log.value).toBeCloseTo(1.570974457057983, 10);
    expect(log.low).toBeCloseTo(1.03594251, 7);
    expect(log.high).toBeCloseTo(3.22336596, 7);
    expect(typicalError(table, "cv").value).toBeCloseTo(1.6129360905777193, 10);
    expect(typicalError(table, "rms").value).toBeCloseTo(1.5502469193522743, 10);
  });

  test("percentages do not depend on the unit, raw scales with it", () => {
    const inMetres = table.map((row) => row.map((value) => value / 100));
    for (const form of ["log", "cv", "rms"] as const) {
      expect(typicalError(inMetres, form).value).toBeCloseTo(typicalError(table, form).value, 9);
    }
    expect(typicalError(inMetres).value).toBeCloseTo(typicalError(table).value / 100, 12);
  });

  test("people with one number change nothing but the counts", () => {
    const more = [...table, [50, undefined], [undefined, 20]];
    const { value, people, leftOut, gaps } = typicalError(more);
    expect(value).toBeCloseTo(typicalError(table).value, 12);
    expect([people, leftOut, gaps]).toEqual([8, 2, 2]);
  });

  test("a common gain from trial to trial is not error, except in the form rms", () => {
    const gained = table.map(([first, second]) => [first, second * 1.1]);
    expect(typicalError(gained, "log").value).toBeCloseTo(typicalError(table, "log").value, 9);
    expect(typicalError(gained, "rms").value).toBeGreaterThan(typicalError(table, "rms").value * 2);
  });

  test("recovers a known error from many simulated people with gaps", () => {
    const normal = normalFrom(seededRandom(11));
    const simulated = Array.from({ length: 3000 }, () => {
      const truth = 35 + 5 * normal();
      return [0, 1, 2].map((j) => (normal() > 1 ? undefined : truth + j * 0.5 + 0.8 * normal()));
    });
    // 4000 degrees of freedom or more: the standard error is about 0.009.
    expect(Math.abs(typicalError(simulated).value - 0.8)).toBeLessThan(0.03);
  });

  test("refuses one column, too few people, and percentages of numbers at or below zero", () => {
    expect(() => typicalError([[1], [2]])).toThrow(expect.objectContaining({ code: "wrong-shape" }));
    expect(() => typicalError([[1, 2]])).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => typicalError([[1, 2], [0, 1]], "log")).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => typicalError(table, "odd" as "raw")).toThrow(expect.objectContaining({ code: "unknown-name" }));
  });
});

describeWithData("typicalError of squat-jump heights at five times", () => {
  // Jimenez-Reyes et al. (2019), open data of 60 people; the value recomputed once with NumPy for the last four occasions.
  test("is 1.167 mm over the last four occasions", () => {
    expect(typicalError(squatJumpHeights().map((row) => row.slice(1))).value).toBeCloseTo(0.001167, 6);
  });
});
