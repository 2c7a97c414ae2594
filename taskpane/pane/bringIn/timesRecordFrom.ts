import { flightTimeFromFrames } from "../../../src/metrics/flightTimeFromFrames.ts";
import type { TimesRecord } from "../../../src/trace/Trace.ts";
import { words } from "../words.ts";

/** What a person types who has no trace: times from a mat, or frames of a video. */
export interface TypedTimesFields {
  readonly source: "mat" | "video";
  /** Times in s (mat). */
  readonly flight: string;
  readonly contact: string;
  /** Video. */
  readonly framesPerSecond: string;
  readonly touchdownFrame: string;
  readonly takeoffFrame: string;
  readonly landingFrame: string;
}

/** Most plausible flight and contact, s: a typing mistake (milliseconds for seconds) is caught here. Common practice. */
const LONGEST = 5;

/**
 * The record of typed times, or the first thing that is wrong with them, as a sentence.
 *
 * @param withContact Whether the test has a contact before the flight (drop jump).
 */
export function timesRecordFrom(fields: TypedTimesFields, withContact: boolean): TimesRecord | string {
  const number = (text: string): number | undefined => (text.trim() === "" ? undefined : Number(text.trim().replace(",", ".")));
  if (fields.source === "mat") {
    const flight = number(fields.flight);
    const contact = withContact ? number(fields.contact) : undefined;
    if (flight === undefined && contact === undefined) return words.bringIn.times.needTime;
    for (const value of [flight, contact]) if (value !== undefined && !(value > 0 && value < LONGEST)) return words.bringIn.times.seconds(LONGEST);
    return { source: "mat", ...(flight === undefined ? {} : { flight }), ...(contact === undefined ? {} : { contact }) };
  }
  const framesPerSecond = number(fields.framesPerSecond);
  const [touchdown, takeoff, landing] = [fields.touchdownFrame, fields.takeoffFrame, fields.landingFrame].map(number);
  if (framesPerSecond === undefined || !(framesPerSecond > 0)) return words.bringIn.times.needRate;
  if (takeoff === undefined || landing === undefined) return words.bringIn.times.needFrames;
  if (!(landing > takeoff) || (withContact && touchdown !== undefined && !(takeoff > touchdown))) return words.bringIn.times.order;
  const flight = flightTimeFromFrames(takeoff, landing, framesPerSecond);
  // A contact is frames over the frame rate just as a flight is.
  const contact = withContact && touchdown !== undefined ? flightTimeFromFrames(touchdown, takeoff, framesPerSecond) : undefined;
  if (flight >= LONGEST) return words.bringIn.times.seconds(LONGEST);
  return { source: "video", framesPerSecond, flight, ...(contact === undefined ? {} : { contact }) };
}
