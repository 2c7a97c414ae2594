import { requireAboveZero } from "../guards.ts";

/**
 * Bilateral index: `index = 100 both / (left + right) - 100`.
 *
 * Negative: both limbs together give less than the sum of each alone (bilateral
 * deficit). Height does not add up over limbs, so force or power is the safer variable.
 *
 * @param both Result with both limbs together, in the unit of the quantity; more than zero.
 * @param left Result with the left limb alone, in the same unit; more than zero.
 * @param right Result with the right limb alone, in the same unit; more than zero.
 * @returns Index, in %.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if a result is not positive.
 * @see Howard & Enoka (1991), from memory; Skarabot et al. (2016), from memory.
 */
export function bilateralIndex(both: number, left: number, right: number): number {
  requireAboveZero("bilateral index", "a result with both limbs", both);
  requireAboveZero("bilateral index", "a result of the left limb", left);
  requireAboveZero("bilateral index", "a result of the right limb", right);
  return (100 * both) / (left + right) - 100;
}
