import type { ImportRecipe } from "../../../src/read/ImportRecipe.ts";
import { checkRecordingSize } from "../../../src/read/limits.ts";
import { readRecording } from "../../../src/read/readRecording.ts";
import { sentenceOf } from "../PaneContext.tsx";
import type { IncomingFile } from "./IncomingFile.ts";

/** Reads one file on this computer; what is wrong with it becomes its sentence. */
export async function readFile(incoming: IncomingFile, recipe: ImportRecipe): Promise<IncomingFile> {
  const { file } = incoming;
  const fresh: IncomingFile = { ...incoming, recipe, recording: undefined, trace: undefined, problem: undefined };
  try {
    // Refused by size before a byte is read.
    checkRecordingSize(file.size, file.name);
    const recording = readRecording(new Uint8Array(await file.arrayBuffer()), file.name, recipe);
    try {
      return { ...fresh, recording, trace: recording.trace() };
    } catch (thrown) {
      return { ...fresh, recording, problem: sentenceOf(thrown) };
    }
  } catch (thrown) {
    return { ...fresh, problem: sentenceOf(thrown) };
  }
}
