import { InputError } from "../errors.ts";
import { requireAllFinite } from "../guards.ts";

/**
 * Exponentially weighted mean: `mean = weight * value + (1 - weight) * mean before`.
 *
 * Starts at the first value, oldest first; a new value to be judged is left out of it.
 *
 * @param values Earlier values in order of time, in the unit of the quantity; at least one.
 * @param weight Weight of the latest value, no unit; more than 0, at most 1.
 * @returns Weighted mean after the last value, in the unit of the quantity.
 * @throws {InputError} `not-a-number` if a value is not finite.
 * @throws {InputError} `out-of-range` if weight is out of the limits above.
 * @throws {InputError} `not-available` without a value.
 * @see Roberts (1959), from memory.
 */
export function exponentiallyWeightedMean(values: readonly number[], weight: number = 0.3): number {
  requireAllFinite("weighted mean", values, [weight]);
  if (weight <= 0 || weight > 1) throw new InputError("out-of-range", "weighted mean requires a weight above 0 and up to 1");
  if (values.length === 0) throw new InputError("not-available", "weighted mean requires at least one value");
  let level = values[0];
  for (let i = 1; i < values.length; i++) level = weight * values[i] + (1 - weight) * level;
  return level;
}
