import type { FileCell, FileSheet, FileTable } from "./WorkbookFile.ts";

/**
 * The sheet with tables as a file must have them: every head is a text of its own, and the text that stands in its cell.
 *
 * Where a head is blank it becomes `Column1` and so on, where it is there already it gets a number, as spreadsheets do themselves.
 * A table without a row below its head is left out.
 *
 * @param sheet The sheet.
 * @returns The sheet, or a copy with the heads changed.
 */
export function withTableHeads(sheet: FileSheet): FileSheet {
  if (!sheet.tables?.length) return sheet;
  const tables: FileTable[] = [];
  const heads = new Map<string, FileCell>();
  const cells = new Map(sheet.cells.map((cell) => [`${cell.row},${cell.column}`, cell]));
  for (const table of sheet.tables) {
    const { row, column, rows, columns } = table.range;
    if (rows < 2) continue;
    const taken = new Set<string>();
    const names = Array.from({ length: columns }, (_, index) => {
      const cell = cells.get(`${row},${column + index}`);
      const name = freeName(textOf(cell) || `Column${index + 1}`, taken);
      taken.add(name.toLowerCase());
      heads.set(`${row},${column + index}`, { ...looksOf(cell), row, column: column + index, value: name });
      return name;
    });
    tables.push({ ...table, columns: names });
  }
  const others = sheet.cells.filter((cell) => !heads.has(`${cell.row},${cell.column}`));
  return { ...sheet, cells: [...heads.values(), ...others], tables };
}

function textOf(cell: FileCell | undefined): string {
  const value = cell?.value ?? "";
  return typeof value === "object" ? value.error : String(value).slice(0, 255);
}

function looksOf({ numberFormat, bold, wrap, fill, align }: Partial<FileCell> = {}): Partial<FileCell> {
  return { ...(numberFormat && { numberFormat }), ...(bold && { bold }), ...(wrap && { wrap }), ...(fill && { fill }), ...(align && { align }) };
}

function freeName(name: string, taken: ReadonlySet<string>): string {
  if (!taken.has(name.toLowerCase())) return name;
  let number = 2;
  while (taken.has(`${name}${number}`.toLowerCase())) number++;
  return `${name}${number}`;
}
