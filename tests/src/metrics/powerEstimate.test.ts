import { describe, expect, test } from "vitest";
import { powerEstimate, powerEquationByName, POWER_EQUATIONS } from "../../../src/metrics/powerEstimate.ts";

describe("powerEstimate", () => {
  // By hand from the printed coefficients at 40 cm, 75 kg, 178 cm.
  test.each([
    ["sayersSquatJump", 3770.5],
    ["sayersCountermovementJump", 3736.5],
    ["harmanPeak", 3354.0],
    ["harmanMean", 1180.0],
    ["johnsonBahamondePeak", 3653.6],
    ["johnsonBahamondeMean", 1645.1],
    ["canavanVescovi", 3125.9],
  ])("%s gives %d W at 0.40 m, 75 kg and 1.78 m", (equation, power) => {
    expect(powerEstimate(0.4, 75, equation, 1.78)).toBeCloseTo(power, 8);
  });

  // Canavan & Vescovi (2004), group means of 20 women: 65.9 kg; predicted 2920.8, 2925.1 and 2585.0 W. The three published
  // equations must need one and the same height; with the constant +1822 the second would need -26 cm.
  test("gives the published group means at one common height of about 32.9 cm", () => {
    expect(powerEstimate(0.32793, 65.9, "sayersSquatJump")).toBeCloseTo(2920.8, 1);
    expect(powerEstimate(0.3294, 65.9, "sayersCountermovementJump")).toBeCloseTo(2925.1, 0);
    expect(powerEstimate(0.32869, 65.9, "harmanPeak")).toBeCloseTo(2585.0, 0);
  });

  test("takes names in any spelling, and the full name", () => {
    expect(powerEquationByName("Harman peak").id).toBe("harmanPeak");
    expect(powerEquationByName("SAYERS").id).toBe("sayersCountermovementJump");
    expect(powerEquationByName("Canavan and Vescovi").id).toBe("canavanVescovi");
  });

  test("names the nearest equations when the name is not known", () => {
    expect(() => powerEstimate(0.4, 75, "sayerz")).toThrow(/sayers/);
    expect(() => powerEstimate(0.4, 75, "nobody")).toThrow(expect.objectContaining({ code: "unknown-name" }));
  });

  test("asks for stature where the equation needs it, and refuses a power that is not positive", () => {
    expect(() => powerEstimate(0.4, 75, "johnsonBahamondePeak")).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => powerEstimate(0.05, 20, "harmanPeak")).toThrow(expect.objectContaining({ code: "not-available" }));
  });

  test("every name and id of the table finds its own equation", () => {
    for (const equation of POWER_EQUATIONS) {
      expect(powerEquationByName(equation.id)).toBe(equation);
      expect(powerEquationByName(equation.name)).toBe(equation);
    }
  });

  test.each([
    [NaN, 75, 1.78, "not-a-number"],
    [0, 75, 1.78, "out-of-range"],
    [0.4, 0, 1.78, "out-of-range"],
    [0.4, 75, -1, "out-of-range"],
  ])("refuses %d %d %d: %s", (height: number, mass: number, stature: number, code: string) => {
    expect(() => powerEstimate(height, mass, "johnsonBahamondePeak", stature)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
