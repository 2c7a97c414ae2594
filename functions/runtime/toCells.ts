import { CellError } from "./CellError.ts";
import type { Cell } from "./cells.ts";

/** Longest text a cell can hold. */
export const LONGEST_TEXT = 32767;

/**
 * The result of a function as a sheet takes it: finite numbers, text, TRUE and FALSE, errors with a
 * sentence; a blank is `""`; a table is rectangular and has at least one cell.
 */
export function toCells(result: unknown): Cell | Cell[][] {
  if (!Array.isArray(result) && !ArrayBuffer.isView(result)) return toCell(result);
  const source: unknown[] = Array.from(result as ArrayLike<unknown>);
  const rows = source.length > 0 && (Array.isArray(source[0]) || ArrayBuffer.isView(source[0])) ? source : [source];
  let width = 1;
  for (const row of rows) width = Math.max(width, (row as ArrayLike<unknown>).length);
  return rows.map((row) => {
    const from = row as ArrayLike<unknown>;
    const cells: Cell[] = new Array(width);
    for (let c = 0; c < width; c++) cells[c] = c < from.length ? toCell(from[c]) : "";
    return cells;
  });
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
