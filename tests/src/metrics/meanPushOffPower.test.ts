import { describe, expect, test } from "vitest";
import { meanPushOffPower } from "../../../src/metrics/meanPushOffPower.ts";

describe("meanPushOffPower", () => {
  // By hand: 1372.931 * 1.2128468576.
  test("gives 1665.16 W for 80 kg, 0.30 m high from 0.40 m of push-off", () => {
    expect(meanPushOffPower(80, 0.3, 0.4)).toBeCloseTo(1665.1550490571751, 8);
  });

  // Independent route: at constant acceleration the push-off lasts 2 s / v, and the work is force times distance.
  test("is the work over the time of a push-off at constant acceleration", () => {
    const speed = Math.sqrt(2 * 9.80665 * 0.3);
    const time = (2 * 0.4) / speed;
    const work = 80 * 9.80665 * (0.3 + 0.4);
    expect(meanPushOffPower(80, 0.3, 0.4)).toBeCloseTo(work / time, 8);
  });

  test.each([
    [NaN, 0.3, 0.4, "not-a-number"],
    [0, 0.3, 0.4, "out-of-range"],
    [80, 0.3, 0, "out-of-range"],
  ])("refuses %d %d %d: %s", (mass: number, height: number, pushOff: number, code: string) => {
    expect(() => meanPushOffPower(mass, height, pushOff)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
