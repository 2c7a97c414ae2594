import type { FileCell, WorkbookFile } from "./WorkbookFile.ts";

/**
 * The workbook for people without the cell functions: every formula becomes the value it gave last.
 *
 * Looks, tables, pictures and charts stay; defined names stay too.
 */
export function valuesOnly(file: WorkbookFile): WorkbookFile {
  return { ...file, sheets: file.sheets.map((sheet) => ({ ...sheet, cells: sheet.cells.map(plain) })) };
}

function plain(cell: FileCell): FileCell {
  if (cell.formula === undefined) return cell;
  const value: { -readonly [Key in keyof FileCell]: FileCell[Key] } = { ...cell };
  delete value.formula;
  delete value.spill;
  return value;
}
