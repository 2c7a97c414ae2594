import { STANDARD_GRAVITY } from "../constants.ts";
import { requireAboveZero, requireZeroOrMore } from "../guards.ts";

/**
 * Jump height from flight time: `height = gravity * flightTime^2 / 8`.
 *
 * In the air the body is a projectile that rises for half of the flight. This
 * assumes the same posture at take-off and at landing: landing with bent knees
 * lengthens the flight and overstates the height.
 *
 * @param flightTime Time in the air, in s; zero or more.
 * @param gravity Local gravity, in m/s^2; more than zero.
 * @returns Rise of the centre of mass above its height at take-off, in m.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if flightTime is negative or gravity is not positive.
 * @see Linthorne (2001), flight-time method.
 */
export function jumpHeightFromFlightTime(flightTime: number, gravity: number = STANDARD_GRAVITY): number {
  requireZeroOrMore("jump height", "a flight time", flightTime);
  requireAboveZero("jump height", "gravity", gravity);
  return (gravity * flightTime ** 2) / 8;
}
