import { STANDARD_GRAVITY } from "../constants.ts";
import { InputError } from "../errors.ts";
import { requireAboveZero, requireCount } from "../guards.ts";

/**
 * Mean mechanical power of repeated jumps from times:
 * `power / mass = gravity^2 flightTime totalTime / (4 hops (totalTime - flightTime))`.
 *
 * Assumes constant acceleration in each half of every contact and take-off and
 * landing at the same height. `totalTime` runs from the first touchdown to the last
 * landing; each of the `hops` contacts is followed by its flight, so the flight
 * of a preparatory jump is not counted.
 *
 * @param totalTime Time from the first touchdown to the last landing, in s; more than flightTime.
 * @param flightTime Sum of the flights after the contacts, in s; more than zero.
 * @param hops Number of contacts, no unit; one or more.
 * @param gravity Local gravity, in m/s^2; more than zero.
 * @returns Mean mechanical power per kilogram of body mass, in W/kg.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if a time, the number of hops or gravity is out of the limits above.
 * @see Bosco, Luhtanen & Komi (1983), formula re-derived.
 */
export function hopPower(totalTime: number, flightTime: number, hops: number, gravity: number = STANDARD_GRAVITY): number {
  requireAboveZero("hop power", "a flight time", flightTime);
  requireAboveZero("hop power", "a total time", totalTime);
  requireCount("hop power", "the number of hops", hops, 1);
  requireAboveZero("hop power", "gravity", gravity);
  if (totalTime <= flightTime) {
    throw new InputError("out-of-range", "hop power requires a total time longer than the time in the air");
  }
  return (gravity ** 2 * flightTime * totalTime) / (4 * hops * (totalTime - flightTime));
}
