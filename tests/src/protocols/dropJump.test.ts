import { describe, expect, test } from "vitest";
import { analyse } from "../../../src/protocols/analyse.ts";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import type { SyntheticOptions } from "../../../src/synthetic/SyntheticOptions.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";

const run = (options: SyntheticOptions, protocol = "DJ drop=0.30") => {
  const trial = syntheticTrial(options);
  return { trial, analysis: analyse(trial.trace, parseProtocol(protocol), DEFAULT_SETTINGS) };
};

describe("a drop jump", () => {
  test("with a plate under the box needs no stand after the landing: weight and velocity come from the box", () => {
    const { trial, analysis } = run({ test: "DJ", boxLeaveVelocity: 0.4, quietAfter: 0, faults: { noise: 1 } });
    const whole = run({ test: "DJ", boxLeaveVelocity: 0.4, faults: { noise: 1 } });
    expect(Math.abs(analysis.metrics.get("bodyWeight")!.value - trial.truth.bodyWeight!)).toBeLessThan(0.5);
    for (const id of ["touchdownVelocity", "measuredDropHeight", "jumpHeightTakeoffVelocity"]) {
      expect(Math.abs(analysis.metrics.get(id)!.value / trial.truth[id]! - 1), id).toBeLessThan(0.02);
      expect(Math.abs(analysis.metrics.get(id)!.value / whole.analysis.metrics.get(id)!.value - 1), id).toBeLessThan(0.02);
    }
  });

  test("of one leg is analysed from its plate", () => {
    const { trial, analysis } = run({ test: "DJ", limb: "right", faults: { noise: 1 } }, "DJ drop=0.30 limb=right");
    expect(Math.abs(analysis.metrics.get("jumpHeightTakeoffVelocity")!.value - trial.truth.jumpHeightTakeoffVelocity!)).toBeLessThan(0.003);
    expect(analysis.metrics.has("peakForceLeft")).toBe(false);
  });

  test("takes off a drift that the empty plate shows before the contact and in flight, each side by its own", () => {
    const { trial, analysis } = run({ test: "DJ", faults: { noise: 1, drift: [3, 1] } });
    expect(analysis.findings.filter(({ rule }) => rule === "Q4")).toMatchObject([{ action: "corrected" }]);
    expect(Math.abs(analysis.metrics.get("bodyWeight")!.value - trial.truth.bodyWeight!)).toBeLessThan(1);
    expect(Math.abs(analysis.metrics.get("measuredDropHeight")!.value - trial.truth.measuredDropHeight!)).toBeLessThan(0.006);
    const { left, right } = analysis.timeSeries();
    const end = left!.length - 400;
    expect(Math.abs(left![end]! - right![end]!)).toBeLessThan(8);
  });

  test("in an impact that is a peak of its own, has an impact and a second peak", () => {
    const { trace } = syntheticTrial({ test: "DJ" });
    const at = trace.plates[0]!.force.findIndex((f) => f > 10);
    for (const { force } of trace.plates) for (let i = 0; i < 30; i++) force[at + i] = force[at + i]! + 900 * Math.sin((Math.PI * i) / 30);
    const { metrics } = analyse(trace, { test: "DJ" }, DEFAULT_SETTINGS);
    const force = Float64Array.from(trace.plates[0]!.force, (f, i) => f + trace.plates[1]!.force[i]!);
    // By hand: the largest of the first 50 ms, and of what follows the valley after it.
    expect(metrics.get("impactPeakForce")!.value).toBeCloseTo(Math.max(...force.slice(at, at + 50)), 6);
    expect(metrics.get("secondPeakForce")!.value).toBeLessThan(metrics.get("impactPeakForce")!.value);
    expect(metrics.get("peakForce")!.value).toBe(metrics.get("impactPeakForce")!.value);
  });

  test("without any stand gives times and reactive strength, and says why there is no more", () => {
    const { trial, analysis } = run({ test: "DJ", quietAfter: 0, faults: { cutEnd: 2 } });
    expect(Math.abs(analysis.metrics.get("contactTime")!.value - trial.truth.contactTime!)).toBeLessThan(0.002);
    expect(analysis.metrics.has("rsi")).toBe(true);
    expect(analysis.missing.get("touchdownVelocity")).toContain("quiet stand");
    expect(analysis.verdict).toBe("look");
  });
});
