import { CellError } from "./CellError.ts";
import type { Cell } from "./cells.ts";

/** Longest text a cell can hold. */
export const LONGEST_TEXT = 32767;

/**
 * The result of a function as a sheet takes it: finite numbers, text, TRUE and FALSE, errors with a
 * sentence; a blank is `""`; a table is rectangular and has at least one cell.
 */
export function toCells(result: unknown): Cell | Cell[][] {
  if (!isList(result)) return toCell(result);
  const source = Array.from(result);
  const rows: ArrayLike<unknown>[] = source.some(isList) ? source.map((row) => (isList(row) ? row : [row])) : [source];
  const width = rows.reduce((widest, row) => Math.max(widest, row.length), 1);
  const table: Cell[][] = [];
  for (const row of rows) {
    const cells: Cell[] = [];
    for (let c = 0; c < width; c++) cells.push(c < row.length ? toCell(row[c]) : "");
    table.push(cells);
  }
  return table;
}

function isList(value: unknown): value is ArrayLike<unknown> {
  return Array.isArray(value) || (ArrayBuffer.isView(value) && !(value instanceof DataView));
}

function toCell(value: unknown): Cell {
  switch (typeof value) {
    case "number":
      return Number.isFinite(value) ? value + 0 : new CellError("#N/A", "this value could not be computed from these numbers");
    case "string":
      return value.length <= LONGEST_TEXT ? value : new CellError("#VALUE!", `this text requires more than the ${LONGEST_TEXT} characters a cell can hold`);
    case "boolean":
      return value;
    default:
      if (value === undefined || value === null) return "";
      if (value instanceof CellError) return value;
      return new CellError("#VALUE!", "this function stopped on a fault of its own, please report it: a result that is no cell value");
  }
}
