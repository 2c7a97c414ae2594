import { InputError } from "../errors.ts";
import { c3dTable } from "./c3d/c3dTable.ts";
import { isC3d } from "./c3d/c3dParameters.ts";
import { contentHash } from "./contentHash.ts";
import { isZip } from "./isZip.ts";
import type { Delimiter, ImportRecipe } from "./ImportRecipe.ts";
import { DELIMITERS } from "./ImportRecipe.ts";
import { checkRecordingSize } from "./limits.ts";
import type { ColumnMemory } from "./NumberTable.ts";
import type { Recording } from "./Recording.ts";
import { recordingFrom } from "./recordingFrom.ts";
import { textBytes } from "./textBytes.ts";
import { textLayout } from "./textLayout.ts";
import { textTable } from "./textTable.ts";

/**
 * Reads a recording from the bytes of a file: delimited text, `.mot` and `.sto`, or C3D.
 *
 * What is guessed (delimiter, columns, sides, sign, unit, rate) comes with the reason and what else it could be, and
 * a recipe overrides any of it. A workbook is read by `readWorkbookRecording`, which answers later.
 *
 * @param bytes Content of the file, no unit.
 * @param fileName Name of the file, for messages, no unit.
 * @param recipe What is known of the file already.
 * @param memory Where the columns of a text are put: the trace then lasts as long as they do.
 * @returns The recording; `trace()` gives forces in N.
 * @throws {InputError} `wrong-shape` if the file is empty; `too-large` above 256 MiB; `not-recognised` if it holds no
 *   table of numbers; `damaged` if a C3D file contradicts itself.
 */
export function readRecording(bytes: Uint8Array, fileName: string, recipe: ImportRecipe = {}, memory?: ColumnMemory): Recording {
  checkRecordingSize(bytes.length, fileName);
  if (isZip(bytes)) {
    throw new InputError("not-recognised", "reading as text requires a text file, and this is a workbook or another ZIP file", fileName);
  }
  if (bytes[0] === 0xd0 && bytes[1] === 0xcf && bytes[2] === 0x11 && bytes[3] === 0xe0) {
    throw new InputError("not-recognised", "reading requires a workbook as .xlsx without password, and this one is of the old kind or locked: save it anew", fileName);
  }
  if (isC3d(bytes)) return recordingFrom(c3dTable(bytes), { format: "c3d", fileName, hash: () => contentHash(bytes), warnings: [] }, recipe);
  const text = textBytes(bytes);
  const layout = textLayout(text.bytes, recipe);
  const table = textTable(text.bytes, layout, memory);
  return recordingFrom(
    table,
    {
      format: "text",
      fileName,
      hash: () => contentHash(bytes),
      warnings: [],
      guesses: {
        delimiter: { value: layout.delimiter, why: layout.whyDelimiter, alternatives: DELIMITERS.filter((other: Delimiter) => other !== layout.delimiter), sure: layout.sure },
        decimal: { value: layout.decimal, why: layout.whyDecimal, alternatives: [layout.decimal === "." ? "," : "."], sure: layout.sure },
        headerLines: {
          value: layout.head.length,
          why: layout.head.length === 0 ? "numbers begin in the first line" : `numbers begin in line ${layout.head.length + 1}`,
          alternatives: [],
          sure: true,
        },
      },
    },
    recipe,
  );
}
