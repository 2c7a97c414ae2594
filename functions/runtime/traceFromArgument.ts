import { InputError } from "../../src/errors.ts";
import { traceFromColumns } from "../../src/read/traceFromColumns.ts";
import type { TimesRecord, Trace } from "../../src/trace/Trace.ts";
import { unpackTrace } from "../../src/trace/unpackTrace.ts";
import { isGiven, numberFrom, rowsFrom, singleFrom, throwIfError } from "./cells.ts";

/** A trace, or times from a mat or video, and what a person should know of how it was read. */
export interface MadeTrace {
  readonly trace: Trace | TimesRecord;
  readonly notes: readonly string[];
}

/** A trace argument read: what identifies its content, and how to make the trace of it. */
export interface TraceArgument {
  /** Equal for equal content. */
  readonly key: string;
  make(): MadeTrace;
}

/**
 * Reads a trace argument: one to four packed cells in a row or column, or a range of numbers (one
 * column total force; two left, right; three time, left, right; a one-row head is allowed).
 *
 * @throws {InputError} `not-available` for a blank argument, and what the readers throw.
 */
export function traceFromArgument(value: unknown, rate: unknown): TraceArgument {
  const rows = rowsFrom(value);
  const height = rows.length;
  const width = height > 0 ? rows[0].length : 0;
  if (height <= 4 && width <= 4 && (height === 1 || width === 1)) {
    const cells = rows.flat();
    cells.forEach(throwIfError);
    const filled = cells.filter((cell) => isGiven(cell));
    if (filled.length === 0) throw new InputError("not-available", "this function requires a trace, and the cell is blank");
    if (filled.every((cell) => typeof cell === "string")) {
      const texts = filled as string[];
      return { key: texts.length === 1 ? texts[0] : texts.join("\u0001"), make: () => ({ trace: unpackTrace(texts), notes: [] }) };
    }
  }
  const given = singleFrom(rate, "rate");
  const hertz = isGiven(given) ? numberFrom(given, "rate") : undefined;
  return { key: `${hertz ?? ""} ${contentKey(rows)}`, make: () => traceFromColumns(rows, hertz) };
}

/** Key of a range by its content: its size and two independent 32-bit mixes over every cell. */
function contentKey(rows: readonly (readonly unknown[])[]): string {
  const number = new Float64Array(1);
  const words = new Uint32Array(number.buffer);
  let a = 0x811c9dc5;
  let b = 0x9e3779b9;
  const mix = (word: number) => {
    a = Math.imul(a ^ word, 0x01000193);
    a ^= a >>> 15;
    b = Math.imul(b + word, 0x85ebca6b);
    b = (b << 13) | (b >>> 19);
  };
  for (const row of rows) {
    for (const cell of row) {
      if (typeof cell === "number") {
        number[0] = cell;
        mix(words[0]);
        mix(words[1]);
      } else {
        throwIfError(cell);
        const text = `${typeof cell} ${String(cell)}`;
        for (let i = 0; i < text.length; i++) mix(text.charCodeAt(i));
        mix(text.length);
      }
    }
  }
  return `range ${rows.length}x${rows[0]?.length ?? 0} ${(a >>> 0).toString(16)} ${(b >>> 0).toString(16)}`;
}
