import { readFileSync, statSync } from "node:fs";
import { InputError } from "../src/errors.ts";
import { findTrials } from "../src/events/findTrials.ts";
import { analyse } from "../src/protocols/analyse.ts";
import { parseAdjust } from "../src/protocols/parseAdjust.ts";
import { parseProtocol } from "../src/protocols/parseProtocol.ts";
import { readRecording, MAXIMUM_BYTES } from "../src/read/readRecording.ts";
import type { ImportRecipe } from "../src/read/Recording.ts";
import { settingsFrom } from "../src/settings/settingsFrom.ts";
import { packTrace } from "../src/trace/packTrace.ts";
import { sliceTrace } from "../src/trace/sliceTrace.ts";
import type { Trace } from "../src/trace/Trace.ts";
import { unpackTrace } from "../src/trace/unpackTrace.ts";
import { entryOf, type AnyEntry } from "./entry.ts";
import { numberOrWord, type Options } from "./options.ts";

/** Reads one file and analyses every trial in it. Never throws: what cannot be read becomes an entry with `error`. */
export function analyseFile(file: string, options: Options, version: string): AnyEntry[] {
  try {
    const found = statSync(file, { throwIfNoEntry: false });
    if (!found) {
      throw new InputError("not-recognised", "reading requires a file that exists");
    }
    if (found.size > MAXIMUM_BYTES) {
      throw new InputError("too-large", `a recording requires at most ${Math.round(MAXIMUM_BYTES / 1e6)} MB; this file has ${Math.round(found.size / 1e6)} MB`);
    }
    const recording = readRecording(new Uint8Array(readFileSync(file)), file, recipeOf(options));
    const whole = recording.trace();
    const protocol = parseProtocol(options.protocol);
    const settings = settingsFrom(options.settings.map(([id, value]) => [id, numberOrWord(value)] as const));
    const adjust = parseAdjust(options.bodyWeight === undefined ? "" : `bodyWeight=${options.bodyWeight}`);
    const windows = findTrials(whole, protocol.test);
    const cuts = windows.length === 0 ? [whole] : windows.map((window) => sliceTrace(whole, window.start, window.end));
    return cuts.map((cut, index) => {
      const trace = options.asPacked ? repacked(cut) : cut;
      return entryOf(file, index + 1, analyse(trace, protocol, settings, adjust), version, recording.warnings);
    });
  } catch (error) {
    const message = error instanceof InputError ? (error.where ? `${error.message} (${error.where})` : error.message) : `unexpected: ${(error as Error).message}`;
    return [{ file, error: message }];
  }
}

function recipeOf(options: Options): ImportRecipe | undefined {
  if (options.rate === undefined && options.columns === undefined && !options.invert) {
    return undefined;
  }
  return {
    ...(options.rate === undefined ? {} : { rate: options.rate }),
    ...(options.columns === undefined ? {} : { columns: options.columns }),
    ...(options.invert ? { sign: "negative" } : {}),
  } as ImportRecipe;
}

function repacked(trace: Trace): Trace {
  const back = unpackTrace(packTrace(trace));
  if (!("plates" in back)) {
    throw new InputError("damaged", "a packed trace requires plates");
  }
  return back;
}
