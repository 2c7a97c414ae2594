/** Length of a window, s, and the force above which a window counts as standing on the plate, N. */
const WINDOW = 0.5;
const LOADED = 50;

/**
 * Standard deviation of the quietest half second in which somebody stands on a plate: an estimate of its noise.
 *
 * Looks at windows that overlap by half. A plate on which nobody ever stands gives the standard deviation of its
 * quietest window; one that never changes, and thus cannot be rounded wrongly, gives infinity.
 *
 * @param force Force of one plate, N.
 * @param rate Sampling rate, Hz.
 * @returns Standard deviation (divisor n), N; zero where the record is too short to tell.
 */
export function quietStandardDeviation(force: Float64Array, rate: number): number {
  const half = Math.max(2, Math.round((WINDOW / 2) * rate));
  const halves = Math.floor(force.length / half);
  if (isConstant(force)) return Infinity;
  if (halves < 2) return 0;
  let loaded = Infinity;
  let any = Infinity;
  // Sums about the first value, so that squares of a small noise on a large force keep their digits.
  const centre = force[0];
  let sumBefore = 0;
  let squaresBefore = 0;
  for (let h = 0; h < halves; h++) {
    let sum = 0;
    let squares = 0;
    for (let i = h * half; i < (h + 1) * half; i++) {
      const d = force[i] - centre;
      sum += d;
      squares += d * d;
    }
    if (h > 0) {
      const mean = (sumBefore + sum) / (2 * half);
      const sd = Math.sqrt(Math.max(0, (squaresBefore + squares) / (2 * half) - mean * mean));
      if (sd < any) any = sd;
      if (Math.abs(mean + centre) > LOADED && sd < loaded) loaded = sd;
    }
    sumBefore = sum;
    squaresBefore = squares;
  }
  return loaded === Infinity ? any : loaded;
}

function isConstant(force: Float64Array): boolean {
  for (let i = 1; i < force.length; i++) if (force[i] !== force[0]) return false;
  return true;
}
