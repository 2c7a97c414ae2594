import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { findEmptyRuns } from "../../../src/events/findEmptyRuns.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import { loadProfile } from "../../../src/trace/loadProfile.ts";
import type { Trace } from "../../../src/trace/Trace.ts";

const runsOf = (trace: Trace) => findEmptyRuns(loadProfile(trace.plates.map(({ force }) => force), trace.rate));
/** The run that lies where the flight is, with its ends within a block and a half (15 ms) of the true events. */
function expectFlight(trace: Trace, takeoff: number, landing: number): void {
  const { runs } = runsOf(trace);
  const found = runs.filter(({ start, end }) => Math.abs(start / trace.rate - takeoff) < 0.025 && Math.abs(end / trace.rate - landing) < 0.025);
  expect(found, JSON.stringify(runs)).toHaveLength(1);
}

describe("findEmptyRuns", () => {
  test("finds the one flight of a jump whatever the plates read when empty, with drift and noise", () => {
    fc.assert(
      fc.property(fc.double({ min: -80, max: 80, noNaN: true }), fc.double({ min: -3, max: 3, noNaN: true }), fc.integer({ min: 1, max: 1e6 }), (offset, drift, seed) => {
        const { trace, events } = syntheticTrial({ test: "CMJ", seed, faults: { noise: 2, offset: [offset, -offset / 3], drift: [drift, drift] } });
        expectFlight(trace, events.takeoff!, events.landing!);
      }),
      { numRuns: 25, seed: 20 },
    );
  });

  test("is not split by a plate that rings by 30 N", () => {
    const { trace, events } = syntheticTrial({ test: "CMJ", faults: { noise: 1, ringing: { amplitude: 30, frequency: 37 } } });
    expectFlight(trace, events.takeoff!, events.landing!);
  });

  test("bridges one loud block of 10 ms within a flight", () => {
    const { trace, events } = syntheticTrial({ test: "CMJ", plates: "total" });
    const middle = Math.round(((events.takeoff! + events.landing!) / 2) * trace.rate);
    for (let i = middle; i < middle + 8; i++) trace.plates[0]!.force[i] = 300;
    expectFlight(trace, events.takeoff!, events.landing!);
  });

  test("finds nothing where somebody is always on the plate", () => {
    expect(runsOf(syntheticTrial({ test: "IMTP", faults: { noise: 2 } }).trace).runs).toEqual([]);
    expect(findEmptyRuns(loadProfile([new Float64Array(3000).fill(700)], 1000)).runs).toEqual([]);
  });

  test("reads the load as about body weight", () => {
    const { trace, truth } = syntheticTrial({ test: "CMJ", mass: 60 });
    // Mean force of everything but the flight: body weight times time over time on the plate, here about a tenth more.
    expect(runsOf(trace).loaded / truth.bodyWeight!).toBeGreaterThan(1);
    expect(runsOf(trace).loaded / truth.bodyWeight!).toBeLessThan(1.25);
  });

  /** Stretches of one force each, in samples at 1000 Hz: blocks of 10. */
  const steps = (...parts: readonly (readonly [number, number])[]) => findEmptyRuns(loadProfile([Float64Array.from(parts.flatMap(([force, samples]) => Array.from({ length: samples }, () => force)))], 1000));

  // By hand, from the limits of the docblock.
  test("reads level and load of what it was given, and the run to a block", () => {
    expect(steps([700, 500], [5, 100], [700, 500])).toEqual({ loaded: 700, level: 5, runs: [{ start: 500, end: 600 }], brief: false });
    expect(steps([700, 500], [5, 60], [700, 500])).toEqual({ loaded: 700, level: 5, runs: [{ start: 500, end: 560 }], brief: true });
  });

  test("takes a force that is low for less than 100 ms for an empty plate only near zero", () => {
    expect(steps([700, 500], [39, 60], [700, 500])).toMatchObject({ runs: [{ start: 500, end: 560 }], brief: true });
    expect(steps([700, 500], [41, 60], [700, 500])).toMatchObject({ runs: [], brief: false });
    expect(steps([700, 500], [40, 60], [700, 500])).toMatchObject({ runs: [], brief: false });
    expect(steps([700, 500], [-39, 60], [700, 500]).brief).toBe(true);
    expect(steps([700, 500], [-41, 60], [700, 500]).brief).toBe(false);
    expect(steps([700, 500], [5, 30], [700, 500]).runs).toEqual([]);
  });

  test("takes a level for empty below a quarter of the load", () => {
    expect(steps([700, 500], [174, 200], [700, 500]).runs).toEqual([{ start: 500, end: 700 }]);
    expect(steps([700, 500], [176, 200], [700, 500]).runs).toEqual([]);
    expect(steps([700, 500], [175, 200], [700, 500]).runs).toEqual([]);
  });

  test("takes no stretch for empty that spreads by 30 N", () => {
    const ringing = (size: number): Float64Array => Float64Array.from({ length: 1200 }, (_, i) => (i >= 500 && i < 700 ? (i % 2 === 0 ? size : -size) : 700));
    expect(findEmptyRuns(loadProfile([ringing(29)], 1000)).runs).toEqual([{ start: 500, end: 700 }]);
    expect(findEmptyRuns(loadProfile([ringing(31)], 1000)).runs).toEqual([]);
    expect(findEmptyRuns(loadProfile([ringing(30)], 1000)).runs).toEqual([]);
  });

  test("goes up to 40 N above the level, or to 5 % of the load where that is more", () => {
    expect(steps([700, 500], [0, 100], [39, 30], [700, 500]).runs).toEqual([{ start: 500, end: 630 }]);
    expect(steps([700, 500], [0, 100], [41, 30], [700, 500]).runs).toEqual([{ start: 500, end: 600 }]);
    expect(steps([700, 500], [0, 100], [40, 30], [700, 500]).runs).toEqual([{ start: 500, end: 600 }]);
    expect(steps([1200, 500], [0, 100], [59, 30], [1200, 500]).runs).toEqual([{ start: 500, end: 630 }]);
    expect(steps([1200, 500], [0, 100], [61, 30], [1200, 500]).runs).toEqual([{ start: 500, end: 600 }]);
  });

  test("bridges two loud blocks, not three", () => {
    expect(steps([700, 500], [0, 200], [700, 10], [0, 200], [700, 500]).runs).toEqual([{ start: 500, end: 910 }]);
    expect(steps([700, 500], [0, 200], [700, 20], [0, 200], [700, 500]).runs).toEqual([{ start: 500, end: 920 }]);
    expect(steps([700, 500], [0, 200], [700, 30], [0, 200], [700, 500]).runs).toEqual([{ start: 500, end: 700 }, { start: 730, end: 930 }]);
    // The plate is empty again for one block only; from the first block on; up to 40 N above its level and not less.
    expect(steps([700, 500], [0, 200], [700, 10], [0, 10], [700, 500]).runs).toEqual([{ start: 500, end: 720 }]);
    expect(steps([0, 200], [700, 10], [0, 200], [700, 500]).runs).toEqual([{ start: 0, end: 410 }]);
    expect(steps([700, 500], [0, 200], [700, 10], [40, 200], [700, 500]).runs).toEqual([{ start: 500, end: 700 }]);
    expect(steps([700, 500], [0, 200], [700, 10]).runs).toEqual([{ start: 500, end: 700 }]);
  });

  test("finds runs at both ends of the record, the last to its last sample", () => {
    expect(steps([0, 200], [700, 500], [0, 203]).runs).toEqual([{ start: 0, end: 200 }, { start: 700, end: 903 }]);
    // The first 100 ms of a record may be the lowest.
    expect(steps([0, 100], [700, 500])).toMatchObject({ runs: [{ start: 0, end: 100 }], brief: false });
  });

  // By hand: a quarter of the way from 0 to 700 N is 175 N.
  test("means by the load what is above a quarter of the way to the greatest 100 ms", () => {
    expect(steps([700, 900], [160, 100], [0, 200]).loaded).toBe(700);
    expect(steps([700, 900], [175, 100], [0, 200]).loaded).toBe(700);
    expect(steps([700, 900], [180, 100], [0, 200]).loaded).toBeCloseTo((700 * 900 + 180 * 100) / 1000, 10);
    // From 100 N to 700 N it is 250 N.
    expect(steps([700, 900], [240, 100], [100, 200]).loaded).toBe(700);
    expect(steps([700, 900], [270, 100], [100, 200]).loaded).toBeCloseTo((700 * 900 + 270 * 100) / 1000, 10);
  });

  test("reads one level all the time as level and load, and as no empty plate", () => {
    expect(steps([5, 1000])).toEqual({ loaded: 5, level: 5, runs: [], brief: false });
  });
});
