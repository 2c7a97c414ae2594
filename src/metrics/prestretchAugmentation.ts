import { requireAboveZero } from "../guards.ts";

/**
 * Pre-stretch augmentation: `augmentation = 100 (countermovement - squat) / squat`.
 *
 * The eccentric utilisation ratio as a percentage; the same cautions hold.
 *
 * @param countermovement Result of the countermovement jump, in the unit of the quantity; more than zero.
 * @param squat Result of the squat jump, in the same unit; more than zero.
 * @returns Augmentation, in %; positive when the countermovement jump is higher.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if a result is not positive.
 * @see Walshe, Wilson & Murphy (1996), from memory.
 */
export function prestretchAugmentation(countermovement: number, squat: number): number {
  requireAboveZero("pre-stretch augmentation", "a countermovement jump result", countermovement);
  requireAboveZero("pre-stretch augmentation", "a squat jump result", squat);
  return (100 * (countermovement - squat)) / squat;
}
