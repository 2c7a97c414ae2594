import chiSquareQuantileOf from "@stdlib/stats-base-dists-chisquare-quantile";
import fQuantileOf from "@stdlib/stats-base-dists-f-quantile";
import normalCdfOf from "@stdlib/stats-base-dists-normal-cdf";
import normalQuantileOf from "@stdlib/stats-base-dists-normal-quantile";
import tCdfOf from "@stdlib/stats-base-dists-t-cdf";
import tQuantileOf from "@stdlib/stats-base-dists-t-quantile";
import { InputError } from "../errors.ts";

/** The only door to the distribution library: exact quantiles everywhere, no rounded 1.96 of our own. */

/** Quantile of the standard normal distribution. */
export function normalQuantile(probability: number): number {
  return answered("normal", normalQuantileOf(probability, 0, 1));
}

/** Probability of a standard normal value up to `x`. */
export function normalCdf(x: number): number {
  return answered("normal", normalCdfOf(x, 0, 1));
}

/** Quantile of Student's t; without degrees of freedom (or with infinitely many) the normal one. */
export function tQuantile(probability: number, degreesOfFreedom: number = Infinity): number {
  return degreesOfFreedom === Infinity ? normalQuantile(probability) : answered("t", tQuantileOf(probability, degreesOfFreedom));
}

/** Probability of a value of Student's t up to `x`; without degrees of freedom the normal one. */
export function tCdf(x: number, degreesOfFreedom: number = Infinity): number {
  return degreesOfFreedom === Infinity ? normalCdf(x) : answered("t", tCdfOf(x, degreesOfFreedom));
}

/** Quantile of F. */
export function fQuantile(probability: number, numerator: number, denominator: number): number {
  return answered("F", fQuantileOf(probability, numerator, denominator));
}

/** Quantile of chi-squared. */
export function chiSquareQuantile(probability: number, degreesOfFreedom: number): number {
  return answered("chi-squared", chiSquareQuantileOf(probability, degreesOfFreedom));
}

function answered(name: string, value: number): number {
  if (Number.isNaN(value)) {
    throw new InputError("out-of-range", `${name} distribution requires a probability between 0 and 1 and positive degrees of freedom`);
  }
  return value;
}
