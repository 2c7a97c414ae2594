import { InputError } from "../errors.ts";
import { requireAboveZero, requireCount, requireLevel, requireZeroOrMore } from "../guards.ts";
import { tQuantile } from "./distributions.ts";

/** Result of a person from one drop height. */
export interface DropPoint {
  /** Height of the box, m. */
  readonly nominalHeight: number;
  /** Height that the centre of mass really fell, m; absent where not measured. */
  readonly measuredHeight?: number;
  /** Jump height after the contact, m; absent where not known. */
  readonly height?: number;
  /** Ground contact time, s. */
  readonly contactTime: number;
  /** Reactive strength index, in its own unit. */
  readonly rsi: number;
  /** Trials behind the values. @default 1 */
  readonly count?: number;
}

/** How heights are told apart. */
export interface DropProfileOptions {
  /** Typical error of the index of one trial, in its unit; absent: no height can be told from another. */
  readonly typicalError?: number;
  /** Degrees of freedom of the typical error; absent: the normal quantile. */
  readonly degreesOfFreedom?: number;
  /** Longest contact of the fast stretch-shortening cycle, s. @default 0.25 */
  readonly fastContact?: number;
  /** Level of a comparison of two heights, no unit. @default 0.95 */
  readonly level?: number;
}

/** One height of the profile, compared with the best one. */
export interface ProfilePoint extends DropPoint {
  readonly count: number;
  /** Whether the contact was shorter than the limit. */
  readonly fast: boolean;
  /** Index of the best height less this one; absent where no height is best. */
  readonly gap?: number;
  /** Gap above which the two heights differ; absent without a typical error. */
  readonly leastGap?: number;
}

/** Reactive strength over drop heights. */
export interface DropHeightProfile {
  /** In order of nominal height. */
  readonly points: readonly ProfilePoint[];
  /** Position in `points` of the highest index among fast contacts; absent if no contact was fast. */
  readonly best?: number;
  /** Whether every other fast height is lower by more than its least gap; absent without a typical error or a best height. */
  readonly decided?: boolean;
  /** Positions of fast heights that cannot be told from the best, the best included. */
  readonly alike: readonly number[];
  /** What changed from the best height to the next higher one where the index falls there. */
  readonly fallsBy?: "longer contact" | "lower jump" | "both";
}

/**
 * Reactive strength over drop heights: the best is the highest index with a fast contact, and it stands only where
 * every gap exceeds `quantile * typicalError * sqrt(1 / k1 + 1 / k2)`.
 *
 * Two trials of one height cannot be told apart by chance alone in 95 of 100 pairs. Heels
 * that strike the ground are not seen here: watch the trial. One height does not
 * represent a person.
 *
 * @param points Results by height: heights in m, contact times in s, index in its unit; at least two heights.
 * @param options Typical error in the unit of the index, limit in s, level and degrees of freedom (no unit).
 * @returns Heights in order with gaps in the unit of the index, the best one, and whether it is decided.
 * @throws {InputError} `not-a-number` if a value is not finite.
 * @throws {InputError} `out-of-range` if a height or time is not positive.
 * @throws {InputError} `not-available` with fewer than two different heights.
 * @see Keiner et al. (2024); Prieske et al. (2019); Young (1995) for the fast contact.
 */
export function dropHeightProfile(points: readonly DropPoint[], options: DropProfileOptions = {}): DropHeightProfile {
  const { typicalError, degreesOfFreedom, fastContact = 0.25, level = 0.95 } = options;
  requireLevel("drop-height profile", level);
  requireAboveZero("drop-height profile", "a contact limit", fastContact);
  if (typicalError !== undefined) requireAboveZero("drop-height profile", "a typical error", typicalError);
  for (const point of points) {
    requireAboveZero("drop-height profile", "a drop height", point.nominalHeight);
    requireAboveZero("drop-height profile", "a contact time", point.contactTime);
    requireZeroOrMore("drop-height profile", "a reactive strength index", point.rsi);
    if (point.count !== undefined) requireCount("drop-height profile", "the number of trials", point.count, 1);
  }
  if (new Set(points.map((point) => point.nominalHeight)).size < points.length) {
    throw new InputError("wrong-shape", "drop-height profile requires one row a drop height (average its trials first)");
  }
  if (points.length < 2) throw new InputError("not-available", "drop-height profile requires at least two drop heights");

  const sorted = [...points].sort((a, b) => a.nominalHeight - b.nominalHeight);
  const fast = sorted.map((point) => point.contactTime < fastContact);
  let best = -1;
  sorted.forEach((point, index) => {
    if (fast[index] && (best < 0 || point.rsi > sorted[best].rsi)) best = index;
  });
  const quantile = tQuantile((1 + level) / 2, degreesOfFreedom);
  const profile = sorted.map((point, index): ProfilePoint => {
    const count = point.count ?? 1;
    if (best < 0) return { ...point, count, fast: fast[index] };
    const leastGap =
      typicalError === undefined || index === best
        ? undefined
        : quantile * typicalError * Math.sqrt(1 / count + 1 / (sorted[best].count ?? 1));
    return { ...point, count, fast: fast[index], gap: sorted[best].rsi - point.rsi, leastGap };
  });
  if (best < 0) return { points: profile, alike: [] };
  const alike = profile.flatMap((point, index) =>
    index === best || (point.fast && (point.leastGap === undefined || point.gap! <= point.leastGap)) ? [index] : [],
  );
  return {
    points: profile,
    best,
    decided: typicalError === undefined ? undefined : alike.length === 1,
    alike,
    fallsBy: fallAfter(sorted[best], sorted[best + 1]),
  };
}

function fallAfter(best: DropPoint, next: DropPoint | undefined): DropHeightProfile["fallsBy"] {
  if (next === undefined || next.rsi >= best.rsi) return undefined;
  const longer = next.contactTime > best.contactTime;
  const lower = best.height !== undefined && next.height !== undefined && next.height < best.height;
  if (longer && lower) return "both";
  return longer ? "longer contact" : lower ? "lower jump" : undefined;
}
