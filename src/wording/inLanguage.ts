import { type Language, textsOf } from "./textsOf.ts";

/**
 * A text that stands in English beside the data it belongs to (definitions, settings, errors, what a reader saw) in the words of a language.
 *
 * The English text is the key, as in message catalogues. Where numbers or names stand in it, the key has `{1}`, `{2}` … in their places, and the
 * translation puts them where its grammar wants them; what stands there is itself looked up.
 *
 * @param text English text, no unit.
 * @param language Language, no unit; the one that is spoken where it is left out.
 * @returns The text in that language, no unit; the English one where it has no translation.
 */
export function inLanguage(text: string, language?: Language): string {
  const { sentences } = textsOf(language);
  if (sentences === undefined || text === "") return text;
  if (Object.hasOwn(sentences, text)) return sentences[text]!;
  for (const { pattern, key } of patternsOf(sentences)) {
    const found = pattern.exec(text);
    if (found !== null) return sentences[key]!.replace(/\{(\d+)\}/g, (_, place: string) => inLanguage(found[Number(place)] ?? "", language));
  }
  return text;
}

interface Pattern {
  readonly key: string;
  readonly pattern: RegExp;
}

const PATTERNS = new WeakMap<object, readonly Pattern[]>();

/** The keys with places, those with most words of their own first: they fit least by chance. */
function patternsOf(sentences: Readonly<Record<string, string>>): readonly Pattern[] {
  let patterns = PATTERNS.get(sentences);
  if (patterns === undefined) {
    const fixed = (key: string): number => key.replace(/\{\d+\}/g, "").length;
    patterns = Object.keys(sentences)
      .filter((key) => /\{\d+\}/.test(key) && /\p{L}/u.test(key.replace(/\{\d+\}/g, "")))
      .sort((a, b) => fixed(b) - fixed(a))
      .map((key) => ({ key, pattern: patternOf(key) }));
    PATTERNS.set(sentences, patterns);
  }
  return patterns;
}

/** Places are numbered from one in the order in which they stand in the English text. */
function patternOf(key: string): RegExp {
  const pieces = key.split(/\{\d+\}/).map((piece) => piece.replace(/[.*+?^${}()|[\]\\]/g, "\\$&"));
  return new RegExp(`^${pieces.join("([\\s\\S]*?)")}$`);
}
