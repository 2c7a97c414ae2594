import { describe, expect, test } from "vitest";
import { forceScale, forceUnitNamed } from "../../../src/trace/units.ts";

describe("forceScale", () => {
  test.each([
    ["N", 1],
    ["kN", 1000],
    ["kgf", 9.80665], // 3rd CGPM 1901, exact
    ["lbf", 4.4482216152605], // NIST SP 811 (2008), appendix B.8, exact
  ])("gives the newtons in one %s", (unit, newtons) => {
    expect(forceScale(unit)).toBeCloseTo(newtons, 12);
  });

  test("reads other spellings", () => {
    expect([" LB ", "kg", "Newtons", "kn"].map(forceUnitNamed)).toEqual(["lbf", "kgf", "N", "kN"]);
  });

  test("refuses a unit it does not know, the name of a property too", () => {
    expect(() => forceScale("mm")).toThrow(expect.objectContaining({ code: "unknown-name" }));
    expect(() => forceScale("constructor")).toThrow(expect.objectContaining({ code: "unknown-name" }));
  });
});
