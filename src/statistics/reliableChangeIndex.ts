import { requireAboveZero, requireFinite } from "../guards.ts";

/**
 * Reliable change index: `index = (after - before) / (sqrt(2) sem)`.
 *
 * Counts the change in standard errors of a difference of two single results;
 * beyond 1.96 on either side the change is larger than error alone gives in 95 of 100 pairs.
 *
 * @param before First result, in the unit of the quantity.
 * @param after Second result, in the same unit.
 * @param sem Typical error (standard error of measurement), in the same unit; more than zero.
 * @returns Index, no unit; positive for a rise.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if sem is not positive.
 * @see Jacobson & Truax (1991), from memory.
 */
export function reliableChangeIndex(before: number, after: number, sem: number): number {
  requireFinite("reliable change index", before, after);
  requireAboveZero("reliable change index", "a standard error of measurement", sem);
  return (after - before) / (Math.SQRT2 * sem);
}
