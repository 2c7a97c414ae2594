import { PAGE_EN } from "./en/page.ts";
import type { PageTexts } from "./PageTexts.ts";
import { type Language, spokenLanguage } from "./textsOf.ts";

const LANGUAGES = new Map<Language, PageTexts>([["en", PAGE_EN]]);

/**
 * The sentences of a language that only pages show.
 *
 * @param language Language, no unit; the one that is spoken where it is left out.
 * @returns The texts, no unit; English where there are none in that language.
 */
export function pageTextsOf(language: Language = spokenLanguage()): PageTexts {
  return LANGUAGES.get(language) ?? PAGE_EN;
}

/**
 * Adds the sentences of a language that only pages show, or puts others in their place.
 *
 * @param language Language, no unit.
 * @param texts Its sentences, no unit.
 */
export function addPageLanguage(language: Language, texts: PageTexts): void {
  LANGUAGES.set(language, texts);
}
