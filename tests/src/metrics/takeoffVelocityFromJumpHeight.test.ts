import { describe, expect, test } from "vitest";
import fc from "fast-check";
import { jumpHeightFromTakeoffVelocity } from "../../../src/metrics/jumpHeightFromTakeoffVelocity.ts";
import { takeoffVelocityFromJumpHeight } from "../../../src/metrics/takeoffVelocityFromJumpHeight.ts";

describe("takeoffVelocityFromJumpHeight", () => {
  // By hand: sqrt(2 * 9.80665 * 0.30); a fall of 0.30 m ends with the same speed.
  test("gives 2.42569 m/s for 0.30 m", () => {
    expect(takeoffVelocityFromJumpHeight(0.3)).toBeCloseTo(2.4256937152080846, 12);
  });

  test("undoes the take-off velocity method for any height", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 2, noNaN: true }), (height) => {
        expect(jumpHeightFromTakeoffVelocity(takeoffVelocityFromJumpHeight(height))).toBeCloseTo(height, 12);
      }),
    );
  });

  test.each([
    [NaN, 9.81, "not-a-number"],
    [-0.3, 9.81, "out-of-range"],
    [0.3, 0, "out-of-range"],
  ])("refuses %d %d: %s", (height: number, gravity: number, code: string) => {
    expect(() => takeoffVelocityFromJumpHeight(height, gravity)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
