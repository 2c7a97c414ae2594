import { InputError } from "../errors.ts";
import { requireAllFinite } from "../guards.ts";
import { mean } from "./moments.ts";
import { pairedDifference, welchDifference } from "./meanDifference.ts";

/** `bilateral`: both sides in the same trials, paired; `singleLeg`: separate trials of each side. */
export type AsymmetryDesign = "bilateral" | "singleLeg";

/** Whether the sides differ by more than trials of one side differ among themselves. */
export interface AsymmetryVerdict {
  /** Mean of 100 ln(left / right), %; positive when left is higher. */
  readonly logRatio: number;
  readonly low: number;
  readonly high: number;
  readonly level: number;
  /** Whether the interval leaves out zero. */
  readonly real: boolean;
  /** Side that is higher in the mean, whether real or not; `neither` only when equal. */
  readonly side: "left" | "right" | "neither";
  readonly design: AsymmetryDesign;
  readonly leftMean: number;
  readonly rightMean: number;
  readonly leftCount: number;
  readonly rightCount: number;
}

/**
 * Difference between sides against the scatter of trials: the interval of the log ratio `100 ln(left / right)`.
 *
 * Bilateral trials are paired: the mean of each trial's log ratio with Student's t
 * (n - 1). Single-leg trials are independent: the difference of mean logarithms with
 * Welch's interval. Real if the interval leaves out zero: by chance alone that happens
 * in one of twenty pairs of equal sides at the 95 % level, for any number of trials.
 *
 * @param left Results of the left side by trial, in the unit of the quantity; all above zero.
 * @param right Results of the right side by trial, same unit; the same trials in the same order if bilateral.
 * @param design How the trials were made, no unit.
 * @param level Level of the interval, no unit; between 0 and 1.
 * @returns Log ratio and limits, in %, with the verdict.
 * @throws {InputError} `not-a-number` if a value is not finite.
 * @throws {InputError} `out-of-range` if a value is not above zero.
 * @throws {InputError} `wrong-shape` if bilateral sides have different counts.
 * @throws {InputError} `not-available` with fewer than two trials a side.
 * @see Welch (1947); in place of the comparison with the coefficient of variation of Exell et al. (2012).
 */
export function asymmetryVerdict(
  left: readonly number[],
  right: readonly number[],
  design: AsymmetryDesign,
  level: number = 0.95,
): AsymmetryVerdict {
  requireAllFinite("asymmetry verdict", left, right);
  if (left.some((value) => value <= 0) || right.some((value) => value <= 0)) {
    throw new InputError("out-of-range", "asymmetry verdict requires both sides above zero in every trial");
  }
  if (design === "bilateral" && left.length !== right.length) {
    throw new InputError("wrong-shape", "asymmetry verdict of bilateral trials requires left and right of the same trials");
  }
  if (left.length < 2 || right.length < 2) {
    throw new InputError("not-available", "asymmetry verdict requires at least two trials of each side");
  }
  const logs = (values: readonly number[]): number[] => values.map((value) => 100 * Math.log(value));
  const compare = design === "bilateral" ? pairedDifference : welchDifference;
  const { difference, low, high } = compare(logs(left), logs(right), level);
  return {
    logRatio: difference,
    low,
    high,
    level,
    real: low > 0 || high < 0,
    side: difference > 0 ? "left" : difference < 0 ? "right" : "neither",
    design,
    leftMean: mean(left),
    rightMean: mean(right),
    leftCount: left.length,
    rightCount: right.length,
  };
}
