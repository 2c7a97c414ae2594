import { InputError } from "../../src/errors.ts";
import { CellError } from "./CellError.ts";

/** What a cell may hold on its way in or out. */
export type Cell = string | number | boolean | CellError;

/** What an error cell looks like on its way in: the host's own error object, or ours. */
interface ErrorLike {
  readonly code: unknown;
  readonly message?: unknown;
}

function isErrorLike(value: unknown): value is ErrorLike {
  return typeof value === "object" && value !== null && !Array.isArray(value) && "code" in value;
}

/**
 * A cell that was not filled in: left out, blank, or the empty text of a formula. A blank cell of a
 * range is 0 on the desktop; whether 0 counts as blank depends on the quantity (see `isGiven`).
 */
export function isBlank(value: unknown): value is null | undefined | "" {
  return value === undefined || value === null || value === "";
}

/** True for a cell that holds something, where zero has no meaning and so means blank. */
export function isGiven(value: unknown): boolean {
  return !isBlank(value) && value !== 0;
}

/** Passes an error cell on: the reader sees which error the sheet already held, with its sentence. */
export function throwIfError(value: unknown): void {
  if (!isErrorLike(value)) return;
  const code = String(value.code);
  const message = typeof value.message === "string" && value.message !== "" ? value.message : `a cell used here holds ${code}`;
  throw new CellError(code === "#N/A" ? "#N/A" : "#VALUE!", message);
}

const DECIMAL = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/;

/**
 * A number from a cell; text that is a plain decimal number counts.
 *
 * @throws {InputError} `not-a-number` for other text, TRUE and FALSE.
 * @throws {CellError} for an error cell.
 */
export function numberFrom(value: unknown, what: string): number {
  if (typeof value === "number") {
    if (Number.isFinite(value)) return value;
    throw new InputError("not-a-number", `${what} requires a finite number`);
  }
  throwIfError(value);
  if (typeof value === "string" && DECIMAL.test(value.trim())) return Number(value.trim());
  if (isBlank(value)) throw new InputError("not-a-number", `${what} requires a number, and the cell is blank`);
  throw new InputError("not-a-number", `${what} requires a number, not ${quoted(value)}`);
}

/** Text from a cell, trimmed; a blank or 0 cell is `undefined`. Numbers are written out. */
export function textFrom(value: unknown, what: string): string | undefined {
  if (!isGiven(value)) return undefined;
  throwIfError(value);
  if (typeof value === "string") return value.trim() === "" ? undefined : value.trim();
  if (typeof value === "number") return String(value);
  throw new InputError("wrong-shape", `${what} requires text, not ${quoted(value)}`);
}

/** Text that must be there. */
export function requiredText(value: unknown, what: string): string {
  const text = textFrom(value, what);
  if (text === undefined) throw new InputError("wrong-shape", `${what} requires text, and the cell is blank`);
  return text;
}

/** A number that may be left out: blank gives `fallback`, and so does 0 unless `zero` says that it counts. */
export function optionalNumber<T>(value: unknown, what: string, fallback: T, zero: "blank" | "counts" = "blank"): number | T {
  if (isBlank(value) || (zero === "blank" && value === 0)) return fallback;
  return numberFrom(value, what);
}

/** TRUE or FALSE, also as text or 1 and 0; blank gives `fallback`. */
export function optionalFlag(value: unknown, what: string, fallback: boolean): boolean {
  if (isBlank(value)) return fallback;
  throwIfError(value);
  if (typeof value === "boolean") return value;
  if (value === 1 || value === 0) return value === 1;
  const text = String(value).trim().toLowerCase();
  if (text === "true" || text === "yes") return true;
  if (text === "false" || text === "no") return false;
  throw new InputError("wrong-shape", `${what} requires TRUE or FALSE, not ${quoted(value)}`);
}

/** One of a list of words, in any case; blank gives `fallback`. */
export function optionalWord<W extends string>(value: unknown, what: string, words: readonly W[], fallback: W): W {
  const text = textFrom(value, what);
  if (text === undefined) return fallback;
  const found = words.find((word) => word.toLowerCase() === text.toLowerCase());
  if (found === undefined) throw new InputError("unknown-name", `${what} requires one of ${words.join(", ")}, not "${shortened(text)}"`);
  return found;
}

/** A range argument as rows; a single value stands for one cell, a left-out range for none. */
export function rowsFrom(value: unknown): readonly (readonly unknown[])[] {
  if (value === undefined || value === null) return [];
  if (!Array.isArray(value)) return [[value]];
  if (value.length > 0 && !Array.isArray(value[0])) return [value];
  return value as unknown[][];
}

/** The only cell of an argument that must be one value, also where it arrives as a 1 × 1 range. */
export function singleFrom(value: unknown, what: string): unknown {
  if (!Array.isArray(value)) return value;
  const rows = rowsFrom(value);
  if (rows.length === 1 && rows[0].length === 1) return rows[0][0];
  throw new InputError("wrong-shape", `${what} requires a single cell`);
}

/**
 * The numbers of a range in reading order. Blank cells are left out, and so are zeros (a blank cell
 * of a range is 0 on the desktop) unless `zero` says that they count. Text such as a head is refused
 * with its place, error cells are passed on.
 */
export function numbersFrom(value: unknown, what: string, zero: "blank" | "counts" = "blank"): number[] {
  const numbers: number[] = [];
  rowsFrom(value).forEach((row, r) =>
    row.forEach((cell, c) => {
      if (isBlank(cell) || (zero === "blank" && cell === 0)) return;
      numbers.push(numberAt(cell, what, r, c));
    }),
  );
  return numbers;
}

/**
 * A table of numbers in which a gap is `undefined`; zeros are gaps (see `numbersFrom`). A first row
 * or column without any number is a head and is cut off.
 */
export function tableFrom(value: unknown, what: string): (number | undefined)[][] {
  let rows = rowsFrom(value).map((row) => [...row]);
  if (rows.length > 1 && rows[0].some((cell) => !isBlank(cell)) && rows[0].every((cell) => !holdsNumber(cell))) rows = rows.slice(1);
  if (rows.length > 0 && rows[0].length > 1 && rows.some((row) => typeof row[0] === "string" && row[0] !== "") && rows.every((row) => !holdsNumber(row[0]))) rows = rows.map((row) => row.slice(1));
  return rows.map((row, r) => row.map((cell, c) => (isGiven(cell) ? numberAt(cell, what, r, c) : undefined)));
}

function holdsNumber(cell: unknown): boolean {
  return (typeof cell === "number" && cell !== 0) || (typeof cell === "string" && DECIMAL.test(cell.trim()));
}

function numberAt(cell: unknown, what: string, row: number, column: number): number {
  try {
    return numberFrom(cell, what);
  } catch (error) {
    if (error instanceof InputError) throw new InputError(error.code, error.message, `row ${row + 1}, column ${column + 1} of the range`);
    throw error;
  }
}

/** A value as it may be printed inside a sentence. */
export function quoted(value: unknown): string {
  if (typeof value === "boolean") return value ? "TRUE" : "FALSE";
  if (typeof value === "string") return `"${shortened(value)}"`;
  if (typeof value === "number") return String(value);
  return "such a value";
}

function shortened(text: string): string {
  return text.length > 40 ? `${text.slice(0, 39)}…` : text;
}
