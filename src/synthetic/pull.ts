import type { SyntheticPull } from "./SyntheticOptions.ts";

/** Seconds in which the force falls to body weight after the hold. */
export const RELEASE_TIME = 0.4;

/** An isometric pull as a closed form: a critically damped rise over body weight and pretension, a hold and a release in a straight line. */
export interface PullModel {
  readonly onset: number;
  readonly release: number;
  /** N at t s. */
  force(time: number): number;
  /** Force over body weight and pretension x s after the onset, N. */
  rise(x: number): number;
  /** Integral of `rise` from the onset to x s after it, N s. */
  riseImpulse(x: number): number;
  /** Mean slope between two instants after the onset, N/s. */
  slope(from: number, to: number): number;
  /** Greatest mean slope over a window, N/s: at x = w / (e^(w / tau) - 1). */
  greatestSlope(window: number): number;
}

/**
 * The pull F = BW + p + R (1 - (1 + x / tau) e^(-x / tau)), x = t - onset.
 *
 * @param bodyWeight N.
 * @param onset s.
 * @param pull Forces in N, times in s.
 * @returns The closed form and its integrals.
 */
export function pullOf(bodyWeight: number, onset: number, pull: SyntheticPull = {}): PullModel {
  const { pretension = 18, rise: total = 1750, timeConstant: tau = 0.095, hold = 3 } = pull;
  const release = onset + hold;
  const rise = (x: number): number => (x <= 0 ? 0 : total * (1 - (1 + x / tau) * Math.exp(-x / tau)));
  const slope = (from: number, to: number): number => (rise(to) - rise(from)) / (to - from);
  const top = pretension + rise(hold);
  return {
    onset,
    release,
    rise,
    slope,
    force: (time) => {
      if (time < release) return bodyWeight + pretension + rise(time - onset);
      return bodyWeight + top * Math.max(0, 1 - (time - release) / RELEASE_TIME);
    },
    riseImpulse: (x) => total * (x - 2 * tau + (x + 2 * tau) * Math.exp(-x / tau)),
    greatestSlope: (window) => {
      const start = window / (Math.exp(window / tau) - 1);
      return slope(start, start + window);
    },
  };
}
