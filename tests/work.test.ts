import { beforeEach, describe, expect, test, vi } from "vitest";
import { FUNCTIONS } from "../functions/index.ts";
import { analyse } from "../src/protocols/analyse.ts";
import { parseProtocol } from "../src/protocols/parseProtocol.ts";
import { DEFAULT_SETTINGS } from "../src/settings/defaultSettings.ts";
import { syntheticTrial } from "../src/synthetic/syntheticTrial.ts";
import { packTrace } from "../src/trace/packTrace.ts";
import type { Trace } from "../src/trace/Trace.ts";

// Counted work, which no other program on the machine can disturb. Times are measured by hand: `npm run bench`.

vi.mock(import("../src/protocols/analyse.ts"), async (importOriginal) => {
  const original = await importOriginal();
  return { ...original, analyse: vi.fn(original.analyse) };
});

const METRICS = ["jumpHeight", "jumpHeight cm", "flightTime", "takeoffVelocity", "peakPower", "peakForce", "brakingTime", "propulsionTime", "rsiModified", "countermovementDepth"];
const trialOf = (seed: number): Trace => syntheticTrial({ test: "CMJ", seed, mass: 60 + seed, faults: { noise: 1, sway: 1, offset: [3, -2] } }).trace;
const TRIALS = Array.from({ length: 12 }, (_, k) => packTrace(trialOf(k + 1)));
const metric = FUNCTIONS.get("METRIC")!;

/** A table of trials × metrics, one formula a cell, as a calculation would run it; every call gets cells of its own. */
function table(settings: unknown, order: "by row" | "by column"): unknown[] {
  const pairs = order === "by row" ? TRIALS.flatMap((_, i) => METRICS.map((name) => [i, name] as const)) : METRICS.flatMap((name) => TRIALS.map((_, i) => [i, name] as const));
  return pairs.map(([i, name]) => metric([[...TRIALS[i], "", ""]], "CMJ", name, settings, null, null, { address: `Results!${name}${i}` }));
}

describe("a table of trials × metrics", () => {
  beforeEach(() => void vi.mocked(analyse).mockClear());

  test.each(["by row", "by column"] as const)("analyses each trace once, computed %s", (order) => {
    // A gravity of its own, so that no analysis of another test is found.
    const settings = [["gravity", order === "by row" ? 9.801 : 9.802]];
    const values = table(settings, order);
    expect(values.flat(2).every((value) => typeof value === "number")).toBe(true);
    expect(analyse).toHaveBeenCalledTimes(TRIALS.length);
    table(settings, order);
    expect(analyse).toHaveBeenCalledTimes(TRIALS.length);
  });

  test("analyses each trace once more after a setting changed, and none where it changed back", () => {
    table([["gravity", 9.803]], "by row");
    table([["gravity", 9.804]], "by row");
    expect(analyse).toHaveBeenCalledTimes(2 * TRIALS.length);
    table([["gravity", 9.803]], "by row");
    expect(analyse).toHaveBeenCalledTimes(2 * TRIALS.length);
  });
});

/** The same trace, and how often each of its samples was read on the mean. */
function counted(trace: Trace): { trace: Trace; readsPerSample: () => number } {
  let reads = 0;
  const watched = (force: Float64Array): Float64Array =>
    new Proxy(force, {
      get(target, key) {
        if (typeof key === "string" && /^\d+$/.test(key)) reads++;
        const value: unknown = Reflect.get(target, key, target);
        return typeof value === "function" ? (value as (...args: unknown[]) => unknown).bind(target) : value;
      },
    });
  const plates = trace.plates.map((plate) => ({ ...plate, force: watched(plate.force) }));
  return { trace: { ...trace, plates }, readsPerSample: () => reads / plates.reduce((sum, { force }) => sum + force.length, 0) };
}

describe("passes over the recorded samples", () => {
  test("of a trial on two plates are fewer than three", () => {
    const plain = analyse(trialOf(1), parseProtocol("CMJ"), DEFAULT_SETTINGS);
    const { trace, readsPerSample } = counted(trialOf(1));
    const watched = analyse(trace, parseProtocol("CMJ"), DEFAULT_SETTINGS);
    expect([...watched.metrics].map(([id, { value }]) => [id, value])).toEqual([...plain.metrics].map(([id, { value }]) => [id, value]));
    // One to sum the plates; the sides are then read in their phases only: never the whole record again and again.
    expect(readsPerSample()).toBeGreaterThanOrEqual(1);
    expect(readsPerSample()).toBeLessThan(3);
  });

  test("do not grow with the length of the record", () => {
    const readsOf = (quietBefore: number) => {
      const { trace, readsPerSample } = counted(syntheticTrial({ test: "CMJ", quietBefore, faults: { noise: 1, sway: 1 } }).trace);
      analyse(trace, parseProtocol("CMJ"), DEFAULT_SETTINGS);
      return readsPerSample();
    };
    expect(readsOf(20)).toBeLessThanOrEqual(readsOf(2));
  });
});
