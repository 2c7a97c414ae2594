import { requireAboveZero } from "../guards.ts";

/**
 * Vertical stiffness in hopping from times:
 * `stiffness = mass pi (flightTime + contactTime) / (contactTime^2 ((flightTime + contactTime) / pi - contactTime / 4))`.
 *
 * Takes the force during contact as half a sine wave, which needs a symmetric
 * contact without an impact peak.
 *
 * @param mass Body mass, in kg; more than zero.
 * @param flightTime Flight time, in s; more than zero.
 * @param contactTime Ground contact time, in s; more than zero.
 * @returns Vertical stiffness, in N/m. Gravity cancels.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if an argument is not positive.
 * @see Dalleau et al. (2004), formula re-derived.
 */
export function hopStiffness(mass: number, flightTime: number, contactTime: number): number {
  requireAboveZero("hop stiffness", "a body mass", mass);
  requireAboveZero("hop stiffness", "a flight time", flightTime);
  requireAboveZero("hop stiffness", "a contact time", contactTime);
  const period = flightTime + contactTime;
  return (mass * Math.PI * period) / (contactTime ** 2 * (period / Math.PI - contactTime / 4));
}
