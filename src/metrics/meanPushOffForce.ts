import { STANDARD_GRAVITY } from "../constants.ts";
import { requireAboveZero, requireZeroOrMore } from "../guards.ts";

/**
 * Mean vertical force of a push-off from jump height: `force = mass gravity (height / pushOff + 1)`.
 *
 * Work and energy over the push-off from rest: the mean is over distance.
 *
 * @param mass Total moving mass, load included, in kg; more than zero.
 * @param height Rise of the centre of mass above take-off, in m; zero or more.
 * @param pushOff Distance that the centre of mass travels from its lowest point to take-off, in m; more than zero.
 * @param gravity Local gravity, in m/s^2; more than zero.
 * @returns Mean force, in N.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if an argument is out of the limits above.
 * @see Samozino et al. (2008), equation re-derived.
 */
export function meanPushOffForce(mass: number, height: number, pushOff: number, gravity: number = STANDARD_GRAVITY): number {
  requireAboveZero("mean force of the push-off", "a mass", mass);
  requireZeroOrMore("mean force of the push-off", "a height", height);
  requireAboveZero("mean force of the push-off", "a push-off distance", pushOff);
  requireAboveZero("mean force of the push-off", "gravity", gravity);
  return mass * gravity * (height / pushOff + 1);
}
