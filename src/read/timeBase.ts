/** What a column of times says about the sampling. */
export interface TimeBase {
  /** Time from sample to sample by the line of best fit, in the unit of the column. */
  readonly interval: number;
  /** Part of the interval that the column's resolution cannot tell. */
  readonly tolerance: number;
  /** Whether a time stands on more than one row: written too coarsely, or the time of something slower. */
  readonly repeats: boolean;
  /** Where and how the times are not even; absent where they are. */
  readonly fault?: { readonly row: number; readonly kind: "gap" | "back" | "repeat" | "uneven"; readonly from: number; readonly to: number };
}

const ROUND_RATES = [1000, 500, 100, 50, 10, 5, 1] as const;

/**
 * Sampling interval of a column of times by the line of best fit, and whether the times lie on it.
 *
 * A time may be off the line by a quarter of the interval or by the column's own resolution, whichever is more: a
 * correctly sampled file with times written to the millisecond at 600 Hz passes, one with a gap or a lost sample does not.
 *
 * @param times Times in any one unit.
 * @param resolution Smallest step the column is written in, in that unit.
 * @returns Interval and fault; undefined where the times do not rise at all or are fewer than three.
 */
export function timeBase(times: Float64Array, resolution: number): TimeBase | undefined {
  const n = times.length;
  if (n < 3) return undefined;
  const centre = (n - 1) / 2;
  const zero = times[0];
  let sum = 0;
  let product = 0;
  let i = 0;
  for (; i + 1 < n; i += 2) {
    const t = times[i] - zero;
    const u = times[i + 1] - zero;
    sum += t + u;
    product += (i - centre) * t + (i + 1 - centre) * u;
  }
  if (i < n) {
    const t = times[i] - zero;
    sum += t;
    product += (i - centre) * t;
  }
  const interval = product / ((n * (n * n - 1)) / 12);
  if (!(interval > 0) || !Number.isFinite(interval)) return undefined;
  const offset = sum / n - interval * centre;
  const allowed = Math.max(0.25 * interval, resolution);
  let worst = 0;
  let repeats = false;
  let before = NaN;
  for (let i = 0; i < n; i++) {
    const t = times[i];
    const off = Math.abs(t - zero - offset - interval * i);
    if (off > worst) worst = off;
    if (t === before) repeats = true;
    before = t;
  }
  const base = { interval, tolerance: Math.max(resolution / (2 * interval * (n - 1)), 1e-6), repeats };
  return worst <= allowed * (1 + 1e-9) ? base : { ...base, fault: faultOf(times, resolution) };
}

/**
 * Sampling rate in hertz: the roundest one that the resolution of the column cannot tell from the fitted one.
 *
 * @param base Fit of the times.
 * @param secondsPerUnit Seconds in the unit of the column, s.
 * @returns Rate, Hz.
 */
export function rateOf(base: TimeBase, secondsPerUnit: number): number {
  const rate = 1 / (base.interval * secondsPerUnit);
  const tolerance = rate * base.tolerance;
  for (const step of ROUND_RATES) {
    const candidate = Math.round(rate / step) * step;
    if (candidate > 0 && Math.abs(candidate - rate) <= tolerance) return candidate;
  }
  return Number(rate.toPrecision(12));
}

function faultOf(times: Float64Array, resolution: number): TimeBase["fault"] {
  const usual = usualStep(times);
  let largest = 1;
  for (let i = 1; i < times.length; i++) {
    const step = times[i] - times[i - 1];
    const at = { row: i, from: times[i - 1], to: times[i] };
    if (step < 0) return { ...at, kind: "back" };
    if (step === 0 && resolution < usual / 2) return { ...at, kind: "repeat" };
    if (step > times[largest] - times[largest - 1]) largest = i;
  }
  const at = { row: largest, from: times[largest - 1], to: times[largest] };
  return { ...at, kind: at.to - at.from > 1.5 * usual + resolution ? "gap" : "uneven" };
}

/** Median of up to 999 steps spread over the column. */
function usualStep(times: Float64Array): number {
  const every = Math.max(1, Math.floor((times.length - 1) / 999));
  const steps: number[] = [];
  for (let i = 1; i < times.length; i += every) steps.push(times[i] - times[i - 1]);
  steps.sort((a, b) => a - b);
  return steps[steps.length >> 1];
}
