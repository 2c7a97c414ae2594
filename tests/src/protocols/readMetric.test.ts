import { describe, expect, test } from "vitest";
import { resolveMetricName } from "../../../src/catalogue/resolveMetricName.ts";
import { analyse } from "../../../src/protocols/analyse.ts";
import type { Analysis } from "../../../src/protocols/Analysis.ts";
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

  /** An analysis that holds these metrics alone, without a budget. */
  const holding = (metrics: Readonly<Record<string, number>>, findings: Analysis["findings"] = [], settings = DEFAULT_SETTINGS): Analysis =>
    ({ protocol: { test: "CMJ" }, settings, metrics: new Map(Object.entries(metrics).map(([id, value]) => [id, { id, value, unit: "N" }])), missing: new Map([["peakForce", "why there is none"]]), findings }) as unknown as Analysis;

  test("gives an asymmetry only where both sides are above zero", () => {
    const name = resolveMetricName("peakForceAsymmetry");
    expect(readMetric(holding({ peakForceLeft: 60, peakForceRight: 40, peakForce: 100 }), name)).toEqual({ id: "peakForceAsymmetry", value: expect.closeTo(20, 10), unit: "%" });
    for (const sides of [{ peakForceLeft: 0, peakForceRight: 40 }, { peakForceLeft: 40, peakForceRight: 0 }, { peakForceLeft: -1, peakForceRight: 40 }, { peakForceLeft: 40, peakForceRight: -1 }]) {
      expect(() => readMetric(holding({ ...sides, peakForce: 40 }), name)).toThrow("peakForceAsymmetry requires both sides above zero");
    }
  });

  test("says why a side is missing: the rule that removed it, the plates, or the reason of the whole", () => {
    const name = resolveMetricName("peakForceLeft");
    const finding = (removes: readonly string[]) => [{ rule: "Q14", action: "look", removes, message: "one foot landed late", values: {} }] as unknown as Analysis["findings"];
    expect(() => readMetric(holding({ peakForce: 100 }, finding(["A"])), name)).toThrow("one foot landed late");
    expect(() => readMetric(holding({ peakForce: 100 }, finding(["L"])), name)).toThrow("peakForceLeft requires a plate under each foot");
    expect(() => readMetric(holding({}, finding(["A"])), name)).toThrow("why there is none");
    expect(() => readMetric(holding({}), resolveMetricName("peakForce"))).toThrow("why there is none");
  });

  test("refuses a unit that the index does not have by the settings", () => {
    const byFlight = settingsFrom([["rsi-basis", "flight"]]);
    const rsi = { rsi: 2 };
    expect(readMetric(holding(rsi, [], byFlight), resolveMetricName("rsi")).value).toBe(2);
    expect(() => readMetric(holding(rsi, [], byFlight), resolveMetricName("rsi cm/s"))).toThrow("requires the setting rsi-basis = height to have the unit cm/s");
    expect(readMetric(holding(rsi), resolveMetricName("rsi cm/s")).value).toBe(2);
  });

  // By hand: F - W has the slopes 1 and -1, F / m the slopes 1 / m and -F / m^2; what both share can only lie between the sum and the difference of the parts.
  test("propagates the uncertainty of both parts into each form", () => {
    const f = analysis.metrics.get("peakForce")!;
    const w = analysis.metrics.get("bodyWeight")!;
    const m = analysis.metrics.get("bodyMass")!;
    const within = (u: number | undefined, a: number, b: number): void => {
      expect(u).toBeGreaterThan(0);
      expect(u).toBeGreaterThanOrEqual(Math.abs(a - b) * (1 - 1e-6));
      expect(u).toBeLessThanOrEqual((a + b) * (1 + 1e-6));
    };
    within(read("peakForceNet").u, f.u!, w.u!);
    within(read("peakForceRelative").u, f.u! / m.value, (f.value * m.u!) / m.value ** 2);
    const [l, r] = [read("meanForcePropulsionLeft"), read("meanForcePropulsionRight")];
    const sum = (l.value + r.value) ** 2;
    within(read("meanForcePropulsionAsymmetry").u, (200 * r.value * l.u!) / sum, (200 * l.value * r.u!) / sum);
  });
});
