import type { CellValue, RangeRef } from "../host/SheetHost.ts";

/** Letters of a zero-based column: 0 is A, 26 is AA. */
export function columnLetters(column: number): string {
  let letters = "";
  for (let n = column + 1; n > 0; n = Math.floor((n - 1) / 26)) {
    letters = String.fromCharCode(65 + ((n - 1) % 26)) + letters;
  }
  return letters;
}

/** Zero-based column of its letters. */
export function columnIndex(letters: string): number {
  let n = 0;
  for (const letter of letters.toUpperCase()) {
    n = n * 26 + letter.charCodeAt(0) - 64;
  }
  return n - 1;
}

/** Sheet name as a formula needs it: quoted unless it is a plain word, quotes doubled. */
export function sheetPrefix(sheet: string): string {
  return /^[A-Za-z_][A-Za-z0-9_]*$/.test(sheet) && !looksLikeCell(sheet) ? `${sheet}!` : `'${sheet.replaceAll("'", "''")}'!`;
}

function looksLikeCell(name: string): boolean {
  return /^[A-Za-z]{1,3}[0-9]+$/.test(name) || /^([Rr][0-9]*)?([Cc][0-9]*)?$/.test(name) || /^(true|false)$/i.test(name);
}

/** `A1` text of a zero-based cell; `$` before what is fixed. */
export function cellAddress(row: number, column: number, fixed: { row?: boolean; column?: boolean } = {}): string {
  return `${fixed.column ? "$" : ""}${columnLetters(column)}${fixed.row ? "$" : ""}${row + 1}`;
}

/** `Sheet!$A$1:$B$2`, everything fixed. */
export function fixedRange(range: RangeRef): string {
  const first = cellAddress(range.row, range.column, { row: true, column: true });
  const last = cellAddress(range.row + range.rows - 1, range.column + range.columns - 1, { row: true, column: true });
  return `${sheetPrefix(range.sheet)}${first}:${last}`;
}

/** The range of such a text, whichever of its parts are fixed; `undefined` where it names something else. */
export function rangeFrom(reference: string): RangeRef | undefined {
  const match = /^=?(?:'((?:[^']|'')+)'|([^'!]+))!\$?([A-Z]+)\$?(\d+)(?::\$?([A-Z]+)\$?(\d+))?$/i.exec(reference);
  if (!match) {
    return undefined;
  }
  const [, quoted, plain, firstColumn, firstRow, lastColumn = firstColumn, lastRow = firstRow] = match;
  const [row, column] = [Number(firstRow) - 1, columnIndex(firstColumn!)];
  return { sheet: quoted?.replaceAll("''", "'") ?? plain!, row, column, rows: Number(lastRow) - row, columns: columnIndex(lastColumn!) - column + 1 };
}

/** Text of a cell; blank for an error, or where there is no cell. */
export function cellText(value: CellValue | undefined): string {
  return value === undefined || typeof value === "object" ? "" : String(value);
}

const EPOCH = Date.UTC(1899, 11, 30);

/** Serial day number of an ISO date, as spreadsheets store dates; the text itself where it is no ISO date. */
export function dateSerial(iso: string): number | string {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(iso)) {
    return iso;
  }
  return Math.round((Date.parse(`${iso}T00:00:00Z`) - EPOCH) / 86400000);
}

/** ISO date of a cell: a serial day number or text. */
export function isoDate(value: unknown): string {
  if (typeof value === "number" && value > 0) {
    return new Date(EPOCH + Math.floor(value) * 86400000).toISOString().slice(0, 10);
  }
  return typeof value === "string" ? value : "";
}
