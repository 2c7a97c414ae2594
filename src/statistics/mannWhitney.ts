import { InputError } from "../errors.ts";
import { requireAllFinite } from "../guards.ts";

/** Largest total number of trials for which the exact distribution is counted. */
const MOST_TRIALS = 60;

/** Rank comparison of two independent groups. */
export interface MannWhitney {
  /** Pairs in which the first group is higher (ties count half). */
  readonly u: number;
  /** Two-sided exact probability. */
  readonly p: number;
  /** Smallest two-sided probability that these group sizes can reach. */
  readonly leastP: number;
  /** How often groups that do not differ come out below `alpha`: at most `alpha`, and zero with three trials a side. */
  readonly size: number;
}

/**
 * Exact two-sided Mann-Whitney test: `p = 2 min(P(U <= u), P(U >= u))`, at most 1.
 *
 * Counts every way to share the observed ranks (mid-ranks for ties) between groups of these
 * sizes. Three trials a side cannot give less than 0.10.
 *
 * @param first Results of the first group, in any unit; at least one.
 * @param second Results of the second group, in the same unit; at least one.
 * @param alpha Probability below which a difference is called real, no unit.
 * @returns U of the first group and probabilities, no unit.
 * @throws {InputError} `not-a-number` if a value is not finite.
 * @throws {InputError} `not-available` if a group is empty.
 * @throws {InputError} `too-large` with more than 60 values in total.
 * @see Mann & Whitney (1947).
 */
export function mannWhitney(first: readonly number[], second: readonly number[], alpha: number = 0.05): MannWhitney {
  requireAllFinite("Mann-Whitney test", first, second);
  const n = first.length;
  const total = n + second.length;
  if (n === 0 || second.length === 0) throw new InputError("not-available", "Mann-Whitney test requires trials on both sides");
  if (total > MOST_TRIALS) throw new InputError("too-large", `exact Mann-Whitney test requires at most ${MOST_TRIALS} trials in total`);
  const ranks = doubledRanks([...first, ...second]);
  const observed = ranks.slice(0, n).reduce((sum, rank) => sum + rank, 0);
  const ways = waysByRankSum(ranks, n);
  const atMost: number[] = [];
  let all = 0;
  for (const count of ways) atMost.push((all += count));
  const twoSided = (sum: number): number => Math.min(1, (2 * Math.min(atMost[sum], all - atMost[sum] + ways[sum])) / all);
  let leastP = 1;
  let size = 0;
  ways.forEach((count, sum) => {
    if (count === 0) return;
    const p = twoSided(sum);
    leastP = Math.min(leastP, p);
    if (p < alpha) size += count / all;
  });
  return { u: (observed - n * (n + 1)) / 2, p: twoSided(observed), leastP, size };
}

/** Twice the mid-rank of every value, so that ties stay whole numbers. */
function doubledRanks(values: readonly number[]): number[] {
  return values.map((value) => {
    let below = 0;
    let equal = 0;
    for (const other of values) {
      if (other < value) below++;
      else if (other === value) equal++;
    }
    return 2 * below + equal + 1;
  });
}

/** Number of ways to choose `count` of the ranks with each sum. */
function waysByRankSum(ranks: readonly number[], count: number): number[] {
  const most = ranks.reduce((sum, rank) => sum + rank, 0);
  const ways = Array.from({ length: count + 1 }, () => new Array<number>(most + 1).fill(0));
  ways[0][0] = 1;
  for (const rank of ranks) {
    for (let chosen = count; chosen > 0; chosen--) {
      for (let sum = most; sum >= rank; sum--) ways[chosen][sum] += ways[chosen - 1][sum - rank];
    }
  }
  return ways[count];
}
