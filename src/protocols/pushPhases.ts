import type { Crossing } from "./flightOf.ts";
import * as formulas from "./formulas.ts";
import type { Kinematics } from "./Kinematics.ts";
import { extremeForce, ofSeveral, phaseForces, rivals } from "./phaseMetrics.ts";
import type { Trial } from "./Trial.ts";
import { INTEGRAL, type Quantity, TIMES, WEIGHT } from "./workings.ts";

const INTEGRATED = TIMES | WEIGHT | INTEGRAL;

/** The way to take-off: motion, take-off, and velocity and displacement there. */
export interface Push {
  readonly kinematics: Kinematics;
  readonly takeoff: Crossing;
  readonly velocity: Quantity;
  readonly displacement: Quantity;
}

/** An instant with the velocity and displacement at it. Written out field by field: the engine gives each copy by spreading a layout of its own. */
export interface Turn {
  readonly instant: Quantity;
  readonly velocity: Quantity;
  readonly displacement: Quantity;
}

/** Velocity at take-off, with what the doubt of the instant adds. */
export function takeoffVelocity(trial: Trial, kinematics: Kinematics, takeoff: Crossing): Quantity {
  const bare = kinematics.velocity(takeoff.time);
  return trial.work.widened(bare, takeoff.quantity, takeoffAcceleration(trial));
}

/** Acceleration of the body at take-off, where the force is at its threshold, m/s^2. */
export function takeoffAcceleration(trial: Trial): number {
  return ((trial.facts.threshold ?? 0) / trial.weight!.value - 1) * trial.gravity.value;
}

/** Where the velocity comes back to zero after sample `from` of the motion; undefined where it does not before `last`. */
export function lowestPoint(trial: Trial, kinematics: Kinematics, from: number, last: number): { instant: Quantity; velocity: Quantity } | undefined {
  const v = kinematics.motion.velocity;
  let k = Math.max(1, from);
  while (k <= last && v[k]! < 0) k++;
  if (k > last || v[k - 1]! >= 0) return undefined;
  const step = v[k]! - v[k - 1]!;
  const time = trial.event("lowest", (kinematics.motion.start + k - 1 - v[k - 1]! / step) / trial.rate);
  const still = kinematics.velocityOf(0, time);
  // The velocity is zero there by definition: what is not known of it is in the instant.
  return { instant: kinematics.instant(time, still, step * trial.rate), velocity: trial.work.exact(0, INTEGRATED) };
}

/** Braking from a turn (or touchdown) to the lowest point. */
export function braking(trial: Trial, kinematics: Kinematics, from: Turn, lowest: Turn, timeFormula = formulas.brakingTime): void {
  const { work } = trial;
  const start = from.instant.value;
  const end = lowest.instant.value;
  const time = work.give(timeFormula, lowest.instant, from.instant);
  const dz = work.give(formulas.brakingDisplacement, lowest.displacement, from.displacement);
  if (!(time.value > 0)) return;
  trial.phase("braking", start, end);
  work.give(formulas.meanVelocityBraking, dz, time);
  const perKilogram = work.give(formulas.brakingWork, lowest.velocity, from.velocity, trial.gravity, dz);
  work.give(formulas.meanPowerBraking, trial.mass!, perKilogram, time);
  work.give(formulas.brakingImpulse.sum, trial.mass!, lowest.velocity, from.velocity);
  phaseForces(trial, formulas.brakingImpulse, formulas.meanForceBraking, from.instant, lowest.instant, INTEGRATED);
  extremeForce(trial, formulas.peakForceBraking, from.instant, lowest.instant, INTEGRATED);
  const least = extremePower(trial, kinematics, start, end, -1);
  if (least !== undefined) work.measured(formulas.minimumPowerBraking, least, from.instant, lowest.instant);
}

/** Propulsion from the lowest point (or the onset of the push) to take-off. */
export function propulsion(trial: Trial, push: Push, from: Turn, timeFormula = formulas.propulsionTime): void {
  const { work } = trial;
  const { kinematics, takeoff, velocity, displacement } = push;
  const start = from.instant.value;
  const time = work.give(timeFormula, takeoff.quantity, from.instant);
  const dz = work.give(formulas.propulsionDisplacement, displacement, from.displacement);
  if (!(time.value > 0)) return;
  trial.phase("propulsion", start, takeoff.time);
  work.give(formulas.meanVelocityPropulsion, dz, time);
  const perKilogram = work.give(formulas.propulsionWork, velocity, from.velocity, trial.gravity, dz);
  work.give(formulas.meanPowerPropulsion, trial.mass!, perKilogram, time);
  work.give(formulas.propulsionImpulse.sum, trial.mass!, velocity, from.velocity);
  phaseForces(trial, formulas.propulsionImpulse, formulas.meanForcePropulsion, from.instant, takeoff.quantity, INTEGRATED);
  extremeForce(trial, formulas.peakForcePropulsion, from.instant, takeoff.quantity, INTEGRATED);
  const most = extremePower(trial, kinematics, start, takeoff.time, 1);
  if (most !== undefined) work.measured(formulas.peakPower, most, from.instant, takeoff.quantity);
}

/** The largest (sign 1) or most negative (sign -1) power at a sample between two times; undefined where there is none. */
function extremePower(trial: Trial, kinematics: Kinematics, start: number, end: number, sign: 1 | -1): Quantity | undefined {
  const { force, rate } = trial;
  const { velocity, start: first } = kinematics.motion;
  const last = Math.min(first + velocity.length, Math.ceil(end * rate - 1e-6));
  let at = -1;
  let extreme = -Infinity;
  for (let i = Math.max(first, Math.ceil(start * rate - 1e-6)); i < last; i++) {
    const power = sign * force[i]! * velocity[i - first]!;
    if (power > extreme) {
      extreme = power;
      at = i;
    }
  }
  if (at < 0) return undefined;
  const powerAt = (i: number): number => (i < first || i - first >= velocity.length ? -Infinity : sign * force[i]! * velocity[i - first]!);
  return kinematics.power(at, ofSeveral(rivals(powerAt, at, force.length, trial.noise * Math.abs(velocity[at - first]!))));
}
