import { describe, expect, test } from "vitest";
import { flightTimeFromFrames } from "../../../src/metrics/flightTimeFromFrames.ts";

describe("flightTimeFromFrames", () => {
  // By hand: 120 frames at 240 frames a second.
  test("gives half a second for 120 frames at 240 a second", () => {
    expect(flightTimeFromFrames(310, 430, 240)).toBe(0.5);
  });

  test("gives no flight for one and the same frame", () => {
    expect(flightTimeFromFrames(12, 12, 60)).toBe(0);
  });

  test("does not depend on where counting starts", () => {
    expect(flightTimeFromFrames(1310, 1437, 240)).toBe(flightTimeFromFrames(0, 127, 240));
  });

  test.each([
    [NaN, 430, 240, "not-a-number"],
    [430, 310, 240, "out-of-range"],
    [310, 430, 0, "out-of-range"],
  ])("refuses %d %d %d: %s", (takeoff: number, landing: number, rate: number, code: string) => {
    expect(() => flightTimeFromFrames(takeoff, landing, rate)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
