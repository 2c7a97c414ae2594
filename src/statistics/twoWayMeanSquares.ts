import { InputError } from "../errors.ts";
import { mean } from "./moments.ts";
import { completeRows, requireTable, tableUse } from "./RepeatTable.ts";
import type { RepeatTable, TableUse } from "./RepeatTable.ts";

/** Mean squares of people by trials, one number a cell. */
export interface TwoWayMeanSquares extends TableUse {
  /** Between people (rows). */
  readonly between: number;
  /** Within people. */
  readonly within: number;
  /** Between trials (columns). */
  readonly trialsSquare: number;
  /** Residual. */
  readonly residual: number;
}

/**
 * Mean squares of the two-way analysis of variance of people by trials.
 *
 * Uses the people with a number in every column; the count of those left out is returned.
 *
 * @param table Persons in rows, trials in columns, gaps as undefined, in the unit of the quantity.
 * @returns Mean squares, in the unit squared, with the counts.
 * @throws {InputError} `wrong-shape` if there are fewer than two columns.
 * @throws {InputError} `not-available` if fewer than two people have a full row.
 * @see Shrout & Fleiss (1979), table 3.
 */
export function twoWayMeanSquares(table: RepeatTable): TwoWayMeanSquares {
  const k = requireTable("analysis of variance", table);
  const rows = completeRows(table, k);
  const n = rows.length;
  if (n < 2) throw new InputError("not-available", "analysis of variance requires at least two people with a number in every column");
  const rowMeans = rows.map(mean);
  const columnMeans = Array.from({ length: k }, (_, j) => mean(rows.map((row) => row[j])));
  const grand = mean(rowMeans);
  let between = 0;
  let within = 0;
  let columns = 0;
  let residual = 0;
  for (let i = 0; i < n; i++) {
    between += k * (rowMeans[i] - grand) ** 2;
    for (let j = 0; j < k; j++) {
      within += (rows[i][j] - rowMeans[i]) ** 2;
      residual += (rows[i][j] - rowMeans[i] - columnMeans[j] + grand) ** 2;
    }
  }
  for (const centre of columnMeans) columns += n * (centre - grand) ** 2;
  return {
    between: between / (n - 1),
    within: within / (n * (k - 1)),
    trialsSquare: columns / (k - 1),
    residual: residual / ((n - 1) * (k - 1)),
    ...tableUse(table, k, rows),
  };
}
