import { sentencesToTranslate } from "../../scripts/sentences.js";
import { EN } from "../../src/wording/en/en.ts";
import { PAGE_EN } from "../../src/wording/en/page.ts";
import { addPageLanguage } from "../../src/wording/pageTextsOf.ts";
import { addLanguage, setLanguage } from "../../src/wording/textsOf.ts";
import { addWords, speakWords, words } from "../../taskpane/pane/words.ts";

/** A language for tests alone: every English text between two marks, so that a text that nobody can translate stands out. */
export const MARKED = "qaa";

export function mark(text: string): string {
  return `\u27e6${text}\u27e7`;
}

/** Adds the marked language and speaks it from now on; each test file has its own. */
export async function speakMarked(): Promise<readonly string[]> {
  const keys = await sentencesToTranslate();
  const sentences = Object.fromEntries(keys.map((key) => [key, mark(key)]));
  // Names of terms are looked up by what a person types, so they stay.
  const terms = EN.terms.map((term) => ({ ...term, text: mark(term.text) }));
  addLanguage(MARKED, { ...marked(EN), terms, sentences });
  addPageLanguage(MARKED, marked(PAGE_EN));
  addWords(MARKED, marked(words));
  setLanguage(MARKED);
  speakWords(MARKED);
  return keys;
}

/** Every text in a tree of texts, lists and functions that make texts. */
function marked<T>(tree: T): T {
  if (typeof tree === "string") return (tree === "" ? tree : mark(tree)) as T;
  if (typeof tree === "function") return ((...given: unknown[]) => marked((tree as unknown as (...args: unknown[]) => unknown)(...given))) as T;
  if (Array.isArray(tree)) return tree.map(marked) as T;
  if (typeof tree === "object" && tree !== null) return Object.fromEntries(Object.entries(tree).map(([key, value]) => [key, marked(value as unknown)])) as T;
  return tree;
}

/** What of a text is not marked: letters outside all marks. */
export function unmarked(text: string): string {
  let rest = text;
  for (let before = ""; before !== rest; ) {
    before = rest;
    rest = rest.replace(/\u27e6[^\u27e6\u27e7]*\u27e7/g, " ");
  }
  return rest;
}
