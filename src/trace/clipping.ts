const ENTRY_SAMPLES = 3;
/** Quantum assumed where the record does not tell its own, N. */
const ASSUMED_QUANTUM = 0.1;

/**
 * Whether the force is cut off at one of its extremes: at least `flatSamples` equal samples that were entered at a corner,
 * with a mean slope of `entryQuanta` quanta per sample or more over the three samples before. A plateau that is reached gently, a
 * rounded peak and an unused channel are no clipping.
 *
 * @param force Force of one plate, N.
 * @param at Index of the first sample at the extreme.
 * @param quantum Smallest step of the values, N; zero where unknown.
 * @param flatSamples Least number of equal samples.
 * @param entryQuanta Least slope into the flat top, quanta per sample.
 * @returns Number of equal samples when the extreme is cut off, else zero.
 */
export function clippedSamples(force: Float64Array, at: number, quantum: number, flatSamples: number, entryQuanta: number): number {
  if (at < ENTRY_SAMPLES) return 0;
  const value = force[at]!;
  let end = at + 1;
  while (end < force.length && Math.abs(force[end]! - value) <= quantum / 2) end++;
  if (end - at < flatSamples) return 0;
  const slope = Math.abs(value - force[at - ENTRY_SAMPLES]!) / ENTRY_SAMPLES;
  return slope >= entryQuanta * Math.max(quantum, ASSUMED_QUANTUM) ? end - at : 0;
}
