import type { RecordingMark } from "../coursework/Coursework.ts";
import { fillTemplate } from "./fillTemplate.ts";
import { pageTextsOf } from "./pageTextsOf.ts";
import type { Language } from "./textsOf.ts";

/**
 * What marking says about the recording in a returned workbook.
 *
 * @param mark What was found, no unit.
 * @param language Language, no unit; English where it is left out.
 * @returns One sentence, no unit; blank where it is the one handed out.
 */
export function recordingSentence({ outcome, of }: RecordingMark, language?: Language): string {
  return outcome === "own" ? "" : fillTemplate(pageTextsOf(language).recording[outcome], { student: of });
}
