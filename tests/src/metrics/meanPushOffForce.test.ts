import { describe, expect, test } from "vitest";
import { meanPushOffForce } from "../../../src/metrics/meanPushOffForce.ts";

describe("meanPushOffForce", () => {
  // By hand: 80 * 9.80665 * 1.75.
  test("gives 1372.93 N for 80 kg, 0.30 m high from 0.40 m of push-off", () => {
    expect(meanPushOffForce(80, 0.3, 0.4)).toBeCloseTo(1372.931, 9);
  });

  // Independent route: net work over the push-off equals the energy at take-off.
  test("does the work that the take-off energy needs", () => {
    const net = meanPushOffForce(80, 0.3, 0.4) - 80 * 9.80665;
    expect(net * 0.4).toBeCloseTo(80 * 9.80665 * 0.3, 9);
  });

  test.each([
    [NaN, 0.3, 0.4, "not-a-number"],
    [0, 0.3, 0.4, "out-of-range"],
    [80, -0.3, 0.4, "out-of-range"],
    [80, 0.3, 0, "out-of-range"],
  ])("refuses %d %d %d: %s", (mass: number, height: number, pushOff: number, code: string) => {
    expect(() => meanPushOffForce(mass, height, pushOff)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
