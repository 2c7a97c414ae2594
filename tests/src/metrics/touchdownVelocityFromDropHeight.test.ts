import { describe, expect, test } from "vitest";
import { dropHeightFromTouchdownVelocity } from "../../../src/metrics/dropHeightFromTouchdownVelocity.ts";
import { touchdownVelocityFromDropHeight } from "../../../src/metrics/touchdownVelocityFromDropHeight.ts";

describe("touchdownVelocityFromDropHeight", () => {
  // By hand: -sqrt(2 * 9.80665 * 0.26).
  test("gives -2.2582 m/s for a fall of 0.26 m", () => {
    expect(touchdownVelocityFromDropHeight(0.26)).toBeCloseTo(-2.258197954121826, 12);
  });

  test("is undone by the drop height of a velocity", () => {
    expect(dropHeightFromTouchdownVelocity(touchdownVelocityFromDropHeight(0.42))).toBeCloseTo(0.42, 12);
  });

  test("is a plain zero without a fall", () => {
    expect(Object.is(touchdownVelocityFromDropHeight(0), 0)).toBe(true);
  });

  test.each([
    [NaN, 9.81, "not-a-number"],
    [-0.3, 9.81, "out-of-range"],
    [0.3, 0, "out-of-range"],
  ])("refuses %d %d: %s", (height: number, gravity: number, code: string) => {
    expect(() => touchdownVelocityFromDropHeight(height, gravity)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
