import { pageTextsOf } from "../../../src/wording/pageTextsOf.ts";
import type { CourseworkHead } from "../../../src/wording/PageTexts.ts";
import type { FileCell, FileSheet, WorkbookFile } from "../../../src/workbook/WorkbookFile.ts";
import { fixedRange, rangeFrom } from "../../workbook/addresses.ts";

/** Names of the workbook that point at heads, so that they are found in whichever language they were written. */
const NAMES: Readonly<Record<CourseworkHead, string>> = {
  metric: "LeapMetric", answer: "LeapAnswer", time: "LeapTime", total: "LeapForce", left: "LeapForceLeft", right: "LeapForceRight", box: "LeapForceBox",
};

/** Names for heads of a sheet. */
export function headNames(sheet: string, heads: readonly { readonly head: CourseworkHead; readonly row: number; readonly column: number }[]): WorkbookFile["names"] {
  return heads.map(({ head, row, column }) => ({ name: NAMES[head], refersTo: fixedRange({ sheet, row, column, rows: 1, columns: 1 }) }));
}

/**
 * The cell of a head: by its text in the language that is spoken or in English, else where the workbook's name for it points.
 *
 * @param row Zero-based row in which it has to stand.
 */
export function headCell(file: WorkbookFile, sheet: FileSheet, head: CourseworkHead, row?: number): FileCell | undefined {
  const texts = [pageTextsOf(), pageTextsOf("en")].map(({ sheets }) => sheets.coursework.heads[head]);
  const candidates = sheet.cells.filter((cell) => typeof cell.value === "string" && cell.value.trim() !== "" && (row === undefined || cell.row === row));
  const named = rangeFrom(file.names.find(({ name }) => name === NAMES[head])?.refersTo ?? "");
  return candidates.find(({ value }) => texts.includes(value as string)) ?? candidates.find((cell) => named !== undefined && named.sheet === sheet.name && cell.row === named.row && cell.column === named.column);
}
