import { requireAboveZero, requireZeroOrMore } from "../guards.ts";

/**
 * Smallest worthwhile change: `change = factor * sd`.
 *
 * The standard deviation is the observed one between people (pooled over trials). A
 * convention, not a measurement: with one trial a day one person's change must be
 * larger than this to be told from error (see the minimal detectable change).
 *
 * @param sd Observed standard deviation between people, in the unit of the quantity; zero or more.
 * @param factor Share of it, no unit; 0.2 by default.
 * @returns Smallest worthwhile change, in the unit of the quantity.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if sd is negative or factor is not positive.
 * @see Hopkins (2000); the factor 0.2 is Cohen's small effect.
 */
export function smallestWorthwhileChange(sd: number, factor: number = 0.2): number {
  requireZeroOrMore("smallest worthwhile change", "a standard deviation", sd);
  requireAboveZero("smallest worthwhile change", "a factor", factor);
  return factor * sd;
}
