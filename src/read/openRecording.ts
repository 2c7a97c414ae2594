import type { ImportRecipe } from "./ImportRecipe.ts";
import { isZip } from "./isZip.ts";
import { readRecording } from "./readRecording.ts";
import type { Recording } from "./Recording.ts";
import { readWorkbookRecording } from "./workbook/readWorkbookRecording.ts";

/**
 * Reads a recording of any kind: text, `.mot`, `.sto`, C3D or .xlsx, told by its bytes and not by its name.
 *
 * @param bytes Content of the file, no unit.
 * @param fileName Name of the file, for messages, no unit.
 * @param recipe What is known of the file already.
 * @returns The recording; `trace()` gives forces in N.
 * @throws {InputError} as `readRecording` and `readWorkbookRecording`.
 */
export async function openRecording(bytes: Uint8Array, fileName: string, recipe: ImportRecipe = {}): Promise<Recording> {
  return isZip(bytes) ? readWorkbookRecording(bytes, fileName, recipe) : readRecording(bytes, fileName, recipe);
}
