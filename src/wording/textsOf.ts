import { EN } from "./en/en.ts";
import type { Texts } from "./Texts.ts";

/** A language: its tag of BCP 47, such as `en`. */
export type Language = string;

const LANGUAGES = new Map<Language, Texts>([["en", EN]]);
let current: Language = "en";

/**
 * All sentences of a language.
 *
 * @param language Language, no unit; the one that is spoken where it is left out.
 * @returns The texts, no unit; English where there are none in that language.
 */
export function textsOf(language: Language = current): Texts {
  return LANGUAGES.get(language) ?? EN;
}

/**
 * Adds a language, or puts other texts in the place of its own: languages besides English are loaded where somebody wants them.
 *
 * @param language Language, no unit.
 * @param texts Its sentences, no unit.
 */
export function addLanguage(language: Language, texts: Texts): void {
  LANGUAGES.set(language, texts);
}

/**
 * Chooses the language in which everything is said from now on. Results that were computed before keep their sentences.
 *
 * @param language Language, no unit.
 */
export function setLanguage(language: Language): void {
  current = language;
}

/** The language that is spoken, no unit. */
export function spokenLanguage(): Language {
  return current;
}

/**
 * The first of some languages that exists here.
 *
 * @param wanted Tags of languages, the dearest first, no unit; `de-AT` is met by `de`, and what a host leaves open is passed over.
 * @returns Language, no unit; English where none of them exists.
 */
export function languageFor(wanted: readonly (string | undefined)[]): Language {
  for (const tag of wanted) {
    if (tag === undefined) continue;
    for (let parts = tag.toLowerCase().split("-"); parts.length > 0; parts = parts.slice(0, -1)) if (LANGUAGES.has(parts.join("-"))) return parts.join("-");
  }
  return "en";
}
