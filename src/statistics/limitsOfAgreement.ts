import { InputError } from "../errors.ts";
import { requireFinite, requireLevel } from "../guards.ts";
import { tQuantile } from "./distributions.ts";
import { mean, standardDeviation } from "./moments.ts";

/** Multiplier as published for the 95 % limits; the exact quantile is 1.959964. */
const PUBLISHED_MULTIPLIER = 1.96;

/** Bias and limits between two ways to measure the same thing. */
export interface LimitsOfAgreement {
  /** Mean of second minus first. */
  readonly bias: number;
  readonly sd: number;
  readonly low: number;
  readonly high: number;
  /** Standard error of the bias. */
  readonly biasError: number;
  /** Standard error of each limit, about `sqrt(3 / n) sd`. */
  readonly limitError: number;
  readonly n: number;
  /** Pairs left out for a gap. */
  readonly leftOut: number;
  readonly method: "published" | "t";
}

/**
 * Limits of agreement of two methods: `bias +/- 1.96 sd` of the paired differences.
 *
 * Assumes differences that are roughly normal and do not grow with the value. Method
 * `t` gives the wider interval for one new pair, `bias +/- t sd sqrt(1 + 1/n)`, for small n.
 *
 * @param first Results by the first method, in the unit of the quantity, gaps as undefined.
 * @param second Results of the same people by the second method, same unit and length.
 * @param method `published` (1.96) or `t`, no unit.
 * @param level Level of the `t` method, no unit; the published one is always 95 %.
 * @returns Bias and limits of second minus first, in the unit of the quantity.
 * @throws {InputError} `wrong-shape` if the lengths differ.
 * @throws {InputError} `not-available` if fewer than two pairs are complete.
 * @see Bland & Altman (1986).
 */
export function limitsOfAgreement(
  first: readonly (number | undefined)[],
  second: readonly (number | undefined)[],
  method: "published" | "t" = "published",
  level: number = 0.95,
): LimitsOfAgreement {
  if (first.length !== second.length) throw new InputError("wrong-shape", "limits of agreement requires two columns of equal length");
  requireLevel("limits of agreement", level);
  const differences: number[] = [];
  first.forEach((value, index) => {
    const other = second[index];
    if (value === undefined || other === undefined) return;
    requireFinite("limits of agreement", value, other);
    differences.push(other - value);
  });
  const n = differences.length;
  if (n < 2) throw new InputError("not-available", "limits of agreement requires at least two complete pairs");
  const bias = mean(differences);
  const sd = standardDeviation(differences);
  const half = method === "t" ? tQuantile((1 + level) / 2, n - 1) * sd * Math.sqrt(1 + 1 / n) : PUBLISHED_MULTIPLIER * sd;
  return {
    bias,
    sd,
    low: bias - half,
    high: bias + half,
    biasError: sd / Math.sqrt(n),
    limitError: Math.sqrt(3 / n) * sd,
    n,
    leftOut: first.length - n,
    method,
  };
}
