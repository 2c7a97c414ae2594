import type { Phase } from "../protocols/Analysis.ts";
import { type Language, textsOf } from "./textsOf.ts";

/**
 * A phase in words: "Braking".
 *
 * @param name Phase, no unit.
 * @param language Language, no unit.
 * @returns Words, no unit.
 */
export function phaseName(name: Phase["name"], language?: Language): string {
  return textsOf(language).phases[name] ?? name;
}
