/**
 * Low-pass filters a force without lag: a Butterworth filter of second order run forward and backward (fourth order).
 *
 * The ends are held at their first and last value, so a record should begin and end quietly.
 *
 * @param force Force, N; left as it is.
 * @param rate Sampling rate, Hz.
 * @param cutOff Cut-off of each pass, Hz; below half the rate.
 * @returns Filtered force, N.
 * @see Street et al. (2001).
 */
export function lowPass(force: Float64Array, rate: number, cutOff: number): Float64Array {
  if (!(cutOff < rate / 2)) return force;
  const w = Math.tan((Math.PI * cutOff) / rate);
  const k = 1 / (1 + Math.SQRT2 * w + w * w);
  const b = w * w * k;
  const a1 = 2 * (w * w - 1) * k;
  const a2 = (1 - Math.SQRT2 * w + w * w) * k;
  const filtered = new Float64Array(force.length);
  pass(force, filtered, b, a1, a2, 0, force.length, 1);
  pass(filtered, filtered, b, a1, a2, force.length - 1, -1, -1);
  return filtered;
}

function pass(from: Float64Array, to: Float64Array, b: number, a1: number, a2: number, start: number, end: number, step: number): void {
  const held = from[start]!;
  let x1 = held;
  let x2 = held;
  let y1 = held;
  let y2 = held;
  for (let i = start; i !== end; i += step) {
    const x = from[i]!;
    const y = b * (x + 2 * x1 + x2) - a1 * y1 - a2 * y2;
    x2 = x1;
    x1 = x;
    y2 = y1;
    y1 = y;
    to[i] = y;
  }
}
