import { STANDARD_GRAVITY } from "../constants.ts";
import { meanPushOffForce } from "./meanPushOffForce.ts";
import { meanPushOffVelocity } from "./meanPushOffVelocity.ts";

/**
 * Mean power of a push-off from jump height: `power = force * velocity` of the two means.
 *
 * @param mass Total moving mass, load included, in kg; more than zero.
 * @param height Rise of the centre of mass above take-off, in m; zero or more.
 * @param pushOff Distance that the centre of mass travels from its lowest point to take-off, in m; more than zero.
 * @param gravity Local gravity, in m/s^2; more than zero.
 * @returns Mean power, in W.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if an argument is out of the limits above.
 * @see Samozino et al. (2008), equation re-derived.
 */
export function meanPushOffPower(mass: number, height: number, pushOff: number, gravity: number = STANDARD_GRAVITY): number {
  return meanPushOffForce(mass, height, pushOff, gravity) * meanPushOffVelocity(height, gravity);
}
