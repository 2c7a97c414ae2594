import { EN } from "./en/en.ts";
import type { Texts } from "./Texts.ts";

/** Languages that exist. */
export type Language = "en";

const LANGUAGES: Readonly<Record<Language, Texts>> = { en: EN };

/**
 * All sentences of a language.
 *
 * @param language Language, no unit; English where it is left out.
 * @returns The texts, no unit.
 */
export function textsOf(language: Language = "en"): Texts {
  return LANGUAGES[language];
}
