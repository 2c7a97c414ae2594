import type { Test } from "../protocols/Protocol.ts";
import type { PageTexts } from "./PageTexts.ts";
import { pageTextsOf } from "./pageTextsOf.ts";
import type { Language } from "./textsOf.ts";

/**
 * How a test is set up and asked for.
 *
 * @param test Test, no unit.
 * @param language Language, no unit.
 * @returns What to set up, what to say, how long to record, and when to repeat, no unit.
 */
export function cues(test: Test, language?: Language): PageTexts["cues"][Test] {
  return pageTextsOf(language).cues[test];
}
