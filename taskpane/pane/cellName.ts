import type { CellRef } from "../host/SheetHost.ts";

/** `B7` for row 6, column 1. */
export function cellName(cell: { readonly row: number; readonly column: number }): string {
  let letters = "";
  for (let rest = cell.column; rest >= 0; rest = Math.floor(rest / 26) - 1) letters = String.fromCharCode(65 + (rest % 26)) + letters;
  return `${letters}${cell.row + 1}`;
}

/** `Results!B7`, the sheet quoted where its name needs it. */
export function fullCellName(cell: CellRef): string {
  const sheet = /^[\p{L}_][\p{L}\p{N}_.]*$/u.test(cell.sheet) ? cell.sheet : `'${cell.sheet.replaceAll("'", "''")}'`;
  return `${sheet}!${cellName(cell)}`;
}
