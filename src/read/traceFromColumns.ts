import { InputError } from "../errors.ts";
import { stepsPerNewton } from "../trace/forceStep.ts";
import type { Plate, PlateRole, Trace } from "../trace/Trace.ts";
import { LARGEST_FORCE, NEWTONS_PER, forceUnitNamed } from "../trace/units.ts";
import { columnName, splitUnit } from "./columnNames.ts";
import { isNumberText } from "./isNumberText.ts";
import { rateOf, timeBase } from "./timeBase.ts";

/** A trace read from cells, and what a person should know about it. */
export interface CellTrace {
  readonly trace: Trace;
  /** Sentences, for instance that a blank tail was cut. */
  readonly notes: readonly string[];
}

/** What a column of the range is. */
type Column = "time" | PlateRole;

/**
 * The trace in a range of cells: one column of total force; two of left and right; three of time, left and right.
 *
 * A head of one row is allowed, and its names and units count. A first of two columns that rises evenly is time. Blank rows at the
 * end are cut, and zeros too, since a blank cell may arrive as zero, except where a time stands beside them.
 *
 * @param rows Cells of the range, forces in N unless the head names another unit, times in s or ms.
 * @param rate Sampling rate, Hz; needed where there is no time, and wins where there is one.
 * @returns The trace, N, with notes.
 * @throws {InputError} `wrong-shape` for a number of columns without a meaning, too few rows or a missing rate; `not-a-number` for
 *   a cell that holds no number, with its row; `out-of-range` for a rate not above zero or times that are not even.
 */
export function traceFromColumns(rows: readonly (readonly unknown[])[], rate?: number): CellTrace {
  if (rate !== undefined && !(rate > 0 && Number.isFinite(rate))) {
    throw new InputError("out-of-range", "a trace requires a sampling rate above zero");
  }
  const notes: string[] = [];
  const head = rows.length > 0 && rows[0].some(isName) ? rows[0] : undefined;
  const first = head ? 1 : 0;
  const width = usedWidth(rows);
  const kinds = head ? columnsByName(head, width) : undefined;
  let end = rows.length;
  while (end > first && rows[end - 1].every(isEmpty)) end--;
  const columns = kinds ?? columnsByCount(rows, first, end, width);
  const timeAt = columns.indexOf("time");
  if (!kinds && width === 2 && timeAt === 0) notes.push("the first column rises evenly and was read as time");
  end = cutTail(rows, first, end, columns, notes);
  const samples = end - first;
  if (samples < 3) throw new InputError("wrong-shape", "a trace requires at least three rows of numbers");

  const plates: Plate[] = [];
  columns.forEach((kind, column) => {
    if (kind === "time") return;
    const unit = head ? splitUnit(String(head[column] ?? "")).unit : undefined;
    const scale = NEWTONS_PER[forceUnitNamed(unit ?? "N") ?? "N"];
    const force = new Float64Array(samples);
    for (let i = 0; i < samples; i++) {
      force[i] = cellNumber(rows[first + i][column], first + i, column) * scale + 0;
      if (Math.abs(force[i]) > LARGEST_FORCE) {
        const row = first + i + 1;
        throw new InputError("out-of-range", `a trace requires forces a person can exert, and in row ${row} of the range stands ${force[i].toPrecision(3)} N`, `row ${row}, column ${column + 1}`);
      }
    }
    plates.push({ role: kind, force });
  });
  turnIfNegative(plates, notes);
  const found = rate ?? (timeAt < 0 ? undefined : rateOfTimes(rows, first, end, timeAt, head));
  if (found === undefined) throw new InputError("wrong-shape", "a trace of numbers without a column of times requires the sampling rate in hertz");
  const steps = stepsPerNewton(plates);
  return { trace: { rate: found, plates, start: 0, step: steps > 0 ? 1 / steps : 0, rounding: 0 }, notes };
}

function isEmpty(cell: unknown): boolean {
  return cell === null || cell === undefined || cell === "";
}

function isName(cell: unknown): boolean {
  return typeof cell === "string" && cell.trim() !== "" && !isNumberText(cell.trim(), ".");
}

function usedWidth(rows: readonly (readonly unknown[])[]): number {
  let width = 0;
  for (const row of rows) {
    for (let i = row.length - 1; i >= width; i--) {
      if (!isEmpty(row[i])) {
        width = i + 1;
        break;
      }
    }
  }
  return width;
}

