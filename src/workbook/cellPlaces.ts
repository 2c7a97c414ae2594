import type { FileRange } from "./WorkbookFile.ts";

/** `A1` of a zero-based cell. */
export function cellPlace(row: number, column: number): string {
  let letters = "";
  for (let n = column + 1; n > 0; n = Math.floor((n - 1) / 26)) letters = String.fromCharCode(65 + ((n - 1) % 26)) + letters;
  return `${letters}${row + 1}`;
}

/** `A1:B2` of a rectangle. */
export function rangePlace({ row, column, rows, columns }: FileRange): string {
  return `${cellPlace(row, column)}:${cellPlace(row + rows - 1, column + columns - 1)}`;
}

/** The rectangle of `A1:B2` or `A1`; undefined where the text is neither. */
export function rangeAt(text: string): FileRange | undefined {
  const match = /^\$?([A-Z]{1,3})\$?([1-9]\d{0,6})(?::\$?([A-Z]{1,3})\$?([1-9]\d{0,6}))?$/i.exec(text);
  if (!match) return undefined;
  const [, firstColumn, firstRow, lastColumn = firstColumn, lastRow = firstRow] = match;
  const row = Number(firstRow) - 1;
  const column = columnAt(firstColumn);
  const rows = Number(lastRow) - row;
  const columns = columnAt(lastColumn) - column + 1;
  return rows > 0 && columns > 0 ? { row, column, rows, columns } : undefined;
}

function columnAt(letters: string): number {
  let n = 0;
  for (const letter of letters.toUpperCase()) n = n * 26 + letter.charCodeAt(0) - 64;
  return n - 1;
}

/** A sheet's name as formulas write it. */
export function sheetInFormula(name: string): string {
  return `'${name.replaceAll("'", "''")}'!`;
}
