import { sumOf } from "./sumOf.ts";

/** What an empty plate reads. */
export interface ZeroReading {
  /** Mean, N. */
  readonly mean: number;
  /** Standard deviation (n - 1), N. */
  readonly sd: number;
  /** Largest distance from the mean, N. */
  readonly peak: number;
  readonly samples: number;
}

const MARGIN_SECONDS = 0.04;
const LEAST_SECONDS = 0.1;
const SHORT_SHARE = 0.6;
const SHORT_LEAST_SECONDS = 0.04;

/**
 * The part of an empty run from which the zero is read: 40 ms inside both ends where 100 ms remain, else the middle
 * 60 % where that is at least 40 ms, else nothing.
 *
 * @param start First sample of the run. @param end Sample after the run. @param rate Sampling rate, Hz.
 * @returns Half-open stretch in samples, or undefined.
 */
export function zeroStretch(start: number, end: number, rate: number): { start: number; end: number } | undefined {
  const margin = Math.ceil(MARGIN_SECONDS * rate);
  if (end - start - 2 * margin >= LEAST_SECONDS * rate) return { start: start + margin, end: end - margin };
  const trim = Math.round(((1 - SHORT_SHARE) / 2) * (end - start));
  if (end - start - 2 * trim >= SHORT_LEAST_SECONDS * rate) return { start: start + trim, end: end - trim };
  return undefined;
}

/**
 * Mean, spread and peak residual of a plate while it is empty.
 *
 * @param force Force of the plate, N. @param start First sample. @param end Sample after the last.
 * @returns The reading, N.
 */
export function zeroReading(force: Float64Array, start: number, end: number): ZeroReading {
  const samples = end - start;
  const mean = sumOf(force, start, end) / samples;
  let square = 0;
  let peak = 0;
  for (let i = start; i < end; i++) {
    const d = force[i]! - mean;
    square += d * d;
    if (d > peak) peak = d;
    else if (-d > peak) peak = -d;
  }
  return { mean, sd: samples > 1 ? Math.sqrt(square / (samples - 1)) : 0, peak, samples };
}

/**
 * Removes a constant and a linear drift: `F - offset - slope (t - middle)`.
 *
 * @param force Force, N.
 * @param offset Reading of the empty plate at `middle`, N.
 * @param slope Drift, N/s.
 * @param middle Time at which the offset holds, s.
 * @param rate Sampling rate, Hz.
 * @param into Where to write, for instance over the force itself; a new array where absent.
 * @returns The corrected force, N.
 */
export function correctedForce(force: Float64Array, offset: number, slope: number, middle: number, rate: number, into?: Float64Array): Float64Array {
  const corrected = into ?? force.slice();
  if (into !== undefined && into !== force) into.set(force);
  if (slope === 0) shift(corrected, -offset);
  else {
    const first = offset - slope * middle;
    const step = slope / rate;
    for (let i = 0; i < corrected.length; i++) corrected[i] = corrected[i]! - first - step * i;
  }
  return corrected;
}

/** Adds a constant to every value, four at a time. */
function shift(values: Float64Array, by: number): void {
  const last = values.length - 3;
  let i = 0;
  for (; i < last; i += 4) {
    values[i]! += by;
    values[i + 1]! += by;
    values[i + 2]! += by;
    values[i + 3]! += by;
  }
  for (; i < values.length; i++) values[i]! += by;
}
