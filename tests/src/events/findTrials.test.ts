import { describe, expect, test } from "vitest";
import { findTrials } from "../../../src/events/findTrials.ts";
import { analyse } from "../../../src/protocols/analyse.ts";
import type { Test } from "../../../src/protocols/Protocol.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { joinTrials } from "../../../src/synthetic/joinTrials.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import type { Trace } from "../../../src/trace/Trace.ts";
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

/** Stretches of one force each, in samples at 1000 Hz. */
const record = (...parts: readonly (readonly [force: number, samples: number])[]): Float64Array => Float64Array.from(parts.flatMap(([force, samples]) => Array.from({ length: samples }, () => force)));
const recording = (...plates: readonly (readonly [role: "total" | "left" | "right" | "box", force: Float64Array])[]): Trace => ({ rate: 1000, start: 0, step: 0, rounding: 0, plates: plates.map(([role, force]) => ({ role, force })) });
const total = (...parts: readonly (readonly [force: number, samples: number])[]): Trace => recording(["total", record(...parts)]);
/** Stands, pushes for 0.5 s, flies, lands and stands. */
const STAND = [700, 5000] as const;
const PUSH = [1400, 500] as const;

/** A push that is nowhere steady, nor body weight. */
const rising = (samples: number): readonly (readonly [number, number])[] => Array.from({ length: samples / 10 }, (_, k) => [1000 + 20 * k, 10]);
/** Up and down by so much, each for `half` samples. */
const swaying = (level: number, size: number, half: number, samples: number): readonly (readonly [number, number])[] =>
  Array.from({ length: samples / half }, (_, k) => [level + (k % 2 === 0 ? size : -size), half]);

