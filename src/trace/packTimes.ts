import { InputError } from "../errors.ts";
import { TIMES_MARK } from "./packFormat.ts";
import type { TimesRecord } from "./Trace.ts";

/**
 * Times from a mat or a video as the text of a cell: `LEAPT1 flight=0.512 contact=0.210 source=mat`.
 *
 * @param record Times in s, of which at least one is given.
 * @returns Text of the cell, no unit.
 * @throws {InputError} `not-a-number` if a time is not finite; `out-of-range` if a time or the frame rate is not above zero;
 *   `wrong-shape` if there is neither flight nor contact time.
 */
export function packTimes(record: TimesRecord): string {
  checkTimes(record);
  const words = [TIMES_MARK];
  if (record.flight !== undefined) words.push(`flight=${record.flight}`);
  if (record.contact !== undefined) words.push(`contact=${record.contact}`);
  words.push(`source=${record.source}`);
  if (record.framesPerSecond !== undefined) words.push(`framesPerSecond=${record.framesPerSecond}`);
  return words.join(" ");
}

/** Refuses a record of times that cannot be meant. */
export function checkTimes(record: TimesRecord): void {
  if (record.flight === undefined && record.contact === undefined) {
    throw new InputError("wrong-shape", "a record of times requires a flight time or a contact time");
  }
  const numbers = { flight: record.flight, contact: record.contact, framesPerSecond: record.framesPerSecond };
  for (const [name, value] of Object.entries(numbers)) {
    if (value === undefined) continue;
    if (!Number.isFinite(value)) throw new InputError("not-a-number", `a record of times requires a number for ${name}`, name);
    if (value <= 0) throw new InputError("out-of-range", `a record of times requires ${name} above zero`, name);
  }
}
