import type { Trial } from "./Trial.ts";
import { INTEGRAL, type Quantity, TIMES, WEIGHT } from "./workings.ts";
import { valueAt } from "../events/crossing.ts";
import type { Motion } from "../motion/integrate.ts";
import { BODY_WEIGHT, GRAVITY, NOISE, ROUNDING, START_VELOCITY, ZERO } from "../uncertainty/sources.ts";

const NEEDS = TIMES | WEIGHT | INTEGRAL;

/**
 * Velocity, displacement and power of one trial with their uncertainty: the motion, and the instant at which its velocity
 * was known. An error of body weight grows with the time from that instant.
 */
export class Kinematics {
  constructor(
    private readonly trial: Trial,
    readonly motion: Motion,
    /** s. */
    private readonly anchorTime: number,
    private readonly anchorVelocity: Quantity,
  ) {}

  /** m/s at a time in s. */
  speed(time: number): number {
    return valueAt(this.motion.velocity, time * this.trial.rate - this.motion.start);
  }

  /** m at a time in s. */
  position(time: number): number {
    return valueAt(this.motion.displacement, time * this.trial.rate - this.motion.start);
  }

  velocity(time: number, needs = 0): Quantity {
    return this.velocityOf(this.speed(time), time, needs);
  }

  /** The same for a value that is known, such as zero at the lowest point. */
  velocityOf(v: number, time: number, needs = 0): Quantity {
    const { trial, anchorVelocity } = this;
    const w = trial.weight!.value;
    const g = trial.gravity.value;
    const t = time - this.anchorTime;
    const change = v - anchorVelocity.value;
    const { work } = trial;
    const gained = work.blank(v, NEEDS | needs);
    const byWeight = -(change + g * t) / w;
    work.put(gained, BODY_WEIGHT, byWeight * trial.uWeight);
    work.put(gained, ROUNDING, byWeight * trial.uRounding);
    work.put(gained, ZERO, (change / w) * trial.uZero);
    work.put(gained, NOISE, (g / w) * trial.noise * Math.sqrt(Math.abs(t) / trial.rate));
    work.put(gained, GRAVITY, change * trial.uGravity);
    return work.widened(gained, anchorVelocity, 1);
  }

  displacement(time: number, needs = 0): Quantity {
    const { trial, anchorVelocity } = this;
    const w = trial.weight!.value;
    const g = trial.gravity.value;
    const t = time - this.anchorTime;
    const z = this.position(time);
    const change = z - this.position(this.anchorTime) - anchorVelocity.value * t;
    const { work } = trial;
    const gained = work.blank(z, NEEDS | needs);
    const byWeight = -(change + 0.5 * g * t * t) / w;
    work.put(gained, BODY_WEIGHT, byWeight * trial.uWeight);
    work.put(gained, ROUNDING, byWeight * trial.uRounding);
    work.put(gained, ZERO, (change / w) * trial.uZero);
    work.put(gained, NOISE, (g / w) * trial.noise * Math.sqrt(Math.abs(t * t * t) / 3 / trial.rate));
    work.put(gained, GRAVITY, change * trial.uGravity);
    return work.widened(gained, anchorVelocity, t);
  }

  /** Displacement at an instant, with what the doubt of the instant adds. */
  displacementAt(instant: Quantity, needs = 0): Quantity {
    const bare = this.displacement(instant.value, needs);
    return this.trial.work.widened(bare, instant, this.speed(instant.value));
  }

  /** Power `F v` at a sample; `noises`: how many times the noise of one sample enters. */
  power(sample: number, noises = 1): Quantity {
    const { trial } = this;
    const f = trial.force[sample]!;
    const v = this.velocity(sample / trial.rate);
    const force = trial.forceQuantity(f, NEEDS);
    trial.work.put(force, NOISE, noises * trial.noise);
    return trial.work.linear(f * v.value, NEEDS, force, v.value, v, f);
  }

  /** An instant at which the velocity has a known value: its doubt is that of the velocity over the acceleration. */
  instant(time: number, velocity: Quantity, acceleration: number): Quantity {
    const least = 0.5;
    const a = Math.abs(acceleration) < least ? least * Math.sign(acceleration || 1) : acceleration;
    return this.trial.work.linear(time, velocity.needs, velocity, -1 / a);
  }
}

/** At rest at a time, but for sway. */
export function restAt(trial: Trial): Quantity {
  return trial.work.quantity(0, NEEDS, START_VELOCITY, trial.uStart);
}
