/**
 * Time at which the force crosses a level between two neighbouring samples, by a straight line.
 *
 * @param force Force, N.
 * @param i Index of the second of the two samples, one or more.
 * @param level Level, N.
 * @param rate Sampling rate, Hz.
 * @returns Time of the crossing, s from sample zero.
 */
export function crossing(force: Float64Array, i: number, level: number, rate: number): number {
  const before = force[i - 1]!;
  const step = force[i]! - before;
  const part = step === 0 ? 0 : (level - before) / step;
  return (i - 1 + Math.min(1, Math.max(0, part))) / rate;
}

/** Value at a time between samples, by a straight line; the end values outside. */
export function valueAt(values: Float64Array, position: number): number {
  const last = values.length - 1;
  if (position <= 0) return values[0]!;
  if (position >= last) return values[last]!;
  const i = Math.floor(position);
  const before = values[i]!;
  return before + (position - i) * (values[i + 1]! - before);
}
