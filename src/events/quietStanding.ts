import type { LoadProfile } from "../trace/loadProfile.ts";
import { sumOf } from "../trace/sumOf.ts";
import type { Stretch } from "./findEmptyRuns.ts";

/** Length of the means whose spread tells movement from noise: 50 ms keeps what is slower than about 9 Hz. */
const SWAY_BLOCKS_SECONDS = 0.05;
const BAND = 0.05;
const STEADY_SECONDS = 0.25;
const GAP_SECONDS = 0.15;
const SEARCH_SECONDS = 2;
const PROVISIONAL_SECONDS = 1;
const LEAST_SECONDS = 0.2;

/** Mean and spread of the force over a stretch in which the person stands still. */
export interface Weighing extends Stretch {
  /** N. */
  readonly mean: number;
  /** Standard deviation of the samples (n - 1), N. */
  readonly sd: number;
  /** Standard deviation of 50 ms means, N: movement without noise, ringing and mains hum. */
  readonly sway: number;
  /** Difference between the means of the two halves, N. */
  readonly halfDifference: number;
  /** White noise from first differences, N. */
  readonly noise: number;
  /** Spread of the velocity of the swaying body, as the impulse of (F - mean) in N s. */
  readonly impulseSd: number;
}

/**
 * Statistics of a stretch of force.
 *
 * @param force Force, N. @param start First sample. @param end Sample after the last; at least two samples.
 * @param rate Sampling rate, Hz.
 * @returns Mean, spread, sway, half-window difference and noise, N.
 */
export function weigh(force: Float64Array, start: number, end: number, rate: number): Weighing {
  const n = end - start;
  // A window of one sample has a mean, and no spread to speak of.
  const pairs = Math.max(1, n - 1);
  const middle = start + (n >> 1);
  const first = sumOf(force, start, middle);
  const second = sumOf(force, middle, end);
  const mean = (first + second) / n;
  const width = Math.max(1, Math.round(SWAY_BLOCKS_SECONDS * rate));
  let square = 0;
  let differences = 0;
  let previous = force[start]!;
  let impulse = 0;
  let impulseSum = 0;
  let impulseSquare = 0;
  let blocks = 0;
  let sway = 0;
  for (let i = start; i < end; ) {
    const blockEnd = Math.min(end, i + width);
    let block = 0;
    const whole = blockEnd - i === width;
    // Two samples at a time, added to each other first: a sum waits once for both.
    for (; i + 1 < blockEnd; i += 2) {
      const f = force[i]!;
      const next = force[i + 1]!;
      const d = f - mean;
      const e = next - mean;
      const step = f - previous;
      const following = next - f;
      square += d * d + e * e;
      differences += step * step + following * following;
      previous = next;
      block += d + e;
    }
    if (i < blockEnd) {
      const f = force[i++]!;
      const d = f - mean;
      const step = f - previous;
      square += d * d;
      differences += step * step;
      previous = f;
      block += d;
    }
    if (!whole) break;
    sway += block * block;
    blocks++;
    impulse += block;
    impulseSum += impulse;
    impulseSquare += impulse * impulse;
  }
  const impulseMean = impulseSum / blocks;
  return {
    start,
    end,
    mean,
    sd: Math.sqrt(square / pairs),
    sway: blocks > 1 ? Math.sqrt(sway / (blocks - 1)) / width : 0,
    halfDifference: n < 2 ? 0 : second / (end - middle) - first / (middle - start),
    noise: Math.sqrt(differences / pairs / 2),
    impulseSd: blocks > 1 ? Math.sqrt(Math.max(0, impulseSquare / blocks - impulseMean * impulseMean)) / rate : 0,
  };
}

/** Mean force over a stretch of samples, N. */
export function meanOf(force: Float64Array, { start, end }: Stretch): number {
  return sumOf(force, start, end) / (end - start);
}

export interface QuietSearch {
  /** Search before this sample (take-off, or where the movement is known to have begun). */
  readonly before: number;
  /** Search from this sample on; 0 where the record begins. */
  readonly from?: number;
  /** Length of the window to use, s. */
  readonly length: number;
  /** Half-width of the band in which the force counts as steady, as a share of body weight. */
  readonly band?: number;
  /** Movement (SD of 50 ms means) to accept, as a function of body weight, N. */
  readonly accept: (bodyWeight: number) => number;
  /** Body weight where it is known, N. */
  readonly bodyWeight?: number;
}

export interface QuietStand {
  /** Window to weigh over, samples. */
  readonly window: Stretch;
  /** Last sample at which the force had been steady for 0.25 s: the movement begins about here. */
  readonly steadyUntil: number;
}

/**
 * Finds the quiet stand before a movement without ever reaching into it: the last 0.25 s in which the force stayed
 * within 5 % of a provisional body weight, then the window that ends 0.15 s before, moved back by up to 2 s to where
 * the person stands still.
 *
 * @returns Window and end of the steady stretch in samples, or undefined where nobody stands still for 0.2 s.
 */
