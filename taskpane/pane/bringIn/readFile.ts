import type { ImportRecipe } from "../../../src/read/ImportRecipe.ts";
import { checkRecordingSize } from "../../../src/read/limits.ts";
import { openRecording } from "../../../src/read/openRecording.ts";
import type { Recording } from "../../../src/read/Recording.ts";
import { sentenceOf } from "../sentenceOf.ts";
import type { IncomingFile, ReadRecording } from "./IncomingFile.ts";
import { headsOf, type RememberedRecipe } from "./recipes.ts";

/** What reading a file finds out about it. */
export type FileReading = Pick<IncomingFile, "recipe" | "remembered" | "recording" | "trace" | "problem">;

/**
 * Reads one file on this computer; what is wrong with it becomes its sentence.
 *
 * @param recipe What a person said of it; absent: a remembered recipe for files of the same heads is used, else all is guessed.
 */
export async function readFile(file: File, recipe?: ImportRecipe, remembered: readonly RememberedRecipe[] = []): Promise<FileReading> {
  // Every field is named, so that it takes the place of what an earlier reading found.
  const fresh: FileReading = { recipe: recipe ?? {}, remembered: undefined, recording: undefined, trace: undefined, problem: undefined };
  try {
    // Refused by size before a byte is read.
    checkRecordingSize(file.size, file.name);
    const bytes = new Uint8Array(await file.arrayBuffer());
    let recording = await openRecording(bytes, file.name, recipe);
    const known = recipe === undefined ? remembered.find((candidate) => candidate.heads === headsOf(recording)) : undefined;
    if (known !== undefined) recording = await openRecording(bytes, file.name, known.recipe);
    const read: FileReading = { ...fresh, recording: withoutSamples(recording), ...(known === undefined ? {} : { recipe: known.recipe, remembered: known.name }) };
    try {
      return { ...read, trace: recording.trace() };
    } catch (thrown) {
      return { ...read, problem: sentenceOf(thrown) };
    }
  } catch (thrown) {
    return { ...fresh, problem: sentenceOf(thrown) };
  }
}

/** Plain fields only, which one thread can hand to another. */
function withoutSamples({ format, fileName, hash, guesses, columns, warnings, recipe }: Recording): ReadRecording {
  return { format, fileName, hash, guesses, columns, warnings, recipe };
}
