import { STANDARD_GRAVITY } from "../constants.ts";
import { requireAboveZero, requireZeroOrMore } from "../guards.ts";

/**
 * Velocity at touchdown after a fall from rest: `touchdownVelocity = -sqrt(2 gravity dropHeight)`.
 *
 * Assumes that the centre of mass starts at rest and falls the whole height. A
 * person who steps down or jumps up from a box falls less or more than its height.
 *
 * @param dropHeight Height that the centre of mass falls, in m; zero or more.
 * @param gravity Local gravity, in m/s^2; more than zero.
 * @returns Velocity at touchdown, in m/s; negative, since up is positive.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if dropHeight is negative or gravity is not positive.
 * @see Baca (1999); McMahon et al. (2021).
 */
export function touchdownVelocityFromDropHeight(dropHeight: number, gravity: number = STANDARD_GRAVITY): number {
  requireZeroOrMore("touchdown velocity", "a drop height", dropHeight);
  requireAboveZero("touchdown velocity", "gravity", gravity);
  return 0 - Math.sqrt(2 * gravity * dropHeight);
}
