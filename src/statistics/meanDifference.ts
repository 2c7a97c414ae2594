import { InputError } from "../errors.ts";
import { requireAllFinite, requireLevel } from "../guards.ts";
import { tCdf, tQuantile } from "./distributions.ts";
import { mean, standardDeviation, sumOfSquares } from "./moments.ts";

/** A difference of means with its interval. */
export interface MeanDifference {
  readonly difference: number;
  readonly standardError: number;
  readonly degreesOfFreedom: number;
  readonly low: number;
  readonly high: number;
  /** Two-sided probability of a difference at least this large if there is none; absent where both spreads are zero. */
  readonly p?: number;
  /** Difference over its standard error; absent where that is zero. */
  readonly t?: number;
}

/** Mean of paired differences `first - second`, with the limits of Student's t (n - 1). */
export function pairedDifference(first: readonly number[], second: readonly number[], level: number = 0.95): MeanDifference {
  if (first.length !== second.length) throw new InputError("wrong-shape", "paired difference requires two lists of equal length");
  if (first.length < 2) throw new InputError("not-available", "paired difference requires at least two pairs");
  requireAllFinite("paired difference", first, second);
  const differences = first.map((value, index) => value - second[index]);
  return withLimits(mean(differences), standardDeviation(differences) / Math.sqrt(first.length), first.length - 1, level);
}

/** Difference of two independent means `first - second`, spreads not taken as equal (Welch 1947). */
export function welchDifference(first: readonly number[], second: readonly number[], level: number = 0.95): MeanDifference {
  if (first.length < 2 || second.length < 2) {
    throw new InputError("not-available", "difference of means requires at least two numbers on each side");
  }
  requireAllFinite("difference of means", first, second);
  const a = sumOfSquares(first) / (first.length - 1) / first.length;
  const b = sumOfSquares(second) / (second.length - 1) / second.length;
  const freedom = (a + b) ** 2 / (a ** 2 / (first.length - 1) + b ** 2 / (second.length - 1));
  const leastFreedom = Math.min(first.length, second.length) - 1;
  return withLimits(mean(first) - mean(second), Math.sqrt(a + b), Number.isNaN(freedom) ? leastFreedom : freedom, level);
}

function withLimits(difference: number, standardError: number, degreesOfFreedom: number, level: number): MeanDifference {
  requireLevel("difference of means", level);
  const half = tQuantile((1 + level) / 2, degreesOfFreedom) * standardError;
  const limits = { difference, standardError, degreesOfFreedom, low: difference - half, high: difference + half };
  if (standardError === 0) return limits;
  const t = difference / standardError;
  return { ...limits, t, p: 2 * tCdf(-Math.abs(t), degreesOfFreedom) };
}
