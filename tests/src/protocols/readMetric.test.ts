import { describe, expect, test } from "vitest";
import { resolveMetricName } from "../../../src/catalogue/resolveMetricName.ts";
import { analyse } from "../../../src/protocols/analyse.ts";
import { readMetric } from "../../../src/protocols/readMetric.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { settingsFrom } from "../../../src/settings/settingsFrom.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";

const jump = syntheticTrial({ test: "CMJ", mass: 80, leftShare: 0.54, faults: { noise: 1, sway: 1 } });
const analysis = analyse(jump.trace, { test: "CMJ" }, DEFAULT_SETTINGS);
const read = (name: string) => readMetric(analysis, resolveMetricName(name));

describe("readMetric", () => {
  test("gives the plain metric, and its sides, as the analysis has them", () => {
    expect(read("peakForce").value).toBe(analysis.metrics.get("peakForce")!.value);
    expect(read("peakForceLeft").value + read("peakForceRight").value).toBeCloseTo(read("peakForce").value, 0);
  });

  test("takes off body weight, then divides by body mass", () => {
    const w = analysis.metrics.get("bodyWeight")!.value;
    const m = analysis.metrics.get("bodyMass")!.value;
    expect(read("peakForceNet").value).toBeCloseTo(read("peakForce").value - w, 9);
    expect(read("peakForceRelative")).toMatchObject({ unit: "N/kg", value: expect.closeTo(read("peakForce").value / m, 9) });
    expect(read("peakForceNetRelative").value).toBeCloseTo((read("peakForce").value - w) / m, 9);
  });

  test("is relative to the body without the load", () => {
    const loaded = analyse(syntheticTrial({ test: "CMJ", mass: 80, load: 20 }).trace, { test: "CMJ", load: 20 }, DEFAULT_SETTINGS);
    expect(loaded.metrics.get("bodyMass")!.value).toBeCloseTo(80, 1);
    expect(loaded.metrics.get("bodyWeight")!.value).toBeCloseTo(100 * 9.80665, 0);
    expect(readMetric(loaded, resolveMetricName("peakForceRelative")).value).toBeCloseTo(loaded.metrics.get("peakForce")!.value / 80, 1);
  });

  // A gain error common to force and weight cancels in their ratio: only half of a per cent of gain is left in newtons.
  test("lets the calibration of the plates cancel where force is divided by the weighed mass", () => {
    const badly = analyse(jump.trace, { test: "CMJ" }, settingsFrom([["plate-gain-u", 2], ["gravity-u", "none"]]));
    const force = badly.metrics.get("peakForce")!;
    const relative = readMetric(badly, resolveMetricName("peakForceRelative"));
    expect(force.u! / force.value).toBeGreaterThan(0.019);
    expect(relative.u! / relative.value).toBeLessThan(0.005);
  });

  // By hand: shares of 54 and 46 % are an asymmetry of 8 % of the total, 100 * 8 / 54 of the larger.
  test("gives asymmetries by the formula of the settings, positive when left is higher", () => {
    expect(read("meanForcePropulsionAsymmetry").value).toBeCloseTo(8, 0);
    const other = analyse(jump.trace, { test: "CMJ" }, settingsFrom([["asymmetry-formula", "Standard percentage difference"]]));
    expect(readMetric(other, resolveMetricName("meanForcePropulsionAsymmetry")).value).toBeCloseTo(14.81, 0);
  });

  test("says why a metric is missing", () => {
    expect(() => read("contactTime")).toThrow(expect.objectContaining({ code: "not-available", message: expect.stringContaining("CMJ") }));
    const total = analyse(syntheticTrial({ test: "CMJ", plates: "total" }).trace, { test: "CMJ" }, DEFAULT_SETTINGS);
    expect(() => readMetric(total, resolveMetricName("peakForceLeft"))).toThrow(expect.objectContaining({ code: "not-available", message: expect.stringContaining("plate under each foot") }));
    const moving = analyse(syntheticTrial({ test: "CMJ", faults: { cutStart: 1.8 } }).trace, { test: "CMJ" }, DEFAULT_SETTINGS);
    expect(() => readMetric(moving, resolveMetricName("jumpHeight"))).toThrow(expect.objectContaining({ code: "not-available", message: expect.stringContaining("quiet stand") }));
  });
});
