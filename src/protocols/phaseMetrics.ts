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

/**
 * Largest (or smallest) force of the sum and of each side over a stretch of time, its ends with it: a force that still rises at the end
 * of a phase is largest there, between two samples.
 *
 * @returns Position in samples, and the value; undefined where the stretch holds no sample.
 */
export function extremeForce(
  trial: Trial,
  formulas: PhaseFormulas,
  start: Quantity,
  end: Quantity,
  needs: number,
  sign: Sign = 1,
): { at: number; quantity: Quantity } | undefined {
  const { work, rate, force } = trial;
  const sum = extremeAt(force, (i) => force[i]!, (position) => valueAt(force, position), start.value, end.value, rate, sign);
  if (sum === undefined) return undefined;
  const quantity = work.measured(formulas.sum, extremeQuantity(trial, force, sum, needs, sign, start, end), start, end);
  eachSide(trial, formulas, (side) => {
    const extreme = extremeAt(
      side.force, (i) => sideValue(side, i, rate), (position, inside) => sideAtEnd(trial, side, position, inside), start.value, end.value, rate, sign,
    );
    return extreme === undefined ? undefined : extremeQuantity(trial, side.force, extreme, needs | SIDES, sign, start, end);
  }, start, end);
  return { at: sum.at, quantity };
}

/** Force of one side at an end of a phase: its share of the sum at the nearest sample of the phase, N. */
function sideAtEnd(trial: Trial, side: SideForce, position: number, inside: number): number {
  const whole = trial.force[inside]!;
  const there = sideValue(side, inside, trial.rate);
  return whole === 0 ? there : (there * valueAt(trial.force, position)) / whole;
}

interface Extreme {
  /** Position in samples: a sample, or an end of the stretch between two samples. */
  readonly at: number;
  readonly value: number;
}

/** The extreme of a stretch of time, among its samples and its two ends; undefined where there is no sample. */
function extremeAt(
  force: Float64Array,
  atSample: (i: number) => number,
  atEnd: (position: number, inside: number) => number,
  start: number,
  end: number,
  rate: number,
  sign: Sign,
): Extreme | undefined {
  const sample = (sign > 0 ? largestAt : smallestAt)(force, start, end, rate);
  if (sample < 0) return undefined;
  let extreme: Extreme = { at: sample, value: atSample(sample) };
  for (const [position, inside] of [[start * rate, Math.ceil(start * rate - 1e-6)], [end * rate, Math.ceil(end * rate - 1e-6) - 1]] as const) {
    if (!(position >= 0 && position <= force.length - 1)) continue;
    const value = atEnd(position, inside);
    if (sign * (value - extreme.value) > 0) extreme = { at: position, value };
  }
  return extreme;
}

/**
 * An extreme: at a sample the true one may lie between samples, by a part of the step to the next one, and the largest of several noisy
 * samples lies above the force; at an end of the stretch the doubt of that instant enters.
 */
function extremeQuantity(trial: Trial, force: Float64Array, { at, value }: Extreme, needs: number, sign: Sign, start: Quantity, end: Quantity): Quantity {
  const { work, rate } = trial;
  const extreme = trial.forceQuantity(value, needs);
  if (!Number.isInteger(at)) return work.combined(value, needs, extreme, at === start.value * rate ? start : end, slopeAt(force, at, rate));
  const before = force[Math.max(0, at - 1)]!;
  const after = force[Math.min(force.length - 1, at + 1)]!;
  work.put(extreme, SAMPLING, Math.max(Math.abs(force[at]! - before), Math.abs(force[at]! - after)) / 4);
  work.put(extreme, NOISE, trial.noise * ofSeveral(rivals((i) => sign * force[i]!, at, force.length, trial.noise)));
  return extreme;
}

