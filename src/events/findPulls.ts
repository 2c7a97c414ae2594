import type { LoadProfile } from "../trace/loadProfile.ts";

/** A pull on a fixed bar: a stretch of samples above half of its rise. */
export interface Pull {
  /** Samples; `start` lies in the middle of the rise. */
  readonly start: number;
  readonly end: number;
  /** Largest 10 ms mean, N. */
  readonly peak: number;
  /** First sample after the pull before, where its baseline may begin. */
  readonly after: number;
}

const LEVEL_SECONDS = 0.5;
const SHORTEST_SECONDS = 0.3;
/** Somebody is on the plate above this share of the largest force. */
const PRESENT_SHARE = 0.15;
/** A rise that is smaller than this share of the quiet force is no pull. */
const LEAST_RISE_SHARE = 0.2;

/**
 * Finds the pulls of a record: stretches of at least 0.3 s above half of the way from the quiet force to the largest one.
 *
 * @param profile Summed force with its blocks, N.
 * @returns Pulls in order of time, in samples; none where the force never rises by 20 % of the quiet force.
 */
export function findPulls(profile: LoadProfile): readonly Pull[] {
  const { sums, blockSize, rate } = profile;
  const blocks = sums.length;
  let peak = -Infinity;
  for (let b = 0; b < blocks; b++) if (sums[b]! > peak) peak = sums[b]!;
  const width = Math.max(1, Math.round((LEVEL_SECONDS * rate) / blockSize));
  let quiet = Infinity;
  let sum = 0;
  let absent = 0;
  for (let b = 0; b < blocks; b++) {
    sum += sums[b]!;
    if (sums[b]! < PRESENT_SHARE * peak) absent++;
    if (b >= width) {
      sum -= sums[b - width]!;
      if (sums[b - width]! < PRESENT_SHARE * peak) absent--;
    }
    if (b >= width - 1 && absent === 0 && sum / width < quiet) quiet = sum / width;
  }
  if (!(peak - quiet >= LEAST_RISE_SHARE * quiet)) return [];
  const level = quiet + 0.5 * (peak - quiet);
  const pulls: Pull[] = [];
  let start = -1;
  let after = 0;
  let highest = 0;
  for (let b = 0; b <= blocks; b++) {
    const above = b < blocks && sums[b]! > level;
    if (above && start < 0) {
      start = b;
      highest = 0;
    }
    if (above && sums[b]! > highest) highest = sums[b]!;
    if (above || start < 0) continue;
    const end = b === blocks ? profile.force.length : b * blockSize;
    if ((b - start) * blockSize >= SHORTEST_SECONDS * rate) {
      pulls.push({ start: start * blockSize, end, peak: highest / blockSize, after });
      after = end;
    }
    start = -1;
  }
  return pulls;
}
