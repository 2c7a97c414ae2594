import { STANDARD_GRAVITY } from "../constants.ts";
import { requireAboveZero, requireZeroOrMore } from "../guards.ts";

/**
 * Take-off velocity from flight time: `takeoffVelocity = gravity * flightTime / 2`.
 *
 * Assumes the same posture at take-off and at landing.
 *
 * @param flightTime Time in the air, in s; zero or more.
 * @param gravity Local gravity, in m/s^2; more than zero.
 * @returns Upward velocity of the centre of mass at take-off, in m/s.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if flightTime is negative or gravity is not positive.
 * @see Linthorne (2001).
 */
export function takeoffVelocityFromFlightTime(flightTime: number, gravity: number = STANDARD_GRAVITY): number {
  requireZeroOrMore("take-off velocity", "a flight time", flightTime);
  requireAboveZero("take-off velocity", "gravity", gravity);
  return (gravity * flightTime) / 2;
}
