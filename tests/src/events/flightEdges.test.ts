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
});
