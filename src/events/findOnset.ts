/** How the start of a movement is told from standing still. */
export interface OnsetRule {
  /** Size of |F - BW| that counts as movement, N. */
  readonly limit: number;
  /** The force must stay outside (or, searching backward, inside) for this long, s. */
  readonly duration: number;
  /** Time by which the onset is moved before the crossing, s. */
  readonly stepBack: number;
  /** A tighter limit to go back to from the crossing, N. */
  readonly inner?: number;
}

/**
 * Start of a movement, searching backward from where the force was last steady: the sample after the last stretch that
 * stayed within the limit; forward from there where the force is still within it.
 *
 * @param force Force, N.
 * @param bodyWeight Force while standing still, N.
 * @param from Sample at which the movement has just begun or is about to.
 * @param start Earliest sample to look at. @param end Sample that the onset must precede.
 * @param rule Limit and durations.
 * @param rate Sampling rate, Hz.
 * @returns Sample of the crossing, before any step back; undefined where the force never leaves the limit.
 */
export function findOnset(
  force: Float64Array,
  bodyWeight: number,
  from: number,
  start: number,
  end: number,
  rule: OnsetRule,
  rate: number,
): number | undefined {
  const needed = Math.max(1, Math.round(rule.duration * rate));
  let crossingAt = insideAt(force, bodyWeight, from, rule.limit, needed, start)
    ? firstOutside(force, bodyWeight, from, end, rule.limit, needed)
    : lastInside(force, bodyWeight, from, start, rule.limit, needed);
  if (crossingAt !== undefined && rule.inner !== undefined) {
    crossingAt = lastInside(force, bodyWeight, crossingAt, start, rule.inner, 1);
  }
  return crossingAt;
}

/** First sample from which |F - BW| stays above the limit for `needed` samples. */
export function firstOutside(
  force: Float64Array,
  bodyWeight: number,
  start: number,
  end: number,
  limit: number,
  needed: number,
): number | undefined {
  let count = 0;
  for (let i = start; i < end; i++) {
    count = Math.abs(force[i]! - bodyWeight) > limit ? count + 1 : 0;
    if (count === needed) return i - needed + 1;
  }
  return undefined;
}

function insideAt(force: Float64Array, bodyWeight: number, from: number, limit: number, needed: number, start: number): boolean {
  for (let i = from; i > from - needed && i >= start; i--) if (Math.abs(force[i]! - bodyWeight) > limit) return false;
  return true;
}

/** Sample after the last run of `needed` samples within the limit; `start` where there is none. */
function lastInside(force: Float64Array, bodyWeight: number, from: number, start: number, limit: number, needed: number): number {
  let count = 0;
  for (let i = from; i >= start; i--) {
    count = Math.abs(force[i]! - bodyWeight) <= limit ? count + 1 : 0;
    if (count === needed) return i + needed;
  }
  return start;
}
