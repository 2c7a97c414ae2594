import { STANDARD_GRAVITY } from "../constants.ts";
import { requireAboveZero, requireZeroOrMore } from "../guards.ts";

/**
 * Flight time of a jump of known height: `flightTime = sqrt(8 height / gravity)`.
 *
 * Inverse of the flight-time method; assumes the same posture at take-off and landing.
 *
 * @param height Rise of the centre of mass above its height at take-off, in m; zero or more.
 * @param gravity Local gravity, in m/s^2; more than zero.
 * @returns Time in the air, in s.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if height is negative or gravity is not positive.
 * @see Linthorne (2001).
 */
export function flightTimeFromJumpHeight(height: number, gravity: number = STANDARD_GRAVITY): number {
  requireZeroOrMore("flight time", "a height", height);
  requireAboveZero("flight time", "gravity", gravity);
  return Math.sqrt((8 * height) / gravity);
}
