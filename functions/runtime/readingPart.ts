import type { Reading } from "../../src/wording/readings.ts";
import { optionalWord, singleFrom } from "./cells.ts";

const PARTS = ["all", "word", "components", "number", "reading", "next", "caution"] as const;

/** The whole reading, its verdict in a word, or the parts of one role. */
export function partOf(reading: Reading, part: unknown): string {
  const wanted = optionalWord<(typeof PARTS)[number]>(singleFrom(part, "part"), "reading", PARTS, "all");
  if (wanted === "all") return reading.text;
  if (wanted === "word") return reading.verdictWord;
  return reading.parts.filter(({ role }) => role === wanted).map(({ text }) => text).join(" ");
}