// By hand, from the limits of the docblock: the force stands still until the push begins.
describe("findTrials, by hand", () => {
  test("takes a jump from two seconds before the movement to two after the landing", () => {
    expect(findTrials(total(STAND, PUSH, [0, 500], [700, 5000]), "CMJ")).toEqual([{ start: 3, end: 8 }]);
    // Where less stands at either end, all of it.
    expect(findTrials(total([700, 1500], PUSH, [0, 500], [700, 900]), "CMJ")).toEqual([{ start: 0, end: 3.4 }]);
  });

  test("takes 0.1 to 1 s without load for a flight", () => {
    expect(findTrials(total(STAND, PUSH, [0, 100], [700, 5000]), "CMJ")).toHaveLength(1);
    expect(findTrials(total(STAND, PUSH, [0, 90], [700, 5000]), "CMJ")).toEqual([]);
    expect(findTrials(total(STAND, PUSH, [0, 1000], [700, 5000]), "CMJ")).toHaveLength(1);
    expect(findTrials(total(STAND, PUSH, [0, 1010], [700, 5000]), "CMJ")).toEqual([]);
  });

  test("a record that begins in the air holds no jump, one that ends there does, if it is the first", () => {
    expect(findTrials(total([0, 500], [700, 5000]), "CMJ")).toEqual([]);
    expect(findTrials(total(STAND, PUSH, [0, 3000]), "CMJ")).toEqual([{ start: 3, end: 8.5 }]);
    expect(findTrials(total(STAND, PUSH, [0, 500], STAND, PUSH, [0, 500], STAND, PUSH, [0, 400]), "CMJ")).toHaveLength(2);
  });

  test("two jumps: the first ends before the movement of the second, which begins after the landing of the first", () => {
    const windows = findTrials(total(STAND, PUSH, [0, 500], [700, 3000], PUSH, [0, 500], [700, 5000]), "CMJ");
    expect(windows).toEqual([{ start: 3, end: 8 }, { start: 7, end: 12 }]);
    const close = findTrials(total(STAND, PUSH, [0, 500], [700, 1500], PUSH, [0, 500], [700, 5000]), "CMJ");
    expect(close).toEqual([{ start: 3, end: 7.5 }, { start: 6, end: 10.5 }]);
  });

  test("stepping on the plate is no flight, and the stand begins after it", () => {
    expect(findTrials(total([0, 3000], [700, 1500], PUSH, [0, 500], [700, 5000]), "CMJ")).toEqual([{ start: 2.5, end: 7.5 }]);
  });

  test("says where nobody stands still, and takes three seconds before the flight", () => {
    const swinging = Float64Array.from({ length: 6000 }, (_, i) => 700 + 400 * Math.sin(i / 150));
    const windows = findTrials(recording(["total", Float64Array.from([...swinging, ...record(PUSH, [0, 500], [700, 3000])])]), "CMJ");
    expect(windows).toEqual([{ start: 3.5, end: 9, reason: "nobody stands still before this jump" }]);
  });

  test("sums two sides, and heeds no plate under a box", () => {
    const whole = [STAND, PUSH, [0, 500], [700, 5000]] as const;
    const half = record(...whole.map(([force, samples]) => [force / 2, samples] as const));
    expect(findTrials(recording(["left", half], ["right", half], ["box", record([500, 11_000])]), "CMJ")).toEqual([{ start: 3, end: 8 }]);
  });

  test("a foot in the air while the other carries is no flight", () => {
    expect(findTrials(recording(["left", record([350, 5000], [0, 400], [350, 3000])], ["right", record([350, 5000], [700, 400], [350, 3000])]), "CMJ")).toEqual([]);
  });

  test("two sides count before a total beside them, and the first plate where a side is missing; a box may stand anywhere", () => {
    const jump = record(STAND, PUSH, [0, 500], [700, 5000]);
    const half = jump.map((force) => force / 2);
    const still = record([700, jump.length]);
    expect(findTrials(recording(["total", still], ["left", half], ["right", half]), "CMJ")).toEqual([{ start: 3, end: 8 }]);
    expect(findTrials(recording(["total", jump], ["left", still]), "CMJ")).toEqual([{ start: 3, end: 8 }]);
    expect(findTrials(recording(["box", still], ["total", jump]), "CMJ")).toEqual([{ start: 3, end: 8 }]);
  });

  test("gives no reason where all is well", () => {
    expect(findTrials(total(STAND, PUSH, [0, 500], [700, 5000]), "CMJ")).toStrictEqual([{ start: 3, end: 8 }]);
  });

  // By hand: 50 ms means of a force that sways by A, 0.2 s up and 0.2 s down, spread by 0.89 A to 1.03 A, wherever they begin.
  test("takes a stand that sways by 2 % of body weight, or by 10 N where that is more, and goes back to a stiller one where it sways more", () => {
    const start = (level: number, size: number): number => findTrials(total([level, 3000], ...swaying(level, size, 200, 2000), [2 * level, 500], [0, 500], [level, 5000]), "CMJ")[0]!.start;
    expect(start(700, 13)).toBe(3);
    expect(start(700, 17)).toBeLessThan(2.95);
    expect(start(400, 9)).toBe(3);
    expect(start(400, 12)).toBeLessThan(2.95);
    expect(start(400, 12)).toBeGreaterThan(2);
  });

  // By hand: within 15 % of 700 N are 600 N and 800 N; three tenths of a sway of 100 N are more than the 14 N of a still second.
  test("lets the hold of a squat jump sway by 15 %, and weighs before it", () => {
    const held = total([700, 3000], ...swaying(700, 100, 100, 2000), PUSH, [0, 500], [700, 5000]);
    expect(findTrials(held, "SJ")[0]!.start).toBeCloseTo(2, 1);
    expect(findTrials(held, "CMJ")[0]!.start).toBe(1);
  });

  test("two jumps without a stand between them part 0.05 s before the second flight, or after the first landing", () => {
    const reason = "nobody stands still before this jump";
    expect(findTrials(total(STAND, PUSH, [0, 500], ...rising(400), [0, 500], [700, 5000]), "CMJ")).toEqual([{ start: 3, end: expect.closeTo(6.35, 9) as number }, { start: 6, end: 8.9, reason }]);
    expect(findTrials(total(STAND, PUSH, [0, 500], ...rising(80), [0, 500], [700, 5000]), "CMJ")).toEqual([{ start: 3, end: 6.05 }, { start: 6, end: 8.58, reason }]);
    expect(findTrials(total(STAND, PUSH, [0, 100], ...rising(400), [0, 500], [700, 5000]), "CMJ")[1]).toEqual({ start: 5.6, end: 8.5, reason });
  });

  test("a stand before stepping off the plate is no stand before the jump", () => {
    const reason = "nobody stands still before this jump";
    expect(findTrials(total(STAND, [0, 3000], ...rising(500), [0, 500], [700, 5000]), "CMJ")).toEqual([{ start: 5.5, end: 11, reason }]);
    expect(findTrials(total(STAND, PUSH, [0, 500], [700, 3000], [0, 3000], ...rising(500), [0, 500], [700, 5000]), "CMJ")).toEqual([{ start: 3, end: 8 }, { start: 9.5, end: 15, reason }]);
  });

  test("a moment without load before the push, as of a body that falls, is no stepping off", () => {
    expect(findTrials(total(STAND, [10, 90], ...rising(500), [0, 500], [700, 5000]), "CMJ")).toEqual([{ start: 3, end: 8.09 }]);
  });

  test("a drop jump: from one second before the touchdown to the stand after the landing", () => {
    expect(findTrials(total([0, 2000], [2000, 250], [0, 500], [700, 5000]), "DJ")).toEqual([{ start: 1, end: 6.75 }]);
    expect(findTrials(total([0, 400], [2000, 250], [0, 500], [700, 2600]), "DJ")).toEqual([{ start: 0, end: 3.75 }]);
    // Nobody stands for half a second after the landing.
    expect(findTrials(total([0, 2000], [2000, 250], [0, 500], [700, 700]), "DJ")).toEqual([{ start: 1, end: 3.45, reason: "nobody stands still after this landing" }]);
  });

  test("a contact of more than two seconds is no drop jump", () => {
    expect(findTrials(total([0, 2000], [900, 2000], [0, 500], [700, 5000]), "DJ")).toHaveLength(1);
    expect(findTrials(total([0, 2000], [900, 2010], [0, 500], [700, 5000]), "DJ")).toEqual([]);
  });

  test("a drop jump from a plate under the box: from two seconds before the step", () => {
    const box = record([700, 5000], [0, 9000]);
    const plate = record([0, 5300], [2000, 250], [0, 500], [700, 7950]);
    expect(findTrials(recording(["total", plate], ["box", box]), "DJ")).toEqual([{ start: 3, end: 10.05 }]);
  });

  test("less than 0.05 s without load are no fall before a contact", () => {
    const drop = [[2000, 250], [0, 500], [700, 5000]] as const;
    expect(findTrials(total([0, 50], ...drop), "DJ")).toHaveLength(1);
    expect(findTrials(total([0, 40], ...drop), "DJ")).toEqual([]);
    // Feet that leave the plate for 30 ms within the contact: the fall is the one before.
    expect(findTrials(total([0, 2000], [2000, 100], [0, 30], [2000, 120], [0, 500], [700, 5000]), "DJ")).toEqual([{ start: 1, end: 6.75 }]);
  });

  test("takes 0.1 to 1 s without load after a contact for a flight, and longer where the record ends in it", () => {
    const after = (...parts: readonly (readonly [number, number])[]) => findTrials(total([0, 2000], [2000, 250], ...parts), "DJ");
    expect(after([0, 90], [700, 5000])).toEqual([]);
    expect(after([0, 100], [700, 5000])).toHaveLength(1);
    expect(after([0, 1000], [700, 5000])).toHaveLength(1);
    expect(after([0, 1010], [700, 5000])).toEqual([]);
    expect(after([0, 1010])).toHaveLength(1);
  });

  test("a rebound after a drop jump is part of it", () => {
    expect(findTrials(total([0, 2000], [2000, 250], [0, 500], [2000, 250], [0, 400], [700, 5000]), "DJ")).toMatchObject([{ start: 1 }]);
  });

  test("two drop jumps: the first ends where its athlete steps off", () => {
    const drop = [[2000, 250], [0, 500], [700, 1500]] as const;
    expect(findTrials(total([0, 2000], ...drop, [0, 2000], ...drop), "DJ")).toEqual([{ start: 1, end: 4.25 }, { start: 5.25, end: 8.5 }]);
  });

  test("a plate under the box: the trial begins with the stand, but not before the flight of another trial, and without a stand as without a box", () => {
    const drop = [[2000, 250], [0, 500], [700, 1500]] as const;
    const plate = record([0, 5300], ...drop, [0, 2000], ...drop);
    const boxed = (...parts: readonly (readonly [number, number])[]) => findTrials(recording(["total", plate], ["box", record(...parts)]), "DJ").map(({ start }) => start);
    expect(boxed([700, 5000], [0, plate.length - 5000])).toEqual([3, 6.05]);
    expect(boxed([0, plate.length])).toEqual([4.3, 8.55]);
    // A stand that sways by 32 N for its last two seconds is weighed before them: a second of which a quarter sways spreads by 14 N.
    expect(boxed([700, 3000], ...swaying(700, 32, 500, 2000), [0, plate.length - 5000])[0]).toBeCloseTo(2.25, 1);
  });

  test("hops: from two seconds before the first to two after the last; more than a second of contact ends a series", () => {
    const hops = (contact: number) => [[0, 400], [1500, contact], [0, 400], [1500, 200], [0, 400]] as const;
    expect(findTrials(total(STAND, PUSH, ...hops(200), [700, 5000]), "RH")).toEqual([{ start: 3, end: 9.1 }]);
    expect(findTrials(total(STAND, PUSH, ...hops(1000), [700, 5000]), "RH")).toHaveLength(1);
    // The first flight alone is no series; the second contact stands still at 1500 N until 6.91 s.
    expect(findTrials(total(STAND, PUSH, ...hops(1010), [700, 5000]), "RH")).toEqual([{ start: expect.closeTo(4.91, 9) as number, end: expect.closeTo(9.91, 9) as number }]);
    expect(findTrials(total(STAND, PUSH, [0, 400], [700, 5000]), "RH")).toEqual([]);
    expect(findTrials(total(STAND, PUSH, [0, 60], [1500, 200], [0, 60], [700, 5000]), "RH")).toHaveLength(1);
  });

  test("a second of contact joins two hops", () => {
    expect(findTrials(total(STAND, PUSH, [0, 400], [1500, 1000], [0, 400], [700, 5000]), "RH")).toHaveLength(1);
    expect(findTrials(total(STAND, PUSH, [0, 400], [1500, 1010], [0, 400], [700, 5000]), "RH")).toEqual([]);
  });

  test("two series of hops: the first ends 0.05 s before the second, which begins after it", () => {
    const hops = [PUSH, [0, 400], [1500, 200], [0, 400], [1500, 200], [0, 400]] as const;
    expect(findTrials(total(STAND, ...hops, [700, 1500], ...hops, [700, 5000]), "RH")).toEqual([{ start: 3, end: expect.closeTo(9.05, 9) as number }, { start: 7.1, end: 12.7 }]);
  });

  test("hops without a stand: from three seconds before the first, also where somebody stood before stepping off", () => {
    const hops = [...rising(500), [0, 400], [1500, 200], [0, 400], [700, 5000]] as const;
    expect(findTrials(total(STAND, [0, 3000], ...hops), "RH")).toEqual([{ start: 5.5, end: 11.5 }]);
    // 0.05 s without load are a hop: the stand before it is none before these, which begin at 7.06 s.
    expect(findTrials(total(STAND, PUSH, [0, 50], ...rising(1010), ...hops), "RH")).toEqual([{ start: expect.closeTo(4.06, 9) as number, end: 10.06 }]);
    expect(findTrials(total(STAND, [0, 40], ...hops), "RH")).toEqual([{ start: 3, end: 8.54 }]);
  });

  test("a pull: from two seconds before it to two after it, or half way to the next", () => {
    expect(findTrials(total([800, 5000], [2000, 3000], [800, 5000]), "IMTP")).toEqual([{ start: 3, end: 10 }]);
    const two = findTrials(total([800, 5000], [2000, 3000], [800, 3000], [2000, 3000], [800, 5000]), "IMTP");
    expect(two).toEqual([{ start: 3, end: 9.5 }, { start: 9, end: 16 }]);
    const swinging = Float64Array.from({ length: 5000 }, (_, i) => 800 + 300 * Math.sin(i / 150));
    expect(findTrials(recording(["total", Float64Array.from([...swinging, ...record([2500, 3000], [800, 100])])]), "IMTP")).toEqual([{ start: 2, end: 8.1, reason: "there is no quiet baseline before this pull" }]);
  });

  // By hand, as for the stand before a jump.
  test("takes a baseline that sways by 4 % of the force, and goes back to a stiller one where it sways more", () => {
    const start = (size: number): number => findTrials(total([800, 3000], ...swaying(800, size, 200, 2000), [2000, 3000], [800, 5000]), "IMTP")[0]!.start;
    expect(start(30)).toBe(3);
    expect(start(37)).toBeLessThan(2.95);
    expect(start(37)).toBeGreaterThan(2);
  });
});
