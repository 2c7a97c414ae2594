import { InputError } from "../errors.ts";
import { requireAboveZero, requireCount, requireAllFinite, requireLevel } from "../guards.ts";
import { tQuantile } from "./distributions.ts";
import { mean, standardDeviation } from "./moments.ts";

/** How the band is made. */
export interface BaselineOptions {
  /** Typical error of one session result between days, in the unit of the quantity; with it the band uses the error of the group. */
  readonly typicalError?: number;
  /** Degrees of freedom of the typical error; absent: the normal quantile. */
  readonly degreesOfFreedom?: number;
  /** Level of the band, no unit. @default 0.95 */
  readonly level?: number;
  /** Sessions of the rolling baseline, the last ones; absent: all that are given. */
  readonly sessions?: number;
}

/** Where the next value of this person is expected if nothing changed. */
export interface BaselineBand {
  readonly mean: number;
  /** Standard deviation of the baseline; absent with one session. */
  readonly sd?: number;
  readonly n: number;
  readonly low: number;
  readonly high: number;
  readonly level: number;
  /** `own`: spread of this person's sessions; `typicalError`: error known from a group. */
  readonly method: "own" | "typicalError";
}

/**
 * Prediction band for the next session of one person: `mean +/- quantile * s * sqrt(1 + 1/n)`.
 *
 * `s` is the person's own standard deviation with Student's t (n - 1), or a typical
 * error known from a group; the own one is unreliable with fewer than eight sessions
 * (common practice). The new value must not be in its own baseline. Assumes that
 * sessions scatter independently around one level.
 *
 * @param history Earlier session results in order of time, in the unit of the quantity.
 * @param options Typical error (unit of the quantity), degrees of freedom, level and sessions (no unit).
 * @returns Mean and band, in the unit of the quantity.
 * @throws {InputError} `not-a-number` if a value is not finite.
 * @throws {InputError} `out-of-range` if an option is out of its limits.
 * @throws {InputError} `not-available` with too few sessions: two for the own spread, one with a typical error.
 * @see Hopkins (2000); prediction interval of a normal sample, any textbook.
 */
export function baselineBand(history: readonly number[], options: BaselineOptions = {}): BaselineBand {
  const { typicalError, degreesOfFreedom, level = 0.95, sessions } = options;
  requireAllFinite("baseline", history);
  requireLevel("baseline", level);
  if (sessions !== undefined) requireCount("baseline", "the number of sessions", sessions, 1);
  const used = sessions === undefined ? history : history.slice(-sessions);
  const n = used.length;
  if (typicalError === undefined && n < 2) {
    throw new InputError("not-available", "baseline requires at least two earlier sessions, or one and a typical error");
  }
  if (n < 1) throw new InputError("not-available", "baseline requires at least one earlier session");
  const centre = mean(used);
  const sd = n > 1 ? standardDeviation(used) : undefined;
  const upper = (1 + level) / 2;
  let half: number;
  if (typicalError === undefined) {
    half = tQuantile(upper, n - 1) * sd! * Math.sqrt(1 + 1 / n);
  } else {
    requireAboveZero("baseline", "a typical error", typicalError);
    half = tQuantile(upper, degreesOfFreedom) * typicalError * Math.sqrt(1 + 1 / n);
  }
  return {
    mean: centre,
    sd,
    n,
    low: centre - half,
    high: centre + half,
    level,
    method: typicalError === undefined ? "own" : "typicalError",
  };
}
