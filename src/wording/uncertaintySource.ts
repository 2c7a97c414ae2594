import type { Source } from "../uncertainty/sources.ts";
import { pageTextsOf } from "./pageTextsOf.ts";
import type { Language } from "./textsOf.ts";

/**
 * A contribution to a standard uncertainty in words.
 *
 * @param source Key of the contribution, for instance `bodyWeight`, no unit.
 * @param language Language, no unit.
 * @returns Name and one sentence, no unit; the key itself where it is unknown.
 */
export function uncertaintySource(source: string, language?: Language): { readonly name: string; readonly says: string } {
  return pageTextsOf(language).uncertainty[source as Source] ?? { name: source, says: "" };
}
