import type { FileSheet } from "../../../src/workbook/WorkbookFile.ts";

/** The values of a sheet as rows of `columns` cells; blank cells are null. */
export function rowsOf(sheet: FileSheet, columns: number): readonly (readonly unknown[])[] {
  const rows: unknown[][] = [];
  for (const cell of sheet.cells) {
    if (cell.column >= columns) continue;
    while (rows.length <= cell.row) rows.push(new Array<unknown>(columns).fill(null));
    rows[cell.row][cell.column] = cell.value;
  }
  return rows;
}
