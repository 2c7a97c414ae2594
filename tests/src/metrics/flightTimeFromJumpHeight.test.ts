import { describe, expect, test } from "vitest";
import fc from "fast-check";
import { jumpHeightFromFlightTime } from "../../../src/metrics/jumpHeightFromFlightTime.ts";
import { flightTimeFromJumpHeight } from "../../../src/metrics/flightTimeFromJumpHeight.ts";

describe("flightTimeFromJumpHeight", () => {
  // By hand: sqrt(8 * 0.3 / 9.80665).
  test("gives 0.4947 s for 0.30 m", () => {
    expect(flightTimeFromJumpHeight(0.3)).toBeCloseTo(0.4947038418232698, 12);
  });

  test("undoes the flight-time method for any height and gravity", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 2, noNaN: true }), fc.double({ min: 9.7, max: 9.9, noNaN: true }), (height, gravity) => {
        expect(jumpHeightFromFlightTime(flightTimeFromJumpHeight(height, gravity), gravity)).toBeCloseTo(height, 12);
      }),
    );
  });

  test.each([
    [NaN, 9.81, "not-a-number"],
    [-0.3, 9.81, "out-of-range"],
    [0.3, 0, "out-of-range"],
  ])("refuses %d %d: %s", (height: number, gravity: number, code: string) => {
    expect(() => flightTimeFromJumpHeight(height, gravity)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
