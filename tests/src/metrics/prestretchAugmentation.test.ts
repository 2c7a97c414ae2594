import { describe, expect, test } from "vitest";
import { eccentricUtilisationRatio } from "../../../src/metrics/eccentricUtilisationRatio.ts";
import { prestretchAugmentation } from "../../../src/metrics/prestretchAugmentation.ts";

describe("prestretchAugmentation", () => {
  // By hand: 100 * 3 / 35.
  test("gives 8.571 per cent for 38 and 35 cm", () => {
    expect(prestretchAugmentation(38, 35)).toBeCloseTo(8.571428571428571, 12);
  });

  test("is the eccentric utilisation ratio less one, as a percentage", () => {
    expect(prestretchAugmentation(33.3, 35.1)).toBeCloseTo(100 * (eccentricUtilisationRatio(33.3, 35.1) - 1), 12);
  });

  test.each([
    [NaN, 35, "not-a-number"],
    [-1, 35, "out-of-range"],
    [38, 0, "out-of-range"],
  ])("refuses %d %d: %s", (cmj: number, sj: number, code: string) => {
    expect(() => prestretchAugmentation(cmj, sj)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
