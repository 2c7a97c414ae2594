import { describe, expect, test } from "vitest";
import { jumpHeightFromTakeoffVelocity } from "../../../src/metrics/jumpHeightFromTakeoffVelocity.ts";

describe("jumpHeightFromTakeoffVelocity", () => {
  // By hand: 2.6^2 / (2 * 9.80665).
  test("gives 0.34466 m for 2.6 m/s", () => {
    expect(jumpHeightFromTakeoffVelocity(2.6)).toBeCloseTo(0.3446640799865398, 12);
  });

  // Conservation of energy, an independent route: (1/2) m v^2 = m g h with m = 70 kg.
  test("stores the kinetic energy of take-off as height", () => {
    const height = jumpHeightFromTakeoffVelocity(2.9, 9.79);
    expect(70 * 9.79 * height).toBeCloseTo(0.5 * 70 * 2.9 ** 2, 10);
  });

  test.each([
    [NaN, 9.81, "not-a-number"],
    [-2, 9.81, "out-of-range"],
    [2, -9.81, "out-of-range"],
  ])("refuses %d %d: %s", (velocity: number, gravity: number, code: string) => {
    expect(() => jumpHeightFromTakeoffVelocity(velocity, gravity)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
