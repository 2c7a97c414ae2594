import { InputError } from "../src/errors.ts";
import { findTrials } from "../src/events/findTrials.ts";
import type { Adjust } from "../src/protocols/Adjust.ts";
import { analyse } from "../src/protocols/analyse.ts";
import { parseAdjust } from "../src/protocols/parseAdjust.ts";
import { parseProtocol } from "../src/protocols/parseProtocol.ts";
import type { Protocol } from "../src/protocols/Protocol.ts";
import type { Settings } from "../src/settings/Settings.ts";
import { settingsFrom } from "../src/settings/settingsFrom.ts";
import { packTrace } from "../src/trace/packTrace.ts";
import { sliceTrace, viewOfTrace } from "../src/trace/sliceTrace.ts";
import type { Trace } from "../src/trace/Trace.ts";
import { unpackTrace } from "../src/trace/unpackTrace.ts";
import { entryOf, type AnalysedEntry } from "./entry.ts";
import { numberOrWord, type Options } from "./options.ts";
import { readFile, type ReadFile } from "./readFile.ts";
import { reusedColumns } from "./reusedColumns.ts";
import { toldOf } from "./toldOf.ts";

/** Reads one file and analyses every trial in it. Never throws: what cannot be read becomes an entry with `error`. */
export async function analyseFile(file: string, options: Options, version: string): Promise<AnalysedEntry[]> {
  const read = readFile(file, options, reusedColumns());
  // Bytes and columns are the file's until the next one is read: nothing else runs before a text is analysed.
  return analyseRead(read instanceof Promise ? await read : read, options, version);
}

/** Analyses every trial in what was read. Never throws. */
export function analyseRead(read: ReadFile, options: Options, version: string): AnalysedEntry[] {
  if ("error" in read) return [{ entry: read }];
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
      return kept ? { entry, samples: trace } : { entry };
    });
  } catch (error) {
    return [{ entry: { file, error: toldOf(error) } }];
  }
}

/** What all files of a run are asked, made once. */
interface Asked {
  readonly protocol: Protocol;
  readonly settings: Settings;
  readonly adjust: Adjust;
}

const asked = new WeakMap<Options, Asked>();

function askedOf(options: Options): Asked {
  let made = asked.get(options);
  if (made === undefined) {
    made = {
      protocol: parseProtocol(options.protocol),
      settings: settingsFrom(options.settings.map(([id, value]) => [id, numberOrWord(value)] as const)),
      adjust: parseAdjust(options.bodyWeight === undefined ? "" : `bodyWeight=${options.bodyWeight}`),
    };
    asked.set(options, made);
  }
  return made;
}

function repacked(trace: Trace): Trace {
  const back = unpackTrace(packTrace(trace));
  if (!("plates" in back)) {
    throw new InputError("damaged", "a packed trace requires plates");
  }
  return back;
}
