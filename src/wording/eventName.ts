import type { EventName } from "../protocols/Analysis.ts";
import { type Language, textsOf } from "./textsOf.ts";

/**
 * An event in words: "Lowest point".
 *
 * @param name Event, no unit.
 * @param language Language, no unit.
 * @returns Words, no unit.
 */
export function eventName(name: EventName, language?: Language): string {
  return textsOf(language).events[name] ?? name;
}