export function findQuietStand(profile: LoadProfile, search: QuietSearch): QuietStand | undefined {
  const { sums, blockSize, rate } = profile;
  const perSecond = rate / blockSize;
  const firstBlock = Math.ceil((search.from ?? 0) / blockSize);
  const lastBlock = Math.min(sums.length, Math.floor(search.before / blockSize));
  const provisional = search.bodyWeight ?? leastSpreadMean(profile, firstBlock, lastBlock);
  if (provisional === undefined || provisional <= 0) return undefined;
  const band = search.band ?? BAND;
  const low = provisional * (1 - band) * blockSize;
  const high = provisional * (1 + band) * blockSize;
  const steady = Math.max(1, Math.round(STEADY_SECONDS * perSecond));
  let count = 0;
  let b = lastBlock - 1;
  for (; b >= firstBlock && count < steady; b--) count = sums[b]! >= low && sums[b]! <= high ? count + 1 : 0;
  if (count < steady) return undefined;
  const steadyUntil = b + 1 + steady;
  while (b >= firstBlock && sums[b]! >= low && sums[b]! <= high) b--;
  const steadyFrom = b + 1;
  const gap = Math.min(Math.round(GAP_SECONDS * perSecond), Math.max(0, steadyUntil - steadyFrom - Math.ceil(LEAST_SECONDS * perSecond)));
  const end = steadyUntil - gap;
  const length = Math.min(end - steadyFrom, Math.max(1, Math.round(search.length * perSecond)));
  const limit = search.accept(provisional);
  const chosen = stillest(sums, blockSize, end, length, Math.max(steadyFrom + length, end - Math.round(SEARCH_SECONDS * perSecond)), limit, rate);
  return { window: { start: (chosen - length) * blockSize, end: chosen * blockSize }, steadyUntil: steadyUntil * blockSize };
}

/** The latest end of a window whose movement is within the limit, else the one with the least movement. */
function stillest(sums: Float64Array, blockSize: number, end: number, length: number, earliest: number, limit: number, rate: number): number {
  let best = end;
  let least = Infinity;
  for (let e = end; e >= earliest; e--) {
    const spread = movement(sums, blockSize, e - length, e, rate);
    if (spread <= limit) return e;
    if (spread < least) {
      least = spread;
      best = e;
    }
  }
  return best;
}

/** SD of 50 ms means over a stretch of blocks, N. */
function movement(sums: Float64Array, blockSize: number, start: number, end: number, rate: number): number {
  const width = Math.max(1, Math.round((SWAY_BLOCKS_SECONDS * rate) / blockSize));
  let mean = 0;
  for (let b = start; b < end; b++) mean += sums[b]!;
  mean /= end - start;
  let square = 0;
  let blocks = 0;
  for (let b = start; b + width <= end; b += width) {
    let sum = 0;
    for (let k = b; k < b + width; k++) sum += sums[k]! - mean;
    square += sum * sum;
    blocks++;
  }
  return blocks > 1 ? Math.sqrt(square / (blocks - 1)) / (width * blockSize) : 0;
}

/** Mean of the 1 s window with the least spread; shorter where the record is shorter. An empty plate is quiet too: the spread counts against the load it carries. */
function leastSpreadMean(profile: LoadProfile, first: number, last: number): number | undefined {
  const width = Math.min(Math.round((PROVISIONAL_SECONDS * profile.rate) / profile.blockSize), Math.floor((last - first) / 2));
  return stillestWindow(profile, first, last, width, 0, true)?.level;
}

/**
 * The stillest window of a loaded plate after a movement.
 *
 * @param profile Summed force with its blocks, N.
 * @param from First sample. @param length Length of the window, s. @param least Shortest window, s.
 * @param load Least mean force, N.
 * @returns The window in samples, or undefined where less than `least` seconds remain.
 */
export function findQuietEnd(profile: LoadProfile, from: number, length: number, least: number, load: number): Stretch | undefined {
  const { sums, blockSize, rate } = profile;
  const perSecond = rate / blockSize;
  const first = Math.ceil(from / blockSize);
  const width = Math.min(Math.round(length * perSecond), sums.length - first);
  if (width < Math.round(least * perSecond)) return undefined;
  const found = stillestWindow(profile, first, sums.length, width, load, false);
  return found === undefined ? undefined : { start: (found.end - width) * blockSize, end: found.end * blockSize };
}

/** Spreads that differ by less than this, N^2 and as a share, are the same: a noise-free stand has none but for rounding. */
const SAME_SPREAD = 1e-9;

/**
 * The window of so many blocks with the least spread among those with a mean force above a load, the last of those that are alike: the person
 * has had longer to come to rest.
 *
 * @param relative Whether the spread counts against the mean force.
 * @returns End of the window in blocks, and its mean force, N.
 */
function stillestWindow(profile: LoadProfile, first: number, last: number, width: number, load: number, relative: boolean): { end: number; level: number } | undefined {
  if (width < 1) return undefined;
  const { sums, squares, blockSize } = profile;
  const samples = width * blockSize;
  const same = relative ? 0 : SAME_SPREAD;
  let sum = 0;
  let square = 0;
  let lowest = Infinity;
  let best = -1;
  let bestLevel = 0;
  for (let b = first; b < last; b++) {
    sum += sums[b]!;
    square += squares[b]!;
    if (b - first >= width) {
      sum -= sums[b - width]!;
      square -= squares[b - width]!;
    }
    if (b - first < width - 1) continue;
    const level = sum / samples;
    if (!(level > load)) continue;
    const variance = square / samples - level * level;
    const spread = relative ? variance / (level * level) : variance;
    if (spread <= lowest * (1 + same) + same) {
      lowest = spread;
      best = b + 1;
      bestLevel = level;
    }
  }
  return best < 0 ? undefined : { end: best, level: bestLevel };
}
