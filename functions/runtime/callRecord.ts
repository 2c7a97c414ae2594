/**
 * What each LEAP call was given and what it gave, by cell: the pane explains a cell from these
 * records and evaluates nothing itself.
 */

/** One call of one function in a cell. */
export interface CallRecord {
  /** Address of the cell as the host writes it, for instance `Results!F7`. */
  readonly cell: string;
  /** Order of the call in its cell, from one: inner calls come before outer ones. */
  readonly call: number;
  /** Function id without the namespace, for instance `METRIC`. */
  readonly name: string;
  /** Declared arguments in order; left-out ones are `undefined`, large ranges and texts are cut (`CutRange`, `CutText`). */
  readonly args: readonly unknown[];
  /** Value, table of values, or error the call gave; a large table is cut. */
  readonly result: unknown;
  /** For `analysisByKey`, where the call analysed a trace. */
  readonly analysisKey?: string;
}

/** Stands for a range of more cells than a record keeps. */
export interface CutRange {
  readonly cut: "range";
  readonly rows: number;
  readonly columns: number;
  readonly firstRow: readonly unknown[];
}

/** Stands for a text longer than a record keeps, such as a packed trace. */
export interface CutText {
  readonly cut: "text";
  readonly characters: number;
  readonly start: string;
}

const MOST_CELLS_KEPT = 2000;
const MOST_CHARACTERS_KEPT = 200;
const MOST_CELLS_RECORDED = 5000;
const MOST_CALLS_IN_CELL = 32;

/** Where no host says when a calculation begins (Excel), a cell silent for so long is calculated anew, ms. */
const SILENCE = 5000;

interface CellCalls {
  readonly round: number;
  last: number;
  calls: CallRecord[];
}

const records = new Map<string, CellCalls>();
let round = 0;

/** To be called by a host that knows when a calculation begins: calls of earlier calculations then make way cell by cell. */
export function startCalculation(): void {
  round++;
}

/** Keeps the record of a call; the oldest cells make way. */
export function recordCall(call: Omit<CallRecord, "call">): void {
  const cell = cellKey(call.cell);
  let entry = records.get(cell);
  const now = Date.now();
  if (entry === undefined || entry.round !== round || (round === 0 && now - entry.last > SILENCE)) entry = { round, last: now, calls: [] };
  entry.last = now;
  records.delete(cell);
  records.set(cell, entry);
  const kept = { ...call, args: call.args.map(cut), result: cut(call.result) };
  const same = entry.calls.findIndex((other) => other.name === kept.name && sameArguments(other.args, kept.args) && sameArguments(other.result, kept.result));
  if (same >= 0) entry.calls.splice(same, 1);
  entry.calls.push({ ...kept, call: 0 });
  if (entry.calls.length > MOST_CALLS_IN_CELL) entry.calls.shift();
  if (records.size > MOST_CELLS_RECORDED) records.delete(records.keys().next().value as string);
}

/** Calls of a cell in the order in which they ran; empty where it was not calculated in this session. */
export function callsOf(cell: string): readonly CallRecord[] {
  return (records.get(cellKey(cell))?.calls ?? []).map((record, i) => ({ ...record, call: i + 1 }));
}

/** Forgets the calls of a cell, before it is recalculated for a complete set. */
export function forgetCalls(cell: string): void {
  records.delete(cellKey(cell));
}

/** Cells with records, newest last. */
export function recordedCells(): readonly string[] {
  return [...records.values()].flatMap((entry) => (entry.calls.length > 0 ? [entry.calls[0].cell] : []));
}

/** One spelling for `Sheet1!$A$1`, `'Sheet1'!A1` and `[Book1.xlsx]Sheet1!A1`. */
export function cellKey(address: string): string {
  const split = address.lastIndexOf("!");
  const cell = address.slice(split + 1).replaceAll("$", "").toUpperCase();
  let sheet = split < 0 ? "" : address.slice(0, split);
  if (sheet.startsWith("'") && sheet.endsWith("'")) sheet = sheet.slice(1, -1).replaceAll("''", "'");
  sheet = sheet.replace(/^\[[^\]]*\]/, "");
  return `${sheet}!${cell}`;
}

function cut(value: unknown): unknown {
  if (typeof value === "string" && value.length > MOST_CHARACTERS_KEPT) {
    // Joined to a blank first: a bare slice would keep the whole text in memory.
    return { cut: "text", characters: value.length, start: ` ${value.slice(0, MOST_CHARACTERS_KEPT)}`.slice(1) } satisfies CutText;
  }
  if (!Array.isArray(value)) return value;
  const width = Array.isArray(value[0]) ? value[0].length : 1;
  if (value.length * width > MOST_CELLS_KEPT) {
    const first: unknown[] = Array.isArray(value[0]) ? value[0].slice(0, MOST_CELLS_KEPT) : [value[0]];
    return { cut: "range", rows: value.length, columns: width, firstRow: first.map(cut) } satisfies CutRange;
  }
  return value.map(cut);
}

function sameArguments(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (Array.isArray(a) && Array.isArray(b)) return a.length === b.length && a.every((value, i) => sameArguments(value, b[i]));
  if (typeof a === "object" && typeof b === "object" && a !== null && b !== null && !Array.isArray(a) && !Array.isArray(b)) {
    return JSON.stringify(a) === JSON.stringify(b);
  }
  return false;
}
