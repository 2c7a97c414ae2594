import { InputError } from "../errors.ts";
import { requireFinite, requireZeroOrMore } from "../guards.ts";

/**
 * Standard error of measurement from a correlation: `sem = sd * sqrt(1 - icc)`.
 *
 * With ICC(3,1) and the pooled observed standard deviation this equals the typical error
 * of the same table; prefer that one where the table is at hand.
 *
 * @param sd Observed standard deviation between people, in the unit of the quantity; zero or more.
 * @param icc Intraclass correlation, no unit; at most 1.
 * @returns Standard error of measurement, in the unit of the quantity.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if sd is negative or icc is above 1.
 * @see Atkinson & Nevill (1998).
 */
export function standardErrorOfMeasurement(sd: number, icc: number): number {
  requireZeroOrMore("standard error of measurement", "a standard deviation", sd);
  requireFinite("standard error of measurement", icc);
  if (icc > 1) throw new InputError("out-of-range", "standard error of measurement requires a correlation of at most 1");
  return sd * Math.sqrt(1 - icc);
}
