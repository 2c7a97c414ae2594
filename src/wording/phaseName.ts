import type { Phase } from "../protocols/Analysis.ts";
import { pageTextsOf } from "./pageTextsOf.ts";
import type { Language } from "./textsOf.ts";

/**
 * A phase in words: "Braking".
 *
 * @param name Phase, no unit.
 * @param language Language, no unit.
 * @returns Words, no unit.
 */
export function phaseName(name: Phase["name"], language?: Language): string {
  return pageTextsOf(language).phases[name] ?? name;
}
