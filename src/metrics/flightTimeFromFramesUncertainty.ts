import { requireAboveZero, requireZeroOrMore } from "../guards.ts";

/**
 * Standard uncertainty of a flight time from video: `u = sqrt(1/6 + readingFrames^2 / 3) / framesPerSecond`.
 *
 * Each event is seen up to one frame late (rectangular), so their difference is
 * triangular within one frame: 1/6 of a frame squared. The reader's own error in
 * the count is taken as rectangular within `readingFrames`. Both are independent.
 *
 * @param framesPerSecond Frame rate at which the scene was recorded, in Hz; more than zero.
 * @param readingFrames Half-width of the reader's error in the counted frames, no unit; zero for sampling alone.
 * @returns Standard uncertainty of the flight time, in s.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if the frame rate is not positive or readingFrames is negative.
 * @see JCGM 100 (2008), sections 4.3.7 and 4.3.9, rectangular and triangular distributions.
 */
export function flightTimeFromFramesUncertainty(framesPerSecond: number, readingFrames: number = 1): number {
  requireAboveZero("uncertainty of flight time", "a frame rate", framesPerSecond);
  requireZeroOrMore("uncertainty of flight time", "a reading error", readingFrames);
  return Math.sqrt(1 / 6 + readingFrames ** 2 / 3) / framesPerSecond;
}
