import { describe, expect, test } from "vitest";
import { words } from "../../../taskpane/pane/words.ts";

// Whoever shares a file or a print must know what is in it before: each button stands beside such a sentence.
describe("what leaves the workbook says what it holds", () => {
  test.each([
    ["values", words.files.valuesHint, /no formulas, no traces/],
    ["formulas", words.files.liveHint, /traces, settings and the results/],
    ["both", words.files.names, /Both hold the names/],
    ["a copy with codes", words.files.codedHint, /key, which you keep/],
    ["reports", words.decide.reportIntro, /holds names and results, and no trace/],
    ["running sheet and cue cards", words.plan.printHolds, /names and tests of the day, and no results/],
    ["coursework", words.teach.makeHint, /hold the recording and blank answers, never the seed; the key is yours/],
  ])("%s", (_what, sentence, says) => {
    expect(sentence).toMatch(says);
  });
});