/** Samples around an extreme (itself included) that are within three noises of it: any of them could have been the largest. */
export function rivals(valueOf: (i: number) => number, at: number, length: number, noise: number): number {
  if (noise === 0) return 1;
  const top = valueOf(at);
  let count = 1;
  for (const step of [1, -1]) {
    for (let i = at + step; i >= 0 && i < length; i += step) {
      const below = top - valueOf(i);
      if (below > CLEARLY_BELOW * noise) break;
      if (below < RIVAL * noise) count++;
    }
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

/** Mean force of the sum and of each side over a stretch of time; the doubt of its ends is in it. */
export function meanForce(trial: Trial, formulas: PhaseFormulas, start: Quantity, end: Quantity, needs: number): void {
  const length = end.value - start.value;
  if (!(length > 0)) return;
  const { work, rate, force } = trial;
  const count = Math.max(1, length * rate);
  const mean = impulse(force, start.value, end.value, rate) / length;
  const atStart = (mean - valueAt(force, start.value * rate)) / length;
  const atEnd = (valueAt(force, end.value * rate) - mean) / length;
  const withStart = work.combined(mean, needs, trial.forceQuantity(mean, needs, count), start, atStart);
  work.measured(formulas.sum, work.combined(mean, needs, withStart, end, atEnd), start, end);
  eachSide(trial, formulas, (side) => sideMean(trial, side, start, end, needs), start, end);
}

/** Mean force of one side over a stretch of time, with the doubt of its ends. */
function sideMean(trial: Trial, side: SideForce, start: Quantity, end: Quantity, needs: number): Quantity {
  const { work, rate } = trial;
  const length = end.value - start.value;
  const mean = sideImpulse(side, start.value, end.value, rate) / length;
  const bare = trial.forceQuantity(mean, needs | SIDES, Math.max(1, length * rate));
  const withStart = work.combined(mean, needs, bare, start, (mean - sideValue(side, start.value * rate, rate)) / length);
  return work.combined(mean, needs, withStart, end, (sideValue(side, end.value * rate, rate) - mean) / length);
}

/** Gross impulse of each side over a stretch of time, with the doubt of its ends; the sum's net impulse is mass times change of velocity. */
export function sideImpulses(trial: Trial, formulas: PhaseFormulas, start: Quantity, end: Quantity, needs: number): void {
  const length = end.value - start.value;
  if (!(length > 0)) return;
  eachSide(trial, formulas, (side) => sideImpulseQuantity(trial, side, start, end, needs), start, end);
}

/** Gross impulse of one side between two instants, N s. */
export function sideImpulseQuantity(trial: Trial, side: SideForce, start: Quantity, end: Quantity, needs: number): Quantity {
  const { work, rate } = trial;
  const length = end.value - start.value;
  const total = sideImpulse(side, start.value, end.value, rate);
  const mean = trial.forceQuantity(total / length, needs | SIDES, Math.max(1, length * rate));
  const bare = work.combined(total, mean.needs, mean, mean, length - 1);
  const withStart = work.combined(total, needs, bare, start, -sideValue(side, start.value * rate, rate));
  return work.combined(total, needs, withStart, end, sideValue(side, end.value * rate, rate));
}

/** Force of the sum and of each side at an instant. */
export function forceAt(trial: Trial, formulas: PhaseFormulas, time: Quantity): Quantity {
  const { work } = trial;
  const quantity = work.measured(formulas.sum, forceQuantityAt(trial, time), time);
  eachSide(trial, formulas, (side) => sideAtInstant(trial, side, time), time);
  return quantity;
}

/** Force of the sum at an instant, with what the doubt of the instant adds, N. */
export function forceQuantityAt(trial: Trial, time: Quantity): Quantity {
  const position = time.value * trial.rate;
  const value = valueAt(trial.force, position);
  return trial.work.combined(value, time.needs, trial.forceQuantity(value, time.needs), time, slopeAt(trial.force, position, trial.rate));
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
  return work.combined(value, time.needs | SIDES, trial.forceQuantity(value, time.needs | SIDES), time, slope);
}

function eachSide(trial: Trial, formulas: PhaseFormulas, measure: (side: SideForce) => Quantity | undefined, ...inputs: Quantity[]): void {
  const { left, right, work } = trial;
  if (left === undefined || right === undefined) return;
  const ofLeft = measure(left);
  const ofRight = measure(right);
  if (ofLeft !== undefined) work.measured(formulas.left, ofLeft, ...inputs);
  if (ofRight !== undefined) work.measured(formulas.right, ofRight, ...inputs);
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
