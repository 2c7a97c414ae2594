import { describe, expect, test } from "vitest";
import { jumpHeightFromFlightTime } from "../../../src/metrics/jumpHeightFromFlightTime.ts";
import { jumpHeightFromTakeoffVelocity } from "../../../src/metrics/jumpHeightFromTakeoffVelocity.ts";
import { takeoffVelocityFromFlightTime } from "../../../src/metrics/takeoffVelocityFromFlightTime.ts";

describe("takeoffVelocityFromFlightTime", () => {
  // By hand: 9.80665 * 0.5 / 2.
  test("gives 2.4517 m/s for a flight of 0.5 s", () => {
    expect(takeoffVelocityFromFlightTime(0.5)).toBeCloseTo(2.4516625, 12);
  });

  test("gives the same height by velocity as by flight time", () => {
    expect(jumpHeightFromTakeoffVelocity(takeoffVelocityFromFlightTime(0.61))).toBeCloseTo(jumpHeightFromFlightTime(0.61), 12);
  });

  test.each([
    [NaN, 9.81, "not-a-number"],
    [-0.3, 9.81, "out-of-range"],
    [0.3, 0, "out-of-range"],
  ])("refuses %d %d: %s", (flight: number, gravity: number, code: string) => {
    expect(() => takeoffVelocityFromFlightTime(flight, gravity)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
