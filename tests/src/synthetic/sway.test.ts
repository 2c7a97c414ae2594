import { describe, expect, test } from "vitest";
import { seededRandom } from "../../../src/synthetic/seededRandom.ts";
import { swayOf } from "../../../src/synthetic/sway.ts";

describe("swayOf", () => {
  test("has the standard deviation that was asked for, in the long run", () => {
    const sway = swayOf(0.05, seededRandom(4));
    let square = 0;
    const n = 100000;
    for (let i = 0; i < n; i++) square += sway.acceleration(i / 100) ** 2;
    expect(Math.sqrt(square / n)).toBeCloseTo(0.05, 3);
  });

  test("has an acceleration that is the slope of its velocity", () => {
    const sway = swayOf(0.05, seededRandom(5));
    for (const time of [0, 0.3, 1.7337, 4]) {
      expect((sway.velocity(time + 1e-5) - sway.velocity(time - 1e-5)) / 2e-5).toBeCloseTo(sway.acceleration(time), 7);
    }
  });

  // Velocity of six sines of equal force, each at least 1 Hz: at most SD sqrt(2 * 6) / (2 pi).
  test("keeps its velocity bounded", () => {
    const sway = swayOf(0.05, seededRandom(6));
    for (let time = 0; time < 20; time += 0.01) expect(Math.abs(sway.velocity(time))).toBeLessThan((0.05 * Math.sqrt(12)) / (2 * Math.PI));
  });
});
