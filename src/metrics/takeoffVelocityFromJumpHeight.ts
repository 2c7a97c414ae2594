import { STANDARD_GRAVITY } from "../constants.ts";
import { requireAboveZero, requireZeroOrMore } from "../guards.ts";

/**
 * Take-off velocity of a jump of known height: `takeoffVelocity = sqrt(2 gravity height)`.
 *
 * Free flight without air resistance.
 *
 * @param height Rise of the centre of mass above its height at take-off, in m; zero or more.
 * @param gravity Local gravity, in m/s^2; more than zero.
 * @returns Upward velocity of the centre of mass at take-off, in m/s.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if height is negative or gravity is not positive.
 * @see Linthorne (2001).
 */
export function takeoffVelocityFromJumpHeight(height: number, gravity: number = STANDARD_GRAVITY): number {
  requireZeroOrMore("take-off velocity", "a height", height);
  requireAboveZero("take-off velocity", "gravity", gravity);
  return Math.sqrt(2 * gravity * height);
}
