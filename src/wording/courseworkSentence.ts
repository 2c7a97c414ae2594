import { textsOf, type Language } from "./textsOf.ts";

/**
 * What marking says about an answer.
 *
 * @param id Outcome or recognised mistake, no unit.
 * @param byFunction Whether the answer cell is itself a formula of this add-in.
 * @param language Language, no unit; English where it is left out.
 * @returns One or two sentences, no unit.
 */
export function courseworkSentence(id: string, byFunction = false, language?: Language): string {
  const texts = textsOf(language).coursework;
  const sentence = Object.hasOwn(texts, id) ? texts[id] : texts.wrong;
  return byFunction ? `${sentence} ${texts.byFunction}` : sentence;
}
