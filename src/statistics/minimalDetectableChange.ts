import { requireCount, requireLevel, requireZeroOrMore } from "../guards.ts";
import { tQuantile } from "./distributions.ts";

/** How many results stand on each side, and how sure. */
export interface DetectableOptions {
  /** Two-sided level, no unit. @default 0.95 */
  readonly level?: number;
  /** Results averaged before. @default 1 */
  readonly countBefore?: number;
  /** Results averaged after. @default 1 */
  readonly countAfter?: number;
  /** Degrees of freedom of the error; absent: the normal quantile. */
  readonly degreesOfFreedom?: number;
}

/**
 * Minimal detectable change: `change = quantile * sem * sqrt(1 / countBefore + 1 / countAfter)`.
 *
 * Averaging helps only against the error that the averaged results do not share: with
 * an error between days, counts are sessions; with an error within a day, trials.
 * Exact quantiles, so 95 % uses 1.959964 and 90 % 1.644854.
 *
 * @param sem Typical error (standard error of measurement), in the unit of the quantity; zero or more.
 * @param options Counts and level, no unit.
 * @returns Minimal detectable change, in the unit of the quantity.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if an argument is out of the limits above.
 * @see Atkinson & Nevill (1998); Hopkins (2000).
 */
export function minimalDetectableChange(sem: number, options: DetectableOptions = {}): number {
  const { level = 0.95, countBefore = 1, countAfter = 1, degreesOfFreedom } = options;
  requireZeroOrMore("minimal detectable change", "a standard error of measurement", sem);
  requireLevel("minimal detectable change", level);
  requireCount("minimal detectable change", "the number of results", countBefore, 1);
  requireCount("minimal detectable change", "the number of results", countAfter, 1);
  return tQuantile((1 + level) / 2, degreesOfFreedom) * sem * Math.sqrt(1 / countBefore + 1 / countAfter);
}
