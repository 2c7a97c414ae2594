import type { ForceUnit } from "../trace/units.ts";
import type { PlateRole } from "../trace/Trace.ts";

export const DELIMITERS = ["comma", "semicolon", "tab", "spaces", "pipe"] as const;
export type Delimiter = (typeof DELIMITERS)[number];
export type DecimalMark = "." | ",";
export const TIME_UNITS = ["s", "ms", "us"] as const;
export type TimeUnit = (typeof TIME_UNITS)[number];

/** A column by its number, counted from one, or by its name (with its group before it where the file has groups). */
export type ColumnRef = number | string;

/** What a person says about a file, and what is kept to read the next one the same way. Absent: guessed. */
export interface ImportRecipe {
  /** Sheet of a workbook. */
  readonly sheet?: string;
  readonly delimiter?: Delimiter;
  readonly decimal?: DecimalMark;
  /** Lines before the first line of numbers. */
  readonly headerLines?: number;
  /** Column of times, or `none` to read by `rate` alone. */
  readonly time?: ColumnRef | "none";
  readonly timeUnit?: TimeUnit;
  /** Sampling rate, Hz; with a time column as well, the rate wins. */
  readonly rate?: number;
  readonly forces?: readonly ForceSource[];
  readonly unit?: ForceUnit;
  /** True: forces are negative under load. */
  readonly invert?: boolean;
}

/** A force column and what it carries. */
export interface ForceSource {
  readonly column: ColumnRef;
  readonly role: PlateRole;
}
