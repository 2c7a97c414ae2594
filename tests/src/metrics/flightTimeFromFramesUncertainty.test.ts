import { describe, expect, test } from "vitest";
import { seededRandom } from "../../support/seededRandom.ts";
import { flightTimeFromFramesUncertainty } from "../../../src/metrics/flightTimeFromFramesUncertainty.ts";

describe("flightTimeFromFramesUncertainty", () => {
  // By hand: one frame over sqrt(6); 60 frames a second: 6.804 ms, which is 8.34 mm at a flight of 0.5 s (g t / 4 = 1.2258 m/s).
  test.each([
    [30, 16.68],
    [60, 8.34],
    [120, 4.17],
    [240, 2.09],
    [500, 1.0],
    [1000, 0.5],
  ])("at %d frames a second sampling alone gives %d mm of height", (rate, millimetres) => {
    expect(flightTimeFromFramesUncertainty(rate, 0) * (9.80665 * 0.5) * 250).toBeCloseTo(millimetres, 1);
  });

  // By hand: 1/6 + 1/3 = 1/2, so one frame over sqrt(2).
  test("adds a reading error of one frame", () => {
    expect(flightTimeFromFramesUncertainty(100)).toBeCloseTo(0.01 * Math.SQRT1_2, 14);
  });

  // Independent route: simulate two events, each seen up to one frame late, without a reading error.
  test("agrees with the scatter of simulated frame times", () => {
    const random = seededRandom(7);
    let sum = 0;
    const runs = 20000;
    for (let i = 0; i < runs; i++) sum += (random() - random()) ** 2;
    expect(Math.sqrt(sum / runs) / 100).toBeCloseTo(flightTimeFromFramesUncertainty(100, 0), 4);
  });

  test.each([
    [NaN, 1, "not-a-number"],
    [0, 1, "out-of-range"],
    [60, -1, "out-of-range"],
  ])("refuses %d %d: %s", (rate: number, reading: number, code: string) => {
    expect(() => flightTimeFromFramesUncertainty(rate, reading)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
