import { requireAboveZero, requireCount, requireFinite, requireLevel } from "../guards.ts";
import { tCdf, tQuantile } from "./distributions.ts";

/** How the error is known, and against what the change is read. */
export interface ChangeOptions {
  /** Results averaged before. @default 1 */
  readonly countBefore?: number;
  /** Results averaged after. @default 1 */
  readonly countAfter?: number;
  /** Degrees of freedom of the typical error; absent: taken as exactly known (normal quantile). */
  readonly degreesOfFreedom?: number;
  /** Level of the interval, no unit. @default 0.9 */
  readonly level?: number;
  /** Smallest worthwhile change, in the unit of the quantity; absent: no probabilities. */
  readonly smallestWorthwhile?: number;
}

/** Shares of a flat-prior distribution around the observed change; they add up to one. */
export interface ChangeProbabilities {
  readonly up: number;
  readonly trivial: number;
  readonly down: number;
}

/** Change of one person with its interval. */
export interface IndividualChange {
  readonly change: number;
  readonly standardError: number;
  readonly low: number;
  readonly high: number;
  readonly level: number;
  readonly degreesOfFreedom?: number;
  readonly probabilities?: ChangeProbabilities;
}

/**
 * Change of one person: `change = after - before`, with limits
 * `change +/- quantile * typicalError * sqrt(1 / countBefore + 1 / countAfter)`.
 *
 * The quantile is Student's t with the degrees of freedom of the typical error, or the
 * normal one where they are not given. With an error between days the counts are
 * sessions, with an error within a day they are trials of the same day. Probabilities
 * beyond the smallest worthwhile change assume that every true change was
 * equally likely beforehand; they are an option, the interval is the result.
 *
 * @param before Result or mean before, in the unit of the quantity.
 * @param after Result or mean after, in the same unit.
 * @param typicalError Typical error of one result, in the same unit; more than zero.
 * @param options Counts, degrees of freedom, level (no unit) and smallest worthwhile change (unit of the quantity).
 * @returns Change and limits, in the unit of the quantity; probabilities, no unit.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if an argument is out of the limits above.
 * @see Hopkins (2000); Swinton et al. (2018); Sainani (2018), from memory, on the contested probabilities.
 */
export function individualChange(
  before: number,
  after: number,
  typicalError: number,
  options: ChangeOptions = {},
): IndividualChange {
  const { countBefore = 1, countAfter = 1, degreesOfFreedom, level = 0.9, smallestWorthwhile } = options;
  requireFinite("change", before, after);
  requireAboveZero("change", "a typical error", typicalError);
  requireCount("change", "the number of results", countBefore, 1);
  requireCount("change", "the number of results", countAfter, 1);
  requireLevel("change", level);
  const change = after - before;
  const standardError = typicalError * Math.sqrt(1 / countBefore + 1 / countAfter);
  const half = tQuantile((1 + level) / 2, degreesOfFreedom) * standardError;
  const interval = { change, standardError, low: change - half, high: change + half, level, degreesOfFreedom };
  if (smallestWorthwhile === undefined) return interval;
  requireAboveZero("change", "a smallest worthwhile change", smallestWorthwhile);
  const up = tCdf((change - smallestWorthwhile) / standardError, degreesOfFreedom);
  const down = tCdf((-smallestWorthwhile - change) / standardError, degreesOfFreedom);
  return { ...interval, probabilities: { up, trivial: 1 - up - down, down } };
}
