import type { PhaseFormulas } from "./formulas.ts";
import type { SideForce, Trial } from "./Trial.ts";
import { type Quantity, SIDES } from "./workings.ts";
import { valueAt } from "../events/crossing.ts";
import { impulse } from "../motion/integrate.ts";
import { GAIN, NOISE, ROUNDING, SAMPLING } from "../uncertainty/sources.ts";

/** A sample within so many noises of an extreme could have been it; one this far below ends the search. */
const RIVAL = 3;
const CLEARLY_BELOW = 6;

/** Index of the largest sample with start <= t < end (s); -1 where there is none. */
export function largestAt(force: Float64Array, start: number, end: number, rate: number): number {
  const last = Math.min(force.length, Math.ceil(end * rate - 1e-6));
  let at = -1;
  let largest = -Infinity;
  for (let i = Math.max(0, Math.ceil(start * rate - 1e-6)); i < last; i++) {
    if (force[i]! > largest) {
      largest = force[i]!;
      at = i;
    }
  }
  return at;
}

/** Index of the smallest sample with start <= t < end (s); -1 where there is none. */
export function smallestAt(force: Float64Array, start: number, end: number, rate: number): number {
  const last = Math.min(force.length, Math.ceil(end * rate - 1e-6));
  let at = -1;
  let smallest = Infinity;
  for (let i = Math.max(0, Math.ceil(start * rate - 1e-6)); i < last; i++) {
    if (force[i]! < smallest) {
      smallest = force[i]!;
      at = i;
    }
  }
  return at;
}

/** Force of one side at a position between samples, with its zero taken off, N. */
export function sideValue(side: SideForce, position: number, rate: number): number {
  return valueAt(side.force, position) - side.offset - side.slope * (position / rate - side.middle);
}

/** Impulse of one side between two times, with its zero taken off, N s. */
export function sideImpulse(side: SideForce, start: number, end: number, rate: number): number {
  const length = end - start;
  return impulse(side.force, start, end, rate) - length * (side.offset + side.slope * ((start + end) / 2 - side.middle));
}

/** Where a force is largest (1) or smallest (-1). */
type Sign = 1 | -1;

/** An extreme of a force: its position in samples, which is a sample or an end of the stretch between two samples. */
interface Extreme {
  readonly at: number;
  readonly quantity: Quantity;
}

/**
 * Largest (or smallest) force of the sum and of each side over a stretch of time, its ends with it: a force that still rises at the end
 * of a phase is largest there, between two samples.
 *
 * @returns Position in samples, and the value; undefined where the stretch holds no sample.
 */
export function extremeForce(trial: Trial, formulas: PhaseFormulas, start: Quantity, end: Quantity, needs: number, sign: Sign = 1): Extreme | undefined {
  const { work, left, right } = trial;
  const sum = extremeOf(trial, undefined, start, end, needs, sign);
  if (sum === undefined) return undefined;
  work.measured(formulas.sum, sum.quantity, start, end);
  if (left !== undefined && right !== undefined) {
    work.measured(formulas.left, extremeOf(trial, left, start, end, needs | SIDES, sign)!.quantity, start, end);
    work.measured(formulas.right, extremeOf(trial, right, start, end, needs | SIDES, sign)!.quantity, start, end);
  }
  return sum;
}

/** The extreme of the sum, or of a side, among the samples of a stretch of time and its two ends; undefined where there is no sample. */
function extremeOf(trial: Trial, side: SideForce | undefined, start: Quantity, end: Quantity, needs: number, sign: Sign): Extreme | undefined {
  const { rate } = trial;
  const force = side === undefined ? trial.force : side.force;
  const sample = sign > 0 ? largestAt(force, start.value, end.value, rate) : smallestAt(force, start.value, end.value, rate);
  if (sample < 0) return undefined;
  let at = sample;
  let value = side === undefined ? force[sample]! : sideValue(side, sample, rate);
  let instant = start;
  const atStart = valueAtEnd(trial, side, start.value * rate, Math.ceil(start.value * rate - 1e-6));
  if (sign * (atStart - value) > 0) {
    at = start.value * rate;
    value = atStart;
  }
  const atEnd = valueAtEnd(trial, side, end.value * rate, Math.ceil(end.value * rate - 1e-6) - 1);
  if (sign * (atEnd - value) > 0) {
    at = end.value * rate;
    value = atEnd;
    instant = end;
  }
  return extremeQuantity(trial, force, at, value, needs, sign, instant);
}

/**
 * Force at an end of a phase, between samples, N: of the sum, or of a side by its share of the sum at the nearest sample inside the phase. Not a
 * number outside the record.
 */
