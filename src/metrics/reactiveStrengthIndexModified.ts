import { requireAboveZero, requireZeroOrMore } from "../guards.ts";

/**
 * Modified reactive strength index: `rsiModified = height / timeToTakeoff`.
 *
 * The onset rule moves the time to take-off, and with it the index, by several
 * per cent: compare only results of one onset rule and one height method.
 *
 * @param height Jump height, in m; zero or more.
 * @param timeToTakeoff Time from the onset of movement to take-off, in s; more than zero.
 * @returns Modified reactive strength index, in m/s.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if height is negative or timeToTakeoff is not positive.
 * @see Ebben & Petushek (2010).
 */
export function reactiveStrengthIndexModified(height: number, timeToTakeoff: number): number {
  requireZeroOrMore("modified reactive strength index", "a height", height);
  requireAboveZero("modified reactive strength index", "a time to take-off", timeToTakeoff);
  return height / timeToTakeoff;
}
