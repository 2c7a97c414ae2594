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

/** Reads one file and analyses every trial in it. Never throws: what cannot be read becomes an entry with `error`. */
export async function analyseFile(file: string, options: Options, version: string): Promise<AnalysedEntry[]> {
  try {
    const found = statSync(file, { throwIfNoEntry: false });
    if (!found) {
      throw new InputError("not-recognised", "reading requires a file that exists");
    }
    checkRecordingSize(found.size, file);
    const { recipe, protocol, settings, adjust } = askedOf(options);
    const bytes = readBytes(file, found.size);
    // Bytes and columns are the file's until the next one is read: only the reader of workbooks lets others run before it is done.
    const kept = options.samples !== undefined;
    const recording = isZip(bytes) ? await readWorkbook(bytes.slice(), file, recipe) : readRecording(bytes, file, recipe, kept ? undefined : reusedColumns());
    const whole = recording.trace();
    const windows = findTrials(whole, protocol.test);
    const cut = kept ? sliceTrace : viewOfTrace;
    const cuts = windows.length === 0 ? [whole] : windows.map((window) => cut(whole, window.start, window.end));
    return cuts.map((part, index) => {
      const trace = options.asPacked ? repacked(part) : part;
      const entry = entryOf(file, index + 1, analyse(trace, protocol, settings, adjust), version, recording.warnings);
      return kept ? { ...entry, samples: trace } : entry;
    });
  } catch (error) {
    const message = error instanceof InputError ? (error.where ? `${error.message} (${error.where})` : error.message) : `unexpected: ${(error as Error).message}`;
    return [{ file, error: message }];
  }
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