function valueAtEnd(trial: Trial, side: SideForce | undefined, position: number, inside: number): number {
  const { force, rate } = trial;
  if (!(position >= 0 && position <= force.length - 1)) return NaN;
  if (side === undefined) return valueAt(force, position);
  const whole = force[inside]!;
  const there = sideValue(side, inside, rate);
  return whole === 0 ? there : (there * valueAt(force, position)) / whole;
}

/**
 * An extreme: at a sample the true one may lie between samples, by a part of the step to the next one, and the largest of several noisy
 * samples lies above the force; between samples, at an instant that ends the stretch, the doubt of that instant enters.
 */
function extremeQuantity(trial: Trial, force: Float64Array, at: number, value: number, needs: number, sign: Sign, instant: Quantity): Extreme {
  const { work, rate } = trial;
  const extreme = trial.forceQuantity(value, needs);
  if (!Number.isInteger(at)) return { at, quantity: work.widened(extreme, instant, slopeAt(force, at, rate)) };
  const before = force[Math.max(0, at - 1)]!;
  const after = force[Math.min(force.length - 1, at + 1)]!;
  work.put(extreme, SAMPLING, Math.max(Math.abs(force[at]! - before), Math.abs(force[at]! - after)) / 4);
  work.put(extreme, NOISE, trial.noise * ofSeveral(rivals((i) => sign * force[i]!, at, force.length, trial.noise)));
  return { at, quantity: extreme };
}

/** Samples around an extreme (itself included) that are within three noises of it: any of them could have been the largest. */
export function rivals(valueOf: (i: number) => number, at: number, length: number, noise: number): number {
  if (noise === 0) return 1;
  const top = valueOf(at);
  let count = 1;
  for (let i = at + 1; i < length; i++) {
    const below = top - valueOf(i);
    if (below > CLEARLY_BELOW * noise) break;
    if (below < RIVAL * noise) count++;
  }
  for (let i = at - 1; i >= 0; i--) {
    const below = top - valueOf(i);
    if (below > CLEARLY_BELOW * noise) break;
    if (below < RIVAL * noise) count++;
  }
  return count;
}

/**
 * Root mean square of the largest of `n` normal deviates, rounded up: 1 for one, 2.06 for ten, 2.73 for a hundred, 3.27 for a thousand
 * (by integration of the density 1, 1.65, 2.54, 3.26).
 */
export function ofSeveral(n: number): number {
  return Math.sqrt(1 + 1.4 * Math.log(n));
}

/**
 * Gross impulse of each side over a phase, and the mean force of the sum and of each side; the sum's net impulse is mass times change of
 * velocity. The doubt of the ends is in all of them.
 */
export function phaseForces(trial: Trial, impulses: PhaseFormulas, means: PhaseFormulas, start: Quantity, end: Quantity, needs: number): void {
  const length = end.value - start.value;
  if (!(length > 0)) return;
  const { work, rate, force, left, right } = trial;
  const total = impulse(force, start.value, end.value, rate);
  const mean = total / length;
  const ofSum = (): Quantity => meanQuantity(trial, mean, valueAt(force, start.value * rate), valueAt(force, end.value * rate), start, end, needs);
  if (left === undefined || right === undefined) {
    work.measured(means.sum, ofSum(), start, end);
    return;
  }
  const ofLeft = sideImpulse(left, start.value, end.value, rate);
  // What the sum has beside the left is the right: no third pass.
  const ofRight = total - ofLeft;
  work.measured(impulses.left, impulseQuantity(trial, left, ofLeft, start, end, needs), start, end);
  work.measured(impulses.right, impulseQuantity(trial, right, ofRight, start, end, needs), start, end);
  work.measured(means.sum, ofSum(), start, end);
  const meanOf = (side: SideForce, total: number): Quantity =>
    meanQuantity(trial, total / length, sideValue(side, start.value * rate, rate), sideValue(side, end.value * rate, rate), start, end, needs | SIDES);
  work.measured(means.left, meanOf(left, ofLeft), start, end);
  work.measured(means.right, meanOf(right, ofRight), start, end);
}

/** A mean force between two instants, with the force at each. */
function meanQuantity(trial: Trial, mean: number, atStart: number, atEnd: number, start: Quantity, end: Quantity, needs: number): Quantity {
  const { work, rate } = trial;
  const length = end.value - start.value;
  const bare = trial.forceQuantity(mean, needs, Math.max(1, length * rate));
  return work.widened(bare, start, (mean - atStart) / length, end, (atEnd - mean) / length);
}

