import { requireAboveZero, requireZeroOrMore } from "../guards.ts";

/**
 * Reactive strength as the ratio of times: `ratio = flightTime / contactTime`.
 *
 * Tied to the index on the basis of height by `rsi = (gravity * flightTime / 8) * ratio`.
 *
 * @param flightTime Time in the air after the contact, in s; zero or more.
 * @param contactTime Ground contact time, in s; more than zero.
 * @returns Ratio of flight time to contact time, no unit.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if flightTime is negative or contactTime is not positive.
 * @see Healy, Kenny & Harrison (2018), from memory.
 */
export function flightToContactRatio(flightTime: number, contactTime: number): number {
  requireZeroOrMore("ratio of flight to contact time", "a flight time", flightTime);
  requireAboveZero("ratio of flight to contact time", "a contact time", contactTime);
  return flightTime / contactTime;
}