/** Columns as the head names them; undefined where its names say too little. */
function columnsByName(head: readonly unknown[], width: number): Column[] | undefined {
  const columns: Column[] = [];
  for (let i = 0; i < width; i++) {
    const { name, unit } = splitUnit(String(head[i] ?? ""));
    const read = columnName(name, unit, undefined);
    columns.push(read.kind === "time" ? "time" : (read.side ?? "total"));
  }
  const distinct = new Set(columns).size === columns.length;
  const forces = columns.filter((kind) => kind !== "time");
  const sides = forces.includes("left") === forces.includes("right");
  const mixed = forces.includes("total") && forces.includes("left");
  return distinct && sides && !mixed && forces.length > 0 ? columns : undefined;
}

function columnsByCount(rows: readonly (readonly unknown[])[], first: number, end: number, width: number): Column[] {
  if (width === 1) return ["total"];
  if (width === 2) return risesEvenly(rows, first, end) ? ["time", "total"] : ["left", "right"];
  if (width === 3) return ["time", "left", "right"];
  throw new InputError("wrong-shape", `a trace requires one column (total), two (left, right) or three (time, left, right), and there are ${width}`);
}

/** Whether the first column is a clock, up to where it is blank or zero again. */
function risesEvenly(rows: readonly (readonly unknown[])[], first: number, end: number): boolean {
  const step = Number(rows[first + 1]?.[0]) - Number(rows[first]?.[0]);
  if (!(step > 0) || end - first < 4) return false;
  for (let i = first + 1; i < end; i++) {
    const [before, now] = [rows[i - 1][0], rows[i][0]];
    if (isEmpty(now) || now === 0) return i - first > 3;
    if (typeof now !== "number" || typeof before !== "number" || Math.abs(now - before - step) > 0.6 * step) return false;
  }
  return true;
}

/** End of the rows that hold samples. Without times, trailing zeros cannot be told from blanks and are cut; with times, only where the time is blank too. */
function cutTail(rows: readonly (readonly unknown[])[], first: number, end: number, columns: readonly Column[], notes: string[]): number {
  const timeAt = columns.indexOf("time");
  const isBlankOrZero = (cell: unknown) => isEmpty(cell) || cell === 0;
  const before = end;
  while (end > first && columns.every((_, i) => isBlankOrZero(rows[end - 1][i]))) {
    if (timeAt >= 0 && end - 1 === first) break;
    end--;
  }
  const zeros = before - end;
  if (zeros > 0) notes.push(`${zeros} ${zeros === 1 ? "row" : "rows"} of zeros at the end ${zeros === 1 ? "was" : "were"} taken as blank cells and left out`);
  return end;
}

function cellNumber(cell: unknown, row: number, column: number): number {
  const value = typeof cell === "number" ? cell : typeof cell === "string" && isNumberText(cell.trim(), ".") ? Number(cell) : NaN;
  if (Number.isFinite(value)) return value;
  const what = isEmpty(cell) ? "it is blank" : `there stands “${String(cell).slice(0, 30)}”`;
  throw new InputError("not-a-number", `a trace requires a number in row ${row + 1} of the range, column ${column + 1}, and ${what}`, `row ${row + 1}, column ${column + 1}`);
}

function rateOfTimes(rows: readonly (readonly unknown[])[], first: number, end: number, column: number, head: readonly unknown[] | undefined): number {
  const times = new Float64Array(end - first);
  for (let i = 0; i < times.length; i++) times[i] = cellNumber(rows[first + i][column], first + i, column);
  const base = timeBase(times, resolutionOf(times));
  if (!base) throw new InputError("out-of-range", "a trace requires times that rise from row to row");
  if (base.fault) {
    const { row, from, to } = base.fault;
    throw new InputError("out-of-range", `a trace requires times that rise evenly, and in row ${first + row + 1} of the range the time goes from ${from} to ${to}`, `row ${first + row + 1}`);
  }
  const unit = head ? splitUnit(String(head[column] ?? "")).unit?.toLowerCase() : undefined;
  const milliseconds = unit === "ms" || (unit !== "s" && base.interval > 0.05);
  return rateOf(base, milliseconds ? 1e-3 : 1);
}

/** Ten to the minus of the most decimals that up to 200 of the times have. */
function resolutionOf(times: Float64Array): number {
  const every = Math.max(1, Math.floor(times.length / 200));
  let most = 0;
  for (let i = 0; i < times.length; i += every) {
    const [digits, exponent = "0"] = String(times[i]).split("e");
    most = Math.max(most, (digits.split(".")[1]?.length ?? 0) - Number(exponent));
  }
  return 10 ** -Math.min(15, most);
}

function turnIfNegative(plates: readonly Plate[], notes: string[]): void {
  let up = 0;
  let down = 0;
  for (const { force } of plates) {
    for (let i = 0; i < force.length; i++) {
      if (force[i] > 0) up += force[i];
      else down -= force[i];
    }
  }
  if (down <= up) return;
  for (const { force } of plates) for (let i = 0; i < force.length; i++) force[i] = 0 - force[i];
  notes.push("forces are negative under load and were turned");
}
