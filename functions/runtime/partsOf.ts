import type { Reading, ReadingRole } from "../../src/wording/readings.ts";
import type { Quantities } from "./pickWhat.ts";

const ROLES: readonly ReadingRole[] = ["components", "number", "reading", "next", "caution"];

/** A reading as a function gives it: the whole text, the verdict in a word, and the parts by their role. */
export function partsOf(reading: Reading): Quantities {
  const part = (role: ReadingRole): string => reading.parts.filter((each) => each.role === role).map((each) => each.text).join(" ");
  return { text: reading.text, word: reading.verdictWord, ...Object.fromEntries(ROLES.map((role) => [role, part(role)])) };
}
