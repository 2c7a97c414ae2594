import type { ImportRecipe } from "../../../src/read/ImportRecipe.ts";
import { checkRecordingSize } from "../../../src/read/limits.ts";
import { openRecording } from "../../../src/read/openRecording.ts";
import { sentenceOf } from "../PaneContext.tsx";
import type { IncomingFile } from "./IncomingFile.ts";
import { headsOf, type RememberedRecipe } from "./recipes.ts";

/**
 * Reads one file on this computer; what is wrong with it becomes its sentence.
 *
 * @param recipe What a person said of it; absent: a remembered recipe for files of the same heads is used, else all is guessed.
 */
export async function readFile(incoming: IncomingFile, recipe?: ImportRecipe, remembered: readonly RememberedRecipe[] = []): Promise<IncomingFile> {
  const { file } = incoming;
  const fresh: IncomingFile = { ...incoming, recipe: recipe ?? {}, remembered: undefined, recording: undefined, trace: undefined, problem: undefined };
  try {
    // Refused by size before a byte is read.
    checkRecordingSize(file.size, file.name);
    const bytes = new Uint8Array(await file.arrayBuffer());
    let recording = await openRecording(bytes, file.name, recipe);
    const known = recipe === undefined ? remembered.find((candidate) => candidate.heads === headsOf(recording)) : undefined;
    if (known !== undefined) recording = await openRecording(bytes, file.name, known.recipe);
    const read: IncomingFile = { ...fresh, recording, ...(known === undefined ? {} : { recipe: known.recipe, remembered: known.name }) };
    try {
      return { ...read, trace: recording.trace() };
    } catch (thrown) {
      return { ...read, problem: sentenceOf(thrown) };
    }
  } catch (thrown) {
    return { ...fresh, problem: sentenceOf(thrown) };
  }
}
