import { STANDARD_GRAVITY } from "../constants.ts";
import { requireAboveZero, requireZeroOrMore } from "../guards.ts";

/**
 * Jump height from take-off velocity: `height = takeoffVelocity^2 / (2 gravity)`.
 *
 * The kinetic energy of the centre of mass at take-off becomes height. The
 * posture at landing plays no part.
 *
 * @param takeoffVelocity Upward velocity of the centre of mass at take-off, in m/s; zero or more.
 * @param gravity Local gravity, in m/s^2; more than zero.
 * @returns Rise of the centre of mass above its height at take-off, in m.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if takeoffVelocity is negative or gravity is not positive.
 * @see Linthorne (2001), impulse-momentum method; Moir (2008).
 */
export function jumpHeightFromTakeoffVelocity(takeoffVelocity: number, gravity: number = STANDARD_GRAVITY): number {
  requireZeroOrMore("jump height", "a take-off velocity", takeoffVelocity);
  requireAboveZero("jump height", "gravity", gravity);
  return takeoffVelocity ** 2 / (2 * gravity);
}
