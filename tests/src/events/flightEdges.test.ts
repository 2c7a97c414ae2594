import { describe, expect, test } from "vitest";
import { landingEdge, takeoffEdge } from "../../../src/events/flightEdges.ts";

const RATE = 1000;
/** 800 N until 0.1 s, a ramp to zero at 0.14 s, air until 0.54 s, a ramp up to 1600 N at 0.62 s. */
function jump(): Float64Array {
  return Float64Array.from({ length: 900 }, (_, i) => {
    if (i < 100) return 800;
    if (i < 140) return 20 * (140 - i);
    if (i < 540) return 0;
    return i < 620 ? 20 * (i - 540) : 1600;
  });
}
const RUN = { start: 140, end: 540 };

describe("the edges of a flight", () => {
  // By hand: the ramps fall and rise by 20 N a millisecond, so 50 N lies 2.5 ms from zero force.
  test("lie where the ramps cross the threshold, between samples", () => {
    expect(takeoffEdge(jump(), RUN, 50, 80, RATE)!.time).toBeCloseTo(0.1375, 12);
    expect(landingEdge(jump(), RUN, 50, 80, RATE)!.time).toBeCloseTo(0.5425, 12);
    expect(takeoffEdge(jump(), RUN, 50, 80, RATE)!.slope).toBeCloseTo(20000, 6);
  });

  test("do not move for short excursions in flight, which are counted", () => {
    const force = jump();
    force.fill(60, 150, 155);
    force.fill(120, 500, 506);
    expect(takeoffEdge(force, RUN, 50, 80, RATE)).toMatchObject({ time: expect.closeTo(0.1375, 12), bridged: 1 });
    expect(landingEdge(force, RUN, 50, 80, RATE)).toMatchObject({ time: expect.closeTo(0.5425, 12), bridged: 1 });
  });

  test("are absent where the record begins or ends in the air", () => {
    expect(takeoffEdge(jump().slice(150), { start: 0, end: 390 }, 50, 80, RATE)).toBeUndefined();
    expect(landingEdge(jump().slice(0, 530), { start: 140, end: 530 }, 50, 80, RATE)).toBeUndefined();
  });

  test("are mirror images of each other", () => {
    const force = jump();
    const mirrored = force.slice().reverse();
    const run = { start: force.length - RUN.end, end: force.length - RUN.start };
    const last = (force.length - 1) / RATE;
    expect(landingEdge(mirrored, run, 33, 80, RATE)!.time).toBeCloseTo(last - takeoffEdge(force, RUN, 33, 80, RATE)!.time, 12);
  });

  // By hand: 20 N a millisecond on both ramps.
  test("say how steep the force is, at the edge and in the load beside it", () => {
    for (const edge of [takeoffEdge(jump(), RUN, 50, 80, RATE)!, landingEdge(jump(), RUN, 50, 80, RATE)!]) expect(edge).toEqual({ time: edge.time, slope: expect.closeTo(20_000, 6), loadedSlope: expect.closeTo(20_000, 6), bridged: 0 });
  });

  test("see a force whose small values were cut off step at the edge", () => {
    const cut = jump().map((force) => (force < 200 ? 0 : force));
    // The first sample at or above 200 N stands beside zero.
    expect(takeoffEdge(cut, RUN, 50, 80, RATE)).toMatchObject({ slope: expect.closeTo(200_000, 6), loadedSlope: expect.closeTo(20_000, 6) });
    expect(landingEdge(cut, RUN, 50, 80, RATE)).toMatchObject({ slope: expect.closeTo(200_000, 6), loadedSlope: expect.closeTo(20_000, 6) });
  });

  test("need ten milliseconds of load: nine are an excursion", () => {
    const force = jump();
    force.fill(120, 160, 169);
    expect(takeoffEdge(force, RUN, 50, 80, RATE)).toMatchObject({ time: expect.closeTo(0.1375, 12), bridged: 1 });
    force.fill(120, 160, 170);
    expect(takeoffEdge(force, RUN, 50, 80, RATE)!.time).toBeCloseTo(0.169 + 70 / 120 / RATE, 12);
    const later = jump();
    later.fill(120, 510, 519);
    expect(landingEdge(later, RUN, 50, 80, RATE)).toMatchObject({ time: expect.closeTo(0.5425, 12), bridged: 1 });
    later.fill(120, 510, 520);
    expect(landingEdge(later, RUN, 50, 80, RATE)!.time).toBeCloseTo(0.509 + 50 / 120 / RATE, 12);
  });

  test("take for load what is at least the threshold, where that is above the share of body weight", () => {
    const force = jump();
    force.fill(90, 145, 170);
    expect(takeoffEdge(force, RUN, 100, 80, RATE)!.time).toBeCloseTo(0.135, 12);
    expect(takeoffEdge(force, RUN, 50, 80, RATE)!.time).toBeGreaterThan(0.169);
    force.fill(90, 510, 535);
    expect(landingEdge(force, RUN, 100, 80, RATE)!.time).toBeCloseTo(0.545, 12);
  });

  test("stand where the record begins or ends with exactly as much load as they need", () => {
    const begins = jump().slice(128);
    const run = { start: 12, end: 412 };
    // Samples 0 to 7 are at or above 80 N: two too few.
    expect(takeoffEdge(begins, run, 50, 80, RATE)).toBeUndefined();
    const more = jump().slice(127).map((force, i) => (i < 3 ? 800 : force));
    expect(takeoffEdge(more, { start: 13, end: 413 }, 50, 80, RATE)).toMatchObject({ time: expect.closeTo(0.0105, 12), loadedSlope: expect.closeTo(20_000, 6) });
    const ends = jump().slice(0, 554);
    expect(landingEdge(ends, RUN, 50, 80, RATE)!.time).toBeCloseTo(0.5425, 12);
    expect(landingEdge(ends.slice(0, 553), RUN, 50, 80, RATE)).toBeUndefined();
  });

  test("count each excursion once", () => {
    const force = jump();
    for (const at of [150, 200, 250, 300, 330]) force.fill(60, at, at + 3);
    for (const at of [345, 400, 450]) force.fill(60, at, at + 3);
    expect(takeoffEdge(force, RUN, 50, 80, RATE)!.bridged).toBe(5);
    expect(landingEdge(force, RUN, 50, 80, RATE)!.bridged).toBe(3);
    // The middle of the run is sample 340: what rises before it belongs to the take-off, what rises there or later to the landing.
    for (const [at, before, after] of [[338, 1, 0], [339, 1, 0], [340, 0, 1], [341, 0, 1]] as const) {
      const one = jump();
      one.fill(60, at, at + 8);
      expect([takeoffEdge(one, RUN, 50, 80, RATE)!.bridged, landingEdge(one, RUN, 50, 80, RATE)!.bridged], `${at}`).toEqual([before, after]);
    }
    // From the threshold on it is one, also where it rises on.
    const slow = jump();
    slow.set([50, 60, 70], 200);
    expect(takeoffEdge(slow, RUN, 50, 80, RATE)!.bridged).toBe(1);
    // At 100 Hz one sample is 10 ms of load: the one before it is no excursion.
    expect(takeoffEdge(Float64Array.of(800, 0, 800, 0, 0, 0, 0, 0, 800), { start: 3, end: 8 }, 50, 80, 100)).toMatchObject({ bridged: 0 });
  });

  // By hand, at 20 N a millisecond: the sample of 60 N at 0.137 s and that at 0.543 s.
  test("a sample at the threshold is load, and the crossing", () => {
    const force = jump();
    force.fill(0, 138, 543);
    expect(takeoffEdge(force, RUN, 60, 80, RATE)).toMatchObject({ time: expect.closeTo(0.137, 12), slope: expect.closeTo(60_000, 6) });
    expect(landingEdge(force, RUN, 60, 80, RATE)).toMatchObject({ time: expect.closeTo(0.543, 12), slope: expect.closeTo(60_000, 6) });
  });

  // By hand: from 500 N to 60 N in 3 ms.
  test("take the slope of the load over 3 ms, and over what there is at the end of a record", () => {
    const force = jump();
    force[134] = 500;
    force[546] = 500;
    for (const edge of [takeoffEdge(force, RUN, 50, 80, RATE)!, landingEdge(force, RUN, 50, 80, RATE)!]) expect(edge.loadedSlope).toBeCloseTo((500 - 60) / 0.003, 6);
    // At 100 Hz the only sample after the landing is the load itself.
    expect(landingEdge(Float64Array.of(800, 800, 0, 0, 0, 0, 800), { start: 2, end: 6 }, 50, 80, 100)).toEqual({ time: expect.closeTo(0.050625, 12), slope: 80_000, loadedSlope: 0, bridged: 0 });
  });

  test("do not pass the middle of a run that never falls below the threshold", () => {
    const force = jump();
    force.fill(60, 138, 543);
    expect(takeoffEdge(force, RUN, 50, 80, RATE)!.time).toBe(0.339);
    expect(landingEdge(force, RUN, 50, 80, RATE)!.time).toBe(0.34);
  });
});
