import { describe, expect, test } from "vitest";
import { loadedNoise } from "../../../src/events/loadedNoise.ts";
import { normalFrom, seededRandom } from "../../support/seededRandom.ts";

const alternating = (length: number, size: number, from = 0): Float64Array => Float64Array.from({ length }, (_, i) => (i < from ? 0 : 700 + (i % 2 === 0 ? size : -size)));

describe("loadedNoise", () => {
  // By hand: second differences of +d, -d are 4 d each; six times the variance of white noise is the variance of its second differences.
  test("is the spread of second differences over the root of six", () => {
    expect(loadedNoise(alternating(200, 3), 700)()).toBeCloseTo((4 * 3) / Math.sqrt(6), 12);
  });

  test("does not see a straight line", () => {
    expect(loadedNoise(Float64Array.from({ length: 300 }, (_, i) => 500 + 2 * i), 700)()).toBe(0);
  });

  test("leaves out stretches in which the plate is not loaded, and takes those that are just loaded", () => {
    expect(loadedNoise(alternating(300, 3, 51), 700)()).toBeCloseTo((4 * 3) / Math.sqrt(6), 12);
    // Silent stretches without load are none.
    expect(loadedNoise(alternating(300, 3, 60), 700)()).toBeCloseTo((4 * 3) / Math.sqrt(6), 12);
    // A silent stretch at a fifth of the load counts.
    expect(loadedNoise(Float64Array.from({ length: 152 }, (_, i) => (i < 60 ? 140 : 700 + (i % 2 === 0 ? 3 : -3))), 700)()).toBe(0);
    expect(loadedNoise(Float64Array.from({ length: 152 }, (_, i) => (i < 60 ? 139 : 700 + (i % 2 === 0 ? 3 : -3))), 700)()).toBeCloseTo((4 * 3) / Math.sqrt(6), 12);
  });

  test("takes the quietest stretch", () => {
    const force = alternating(52 + 50, 3);
    for (let i = 51; i < force.length; i++) force[i] = 700 + (i % 2 === 0 ? 1 : -1);
    const loud = alternating(52, 3);
    expect(loadedNoise(loud, 700)()).toBeCloseTo((4 * 3) / Math.sqrt(6), 12);
    expect(loadedNoise(force, 700)()).toBeLessThan(loadedNoise(loud, 700)());
  });

  test("is zero for a record that is too short to tell", () => {
    expect(loadedNoise(alternating(51, 3), 700)()).toBe(0);
    expect(loadedNoise(alternating(52, 3), 700)()).toBeGreaterThan(0);
  });

  // White noise of 2 N: the least of 40 stretches of 50 lies a little below it (chi-squared with fewer than 50 degrees of freedom).
  test("is near the noise of a noisy record", () => {
    const normal = normalFrom(seededRandom(5));
    const noise = loadedNoise(Float64Array.from({ length: 2001 }, () => 700 + 2 * normal()), 700)();
    expect(noise).toBeGreaterThan(1.1);
    expect(noise).toBeLessThan(2);
  });
});
