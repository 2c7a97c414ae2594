import { inLanguage } from "../../src/wording/inLanguage.ts";

/** The sentence of anything that was thrown, begun with a capital. */
export function sentenceOf(thrown: unknown): string {
  const place = thrown instanceof Error && "where" in thrown && typeof thrown.where === "string" ? ` (${inLanguage(thrown.where)})` : "";
  const text = inLanguage(thrown instanceof Error ? thrown.message : String(thrown)) + place;
  return text.charAt(0).toUpperCase() + text.slice(1);
}
