import { TESTS, type Test } from "../../../src/protocols/Protocol.ts";
import { readByPattern } from "../../../src/read/namePattern.ts";

/** What a file name says, ready for the list of files. */
export interface NameReading {
  readonly athlete?: string;
  readonly date?: string;
  readonly test?: Test;
}

/** Words people write for a test in file names, besides its short name. Common practice. */
const TEST_WORDS: Readonly<Record<string, Test>> = { countermovement: "CMJ", squat: "SJ", drop: "DJ", hops: "RH", hop: "RH", pull: "IMTP" };

/**
 * Reads a file name by a pattern; `undefined` where the name does not follow it.
 *
 * A test that is not known is left to the person.
 */
export function namesByPattern(pattern: string, path: string): NameReading | undefined {
  const parts = readByPattern(pattern, path);
  if (parts === undefined) return undefined;
  const word = parts.test?.trim().toLowerCase() ?? "";
  const test = TESTS.find((candidate) => candidate.toLowerCase() === word) ?? (Object.hasOwn(TEST_WORDS, word) ? TEST_WORDS[word] : undefined);
  return {
    ...(parts.athlete === undefined ? {} : { athlete: parts.athlete.replaceAll("_", " ").trim() }),
    ...(parts.date === undefined ? {} : { date: parts.date }),
    ...(test === undefined ? {} : { test }),
  };
}
