import { STANDARD_GRAVITY } from "../constants.ts";
import { requireAboveZero } from "../guards.ts";

/** One contact of a mass on a linear spring. */
export interface SpringMassHop {
  /** Ground contact time, s. */
  readonly contactTime: number;
  /** Flight time that follows, s. */
  readonly flightTime: number;
  /** Greatest force of the spring, N. */
  readonly peakForce: number;
  /** Greatest compression of the spring, m. */
  readonly compression: number;
}

/**
 * Contact of a mass on a linear spring, exactly: with `w = sqrt(stiffness / mass)`,
 * `contactTime = (2 / w) (pi - atan(w speed / gravity))` and
 * `peakForce = mass gravity (1 + sqrt(1 + (w speed / gravity)^2))`.
 *
 * The spring is free of mass and loss, so the mass leaves with the speed with which it came.
 *
 * @param mass Body mass, in kg; more than zero.
 * @param stiffness Stiffness of the spring, in N/m; more than zero.
 * @param speed Speed at touchdown and at take-off, in m/s; more than zero.
 * @param gravity Local gravity, in m/s^2; more than zero.
 * @returns Contact time and flight time, in s; peak force, in N; compression, in m.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if an argument is not positive.
 * @see McMahon & Cheng (1990), spring-mass model.
 */
export function springMassHop(mass: number, stiffness: number, speed: number, gravity: number = STANDARD_GRAVITY): SpringMassHop {
  requireAboveZero("spring-mass hop", "a body mass", mass);
  requireAboveZero("spring-mass hop", "a stiffness", stiffness);
  requireAboveZero("spring-mass hop", "a speed", speed);
  requireAboveZero("spring-mass hop", "gravity", gravity);
  const angularFrequency = Math.sqrt(stiffness / mass);
  const ratio = (angularFrequency * speed) / gravity;
  const peakForce = mass * gravity * (1 + Math.sqrt(1 + ratio ** 2));
  return {
    contactTime: (2 / angularFrequency) * (Math.PI - Math.atan(ratio)),
    flightTime: (2 * speed) / gravity,
    peakForce,
    compression: peakForce / stiffness,
  };
}
