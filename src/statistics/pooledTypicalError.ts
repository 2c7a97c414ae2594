import { InputError } from "../errors.ts";
import { requireAllFinite, requireLevel } from "../guards.ts";
import { errorLimits } from "./errorLimits.ts";
import { logarithms, sumOfSquares } from "./moments.ts";

/** Typical error within groups of repeated trials, with its confidence limits. */
export interface PooledTypicalError {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly form: "raw" | "log";
  readonly degreesOfFreedom: number;
  readonly level: number;
  /** Groups used: those with at least two numbers. */
  readonly groups: number;
  /** Numbers used. */
  readonly values: number;
  /** Groups left out for holding fewer than two numbers. */
  readonly leftOut: number;
}

/**
 * Typical error pooled within groups: `sqrt(sum of squares within groups / sum of (n - 1))`.
 *
 * A group is one session of one person, so this is the error within a day. Unlike the
 * table form it keeps a trend over trials in the error, and allows any number of
 * trials a session. Form `log` works on 100 ln(x) and gives a percentage.
 *
 * @param groups Repeated results of one person in one session each, in the unit of the quantity.
 * @param form `raw` or `log`, no unit.
 * @param level Confidence level of the limits, no unit; between 0 and 1.
 * @returns Error and limits, in the unit of the quantity (`raw`) or in % (`log`), with the counts.
 * @throws {InputError} `not-available` if no group has two numbers.
 * @throws {InputError} `out-of-range` if form `log` meets numbers that are not above zero.
 * @see Hopkins (2000).
 */
export function pooledTypicalError(
  groups: readonly (readonly number[])[],
  form: "raw" | "log" = "raw",
  level: number = 0.95,
): PooledTypicalError {
  requireLevel("typical error", level);
  const used = groups.filter((group) => group.length > 1);
  if (used.length === 0) throw new InputError("not-available", "typical error requires at least one session with two or more trials");
  let sum = 0;
  let degreesOfFreedom = 0;
  let values = 0;
  for (const group of used) {
    requireAllFinite("typical error", group);
    sum += form === "log" ? 10000 * sumOfSquares(logarithms("typical error in per cent", group)) : sumOfSquares(group);
    degreesOfFreedom += group.length - 1;
    values += group.length;
  }
  const error = Math.sqrt(sum / degreesOfFreedom);
  const printed = (value: number): number => (form === "log" ? 100 * (Math.exp(value / 100) - 1) : value);
  const limits = errorLimits(error, degreesOfFreedom, level);
  return {
    value: printed(error),
    low: printed(limits.low),
    high: printed(limits.high),
    form,
    degreesOfFreedom,
    level,
    groups: used.length,
    values,
    leftOut: groups.length - used.length,
  };
}
