import { describe, expect, test } from "vitest";
import { normalFrom, seededRandom } from "../../support/seededRandom.ts";
import { loadProfile } from "../../../src/sessions/loadProfile.ts";

describe("loadProfile", () => {
  const loads = Object.freeze([0, 20, 40, 60]);
  const heights = Object.freeze([0.36, 0.29, 0.235, 0.19]);

  // By hand: forces 18.63 to 25.31 N/kg over velocities 1.329 to 0.965 m/s; line with SciPy 1.17.1 linregress.
  test("gives force, velocity, power and slope of four loads", () => {
    const profile = loadProfile(loads, heights, 80, 0.4);
    expect(profile.points[0].force).toBeCloseTo(18.632635, 8);
    expect(profile.points[3].velocity).toBeCloseTo(0.9652107282868337, 10);
    expect(profile.maximalForce.value).toBeCloseTo(43.088972297213544, 8);
    expect(profile.slope.value).toBeCloseTo(-18.402908285381507, 8);
    expect(profile.maximalVelocity.value).toBeCloseTo(2.341421889899957, 8);
    expect(profile.maximalPower.value).toBeCloseTo(25.222365737497157, 8);
    expect(profile.line.rSquared).toBeCloseTo(0.999979274704856, 9);
    expect(profile.fewLoads).toBe(false);
  });

  // SciPy 1.17.1: stderr 0.05924153819459217, t.ppf(0.975, 2) = 4.302652729911275.
  test("limits of the slope are those of the regression", () => {
    const { slope } = loadProfile(loads, heights, 80, 0.4);
    expect(slope.high - slope.value).toBeCloseTo(4.302652729911275 * 0.05924153819459217, 7);
  });

  test("does not depend on the order of the loads", () => {
    const turned = loadProfile([60, 0, 40, 20], [0.19, 0.36, 0.235, 0.29], 80, 0.4);
    expect(turned.points.map((point) => point.load)).toEqual([0, 20, 40, 60]);
    expect(turned.slope.value).toBeCloseTo(-18.402908285381507, 8);
  });

  test("the line reaches its greatest power half way", () => {
    const { maximalForce, maximalVelocity, maximalPower } = loadProfile(loads, heights, 80, 0.4);
    expect((maximalForce.value / 2) * (maximalVelocity.value / 2)).toBeCloseTo(maximalPower.value, 9);
  });

  test("limits cover the true velocity and power in about 95 of 100 noisy profiles", () => {
    const normal = normalFrom(seededRandom(61));
    const velocities = [1.4, 1.25, 1.1, 0.95, 0.8];
    let [velocity, power] = [0, 0];
    const runs = 2000;
    for (let run = 0; run < runs; run++) {
      // v0 = 45 / 16, power 45 v0 / 4. Line F = 45 - 16 v with 0.3 N/kg of scatter; loads and heights that give these points exactly.
      const g = 9.80665;
      const height = velocities.map((v) => (2 * v ** 2) / g);
      const load = velocities.map((v, index) => (80 * (45 - 16 * v + 0.3 * normal())) / (g * (height[index] / 0.4 + 1)) - 80);
      if (load.some((value) => value < 0)) throw new Error("the invented line needs positive loads");
      const profile = loadProfile(load, height, 80, 0.4);
      if (profile.maximalVelocity.low! <= 2.8125 && 2.8125 <= profile.maximalVelocity.high!) velocity++;
      if (profile.maximalPower.low <= 31.640625 && 31.640625 <= profile.maximalPower.high) power++;
    }
    expect(velocity / runs).toBeGreaterThan(0.93);
    expect(velocity / runs).toBeLessThan(0.97);
    expect(power / runs).toBeGreaterThan(0.92);
    expect(power / runs).toBeLessThan(0.98);
  });

  test("says so with three loads, and leaves out limits of velocity where the slope is uncertain", () => {
    const profile = loadProfile([0, 20, 60], [0.36, 0.25, 0.22], 80, 0.4);
    expect(profile.fewLoads).toBe(true);
    expect(profile.maximalVelocity.low).toBeUndefined();
  });

  test("refuses two loads, unequal lengths, and forces that rise with velocity", () => {
    expect(() => loadProfile([0, 20], [0.3, 0.25], 80, 0.4)).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => loadProfile([0, 20, 40], [0.3, 0.25], 80, 0.4)).toThrow(expect.objectContaining({ code: "wrong-shape" }));
    expect(() => loadProfile([0, 1, 2], [0.2, 0.3, 0.4], 80, 0.4)).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => loadProfile([0, 20, 40], [0.3, 0.25, 0], 80, 0.4)).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => loadProfile([0, -20, 40], [0.3, 0.25, 0.2], 80, 0.4)).toThrow(expect.objectContaining({ code: "out-of-range" }));
  });
});
