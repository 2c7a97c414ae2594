import type { LoadProfile } from "../trace/loadProfile.ts";
import { sumOf } from "../trace/sumOf.ts";

const LEVEL_SECONDS = 0.1;
/** For an empty stretch that is shorter than the other ... */
const BRIEF_LEVEL_SECONDS = 0.04;
/** ... which has to read near zero, N, since a force that is low for so short a time may be a movement. */
const BRIEF_LEVEL = 40;
/** The lowest level counts as an empty plate below this share of the loaded force ... */
const EMPTY_SHARE = 0.25;
/** ... and with less spread than this, N (a plate that rings by 30 N has an SD of 21 N). */
const EMPTY_SD = 30;
const RUN_MARGIN = 40;
const RUN_MARGIN_SHARE = 0.05;

/** A half-open stretch of samples. */
export interface Stretch {
  readonly start: number;
  readonly end: number;
}

/** Where the plate carries nobody, found without knowing its zero. */
export interface EmptyRuns {
  /** Mean force while somebody is on the plate, N. */
  readonly loaded: number;
  /** Lowest level of the record, N; the reading of the empty plate when `runs` is not empty. */
  readonly level: number;
  /** In order of time; to a block of 10 ms. */
  readonly runs: readonly Stretch[];
  /** True where the plate is nowhere empty for 100 ms, and `runs` were found from 40 ms. */
  readonly brief: boolean;
}

/**
 * Finds the stretches in which the plate is empty, whatever its zero: below the lowest 100 ms mean of the record plus
 * 40 N or 5 % of the loaded force. Loud moments of up to 10 ms are bridged. Where it is nowhere empty for so long, the lowest 40 ms mean
 * counts, if it is near zero.
 *
 * @param profile Summed force with its 10 ms blocks, N.
 * @returns Loaded force in N, level of the empty plate in N, and the runs in samples.
 */
export function findEmptyRuns(profile: LoadProfile): EmptyRuns {
  const found = emptyFor(profile, LEVEL_SECONDS);
  if (found.runs.length > 0) return found;
  const brief = emptyFor(profile, BRIEF_LEVEL_SECONDS);
  return brief.runs.length > 0 && Math.abs(brief.level) < BRIEF_LEVEL ? { ...brief, loaded: found.loaded, brief: true } : found;
}

function emptyFor(profile: LoadProfile, seconds: number): EmptyRuns {
  const { sums, squares, blockSize, rate } = profile;
  const blocks = sums.length;
  const width = Math.min(blocks, Math.max(1, Math.round((seconds * rate) / blockSize)));
  let sum = 0;
  let lowest = Infinity;
  let lowestEnd = 0;
  let highest = -Infinity;
  let leaving = 0;
  let first = 0;
  for (; first < width - 1; first++) sum += sums[first]!;
  for (let b = first; b < blocks; b++) {
    sum += sums[b]! - leaving;
    leaving = sums[b - first]!;
    if (sum < lowest) {
      lowest = sum;
      lowestEnd = b + 1;
    }
    if (sum > highest) highest = sum;
  }
  const samples = width * blockSize;
  const level = lowest / samples;
  const spread = Math.sqrt(Math.max(0, sumOf(squares, lowestEnd - width, lowestEnd) / samples - level * level));
  const half = (level + 0.25 * (highest / samples - level)) * blockSize;
  let loadedSum = 0;
  let loadedBlocks = 0;
  for (let b = 0; b < blocks; b++) {
    const block = sums[b]!;
    if (block > half) {
      loadedSum += block;
      loadedBlocks++;
    }
  }
  const loaded = loadedBlocks > 0 ? loadedSum / (loadedBlocks * blockSize) : level;
  const runs: Stretch[] = [];
  if (!(level < EMPTY_SHARE * loaded) || spread >= EMPTY_SD) return { loaded, level, runs, brief: false };
  const limit = (level + Math.max(RUN_MARGIN, RUN_MARGIN_SHARE * loaded)) * blockSize;
  for (let b = 0; b < blocks; b++) {
    if (!(sums[b]! < limit)) continue;
    const start = b;
    while (isEmpty(sums, b, limit)) b++;
    runs.push({ start: start * blockSize, end: b === blocks ? profile.force.length : b * blockSize });
  }
  return { loaded, level, runs, brief: false };
}

/** Whether the plate is empty in a block of an empty run or again within two blocks: a loud moment of 10 ms can touch two of them. */
function isEmpty(sums: Float64Array, b: number, limit: number): boolean {
  // Beyond the last block there is nothing, which is below no limit.
  return sums[b]! < limit || sums[b + 1]! < limit || sums[b + 2]! < limit;
}
