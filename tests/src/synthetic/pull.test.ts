import { describe, expect, test } from "vitest";
import { pullOf } from "../../../src/synthetic/pull.ts";

describe("pullOf", () => {
  const model = pullOf(784.532, 1.8, { pretension: 18, rise: 1750, timeConstant: 0.095, hold: 3 });

  // By hand: greatest slope R / (tau e) at x = tau, 1750 / (0.095 e) = 6776.73 N/s; a narrow window comes close to it.
  test("rises fastest one time constant after the onset", () => {
    expect(model.greatestSlope(1e-4)).toBeCloseTo(1750 / (0.095 * Math.E), 1);
    expect(model.slope(0.0949, 0.0951)).toBeCloseTo(1750 / (0.095 * Math.E), 1);
  });

  test("has its greatest slope over a window where brute force finds it", () => {
    let best = 0;
    for (let x = 0; x < 0.5; x += 1e-5) best = Math.max(best, model.slope(x, x + 0.02));
    expect(model.greatestSlope(0.02)).toBeCloseTo(best, 4);
  });

  // Independent route: midpoint rule with 20,000 pieces.
  test("has the impulse that its force adds up to", () => {
    const pieces = 20000;
    let sum = 0;
    for (let i = 0; i < pieces; i++) sum += model.rise(((i + 0.5) / pieces) * 0.25) * (0.25 / pieces);
    expect(model.riseImpulse(0.25)).toBeCloseTo(sum, 6);
  });

  test("is the baseline before the onset and body weight after the release", () => {
    expect(model.force(1.7)).toBeCloseTo(802.532, 9);
    expect(model.force(5.3)).toBeCloseTo(784.532, 9);
  });
});
