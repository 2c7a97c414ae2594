import { describe, expect, test } from "vitest";
import { dropHeightFromTouchdownVelocity } from "../../../src/metrics/dropHeightFromTouchdownVelocity.ts";

describe("dropHeightFromTouchdownVelocity", () => {
  // By hand: 5.29 / 19.6133.
  test("gives 0.26971 m for 2.3 m/s downward", () => {
    expect(dropHeightFromTouchdownVelocity(-2.3)).toBeCloseTo(0.26971493833, 10);
  });

  test("is nothing for a person who is set down", () => {
    expect(dropHeightFromTouchdownVelocity(0)).toBe(0);
  });

  test.each([
    [NaN, 9.81, "not-a-number"],
    [2.3, 9.81, "out-of-range"],
    [-2.3, 0, "out-of-range"],
  ])("refuses %d %d: %s", (velocity: number, gravity: number, code: string) => {
    expect(() => dropHeightFromTouchdownVelocity(velocity, gravity)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
