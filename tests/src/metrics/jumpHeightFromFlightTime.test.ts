import { describe, expect, test } from "vitest";
import { jumpHeightFromFlightTime } from "../../../src/metrics/jumpHeightFromFlightTime.ts";

describe("jumpHeightFromFlightTime", () => {
  // By hand: 9.80665 * 0.5^2 / 8.
  test("gives 0.3065 m for a flight of 0.5 s", () => {
    expect(jumpHeightFromFlightTime(0.5)).toBeCloseTo(0.3064578125, 12);
  });

  test("gives no height without a flight", () => {
    expect(jumpHeightFromFlightTime(0)).toBe(0);
  });

  // Independent route: take-off speed g t / 2, then rise v^2 / (2 g).
  test("agrees with the rise of a projectile of the same flight time", () => {
    const speed = (9.81 * 0.6) / 2;
    expect(jumpHeightFromFlightTime(0.6, 9.81)).toBeCloseTo(speed ** 2 / (2 * 9.81), 12);
  });

  test.each([
    [NaN, 9.81, "not-a-number"],
    [0.5, Infinity, "not-a-number"],
    [-0.1, 9.81, "out-of-range"],
    [0.5, 0, "out-of-range"],
  ])("refuses %d %d: %s", (flightTime: number, gravity: number, code: string) => {
    expect(() => jumpHeightFromFlightTime(flightTime, gravity)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
