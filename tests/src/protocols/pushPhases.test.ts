import { describe, expect, test } from "vitest";
import { analyse } from "../../../src/protocols/analyse.ts";
import type { Analysis } from "../../../src/protocols/Analysis.ts";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import type { Trace } from "../../../src/trace/Trace.ts";

// A second route: extremes, means and times are read again from the columns over time and the phases, which no metric is taken from.

const RATE = 1000;
const cases = [
  ["CMJ", "CMJ"],
  ["DJ", "DJ drop=0.30"],
] as const;

function analysed(kind: "CMJ" | "DJ", protocol: string): Analysis {
  const { trace } = syntheticTrial({ test: kind, seed: 8, leftShare: 0.54, rate: RATE });
  return analyse(trace, parseProtocol(protocol), DEFAULT_SETTINGS);
}

/** Values of a column over a phase, `start <= t < end`. */
function over(analysis: Analysis, name: "braking" | "propulsion", column: "force" | "velocity" | "power" | "left" | "right"): number[] {
  const { start, end } = analysis.phases.find((phase) => phase.name === name)!;
  const series = analysis.timeSeries();
  return [...series[column]!].filter((_, i) => series.time[i]! >= start - 1e-9 && series.time[i]! < end - 1e-9);
}

const value = (analysis: Analysis, id: string): number => analysis.metrics.get(id)!.value;

describe.each(cases)("the phases of a %s", (kind, protocol) => {
  const analysis = analysed(kind, protocol);

  test("have the least power of braking and the largest of propulsion among their samples", () => {
    expect(value(analysis, "minimumPowerBraking")).toBeLessThan(-100);
    expect(value(analysis, "minimumPowerBraking")).toBeCloseTo(Math.min(...over(analysis, "braking", "power")), 6);
    expect(value(analysis, "peakPower")).toBeCloseTo(Math.max(...over(analysis, "propulsion", "power")), 6);
    expect(value(analysis, "peakPower")).toBeGreaterThan(1000);
  });

  test("meet where the velocity is zero, at the lowest point", () => {
    const [braking, propulsion] = ["braking", "propulsion"].map((name) => analysis.phases.find((phase) => phase.name === name)!);
    expect(braking!.end).toBe(analysis.events.get("lowest")!.time);
    expect(propulsion!.start).toBe(braking!.end);
    expect(Math.max(...over(analysis, "braking", "velocity"))).toBeLessThanOrEqual(0);
    expect(Math.min(...over(analysis, "propulsion", "velocity"))).toBeGreaterThanOrEqual(0);
    expect(value(analysis, "brakingTime")).toBeCloseTo(braking!.end - braking!.start, 9);
    expect(value(analysis, "propulsionTime")).toBeCloseTo(propulsion!.end - propulsion!.start, 9);
  });

  test("have mean velocities, powers and forces that follow from their samples", () => {
    for (const [name, ending] of [["braking", "Braking"], ["propulsion", "Propulsion"]] as const) {
      const mean = (values: readonly number[]): number => values.reduce((sum, x) => sum + x, 0) / values.length;
      // A mean over samples against one over time: half a sample at each end of some 200.
      const near = (id: string, other: number): void => expect(Math.abs(value(analysis, id) / other - 1), id).toBeLessThan(0.03);
      near(`meanForce${ending}`, mean(over(analysis, name, "force")));
      near(`meanForce${ending}Left`, mean(over(analysis, name, "left")));
      near(`meanForce${ending}Right`, mean(over(analysis, name, "right")));
      near(`meanVelocity${ending}`, mean(over(analysis, name, "velocity")));
      near(`meanPower${ending}`, mean(over(analysis, name, "power")));
    }
  });

  test("have impulses of the sides that make up the change of momentum and the weight", () => {
    for (const [name, ending] of [["braking", "Braking"], ["propulsion", "Propulsion"]] as const) {
      const { start, end } = analysis.phases.find((phase) => phase.name === name)!;
      const gross = value(analysis, `${name}ImpulseLeft`) + value(analysis, `${name}ImpulseRight`);
      const net = value(analysis, `${name}Impulse`);
      expect(Math.abs((gross - value(analysis, "bodyWeight") * (end - start)) / net - 1), ending).toBeLessThan(0.005);
    }
  });
});

test("a push that never turns upward has no lowest point, and is not kept unseen", () => {
  const { trace } = syntheticTrial({ test: "CMJ", seed: 8, rate: RATE });
  const takeoff = analyse(trace, parseProtocol("CMJ"), DEFAULT_SETTINGS).events.get("takeoff")!.time;
  // The force of the push is taken away: the body only falls until it leaves the plate.
  const fallen: Trace = {
    ...trace,
    plates: trace.plates.map(({ role, force }) => ({ role, force: force.map((f, i) => (i / RATE > takeoff - 0.35 && i / RATE < takeoff ? Math.min(f, 250) : f)) })),
  };
  const analysis = analyse(fallen, parseProtocol("CMJ"), DEFAULT_SETTINGS);
  expect(analysis.metrics.has("countermovementDepth")).toBe(false);
  expect(analysis.metrics.has("peakPower")).toBe(false);
  expect(analysis.events.has("lowest")).toBe(false);
  expect(analysis.verdict).not.toBe("keep");
});
