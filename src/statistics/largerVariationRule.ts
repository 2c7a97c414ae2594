import { InputError } from "../errors.ts";
import { mean, variationPercent } from "./moments.ts";

/**
 * How often the rule calls equal sides different, in %, by trials a side (2, 3, … 12): one million simulated pairs each
 * with a coefficient of variation of 5 %, normal scatter, independent sides.
 */
export const FALSE_POSITIVE_PERCENT: readonly number[] = [32, 20, 14, 10, 7, 5, 4, 3, 2, 2, 1];

/** A difference between sides against the larger coefficient of variation. */
export interface LargerVariation {
  /** Standard percentage difference, %; positive when left is higher. */
  readonly percentage: number;
  readonly leftVariation: number;
  readonly rightVariation: number;
  /** Whether the size of the percentage exceeds the larger variation. */
  readonly real: boolean;
  /** How often this rule calls equal sides different with as few trials, %. */
  readonly falsePositivePercent: number;
}

/**
 * Difference between sides by the larger-variation rule: real if `|100 (L - R) / max(L, R)|` exceeds the larger
 * coefficient of variation of the two sides.
 *
 * The percentage is relative to one side, as the coefficients of variation are. The rule
 * ignores the number of trials: with three a side it calls equal sides different in one
 * of five comparisons, so the interval of the log ratio is the better verdict.
 *
 * @param left Results of the left side by trial, in the unit of the quantity; at least two, mean above zero.
 * @param right Results of the right side by trial, same unit; at least two, mean above zero.
 * @returns Percentage, variations and false-positive rate, in %, with the verdict.
 * @throws {InputError} `not-a-number` if a value is not finite.
 * @throws {InputError} `not-available` with fewer than two trials a side.
 * @throws {InputError} `out-of-range` if a mean is not above zero.
 * @see Exell et al. (2012), from memory.
 */
export function largerVariationRule(left: readonly number[], right: readonly number[]): LargerVariation {
  if (left.length < 2 || right.length < 2) {
    throw new InputError("not-available", "larger-variation rule requires at least two trials of each side");
  }
  const leftVariation = variationPercent(left);
  const rightVariation = variationPercent(right);
  const leftMean = mean(left);
  const rightMean = mean(right);
  const percentage = (100 * (leftMean - rightMean)) / Math.max(leftMean, rightMean);
  const fewest = Math.min(left.length, right.length);
  return {
    percentage,
    leftVariation,
    rightVariation,
    real: Math.abs(percentage) > Math.max(leftVariation, rightVariation),
    falsePositivePercent: FALSE_POSITIVE_PERCENT[Math.min(fewest - 2, FALSE_POSITIVE_PERCENT.length - 1)],
  };
}
