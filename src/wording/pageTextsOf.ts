import { PAGE_EN } from "./en/page.ts";
import type { PageTexts } from "./PageTexts.ts";
import type { Language } from "./textsOf.ts";

const LANGUAGES: Readonly<Record<Language, PageTexts>> = { en: PAGE_EN };

/**
 * The sentences of a language that only pages show.
 *
 * @param language Language, no unit; English where it is left out.
 * @returns The texts, no unit.
 */
export function pageTextsOf(language: Language = "en"): PageTexts {
  return LANGUAGES[language];
}
