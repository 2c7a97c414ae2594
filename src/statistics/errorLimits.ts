import { chiSquareQuantile } from "./distributions.ts";

/**
 * Confidence limits of a standard deviation: `error * sqrt(df / chi-squared)`.
 *
 * Assumes normal errors of equal size.
 *
 * @param error Standard deviation, such as a typical error, in any unit.
 * @param degreesOfFreedom Its degrees of freedom, no unit; above zero.
 * @param level Level of the limits, no unit; 0.95 leaves 2.5 % on either side.
 * @returns Lower and upper limit, in the unit of `error`.
 * @throws {InputError} `out-of-range` where the level or the degrees of freedom have no chi-squared quantile.
 * @see Hopkins (2000).
 */
export function errorLimits(error: number, degreesOfFreedom: number, level: number): { readonly low: number; readonly high: number } {
  const tail = (1 - level) / 2;
  const limit = (probability: number): number => error * Math.sqrt(degreesOfFreedom / chiSquareQuantile(probability, degreesOfFreedom));
  return { low: limit(1 - tail), high: limit(tail) };
}
