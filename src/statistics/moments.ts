import { InputError } from "../errors.ts";
import { requireAllFinite } from "../guards.ts";

/** Arithmetic mean (Excel AVERAGE). */
export function mean(values: readonly number[]): number {
  if (values.length === 0) throw new InputError("not-available", "mean requires at least one number");
  requireAllFinite("mean", values);
  let sum = 0;
  for (const value of values) sum += value;
  return sum / values.length;
}

/** Sum of squared deviations from the mean, in two passes. */
export function sumOfSquares(values: readonly number[]): number {
  const centre = mean(values);
  let sum = 0;
  for (const value of values) sum += (value - centre) ** 2;
  return sum;
}

/** Standard deviation with n - 1 (Excel STDEV.S). */
export function standardDeviation(values: readonly number[]): number {
  if (values.length < 2) throw new InputError("not-available", "standard deviation requires at least two numbers");
  return Math.sqrt(sumOfSquares(values) / (values.length - 1));
}

/** Coefficient of variation, in %: standard deviation with n - 1 over the mean. */
export function variationPercent(values: readonly number[]): number {
  const centre = mean(values);
  if (centre <= 0) throw new InputError("out-of-range", "coefficient of variation requires a mean above zero");
  return (100 * standardDeviation(values)) / centre;
}

/** Natural logarithms; refuses what has none. `thing` names the quantity asked for. */
export function logarithms(thing: string, values: readonly number[]): number[] {
  requireAllFinite(thing, values);
  if (values.some((value) => value <= 0)) throw new InputError("out-of-range", `${thing} requires numbers above zero`);
  return values.map(Math.log);
}
