import { zScore } from "./zScore.ts";

/**
 * T score of a value within a group: `T = 50 + 10 z`.
 *
 * 50 is the mean of the group, ten points one standard deviation; more is better
 * in either direction of the metric. Not Student's t. State n, and do not rank people
 * whose results differ by less than the typical error.
 *
 * @param value Value, in the unit of the quantity.
 * @param group Values of the squad, position or age group, in the same unit; at least two that differ.
 * @param better `lower` where less is better, no unit.
 * @returns T score, no unit.
 * @throws {InputError} `not-a-number` if a value is not finite.
 * @throws {InputError} `not-available` if the group has fewer than two values or no spread.
 * @see common practice in testing.
 */
export function tScore(value: number, group: readonly number[], better: "higher" | "lower" = "higher"): number {
  return 50 + 10 * zScore(value, group, better);
}
