import { describe, expect, test } from "vitest";
import { betweenPeopleSd } from "../../../src/statistics/betweenPeopleSd.ts";
import { intraclassCorrelation } from "../../../src/statistics/intraclassCorrelation.ts";
import { typicalError } from "../../../src/statistics/typicalError.ts";
import { standardErrorOfMeasurement } from "../../../src/statistics/standardErrorOfMeasurement.ts";

describe("standardErrorOfMeasurement", () => {
  // By hand: 4.918242 * sqrt(1 - 0.984896).
  test("gives 0.6044 for the invented retest", () => {
    expect(standardErrorOfMeasurement(4.918242281837806, 0.9848957987287654)).toBeCloseTo(0.6044477999440251, 9);
  });

  test("equals the typical error where ICC(3,1) and the pooled spread come from the same table", () => {
    const table = [
      [30, 33, 31],
      [41, 40, 43],
      [36, 38, 35],
      [28, 27, 30],
    ];
    const sem = standardErrorOfMeasurement(betweenPeopleSd(table).value, intraclassCorrelation(table, "3,1").value);
    expect(sem).toBeCloseTo(typicalError(table).value, 10);
  });

  test("refuses a correlation above one and a negative spread", () => {
    expect(() => standardErrorOfMeasurement(5, 1.01)).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => standardErrorOfMeasurement(-5, 0.9)).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => standardErrorOfMeasurement(5, NaN)).toThrow(expect.objectContaining({ code: "not-a-number" }));
  });
});
