import { describe, expect, test } from "vitest";
import { METRICS } from "../../../src/catalogue/metrics.ts";
import { resolveMetricName } from "../../../src/catalogue/resolveMetricName.ts";
import { analyse } from "../../../src/protocols/analyse.ts";
import type { Analysis } from "../../../src/protocols/Analysis.ts";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import { readMetric } from "../../../src/protocols/readMetric.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { settingsFrom } from "../../../src/settings/settingsFrom.ts";
import type { Trace } from "../../../src/trace/Trace.ts";
import { randomJump, seeds } from "../../support/randomTrial.ts";

const CMJ = parseProtocol("CMJ");
const NOISY = seeds(40).map((seed) => randomJump(seed, { faults: { noise: 1, sway: 3 } }));
const valueOf = (analysis: Analysis, id: string): number => analysis.metrics.get(id)!.value;
const mapped = (trace: Trace, change: (force: Float64Array) => Float64Array): Trace => ({ ...trace, plates: trace.plates.map(({ role, force }) => ({ role, force: change(force) })) });

describe("laws that every analysed jump obeys", () => {
  const analyses = NOISY.map(({ trace }) => analyse(trace, CMJ, DEFAULT_SETTINGS));

  test("braking impulse is minus the unweighting impulse", () => {
    for (const analysis of analyses) expect(valueOf(analysis, "brakingImpulse") / valueOf(analysis, "unweightingImpulse")).toBeCloseTo(-1, 9);
  });

  test("impulse is mass times velocity", () => {
    for (const analysis of analyses) expect(valueOf(analysis, "propulsionImpulse") / (valueOf(analysis, "bodyMass") * valueOf(analysis, "takeoffVelocity"))).toBeCloseTo(1, 9);
  });

  test("force crosses body weight at the peaks of velocity", () => {
    for (const analysis of analyses) {
      const { force } = analysis.timeSeries();
      const weight = valueOf(analysis, "bodyWeight");
      for (const name of ["minimumVelocity", "peakVelocity"] as const) {
        const i = Math.round(analysis.events.get(name)!.time * analysis.trace.rate);
        const around = Array.from(force.slice(i - 2, i + 3));
        expect(Math.min(...around)).toBeLessThanOrEqual(weight);
        expect(Math.max(...around)).toBeGreaterThanOrEqual(weight);
      }
    }
  });

  // Independent route: the work of the force over the whole push, summed from power over time.
  test("height by work is height by impulse", () => {
    for (const analysis of analyses) {
      const { power, time } = analysis.timeSeries();
      const [from, to] = [analysis.events.get("onset")!.time, analysis.events.get("takeoff")!.time];
      let work = 0;
      for (let i = 1; i < time.length; i++) if (time[i - 1] >= from && time[i] <= to) work += ((power![i] + power![i - 1]) / 2) * (time[i] - time[i - 1]);
      const height = work / valueOf(analysis, "bodyWeight") - valueOf(analysis, "takeoffDisplacement");
      expect(Math.abs(height - valueOf(analysis, "jumpHeightTakeoffVelocity"))).toBeLessThan(0.002);
    }
  });

  // The limits that are newtons (of the search for flight, for one) do not scale: a sample more or less in the reading of zero.
  test("a twice heavier athlete of the same motion jumps as high, with twice the force", () => {
    for (const { trace } of NOISY) {
      const heavy = mapped(trace, (force) => force.map((value) => 2 * value));
      const one = analyse(trace, CMJ, settingsFrom([["take-off-threshold", 20]]));
      const two = analyse(heavy, CMJ, settingsFrom([["take-off-threshold", 40]]));
      for (const id of ["jumpHeightTakeoffVelocity", "jumpHeightFlightTime", "takeoffVelocity", "countermovementDepth", "timeToTakeoff", "rsiModified"]) {
        expect(valueOf(two, id) / valueOf(one, id), id).toBeCloseTo(1, 4);
      }
      for (const id of ["bodyWeight", "peakForce", "propulsionImpulse", "peakPower", "brakingRfd", "peakForcePropulsionLeft"]) {
        expect(valueOf(two, id) / valueOf(one, id), id).toBeCloseTo(2, 3);
      }
    }
  });

  test("all heights and velocities are in proportion to g; times and forces do not know it", () => {
    for (const { trace } of NOISY) {
      const one = analyse(trace, CMJ, settingsFrom([["gravity", 9.78]]));
      const two = analyse(trace, CMJ, settingsFrom([["gravity", 9.83]]));
      for (const id of ["jumpHeightTakeoffVelocity", "jumpHeightFlightTime", "takeoffVelocity", "countermovementDepth", "peakPower"]) {
        expect(valueOf(two, id) / valueOf(one, id), id).toBeCloseTo(9.83 / 9.78, 9);
      }
      for (const id of ["flightTime", "timeToTakeoff", "peakForce", "bodyWeight", "propulsionImpulse"]) expect(valueOf(two, id) / valueOf(one, id), id).toBeCloseTo(1, 9);
    }
  });

  test("it does not matter when the recording began", () => {
    for (const { trace } of NOISY) {
      const later = mapped(trace, (force) => force.slice(137));
      const [one, two] = [analyse(trace, CMJ, DEFAULT_SETTINGS), analyse(later, CMJ, DEFAULT_SETTINGS)];
      expect(two.events.get("takeoff")!.time + 137 / trace.rate).toBeCloseTo(one.events.get("takeoff")!.time, 4);
      // The weighing window may move by a few samples of sway.
      expect(Math.abs(valueOf(two, "jumpHeightTakeoffVelocity") - valueOf(one, "jumpHeightTakeoffVelocity"))).toBeLessThan(0.0025);
      expect(Math.abs(valueOf(two, "flightTime") - valueOf(one, "flightTime"))).toBeLessThan(1e-4);
    }
  });

  test("every second sample tells nearly the same", () => {
    for (const { trace } of NOISY) {
      const half = { ...mapped(trace, (force) => force.filter((_, i) => i % 2 === 0)), rate: trace.rate / 2 };
      const [one, two] = [analyse(trace, CMJ, DEFAULT_SETTINGS), analyse(half, CMJ, DEFAULT_SETTINGS)];
      for (const id of ["jumpHeightTakeoffVelocity", "jumpHeightFlightTime"]) expect(Math.abs(valueOf(two, id) - valueOf(one, id)), id).toBeLessThan(0.004);
      expect(Math.abs(valueOf(two, "peakForce") / valueOf(one, "peakForce") - 1)).toBeLessThan(0.005);
    }
  });

  test("swapped plates swap left and right, and change nothing else", () => {
    for (const { trace } of NOISY) {
      const swapped: Trace = { ...trace, plates: [{ role: "left", force: trace.plates[1].force }, { role: "right", force: trace.plates[0].force }] };
      const [one, two] = [analyse(trace, CMJ, DEFAULT_SETTINGS), analyse(swapped, CMJ, DEFAULT_SETTINGS)];
      expect([...two.metrics.keys()].sort()).toEqual([...one.metrics.keys()].sort());
      for (const [id, { value }] of one.metrics) {
        const other = id.endsWith("Left") ? id.replace(/Left$/, "Right") : id.replace(/Right$/, "Left");
        expect(Math.abs(valueOf(two, other) - value), id).toBeLessThanOrEqual(1e-9 * Math.abs(value) + 1e-12);
      }
    }
  });

  test("swapped plates flip the sign of every asymmetry", () => {
    let compared = 0;
    for (const { trace } of NOISY.slice(0, 10)) {
      const swapped: Trace = { ...trace, plates: [{ role: "left", force: trace.plates[1].force }, { role: "right", force: trace.plates[0].force }] };
      const [one, two] = [analyse(trace, CMJ, DEFAULT_SETTINGS), analyse(swapped, CMJ, DEFAULT_SETTINGS)];
      for (const metric of METRICS.filter(({ tests, forms }) => tests.includes("CMJ") && forms.asymmetry)) {
        const name = resolveMetricName(`${metric.id}Asymmetry`);
        expect(readMetric(two, name).value, metric.id).toBeCloseTo(-readMetric(one, name).value, 9);
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(50);
  });
});
