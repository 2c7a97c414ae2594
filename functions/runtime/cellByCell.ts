import { InputError } from "../../src/errors.ts";
import type { CellError } from "./CellError.ts";
import { cellErrorFrom } from "./cellErrorFrom.ts";
import { isBlank, numberFrom, rowsFrom } from "./cells.ts";

/** How one argument of a closed form reads its cells. */
export interface CellArgument {
  /** Word of the argument, for sentences. */
  readonly name: string;
  readonly value: unknown;
  /** A blank cell of a required argument makes the result blank; of an optional one, the default counts. */
  readonly optional?: boolean;
  /** Whether the number 0 is a value here; otherwise 0 is blank, since a blank cell is 0 on the desktop. */
  readonly zero?: "counts";
  /** Reads text instead of a number. */
  readonly text?: boolean;
}

/**
 * Applies a closed form cell by cell: arguments of equal shape, or single cells that go with every
 * cell of the others. An error stays in its own cell; a blank required cell gives a blank.
 *
 * @throws {InputError} `wrong-shape` where the ranges differ in shape.
 */
export function cellByCell(
  what: string,
  args: readonly CellArgument[],
  formula: (...values: any[]) => number | string,
): (number | string | CellError)[][] {
  const grids = args.map((arg) => rowsFrom(arg.value));
  let rows = 1;
  let columns = 1;
  for (const grid of grids) {
    const height = grid.length;
    const width = height > 0 ? grid[0].length : 0;
    if (height * width <= 1) continue;
    if (rows * columns > 1 && (rows !== height || columns !== width)) {
      throw new InputError("wrong-shape", `${what} requires ranges of one shape: ${rows} × ${columns} and ${height} × ${width} cells do not go together`);
    }
    rows = height;
    columns = width;
  }
  const result: (number | string | CellError)[][] = [];
  for (let r = 0; r < rows; r++) {
    const row: (number | string | CellError)[] = [];
    for (let c = 0; c < columns; c++) row.push(one(what, args, grids, r, c, formula));
    result.push(row);
  }
  return result;
}

function one(
  what: string,
  args: readonly CellArgument[],
  grids: readonly (readonly (readonly unknown[])[])[],
  r: number,
  c: number,
  formula: (...values: any[]) => number | string,
): number | string | CellError {
  try {
    const values: unknown[] = [];
    for (let i = 0; i < args.length; i++) {
      const grid = grids[i];
      const single = grid.length === 1 && grid[0].length === 1;
      const cell = grid.length === 0 ? undefined : single ? grid[0][0] : grid[r][c];
      const arg = args[i];
      if (isBlank(cell) || (cell === 0 && arg.zero !== "counts") || (typeof cell === "string" && cell.trim() === "")) {
        if (!arg.optional) return "";
        values.push(undefined);
      } else if (arg.text && typeof cell === "string") {
        values.push(cell.trim());
      } else {
        values.push(numberFrom(cell, `${what}: ${arg.name}`));
      }
    }
    return formula(...values);
  } catch (error) {
    return cellErrorFrom(error);
  }
}
