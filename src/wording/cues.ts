import type { Test } from "../protocols/Protocol.ts";
import type { Texts } from "./Texts.ts";
import { type Language, textsOf } from "./textsOf.ts";

/**
 * How a test is set up and asked for.
 *
 * @param test Test, no unit.
 * @param language Language, no unit.
 * @returns What to set up, what to say, how long to record, and when to repeat, no unit.
 */
export function cues(test: Test, language?: Language): Texts["cues"][Test] {
  return textsOf(language).cues[test];
}
