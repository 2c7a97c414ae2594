import { InputError } from "../errors.ts";
import { requireAllFinite } from "../guards.ts";
import { mean, standardDeviation } from "./moments.ts";

/**
 * Distance of a value from a group: `z = (value - mean) / sd`, with n - 1 in the standard deviation.
 *
 * For a baseline of few sessions a distance beyond two is common by chance; show the
 * prediction band with it.
 *
 * @param value Value, in the unit of the quantity.
 * @param group Values to stand against, in the same unit; at least two that differ.
 * @param better `lower` reverses the sign, no unit.
 * @returns Score, no unit; positive is better than the mean of the group.
 * @throws {InputError} `not-a-number` if a value is not finite.
 * @throws {InputError} `not-available` if the group has fewer than two values or no spread.
 * @see Hopkins (2000); common practice.
 */
export function zScore(value: number, group: readonly number[], better: "higher" | "lower" = "higher"): number {
  requireAllFinite("z score", group, [value]);
  if (group.length < 2) throw new InputError("not-available", "z score requires at least two values to stand against");
  const sd = standardDeviation(group);
  if (sd === 0) throw new InputError("not-available", "z score requires values that are not all equal");
  const score = (value - mean(group)) / sd;
  return better === "lower" ? 0 - score : score;
}
