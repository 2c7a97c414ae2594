import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { analyse } from "../../src/protocols/analyse.ts";
import { parseProtocol } from "../../src/protocols/parseProtocol.ts";
import { DEFAULT_SETTINGS } from "../../src/settings/defaultSettings.ts";
import { randomJump, seeds } from "../support/randomTrial.ts";

interface Result {
  readonly trapezoidVelocity: number;
  readonly trapezoidDisplacement: number;
  readonly splineVelocityAtLastSample: number;
  readonly splineDisplacementAtLastSample: number;
  readonly lastSample: number;
}

const hasSciPy = spawnSync("python3", ["-c", "import scipy"], { timeout: 60000 }).status === 0;
const title = hasSciPy ? "SciPy integrates the same traces" : "SciPy integrates the same traces (skipped: python3 with SciPy is not installed)";

describe.skipIf(!hasSciPy)(title, () => {
  test("to the same velocity and displacement, by trapezoid and by spline", () => {
    const runs = seeds(40).map((seed) => {
      const { trace } = randomJump(seed, { rate: seed % 2 === 0 ? 500 : 1000, faults: { noise: seed % 3, sway: seed % 4 } });
      return analyse(trace, parseProtocol("CMJ"), DEFAULT_SETTINGS);
    });
    const jobs = runs.map((analysis) => ({
      force: Array.from(analysis.timeSeries().force),
      rate: analysis.trace.rate,
      bodyWeight: analysis.metrics.get("bodyWeight")!.value,
      gravity: 9.80665,
      onset: analysis.events.get("onset")!.time,
      takeoff: analysis.events.get("takeoff")!.time,
    }));
    const script = fileURLToPath(new URL("reintegrate.py", import.meta.url));
    const { stdout, stderr, status } = spawnSync("python3", [script], { input: JSON.stringify(jobs), encoding: "utf8", maxBuffer: 1e8, timeout: 60000 });
    expect(status, stderr).toBe(0);
    const results = JSON.parse(stdout) as Result[];
    expect(results).toHaveLength(runs.length);
    for (const [i, result] of results.entries()) {
      const analysis = runs[i];
      const velocity = analysis.metrics.get("takeoffVelocity")!.value;
      const displacement = analysis.metrics.get("takeoffDisplacement")!.value;
      expect(result.trapezoidVelocity).toBeCloseTo(velocity, 9);
      expect(result.trapezoidDisplacement).toBeCloseTo(displacement, 9);
      const { time, velocity: v, displacement: z } = analysis.timeSeries();
      const last = Math.round(result.lastSample * analysis.trace.rate);
      expect(time[last]).toBeCloseTo(result.lastSample, 9);
      // A cubic spline against the trapezoid, at 500 Hz with noise.
      expect(Math.abs(result.splineVelocityAtLastSample - v![last])).toBeLessThan(1e-3);
      expect(Math.abs(result.splineDisplacementAtLastSample - z![last])).toBeLessThan(3e-4);
    }
  });
});
