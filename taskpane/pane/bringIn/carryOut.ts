import { packTrace } from "../../../src/trace/packTrace.ts";
import type { ImportRecipe } from "../../../src/read/ImportRecipe.ts";
import type { Test } from "../../../src/protocols/Protocol.ts";
import type { Trace } from "../../../src/trace/Trace.ts";
import type { FoundTrial } from "../../workbook/importDrafts.ts";
import { sentenceOf } from "../sentenceOf.ts";
import { namesByPattern, type NameReading } from "./namesByPattern.ts";
import { readFile, type FileReading } from "./readFile.ts";
import type { RememberedRecipe } from "./recipes.ts";
import { searchTrials } from "./searchTrials.ts";

/** Work on one file that need not be done where the page is drawn. */
export type ReadTask =
  | {
      readonly kind: "read";
      readonly file: File;
      readonly path: string;
      /** What a person said of the file; absent: remembered or guessed. */
      readonly recipe?: ImportRecipe;
      readonly remembered: readonly RememberedRecipe[];
      /** Where the name of the file does not say. */
      readonly test: Test;
    }
  | { readonly kind: "search"; readonly trace: Trace; readonly test: Test };

export interface ReadResult {
  /** Absent where only trials were asked for. */
  readonly reading?: FileReading & NameReading;
  /** The test that the trials were searched for. */
  readonly test: Test;
  readonly trials: readonly FoundTrial[];
}

/** Reads a file, finds its trials and packs them; what is wrong with the file becomes its sentence. */
export async function carryOut(task: ReadTask): Promise<ReadResult> {
  if (task.kind === "search") return { test: task.test, trials: packed(searchTrials(task.trace, task.test)) };
  const reading = await readFile(task.file, task.recipe, task.remembered);
  const pattern = task.remembered.find((recipe) => recipe.name === reading.remembered)?.pattern ?? "";
  const names = pattern === "" ? {} : namesOf(pattern, task.path);
  const test = names.test ?? task.test;
  if (reading.trace === undefined) return { reading: { ...reading, ...names }, test, trials: [] };
  try {
    return { reading: { ...reading, ...names }, test, trials: packed(searchTrials(reading.trace, test)) };
  } catch (thrown) {
    return { reading: { ...reading, ...names, trace: undefined, problem: sentenceOf(thrown) }, test, trials: [] };
  }
}

/** What a name says by a pattern; nothing where the pattern cannot be used. */
export function namesOf(pattern: string, path: string): NameReading {
  try {
    return namesByPattern(pattern, path) ?? {};
  } catch {
    return {};
  }
}

/** Trials with the text of their cells. One that does not fit stays without: writing it says why. */
function packed(trials: readonly FoundTrial[]): readonly FoundTrial[] {
  return trials.map((found) => {
    const { trace } = found.draft;
    if (!("plates" in trace)) return found;
    try {
      return { ...found, draft: { ...found.draft, packed: packTrace(trace) } };
    } catch {
      return found;
    }
  });
}
