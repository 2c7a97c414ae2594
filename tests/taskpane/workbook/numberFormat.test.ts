import { describe, expect, test } from "vitest";
import { METRICS } from "../../../src/catalogue/metrics.ts";
import { unitsOf } from "../../../src/catalogue/units.ts";
import { numberFormat } from "../../../taskpane/workbook/sheets.ts";

describe("the look of a metric in the sheet", () => {
  test.each([
    ["timeToPeakForce", "0.000"], ["timeToPeakForce ms", "0"], ["timeToPeakLandingForce", "0.000"], ["hopPowerFromTimes", "0.00"], ["brakingRfd", "0"], ["brakingRfd kN/s", "0.00"],
    ["jumpHeight", "0.000"], ["jumpHeight cm", "0.0"], ["jumpHeight in", "0.00"], ["peakForce", "0"], ["peakForce kN", "0.000"], ["peakForceLeft", "0"], ["peakForceRelative", "0.00"],
    ["meanForcePropulsionAsymmetry", "0.0"], ["propulsionImpulse", "0.0"], ["contactStiffness", "0"], ["bodyWeight", "0"], ["bodyWeightUncertainty", "0.00"], ["weighingSd", "0.0"], ["hopCount", "0"], ["rsi", "0.000"],
  ] as const)("%s: %s", (name, format) => {
    expect(numberFormat(name)).toBe(format);
  });

  test("its uncertainty has one place more", () => {
    expect(numberFormat("jumpHeight cm", "uncertainties")).toBe("0.00");
    expect(numberFormat("peakForce", "uncertainties")).toBe("0.0");
  });

  test("is what the sheet makes of it where the name is none", () => {
    for (const name of ["verdict", "my own", ""]) expect(numberFormat(name)).toBe("General");
  });

  // A person's jump lasts tenths of a second and metres, with forces of hundreds of newtons: nothing of it may look like 0.
  test("no quantity of a whole trial is rounded away, in any unit", () => {
    const least: Readonly<Record<string, number>> = { s: 0.05, m: 0.01, "m/s": 0.2, N: 100, kg: 30, W: 200, "N s": 10, "N/s": 500, "N/m": 2000, "N/kg": 5, "W/kg": 5, "%": 1 };
    const small = ["weighingSd", "bodyWeightUncertainty", "flightOffset", "driftRate"];
    let compared = 0;
    for (const { id, unit } of METRICS.filter((metric) => least[metric.unit] !== undefined && !small.includes(metric.id))) {
      for (const other of unitsOf(unit)) {
        const [, decimals = ""] = numberFormat(`${id} ${other}`).split(".");
        const factor = { cm: 100, mm: 1000, in: 1 / 0.0254, ft: 1 / 0.3048, ms: 1000, "cm/s": 100, "km/h": 3.6, "ft/s": 1 / 0.3048, kgf: 1 / 9.80665, lbf: 1 / 4.4482216152605, lb: 1 / 0.45359237, g: 1000 }[other] ?? (/^k[NW]|N\/ms/.test(other) ? 1e-3 : 1);
        // Two figures at least of the smallest.
        expect(least[unit] * factor * 10 ** decimals.length, `${id} in ${other}`).toBeGreaterThanOrEqual(9.9);
        compared += 1;
      }
    }
    expect(compared).toBeGreaterThan(150);
  });
});
