/** Columns of numbers with what the head says about them: what every reader of a format hands over. */
export interface NumberTable {
  readonly columns: readonly TableColumn[];
  /** Lines above the numbers, as written. */
  readonly head: readonly string[];
  /** Rate that the format states by itself, Hz. */
  readonly rate?: number;
  /** Rows of `sample`. */
  readonly sampleRows: number;
  /** Values of rows spread evenly over the file, for a column by its index from zero; NaN where there is no number. */
  sample(index: number): Float64Array;
  /** Most decimals written in the sample of a column: the resolution is ten to the minus this. */
  decimals(index: number): number;
  /**
   * All values of columns, given by index from zero.
   *
   * @throws {InputError} with line and column where a value is missing or is no number.
   */
  values(indexes: readonly number[]): Float64Array[];
  /** Most digits that any value of a column is written with, where its values were read and the reader noticed; by index from zero. */
  written?(index: number): WrittenDigits | undefined;
  /** Name of a row for a message, for instance `line 812`. */
  place(row: number): string;
  /** What was noticed while reading; grows as values are read. */
  readonly warnings: readonly string[];
}

/** A whole number of so many digits is exact as a double, and so is a product that is less than half off it. */
export const EXACT_DIGITS = 15;

/** Digits before and after the decimal mark, not fewer than the longest numbers have. */
export interface WrittenDigits {
  readonly whole: number;
  readonly decimals: number;
}

export interface TableColumn {
  readonly name: string;
  readonly group?: string;
  readonly unit?: string;
}

/** Gives memory for columns: whoever reads many files and keeps none of them may give the same again for each. */
export interface ColumnMemory {
  /** A column of so many values, of which any may stand there already. */
  column(length: number): Float64Array;
}

/** Name of a column for a message and a recipe: its group, if any, before its name. */
export function columnLabel(column: TableColumn): string {
  return column.group === undefined ? column.name : `${column.group}: ${column.name}`;
}
