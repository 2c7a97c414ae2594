/** What a weighing knows about its own doubt. */
export interface WeighingDoubt {
  /** Difference between the means of the two halves of the window, N. */
  readonly halfDifference: number;
  /** White noise of the force, N. */
  readonly noise: number;
  readonly samples: number;
}

/**
 * Standard uncertainty of the mean force of a quiet stand: `sqrt((half difference / 2)^2 + noise^2 / n)`.
 *
 * The velocity of a standing body is bounded, so the error of the mean falls with the length of the window and is read
 * from what the two halves differ by; the integral correlation time of such a force is near zero, so the samples are
 * not treated as a correlated series. Zero of the plates, calibration and resolution are influences of their own.
 *
 * @param doubt Half-window difference and noise in N, number of samples.
 * @returns Standard uncertainty, N.
 * @see JCGM 100 (2008), 5.1.
 */
export function bodyWeightUncertainty(doubt: WeighingDoubt): number {
  const halves = doubt.halfDifference / 2;
  return Math.sqrt(halves * halves + (doubt.noise * doubt.noise) / doubt.samples);
}
