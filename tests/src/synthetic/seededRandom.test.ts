import { describe, expect, test } from "vitest";
import { seededRandom } from "../../../src/synthetic/seededRandom.ts";

describe("seededRandom", () => {
  test("gives the same numbers for the same seed and others for another", () => {
    const draw = (seed: number) => Array.from({ length: 5 }, ((random) => () => random.uniform())(seededRandom(seed)));
    expect(draw(7)).toEqual(draw(7));
    expect(draw(7)).not.toEqual(draw(8));
  });

  // Moments of the uniform and the standard normal; limits are five standard errors at n = 200,000.
  test("has the moments of the distributions it names", () => {
    const random = seededRandom(1);
    const n = 200000;
    let uniform = 0;
    let sum = 0;
    let square = 0;
    let fourth = 0;
    let tail = 0;
    for (let i = 0; i < n; i++) {
      uniform += random.uniform();
      const z = random.normal();
      sum += z;
      square += z * z;
      fourth += z ** 4;
      if (Math.abs(z) > 1.959964) tail++;
    }
    expect(Math.abs(uniform / n - 0.5)).toBeLessThan(5 * Math.sqrt(1 / 12 / n));
    expect(Math.abs(sum / n)).toBeLessThan(5 / Math.sqrt(n));
    expect(Math.abs(square / n - 1)).toBeLessThan(5 * Math.sqrt(2 / n));
    expect(Math.abs(fourth / n - 3)).toBeLessThan(5 * Math.sqrt(96 / n));
    expect(Math.abs(tail / n - 0.05)).toBeLessThan(5 * Math.sqrt((0.05 * 0.95) / n));
  });

  test("neighbouring seeds are not alike", () => {
    const firsts = Array.from({ length: 2000 }, (_, seed) => seededRandom(seed).uniform());
    const mean = firsts.reduce((sum, value) => sum + value, 0) / firsts.length;
    let product = 0;
    for (let i = 1; i < firsts.length; i++) product += (firsts[i] - mean) * (firsts[i - 1] - mean);
    // Correlation of independent numbers: five standard errors.
    expect(Math.abs(product / firsts.length / (1 / 12))).toBeLessThan(5 / Math.sqrt(firsts.length));
  });

  test("draws whole numbers with both ends, and stays between its limits", () => {
    const random = seededRandom(3);
    const drawn = new Set(Array.from({ length: 400 }, () => random.integer(-1, 2)));
    expect([...drawn].sort()).toEqual([-1, 0, 1, 2]);
    for (let i = 0; i < 400; i++) {
      const value = random.between(2, 3);
      expect(value >= 2 && value < 3).toBe(true);
    }
  });
});
