import { InputError } from "../errors.ts";
import { requireFinite } from "../guards.ts";

/** Repeated results: one row a person, one column a trial or day; `undefined` is a gap. */
export type RepeatTable = readonly (readonly (number | undefined)[])[];

/** Most trials or days in a table: more are people in columns by mistake. */
const MOST_TRIALS = 200;

/** What was left out of a table, and how much remained: printed with every result made from it. */
export interface TableUse {
  /** Persons (rows) used. */
  readonly people: number;
  /** Trials or days (columns). */
  readonly trials: number;
  /** Numbers used. */
  readonly values: number;
  /** Gaps in the whole table. */
  readonly gaps: number;
  /** Rows left out because they hold too few numbers. */
  readonly leftOut: number;
}

/** Checks the shape and the numbers of a table; gives the count of its columns. */
export function requireTable(thing: string, table: RepeatTable): number {
  let columns = 0;
  for (const row of table) columns = Math.max(columns, row.length);
  if (columns < 2) throw new InputError("wrong-shape", `${thing} requires a table of people in rows and at least two trials in columns`);
  if (columns > MOST_TRIALS) {
    throw new InputError("too-large", `${thing} requires people in rows and at most ${MOST_TRIALS} trials in columns`);
  }
  for (const row of table) {
    for (const value of row) if (value !== undefined) requireFinite(thing, value);
  }
  return columns;
}

/** Numbers of a row that are there. */
export function present(row: readonly (number | undefined)[]): number[] {
  return row.filter((value): value is number => value !== undefined);
}

/** Rows with a number in every column. */
export function completeRows(table: RepeatTable, columns: number): number[][] {
  return table.map(present).filter((row) => row.length === columns);
}

/** The counts to print, for the rows that were used. */
export function tableUse(table: RepeatTable, columns: number, used: readonly (readonly number[])[]): TableUse {
  let given = 0;
  for (const row of table) given += present(row).length;
  let values = 0;
  for (const row of used) values += row.length;
  return {
    people: used.length,
    trials: columns,
    values,
    gaps: table.length * columns - given,
    leftOut: table.length - used.length,
  };
}
