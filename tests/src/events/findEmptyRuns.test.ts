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
});
