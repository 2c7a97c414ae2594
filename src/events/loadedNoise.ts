const STRETCH_SAMPLES = 50;
const LOADED_SHARE = 0.2;

/**
 * Noise of the force while somebody is on the plate: the smallest SD of second differences over stretches of 50 samples.
 * Zero for a computed trace; tells a plate that is truly silent from one whose small values were cut off.
 *
 * @param force Force, N. @param loaded Mean force under load, N.
 * @returns A function that gives the noise, N, when it is needed.
 */
export function loadedNoise(force: Float64Array, loaded: number): () => number {
  return () => {
    let least = Infinity;
    for (let start = 1; start + STRETCH_SAMPLES < force.length; start += STRETCH_SAMPLES) {
      if (force[start]! < LOADED_SHARE * loaded) continue;
      let square = 0;
      for (let i = start; i < start + STRETCH_SAMPLES; i++) {
        const second = force[i + 1]! - 2 * force[i]! + force[i - 1]!;
        square += second * second;
      }
      if (square < least) least = square;
    }
    return Number.isFinite(least) ? Math.sqrt(least / STRETCH_SAMPLES / 6) : 0;
  };
}
