import { STANDARD_GRAVITY } from "../constants.ts";
import { InputError } from "../errors.ts";
import { requireAboveZero, requireZeroOrMore } from "../guards.ts";
import { meanPushOffForce } from "../metrics/meanPushOffForce.ts";
import { meanPushOffVelocity } from "../metrics/meanPushOffVelocity.ts";
import { tQuantile } from "../statistics/distributions.ts";
import { linearRegression } from "../statistics/linearRegression.ts";
import type { LinearRegression } from "../statistics/linearRegression.ts";
import { ratioInterval } from "../statistics/ratioInterval.ts";

/** A value with its limits. */
export interface Limited {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** One load of the profile. */
export interface LoadPoint {
  /** External load, kg. */
  readonly load: number;
  /** Jump height, m. */
  readonly height: number;
  /** Mean force over the push-off per kilogram of body mass, N/kg. */
  readonly force: number;
  /** Mean velocity of the push-off, m/s. */
  readonly velocity: number;
  /** Mean power per kilogram of body mass, W/kg. */
  readonly power: number;
}

/** Force-velocity line of loaded jumps. */
export interface LoadProfile {
  /** In order of load. */
  readonly points: readonly LoadPoint[];
  /** Force at zero velocity, N/kg. */
  readonly maximalForce: Limited;
  /** Slope, N s/(m kg). */
  readonly slope: Limited;
  /** Velocity at zero force, m/s; without limits where the slope is not clearly negative. */
  readonly maximalVelocity: { readonly value: number; readonly low?: number; readonly high?: number };
  /** Power at the middle of the line, W/kg; limits by propagation. */
  readonly maximalPower: Limited;
  readonly line: LinearRegression;
  /** True with fewer than four loads, the least that the literature uses. */
  readonly fewLoads: boolean;
}

/**
 * Force-velocity line from jumps with loads: mean force `m g (h / pushOff + 1)` per kilogram of body mass over mean
 * velocity `sqrt(g h / 2)`, then `v0 = -F0 / slope` and `maximal power = F0 v0 / 4`.
 *
 * m is body mass plus load; one push-off distance for all loads. F0 and v0 are extrapolated
 * beyond the jumps, and the slope is poorly reliable: it supports no verdict on training.
 * Limits: Student's t for F0 and slope, Fieller for v0, propagation for power.
 *
 * @param loads External loads, in kg; at least three different ones.
 * @param heights Jump height at each load, in m; more than zero.
 * @param bodyMass Body mass without load, in kg; more than zero.
 * @param pushOff Push-off distance, in m; more than zero.
 * @param gravity Local gravity, in m/s^2; more than zero.
 * @param level Level of the limits, no unit.
 * @returns Points and line: forces in N/kg, velocities in m/s, slope in N s/(m kg), power in W/kg.
 * @throws {InputError} `not-a-number` if a value is not finite.
 * @throws {InputError} `wrong-shape` if the lengths differ.
 * @throws {InputError} `out-of-range` if a value is out of the limits above.
 * @throws {InputError} `not-available` with fewer than three loads, or where force does not fall with velocity.
 * @see Samozino et al. (2008); Lindberg et al. (2021) on reliability; Samozino et al. (2022).
 */
export function loadProfile(
  loads: readonly number[],
  heights: readonly number[],
  bodyMass: number,
  pushOff: number,
  gravity: number = STANDARD_GRAVITY,
  level: number = 0.95,
): LoadProfile {
  if (loads.length !== heights.length) throw new InputError("wrong-shape", "load profile requires one height for each load");
  requireAboveZero("load profile", "a body mass", bodyMass);
  for (const load of loads) requireZeroOrMore("load profile", "a load", load);
  for (const height of heights) requireAboveZero("load profile", "a height", height);
  if (new Set(loads).size < 3) throw new InputError("not-available", "load profile requires at least three different loads");
  const points = loads
    .map((load, index): LoadPoint => {
      const height = heights[index];
      const force = meanPushOffForce(bodyMass + load, height, pushOff, gravity) / bodyMass;
      const velocity = meanPushOffVelocity(height, gravity);
      return { load, height, force, velocity, power: force * velocity };
    })
    .sort((a, b) => a.load - b.load);
  const line = linearRegression(points.map((point) => point.velocity), points.map((point) => point.force), level);
  const { intercept, slope, interceptError, slopeError, correlation, degreesOfFreedom } = line;
  if (slope >= 0) throw new InputError("not-available", "load profile requires a force that falls as velocity rises");
  const maximalPower = -(intercept ** 2) / (4 * slope);
  const byIntercept = (-intercept / (2 * slope)) * interceptError;
  const bySlope = (intercept ** 2 / (4 * slope ** 2)) * slopeError;
  const u = Math.sqrt(Math.max(0, byIntercept ** 2 + bySlope ** 2 + 2 * correlation * byIntercept * bySlope));
  const half = tQuantile((1 + level) / 2, degreesOfFreedom) * u;
  return {
    points,
    maximalForce: { value: intercept, low: line.interceptLimits[0], high: line.interceptLimits[1] },
    slope: { value: slope, low: line.slopeLimits[0], high: line.slopeLimits[1] },
    maximalVelocity: { value: -intercept / slope, ...velocityLimits(line, level) },
    maximalPower: { value: maximalPower, low: maximalPower - half, high: maximalPower + half },
    line,
    fewLoads: new Set(loads).size < 4,
  };
}

function velocityLimits(line: LinearRegression, level: number): { low?: number; high?: number } {
  try {
    const { low, high } = ratioInterval(line.intercept, line.interceptError, -line.slope, line.slopeError, {
      correlation: -line.correlation,
      degreesOfFreedom: line.degreesOfFreedom,
      level,
    });
    return { low, high };
  } catch (error) {
    if (error instanceof InputError && error.code === "not-available") return {};
    throw error;
  }
}