/** Gross impulse of each side over a stretch of time, with the doubt of its ends. */
export function sideImpulses(trial: Trial, formulas: PhaseFormulas, start: Quantity, end: Quantity, needs: number): void {
  const { work, left, right } = trial;
  if (left === undefined || right === undefined || !(end.value > start.value)) return;
  work.measured(formulas.left, sideImpulseQuantity(trial, left, start, end, needs), start, end);
  work.measured(formulas.right, sideImpulseQuantity(trial, right, start, end, needs), start, end);
}

/** Gross impulse of one side between two instants, N s. */
export function sideImpulseQuantity(trial: Trial, side: SideForce, start: Quantity, end: Quantity, needs: number): Quantity {
  return impulseQuantity(trial, side, sideImpulse(side, start.value, end.value, trial.rate), start, end, needs);
}

function impulseQuantity(trial: Trial, side: SideForce, total: number, start: Quantity, end: Quantity, needs: number): Quantity {
  const { work, rate } = trial;
  const length = end.value - start.value;
  const mean = trial.forceQuantity(total / length, needs | SIDES, Math.max(1, length * rate));
  return work.linear(total, needs, mean, length, start, -sideValue(side, start.value * rate, rate), end, sideValue(side, end.value * rate, rate));
}

/** Force of the sum and of each side at an instant. */
export function forceAt(trial: Trial, formulas: PhaseFormulas, time: Quantity): Quantity {
  const { work, left, right } = trial;
  const quantity = work.measured(formulas.sum, forceQuantityAt(trial, time), time);
  if (left !== undefined && right !== undefined) {
    work.measured(formulas.left, sideAtInstant(trial, left, time), time);
    work.measured(formulas.right, sideAtInstant(trial, right, time), time);
  }
  return quantity;
}

/** Force of the sum at an instant, with what the doubt of the instant adds, N. */
export function forceQuantityAt(trial: Trial, time: Quantity): Quantity {
  const position = time.value * trial.rate;
  const value = valueAt(trial.force, position);
  return trial.work.widened(trial.forceQuantity(value, time.needs), time, slopeAt(trial.force, position, trial.rate));
}

/** Slope of a force around a position between samples, N/s. */
function slopeAt(force: Float64Array, position: number, rate: number): number {
  return (valueAt(force, position + 1) - valueAt(force, position - 1)) * 0.5 * rate;
}

/**
 * Force of one side at an instant, with what the doubt of the instant adds, N.
 *
 * @param back Samples before the instant over which the slope is taken; absent: around it.
 */
export function sideAtInstant(trial: Trial, side: SideForce, time: Quantity, back?: number): Quantity {
  const { work, rate } = trial;
  const position = time.value * rate;
  const value = sideValue(side, position, rate);
  const slope = back === undefined ? slopeAt(side.force, position, rate) : ((valueAt(side.force, position) - valueAt(side.force, position - back)) * rate) / back;
  return work.widened(trial.forceQuantity(value, time.needs | SIDES), time, slope);
}

/** The largest rise of a force over a moving window. */
export interface Rise {
  /** N/s. */
  readonly rate: number;
  /** Length of the window, s. */
  readonly seconds: number;
  /** First sample of the window. */
  readonly at: number;
  /** Windows beside it whose rise noise could have made the largest; itself among them. */
  readonly rivals: number;
}

/**
 * Largest rise of the force over a moving window.
 *
 * @param force Force, N. @param start s. @param end Last start of a window, s. @param window Length, s. @param rate Hz.
 * @param noise White noise of the force, N.
 * @returns The rise; undefined where the window does not fit.
 */
export function steepestRise(force: Float64Array, start: number, end: number, window: number, rate: number, noise: number): Rise | undefined {
  const width = Math.max(1, Math.round(window * rate));
  const last = Math.min(force.length - width, Math.ceil(end * rate));
  let steepest = -Infinity;
  let at = -1;
  for (let i = Math.max(0, Math.ceil(start * rate - 1e-6)); i < last; i++) {
    const rise = force[i + width]! - force[i]!;
    if (rise > steepest) {
      steepest = rise;
      at = i;
    }
  }
  if (at < 0) return undefined;
  const alike = rivals((i) => force[i + width]! - force[i]!, at, force.length - width, Math.SQRT2 * noise);
  return { rate: (steepest * rate) / width, seconds: width / rate, at, rivals: alike };
}

/** A rate of force development between two samples: their noise does not cancel, their zero does; the largest of several lies above the force. */
export function riseQuantity(trial: Trial, rise: Pick<Rise, "rate" | "seconds" | "rivals">, needs: number): Quantity {
  const { rate, seconds } = rise;
  return trial.work.quantity(
    rate, needs,
    NOISE, (Math.SQRT2 * trial.noise * ofSeveral(rise.rivals)) / seconds,
    GAIN, rate * trial.uGain,
    ROUNDING, (Math.SQRT2 * trial.uRounding) / seconds,
  );
}
