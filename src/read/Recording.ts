import type { InputError } from "../errors.ts";
import type { ForceUnit } from "../trace/units.ts";
import type { Trace } from "../trace/Trace.ts";
import type { DecimalMark, Delimiter, ForceSource, ImportRecipe, TimeUnit } from "./ImportRecipe.ts";

/** One thing that was guessed about a file. */
export interface Guess<V> {
  /** Absent where the file does not say and a person has to. */
  readonly value: V | undefined;
  /** One sentence on where the value comes from. */
  readonly why: string;
  /** What else it could be. */
  readonly alternatives: readonly V[];
  /** False where a person should look. */
  readonly sure: boolean;
}

export interface Guesses {
  /** Only for workbooks. */
  readonly sheet?: Guess<string>;
  /** The next three only for delimited text. */
  readonly delimiter?: Guess<Delimiter>;
  readonly decimal?: Guess<DecimalMark>;
  readonly headerLines?: Guess<number>;
  /** Number of the column of times, counted from one, or `none`. */
  readonly time: Guess<number | "none">;
  readonly timeUnit?: Guess<TimeUnit>;
  /** Hz. */
  readonly rate: Guess<number>;
  readonly forces: Guess<readonly ForceSource[]>;
  readonly unit: Guess<ForceUnit>;
  /** True where forces are negative under load and were turned. */
  readonly invert: Guess<boolean>;
}

export interface RecordingColumn {
  /** Counted from one. */
  readonly number: number;
  /** As written in the file; `column 3` where the file has no names. */
  readonly name: string;
  /** Name of the device or group above the name. */
  readonly group?: string;
  readonly unit?: string;
  /** Values of rows spread evenly over the file; NaN where there is no number. */
  readonly preview: Float64Array;
}

/** A file that was read: what was guessed and why, and the trace it gives. */
export interface Recording {
  readonly format: "text" | "c3d" | "workbook";
  readonly fileName: string;
  /** SHA-256 of the bytes. */
  readonly hash: string;
  readonly guesses: Guesses;
  readonly columns: readonly RecordingColumn[];
  /** Sentences on what was left out, repaired or is doubtful. */
  readonly warnings: readonly string[];
  /** Everything above as a recipe, to read the next file the same way. */
  readonly recipe: ImportRecipe;
  /** What `trace()` throws; absent where the file gives a trace. */
  readonly problem?: InputError;
  /**
   * The whole recording, N.
   *
   * @throws {InputError} `not-available` if the rate or the force columns still have to be said; other codes for what is
   *   wrong in the file, with its line and column.
   */
  trace(): Trace;
}
