import { describe, expect, test } from "vitest";
import { isUnit, unitForm, unitsOf } from "../../../src/catalogue/units.ts";

describe("unitForm", () => {
  test.each([
    ["m", "cm", "cm", 100],
    ["m", "(CM)", "cm", 100],
    ["N s", "N.s", "N s", 1],
    ["N s/kg", "m/s", "m/s", 1],
    ["s", "ms", "ms", 1000],
    ["m/s", "km/h", "km/h", 3.6],
    ["", "%", "%", 100],
  ])("prints a value in %s as %s", (si, wanted, unit, factor) => {
    expect(unitForm(si, wanted)).toEqual({ unit, factor });
  });

  // 1 lbf = 4.4482216 N (definition of the pound and standard gravity, rounded).
  test("turns newtons into pounds-force", () => {
    expect(1 / unitForm("N", "lbf")!.factor).toBeCloseTo(4.4482216, 7);
  });

  test("knows no unit of another quantity", () => {
    expect(unitForm("m", "kg")).toBeUndefined();
    expect(isUnit("kg")).toBe(true);
    expect(isUnit("parsec")).toBe(false);
  });

  test("lists the SI unit first", () => {
    for (const si of ["m", "s", "N", "kg", "W", "N/s"]) expect(unitsOf(si)[0]).toBe(si);
  });
});
