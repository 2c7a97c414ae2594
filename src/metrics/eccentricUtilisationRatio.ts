import { requireAboveZero } from "../guards.ts";

/**
 * Eccentric utilisation ratio: `ratio = countermovement / squat`.
 *
 * Both results are the same quantity (height by one method, or peak power) of
 * jumps of like protocol. A large ratio may mean a weak start from the held squat
 * as much as good use of the countermovement.
 *
 * @param countermovement Result of the countermovement jump, in the unit of the quantity; more than zero.
 * @param squat Result of the squat jump, in the same unit; more than zero.
 * @returns Ratio, no unit.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if a result is not positive.
 * @see McGuigan et al. (2006); Van Hooren & Zolotarjova (2017) on its reading.
 */
export function eccentricUtilisationRatio(countermovement: number, squat: number): number {
  requireAboveZero("eccentric utilisation ratio", "a countermovement jump result", countermovement);
  requireAboveZero("eccentric utilisation ratio", "a squat jump result", squat);
  return countermovement / squat;
}
