import type { Test } from "../protocols/Protocol.ts";
import { type Language, textsOf } from "./textsOf.ts";

/**
 * What to heed before a test is chosen: who may perform it, and when to stop.
 *
 * @param test Test, no unit; without one, what holds for every test.
 * @param language Language, no unit.
 * @returns Sentences, the particular ones of the test first, no unit.
 */
export function cautions(test?: Test, language?: Language): readonly string[] {
  const { all, byTest } = textsOf(language).cautions;
  return test === undefined ? all : [...byTest[test], ...all];
}

/**
 * What to heed where a result is read.
 *
 * @param language Language, no unit.
 * @returns Sentences, no unit.
 */
export function resultCautions(language?: Language): readonly string[] {
  return textsOf(language).cautions.result;
}
