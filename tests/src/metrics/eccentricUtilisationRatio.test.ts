import { describe, expect, test } from "vitest";
import { eccentricUtilisationRatio } from "../../../src/metrics/eccentricUtilisationRatio.ts";

describe("eccentricUtilisationRatio", () => {
  // By hand: 38 / 35.
  test("gives 1.0857 for 38 and 35 cm", () => {
    expect(eccentricUtilisationRatio(38, 35)).toBeCloseTo(1.0857142857142856, 14);
  });

  test("does not depend on the unit", () => {
    expect(eccentricUtilisationRatio(0.38, 0.35)).toBeCloseTo(eccentricUtilisationRatio(38, 35), 14);
  });

  test.each([
    [NaN, 35, "not-a-number"],
    [0, 35, "out-of-range"],
    [38, 0, "out-of-range"],
  ])("refuses %d %d: %s", (cmj: number, sj: number, code: string) => {
    expect(() => eccentricUtilisationRatio(cmj, sj)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
