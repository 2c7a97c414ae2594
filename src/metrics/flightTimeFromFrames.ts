import { InputError } from "../errors.ts";
import { requireAboveZero, requireFinite } from "../guards.ts";

/**
 * Flight time from video frames: `flightTime = (landingFrame - takeoffFrame) / framesPerSecond`.
 *
 * `takeoffFrame` is the first frame without ground contact, `landingFrame` the
 * first frame with contact again; both read by the same rule.
 *
 * @param takeoffFrame Frame number of take-off, no unit.
 * @param landingFrame Frame number of landing, no unit; not before take-off.
 * @param framesPerSecond Frame rate at which the scene was recorded, in Hz; more than zero.
 * @returns Time in the air, in s.
 * @throws {InputError} `not-a-number` if an argument is not finite.
 * @throws {InputError} `out-of-range` if landing is before take-off or the frame rate is not positive.
 * @see Linthorne (2001), flight-time method; frame counting is common practice.
 */
export function flightTimeFromFrames(takeoffFrame: number, landingFrame: number, framesPerSecond: number): number {
  requireFinite("flight time", takeoffFrame, landingFrame);
  requireAboveZero("flight time", "a frame rate", framesPerSecond);
  if (landingFrame < takeoffFrame) {
    throw new InputError("out-of-range", "flight time requires a landing frame that is not before the take-off frame");
  }
  return (landingFrame - takeoffFrame) / framesPerSecond;
}
