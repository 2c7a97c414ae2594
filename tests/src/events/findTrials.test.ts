import { describe, expect, test } from "vitest";
import { findTrials } from "../../../src/events/findTrials.ts";
import { analyse } from "../../../src/protocols/analyse.ts";
import type { Test } from "../../../src/protocols/Protocol.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { joinTrials } from "../../../src/synthetic/joinTrials.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import { sliceTrace } from "../../../src/trace/sliceTrace.ts";

const HEIGHTS = [0.24, 0.36, 0.3];
const trials = (test: Test) => HEIGHTS.map((height, k) => syntheticTrial({ test, height, seed: k + 1, faults: { noise: 1, sway: 1.5 } }));

describe("findTrials", () => {
  test.each(["CMJ", "SJ", "DJ"] as const)("finds the three %s of a recording, each window giving its own height", (name) => {
    const made = trials(name);
    const recording = joinTrials(made.map(({ trace }) => trace));
    const windows = findTrials(recording, name);
    expect(windows).toHaveLength(3);
    windows.forEach((window, k) => {
      const { metrics } = analyse(sliceTrace(recording, window.start, window.end), { test: name }, DEFAULT_SETTINGS);
      expect(Math.abs(metrics.get("jumpHeightTakeoffVelocity")!.value - made[k]!.truth.jumpHeightTakeoffVelocity!)).toBeLessThan(0.012);
      expect(Math.abs(metrics.get("flightTime")!.value - made[k]!.truth.flightTime!)).toBeLessThan(0.003);
    });
  });

  test("keeps what the trial needs around it: 2 s before the movement, 2 s after the landing", () => {
    const { trace, events } = syntheticTrial({ test: "CMJ", quietBefore: 6, quietAfter: 6 });
    const [window] = findTrials(trace, "CMJ");
    expect(events.onset! - window!.start).toBeGreaterThan(1.9);
    expect(events.onset! - window!.start).toBeLessThan(2.1);
    expect(window!.end - events.landing!).toBeGreaterThan(1.9);
    expect(window!.end - events.landing!).toBeLessThan(2.1);
  });

  test("finds two jumps that are less than a second apart, and says that the second had no quiet stand", () => {
    const { trace } = syntheticTrial({ test: "RH", hops: { takeoffVelocities: [2.4, 2.5], contactTimes: [0.4] } });
    const windows = findTrials(trace, "CMJ");
    expect(windows).toHaveLength(2);
    expect(windows[1]!.reason).toContain("stands still");
    // By hand: flights of 2 v / g.
    const flights = windows.map(({ start, end }) => analyse(sliceTrace(trace, start, end), { test: "CMJ" }, DEFAULT_SETTINGS).metrics.get("flightTime")!.value);
    expect(flights[0]).toBeCloseTo(4.8 / 9.80665, 2);
    expect(flights[1]).toBeCloseTo(5 / 9.80665, 2);
  });

  test("takes a series of hops as one trial, and two pulls as two", () => {
    const hops = syntheticTrial({ test: "RH" }).trace;
    expect(findTrials(joinTrials([hops, hops]), "RH")).toHaveLength(2);
    const pull = syntheticTrial({ test: "IMTP", faults: { noise: 1 } }).trace;
    const windows = findTrials(joinTrials([pull, pull]), "IMTP");
    expect(windows).toHaveLength(2);
    expect(windows[0]!.end).toBeLessThanOrEqual(windows[1]!.start + 2);
  });

  test("says where nobody stands still", () => {
    const { trace } = syntheticTrial({ test: "CMJ", faults: { cutStart: 1.8 } });
    expect(findTrials(trace, "CMJ")).toMatchObject([{ start: 0, reason: expect.stringContaining("stands still") }]);
  });

  test("finds nothing in standing", () => {
    const force = new Float64Array(4000).fill(700);
    for (const name of ["CMJ", "SJ", "DJ", "RH", "IMTP"] as const) {
      expect(findTrials({ rate: 1000, start: 0, step: 0, rounding: 0, plates: [{ role: "total", force }] }, name)).toEqual([]);
    }
  });
});
