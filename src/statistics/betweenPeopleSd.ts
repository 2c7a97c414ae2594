import { InputError } from "../errors.ts";
import { requireTable, tableUse } from "./RepeatTable.ts";
import type { RepeatTable, TableUse } from "./RepeatTable.ts";
import { sumOfSquares } from "./moments.ts";

/** Observed spread between people. */
export interface BetweenPeopleSd extends TableUse {
  readonly value: number;
  readonly degreesOfFreedom: number;
}

/**
 * Observed standard deviation between people, pooled over trials: `sqrt(sum of squares within columns / sum of (n - 1))`.
 *
 * Observed: it still holds the measurement error, so it is a little larger than the
 * spread of the true values. Gaps: each column uses the numbers it has.
 *
 * @param table Persons in rows, trials in columns, gaps as undefined, in the unit of the quantity; one column is enough.
 * @returns Standard deviation, in the unit of the quantity, with the counts.
 * @throws {InputError} `not-available` if no column holds two numbers.
 * @see Hopkins (2000).
 */
export function betweenPeopleSd(table: RepeatTable): BetweenPeopleSd {
  const single = table.length > 0 && table.every((row) => row.length === 1);
  const columns = single ? 1 : requireTable("spread between people", table);
  let sum = 0;
  let degreesOfFreedom = 0;
  for (let j = 0; j < columns; j++) {
    const column = table.map((row) => row[j]).filter((value): value is number => value !== undefined);
    if (column.length < 2) continue;
    sum += sumOfSquares(column);
    degreesOfFreedom += column.length - 1;
  }
  if (degreesOfFreedom === 0) throw new InputError("not-available", "spread between people requires at least two people");
  const used = table.map((row) => row.filter((value): value is number => value !== undefined)).filter((row) => row.length > 0);
  return { value: Math.sqrt(sum / degreesOfFreedom), degreesOfFreedom, ...tableUse(table, columns, used) };
}
