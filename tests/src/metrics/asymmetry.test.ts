import { describe, expect, test } from "vitest";
import fc from "fast-check";
import { asymmetry, asymmetryFormulaByName, ASYMMETRY_FORMULAS } from "../../../src/metrics/asymmetry.ts";

describe("asymmetry", () => {
  // By hand for left 800 N, right 700 N; atan(800/700) - 45 deg = 3.81407 deg for the symmetry angle.
  test.each([
    ["symmetryIndex", 6.666666666666667],
    ["standardPercentageDifference", 12.5],
    ["asymmetryIndex", 13.333333333333334],
    ["referenceWeaker", 14.285714285714285],
    ["symmetryAngle", 4.23786092698928],
    ["logRatio", 13.353139262452258],
    ["leftShare", 53.333333333333336],
    ["limbSymmetryIndex1", 87.5],
    ["limbSymmetryIndex2", 12.5],
    ["limbSymmetryIndex3", 13.333333333333334],
    ["bilateralStrengthAsymmetry", 12.5],
    ["bilateralAsymmetryIndex1", 6.666666666666667],
    ["bilateralAsymmetryIndex2", 13.333333333333334],
    ["normalisedSymmetryIndex", 12.5],
  ])("%s gives %d for 800 and 700 N", (formula, value) => {
    expect(asymmetry(800, 700, formula)).toBeCloseTo(value, 10);
  });

  test("has a hand value above for every formula of the table", () => {
    expect(ASYMMETRY_FORMULAS).toHaveLength(14);
  });

  test("every signed percentage is positive when left is higher and turns round with the sides", () => {
    for (const { id, signed } of ASYMMETRY_FORMULAS) {
      if (!signed) continue;
      expect(asymmetry(800, 700, id)).toBeGreaterThan(0);
      expect(asymmetry(700, 800, id)).toBeCloseTo(-asymmetry(800, 700, id), 12);
      expect(asymmetry(750, 750, id)).toBeCloseTo(0, 12);
    }
  });

  test("no formula depends on the unit", () => {
    for (const { id } of ASYMMETRY_FORMULAS) expect(asymmetry(81.3, 64.2, id)).toBeCloseTo(asymmetry(813, 642, id), 10);
  });

  test("an alias gives the number of the formula it names, for any pair", () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 3000, noNaN: true }), fc.double({ min: 1, max: 3000, noNaN: true }), (left, right) => {
        for (const { id, sameAs } of ASYMMETRY_FORMULAS) {
          if (sameAs !== undefined) expect(asymmetry(left, right, id)).toBeCloseTo(asymmetry(left, right, sameAs), 8);
        }
      }),
    );
  });

  // By hand: right dominant, so N / D = 800 / 700 and the difference is over 700.
  test("an entered dominant side is the reference of limb symmetry indices 1 and 2 only", () => {
    expect(asymmetry(800, 700, "limbSymmetryIndex1", "right")).toBeCloseTo(114.28571428571429, 10);
    expect(asymmetry(800, 700, "limbSymmetryIndex2", "right")).toBeCloseTo(14.285714285714285, 10);
    for (const { id, usesDominant } of ASYMMETRY_FORMULAS) {
      if (!usesDominant) expect(asymmetry(800, 700, id, "right")).toBe(asymmetry(800, 700, id, "left"));
    }
  });


  test("the table says which formulas carry a sign and which know a dominant side, as they behave", () => {
    for (const { id, signed, usesDominant } of ASYMMETRY_FORMULAS) {
      expect(asymmetry(700, 800, id) < 0, id).toBe(signed);
      expect(asymmetry(800, 700, id, "right") !== asymmetry(800, 700, id, "left"), id).toBe(usesDominant);
    }
  });

  test("takes names in any spelling and names the nearest when unknown", () => {
    expect(asymmetryFormulaByName("Limb symmetry index 3").id).toBe("limbSymmetryIndex3");
    expect(asymmetryFormulaByName("LSI 1").id).toBe("limbSymmetryIndex1");
    expect(() => asymmetry(800, 700, "symetry angle")).toThrow(/symmetryAngle/);
    for (const formula of ASYMMETRY_FORMULAS) expect(asymmetryFormulaByName(formula.name)).toBe(formula);
  });

  test.each([
    [NaN, 700, "not-a-number"],
    [0, 700, "out-of-range"],
    [800, -1, "out-of-range"],
    [800, 0, "out-of-range"],
  ])("refuses %d %d: %s", (left: number, right: number, code: string) => {
    expect(() => asymmetry(left, right)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
