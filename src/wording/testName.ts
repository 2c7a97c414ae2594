import type { Test } from "../protocols/Protocol.ts";
import { type Language, textsOf } from "./textsOf.ts";

/**
 * A test in words: "Countermovement jump".
 *
 * @param test Test, no unit.
 * @param language Language, no unit.
 * @returns Words, no unit.
 */
export function testName(test: Test, language?: Language): string {
  return textsOf(language).tests[test] ?? test;
}
