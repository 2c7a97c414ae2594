import { describe, expect, test } from "vitest";
import { takeoffVelocityFromJumpHeight } from "../../../src/metrics/takeoffVelocityFromJumpHeight.ts";
import { meanPushOffVelocity } from "../../../src/metrics/meanPushOffVelocity.ts";

describe("meanPushOffVelocity", () => {
  // By hand: sqrt(9.80665 * 0.3 / 2).
  test("gives 1.21285 m/s for 0.30 m", () => {
    expect(meanPushOffVelocity(0.3)).toBeCloseTo(1.2128468576040423, 12);
  });

  test("is half of the take-off velocity", () => {
    expect(meanPushOffVelocity(0.44)).toBeCloseTo(takeoffVelocityFromJumpHeight(0.44) / 2, 12);
  });

  test.each([
    [NaN, 9.81, "not-a-number"],
    [-0.3, 9.81, "out-of-range"],
    [0.3, 0, "out-of-range"],
  ])("refuses %d %d: %s", (height: number, gravity: number, code: string) => {
    expect(() => meanPushOffVelocity(height, gravity)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
