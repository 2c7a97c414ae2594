import { InputError } from "../errors.ts";
import { requireCount, requireAllFinite } from "../guards.ts";
import { mean, standardDeviation } from "../statistics/moments.ts";

/** How trials become one value of a session; stored with it. */
export interface SessionChoice {
  readonly rule: "mean" | "best";
  /** Trials k that count: the first k valid ones, in the order they were made. */
  readonly trials: number;
}

/** One value of a session. */
export interface SessionValue {
  readonly value: number;
  /** Standard deviation of the trials used; absent with one. */
  readonly sd?: number;
  /** Standard uncertainty from the scatter of trials, `sd / sqrt(count)`; for a mean of two or more only. */
  readonly u?: number;
  /** Trials used. */
  readonly count: number;
  readonly choice: SessionChoice;
  /** True where fewer than k valid trials were there: not comparable with full sessions where the best counts. */
  readonly short: boolean;
  /** True where one trial stands alone: to be reported as a single trial. */
  readonly single: boolean;
}

/**
 * Value of a session from its valid trials: the mean or the best of the first k.
 *
 * The first k valid trials in order, so that nobody's choice of trials depends on their
 * outcome. The best of k grows with k: always the same k.
 *
 * @param values Valid trials in the order they were made, in the unit of the metric.
 * @param choice Rule and k, no unit.
 * @param better Direction of the metric, no unit; a best trial needs one.
 * @returns Value, scatter and uncertainty, in the unit of the metric, with the counts.
 * @throws {InputError} `not-a-number` if a value is not finite.
 * @throws {InputError} `not-available` without a valid trial, or for the best of a metric without a better direction.
 * @see Claudino et al. (2017).
 */
export function sessionValue(
  values: readonly number[],
  choice: SessionChoice,
  better: "higher" | "lower" | "neither" = "higher",
): SessionValue {
  requireAllFinite("session value", values);
  requireCount("session value", "the number of trials", choice.trials, 1);
  if (values.length === 0) throw new InputError("not-available", "session value requires at least one valid trial");
  const used = values.slice(0, choice.trials);
  const count = used.length;
  const sd = count > 1 ? standardDeviation(used) : undefined;
  const shared = { sd, count, choice, short: count < choice.trials, single: count === 1 };
  if (choice.rule === "mean") {
    return { value: mean(used), ...shared, u: sd === undefined ? undefined : sd / Math.sqrt(count) };
  }
  if (better === "neither") {
    throw new InputError("not-available", "best of a session requires a metric of which more, or less, is better");
  }
  return { value: better === "lower" ? Math.min(...used) : Math.max(...used), ...shared };
}
