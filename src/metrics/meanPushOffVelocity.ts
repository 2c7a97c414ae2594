import { STANDARD_GRAVITY } from "../constants.ts";
import { requireAboveZero, requireZeroOrMore } from "../guards.ts";

/**
 * Mean vertical velocity of a push-off from jump height: `velocity = sqrt(gravity height / 2)`.
 *
 * Half of the take-off velocity: exact for constant acceleration from rest.
 *
 * @param height Rise of the centre of mass above take-off, in m; zero or more.
 * @param gravity Local gravity, in m/s^2; more than zero.
 * @returns Mean velocity, in m/s.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if height is negative or gravity is not positive.
 * @see Samozino et al. (2008), equation re-derived.
 */
export function meanPushOffVelocity(height: number, gravity: number = STANDARD_GRAVITY): number {
  requireZeroOrMore("mean velocity of the push-off", "a height", height);
  requireAboveZero("mean velocity of the push-off", "gravity", gravity);
  return Math.sqrt((gravity * height) / 2);
}
