import { requireAboveZero, requireZeroOrMore } from "../guards.ts";

/**
 * Reactive strength index on the basis of height: `rsi = height / contactTime`.
 *
 * The height may come from flight time (the classic form of mats) or from take-off
 * velocity; say which. Not interchangeable with the ratio of flight to contact time.
 *
 * @param height Jump height after the contact, in m; zero or more.
 * @param contactTime Ground contact time, in s; more than zero.
 * @returns Reactive strength index, in m/s.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if height is negative or contactTime is not positive.
 * @see Young (1995).
 */
export function reactiveStrengthIndex(height: number, contactTime: number): number {
  requireZeroOrMore("reactive strength index", "a height", height);
  requireAboveZero("reactive strength index", "a contact time", contactTime);
  return height / contactTime;
}
