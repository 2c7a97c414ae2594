import { InputError } from "../../errors.ts";
import { contentHash } from "../contentHash.ts";
import type { ImportRecipe } from "../ImportRecipe.ts";
import { checkRecordingSize } from "../limits.ts";
import type { Recording } from "../Recording.ts";
import { recordingFrom } from "../recordingFrom.ts";
import { bytesOf } from "../textBytes.ts";
import { textLayout } from "../textLayout.ts";
import { textTable } from "../textTable.ts";
import type { ZipLimits } from "./checkZip.ts";
import { readSheets, type SheetRows } from "./readSheets.ts";

/** A recording has few parts and its numbers take some forty bytes each as XML. */
const LIMITS: ZipLimits = { input: 64 * 2 ** 20, unpacked: 256 * 2 ** 20, entries: 2000 };

/**
 * Reads a recording from the columns of a sheet of an .xlsx file, with the same guesses as for a text.
 *
 * The sheet with the most rows of numbers is taken unless the recipe names one.
 *
 * @param bytes Content of the file, no unit.
 * @param fileName Name of the file, for messages, no unit.
 * @param recipe What is known of the file already.
 * @returns The recording; `trace()` gives forces in N.
 * @throws {InputError} as `readSheets`; `not-recognised` if no sheet holds columns of numbers; `unknown-name` if the recipe names
 *   a sheet that is not there.
 */
export async function readWorkbookRecording(bytes: Uint8Array, fileName: string, recipe: ImportRecipe = {}): Promise<Recording> {
  checkRecordingSize(bytes.length, fileName);
  const sheets = await readSheets(bytes, LIMITS);
  const sheet = chooseSheet(sheets, recipe.sheet);
  const text = bytesOf(sheetText(sheet));
  if (text.length === 0) throw new InputError("not-recognised", "reading a workbook requires a sheet with columns of numbers, and this one has none", fileName);
  const layout = textLayout(text, { ...recipe, delimiter: "tab", decimal: recipe.decimal ?? "." });
  const others = sheets.filter((other) => other !== sheet).map((other) => other.name);
  const recording = recordingFrom(
    textTable(text, layout),
    {
      format: "workbook",
      fileName,
      hash: () => contentHash(bytes),
      warnings: [],
      guesses: {
        sheet: {
          value: sheet.name,
          why: recipe.sheet !== undefined ? "as you said" : others.length === 0 ? "the only sheet" : "the sheet with the most rows of numbers",
          alternatives: others,
          sure: recipe.sheet !== undefined || others.length === 0,
        },
        headerLines: { value: layout.head.length, why: `numbers begin in row ${layout.head.length + 1}`, alternatives: [], sure: true },
      },
    },
    recipe,
  );
  return recording;
}

function chooseSheet(sheets: readonly SheetRows[], name: string | undefined): SheetRows {
  if (name !== undefined) {
    const named = sheets.find((sheet) => sheet.name === name);
    if (!named) throw new InputError("unknown-name", `a recipe requires a sheet that is in the workbook: there is no sheet “${name.slice(0, 60)}”`);
    return named;
  }
  let best: SheetRows | undefined;
  let most = 0;
  for (const sheet of sheets) {
    const rows = sheet.rows.reduce((count, row) => count + (row.some((cell) => typeof cell === "number") ? 1 : 0), 0);
    if (rows > most) [best, most] = [sheet, rows];
  }
  if (!best) throw new InputError("not-recognised", "reading a workbook requires a sheet with columns of numbers, and this one has none");
  return best;
}

/** The sheet as tab-separated text, one line a row, so that rows and lines have the same numbers. */
function sheetText({ rows }: SheetRows): string {
  const width = rows.reduce((widest, row) => Math.max(widest, row.length), 0);
  return rows.map((row) => Array.from({ length: width }, (_, i) => cellText(row[i])).join("\t")).join("\n");
}

function cellText(cell: unknown): string {
  if (cell === null || cell === undefined) return "";
  if (typeof cell === "number") return String(cell);
  if (cell instanceof Date) return cell.toISOString();
  return String(cell).replace(/[\t\r\n"]/g, " ").slice(0, 1000);
}
