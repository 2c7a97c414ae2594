import { statSync } from "node:fs";
import { InputError } from "../src/errors.ts";
import { findTrials } from "../src/events/findTrials.ts";
import type { Adjust } from "../src/protocols/Adjust.ts";
import { analyse } from "../src/protocols/analyse.ts";
import { parseAdjust } from "../src/protocols/parseAdjust.ts";
import { parseProtocol } from "../src/protocols/parseProtocol.ts";
import type { Protocol } from "../src/protocols/Protocol.ts";
import type { ImportRecipe } from "../src/read/ImportRecipe.ts";
import { isZip } from "../src/read/isZip.ts";
import { checkRecordingSize } from "../src/read/limits.ts";
import type { ColumnMemory } from "../src/read/NumberTable.ts";
import { readRecording } from "../src/read/readRecording.ts";
import type { Recording } from "../src/read/Recording.ts";
import type { Settings } from "../src/settings/Settings.ts";
import { settingsFrom } from "../src/settings/settingsFrom.ts";
import { packTrace } from "../src/trace/packTrace.ts";
import { sliceTrace, viewOfTrace } from "../src/trace/sliceTrace.ts";
import type { PlateRole, Trace } from "../src/trace/Trace.ts";
import { unpackTrace } from "../src/trace/unpackTrace.ts";
import { entryOf, type AnalysedEntry } from "./entry.ts";
import { numberOrWord, type Options } from "./options.ts";
import { readBytes } from "./readBytes.ts";
import { reusedColumns } from "./reusedColumns.ts";

/** What a file holds, or why it could not be read. Plain data, which passes between threads. */
export type ReadFile = { readonly file: string; readonly trace: Trace; readonly warnings: readonly string[] } | { readonly file: string; readonly error: string };

/** Reads one file and analyses every trial in it. Never throws: what cannot be read becomes an entry with `error`. */
export async function analyseFile(file: string, options: Options, version: string): Promise<AnalysedEntry[]> {
  const read = readFile(file, options, reusedColumns());
  // Bytes and columns are the file's until the next one is read: nothing else runs before a text is analysed.
  return analyseRead(read instanceof Promise ? await read : read, options, version);
}

/**
 * Reads one file. Never throws. Only of a workbook the answer comes later.
 *
 * @param memory Where the columns of a text are put, unless they are kept as samples: the trace lasts as long as they do.
 */
export function readFile(file: string, options: Options, memory: ColumnMemory): ReadFile | Promise<ReadFile> {
  const failed = (error: unknown): ReadFile => ({ file, error: toldOf(error) });
  const done = (recording: Recording): ReadFile => ({ file, trace: recording.trace(), warnings: recording.warnings });
  try {
    const found = statSync(file, { throwIfNoEntry: false });
    if (!found) {
      throw new InputError("not-recognised", "reading requires a file that exists");
    }
    checkRecordingSize(found.size, file);
    const { recipe } = askedOf(options);
    const bytes = readBytes(file, found.size);
    if (isZip(bytes)) return readWorkbook(bytes.slice(), file, recipe).then(done).catch(failed);
    return done(readRecording(bytes, file, recipe, options.samples === undefined ? memory : undefined));
  } catch (error) {
    return failed(error);
  }
}

/** Analyses every trial in what was read. Never throws. */
export function analyseRead(read: ReadFile, options: Options, version: string): AnalysedEntry[] {
  if ("error" in read) return [read];
  const { file, trace: whole, warnings } = read;
  try {
    const { protocol, settings, adjust } = askedOf(options);
    const kept = options.samples !== undefined;
    const windows = findTrials(whole, protocol.test);
    const cut = kept ? sliceTrace : viewOfTrace;
    const cuts = windows.length === 0 ? [whole] : windows.map((window) => cut(whole, window.start, window.end));
    return cuts.map((part, index) => {
      const trace = options.asPacked ? repacked(part) : part;
      const entry = entryOf(file, index + 1, analyse(trace, protocol, settings, adjust), version, warnings);
      return kept ? { ...entry, samples: trace } : entry;
    });
  } catch (error) {
    return [{ file, error: toldOf(error) }];
  }
}

function toldOf(error: unknown): string {
  if (error instanceof InputError) return error.where ? `${error.message} (${error.where})` : error.message;
  return `unexpected: ${(error as Error).message}`;
}

/** What all files of a run are asked, made once. */
interface Asked {
  readonly recipe: ImportRecipe;
  readonly protocol: Protocol;
  readonly settings: Settings;
  readonly adjust: Adjust;
}

const asked = new WeakMap<Options, Asked>();

function askedOf(options: Options): Asked {
  let made = asked.get(options);
  if (made === undefined) {
    made = {
      recipe: recipeOf(options),
      protocol: parseProtocol(options.protocol),
      settings: settingsFrom(options.settings.map(([id, value]) => [id, numberOrWord(value)] as const)),
      adjust: parseAdjust(options.bodyWeight === undefined ? "" : `bodyWeight=${options.bodyWeight}`),
    };
    asked.set(options, made);
  }
  return made;
}

/** The reader of workbooks is loaded only where there is one: it takes longer to load than a text takes to read. */
async function readWorkbook(bytes: Uint8Array, file: string, recipe: ImportRecipe): Promise<Recording> {
  const { openRecording } = await import("../src/read/openRecording.ts");
  return openRecording(bytes, file, recipe);
}

function recipeOf(options: Options): ImportRecipe {
  const { time, ...forces } = options.columns ?? {};
  const sources = Object.entries(forces).map(([role, column]) => ({ role: role as PlateRole, column }));
  return {
    ...(options.rate === undefined ? {} : { rate: options.rate }),
    ...(time === undefined ? {} : { time }),
    ...(sources.length === 0 ? {} : { forces: sources }),
    ...(options.invert ? { invert: true } : {}),
  };
}

function repacked(trace: Trace): Trace {
  const back = unpackTrace(packTrace(trace));
  if (!("plates" in back)) {
    throw new InputError("damaged", "a packed trace requires plates");
  }
  return back;
}
