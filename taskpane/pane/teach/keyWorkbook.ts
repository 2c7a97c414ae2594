import type { StudentKey } from "../../../src/coursework/Coursework.ts";
import { KEY_HEAD, keyRows, keysFromRows } from "../../../src/coursework/keyRows.ts";
import { InputError } from "../../../src/errors.ts";
import type { FileCell, WorkbookFile } from "../../../src/workbook/WorkbookFile.ts";
import { rowsOf } from "./rowsOf.ts";

const KEY_SHEET = "Key";

/** What the teacher keeps: seeds, answers, tolerances, and the answers of usual mistakes. */
export function keyWorkbook(keys: readonly StudentKey[]): WorkbookFile {
  const rows: readonly (readonly (string | number)[])[] = [KEY_HEAD, ...keyRows(keys)];
  const cells = rows.flatMap((values, row) => values.map((value, column): FileCell => (row === 0 ? { row, column, value, bold: true } : { row, column, value })));
  return { sheets: [{ name: KEY_SHEET, cells, frozenRows: 1, columns: [{ column: 0, width: 150 }, { column: 2, width: 190 }, { column: 6, width: 420 }] }], names: [] };
}

/**
 * The keys of a key workbook.
 *
 * @throws {InputError} `not-recognised` for a workbook without a key; `damaged` for one that cannot be read.
 */
export function keysFrom(file: WorkbookFile): readonly StudentKey[] {
  const sheet = file.sheets.find((candidate) => candidate.name === KEY_SHEET);
  if (sheet === undefined) throw new InputError("not-recognised", `marking requires the key that was saved with the coursework: a workbook with a sheet named ${KEY_SHEET}`);
  return keysFromRows(rowsOf(sheet, KEY_HEAD.length).slice(1));
}
