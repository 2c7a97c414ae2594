import type { PhaseFormulas } from "./formulas.ts";
import type { SideForce, Trial } from "./Trial.ts";
import { type Quantity, SIDES } from "./workings.ts";
import { valueAt } from "../events/crossing.ts";
import { impulse } from "../motion/integrate.ts";
import { GAIN, NOISE, ROUNDING, SAMPLING } from "../uncertainty/sources.ts";

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

type Extreme = (force: Float64Array, start: number, end: number, rate: number) => number;

/** Largest (or smallest) force of the sum and of each side over a stretch of time. Returns the sample and the value. */
export function extremeForce(
  trial: Trial,
  formulas: PhaseFormulas,
  start: number,
  end: number,
  needs: number,
  extreme: Extreme = largestAt,
): { at: number; quantity: Quantity } | undefined {
  const { work, rate } = trial;
  const at = extreme(trial.force, start, end, rate);
  if (at < 0) return undefined;
  const from = work.exact(start);
  const to = work.exact(end);
  const quantity = work.measured(formulas.sum, extremeQuantity(trial, trial.force, at, trial.force[at]!, needs), from, to);
  eachSide(trial, formulas, (side) => {
    const sideAt = extreme(side.force, start, end, rate);
    return sideAt < 0 ? undefined : extremeQuantity(trial, side.force, sideAt, sideValue(side, sideAt, rate), needs | SIDES);
  }, from, to);
  return { at, quantity };
}

/** An extreme sample: the true extreme may lie between samples, by a part of the step to the next one. */
function extremeQuantity(trial: Trial, force: Float64Array, at: number, value: number, needs: number): Quantity {
  const before = force[Math.max(0, at - 1)]!;
  const after = force[Math.min(force.length - 1, at + 1)]!;
  const sampling = Math.max(Math.abs(force[at]! - before), Math.abs(force[at]! - after)) / 4;
  const extreme = trial.forceQuantity(value, needs);
  trial.work.put(extreme, SAMPLING, sampling);
  return extreme;
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
  eachSide(trial, formulas, (side) => trial.forceQuantity(sideImpulse(side, start.value, end.value, rate) / length, needs | SIDES, count), start, end);
}

/** Gross impulse of each side over a stretch of time; the sum's net impulse is mass times change of velocity. */
export function sideImpulses(trial: Trial, formulas: PhaseFormulas, start: number, end: number, needs: number): void {
  const { work, rate } = trial;
  const length = end - start;
  eachSide(trial, formulas, (side) => {
    const mean = trial.forceQuantity(sideImpulse(side, start, end, rate) / length, needs | SIDES, Math.max(1, length * rate));
    return work.combined(mean.value * length, mean.needs, mean, mean, length - 1);
  }, work.exact(start), work.exact(end));
}

/** Force of the sum and of each side at an instant. */
export function forceAt(trial: Trial, formulas: PhaseFormulas, time: Quantity): Quantity {
  const { work, rate } = trial;
  const position = time.value * rate;
  const quantity = work.measured(formulas.sum, trial.forceQuantity(valueAt(trial.force, position), time.needs), time);
  eachSide(trial, formulas, (side) => trial.forceQuantity(sideValue(side, position, rate), time.needs | SIDES), time);
  return quantity;
}

function eachSide(trial: Trial, formulas: PhaseFormulas, measure: (side: SideForce) => Quantity | undefined, ...inputs: Quantity[]): void {
  const { left, right, work } = trial;
  if (left === undefined || right === undefined) return;
  const ofLeft = measure(left);
  const ofRight = measure(right);
  if (ofLeft !== undefined) work.measured(formulas.left, ofLeft, ...inputs);
  if (ofRight !== undefined) work.measured(formulas.right, ofRight, ...inputs);
}

/**
 * Largest rise of the force over a moving window.
 *
 * @param force Force, N. @param start s. @param end Last start of a window, s. @param window Length, s. @param rate Hz.
 * @returns Rate of force development, N/s; undefined where the window does not fit.
 */
export function steepestRise(force: Float64Array, start: number, end: number, window: number, rate: number): number | undefined {
  const width = Math.max(1, Math.round(window * rate));
  const last = Math.min(force.length - width, Math.ceil(end * rate));
  let steepest = -Infinity;
  for (let i = Math.max(0, Math.ceil(start * rate - 1e-6)); i < last; i++) {
    const rise = force[i + width]! - force[i]!;
    if (rise > steepest) steepest = rise;
  }
  return Number.isFinite(steepest) ? (steepest * rate) / width : undefined;
}

/** A rate of force development between two samples: their noise does not cancel, their zero does. */
export function riseQuantity(trial: Trial, rate: number, seconds: number, needs: number): Quantity {
  return trial.work.quantity(
    rate, needs,
    NOISE, (Math.SQRT2 * trial.noise) / seconds,
    GAIN, rate * trial.uGain,
    ROUNDING, (Math.SQRT2 * trial.uRounding) / seconds,
  );
}
