import type { Trace } from "../src/trace/Trace.ts";
import { VERSION } from "../src/version.ts";
import { analyseFile, analyseRead } from "./analyseFile.ts";
import type { Format } from "./formats.ts";
import type { Options } from "./options.ts";
import type { ReadFile } from "./readFile.ts";

/** What some files gave, ready to be written. */
export interface Batch {
  readonly files: number;
  readonly failed: number;
  readonly pieces: readonly unknown[];
  readonly samples: readonly { readonly file: string; readonly trial: number; readonly trace: Trace }[];
}

/** Analyses files one after another: those named by this thread itself, those that another thread has read as they come. */
export async function analyseBatch(files: readonly (string | ReadFile)[], options: Options, format: Format): Promise<Batch> {
  let failed = 0;
  const pieces: unknown[] = [];
  const samples: Batch["samples"][number][] = [];
  for (const file of files) {
    for (const { entry, samples: trace } of typeof file === "string" ? await analyseFile(file, options, VERSION) : analyseRead(file, options, VERSION)) {
      if ("error" in entry) failed += 1;
      else if (trace !== undefined) samples.push({ file: entry.file, trial: entry.trial, trace });
      pieces.push(format.pieceOf(entry));
    }
  }
  return { files: files.length, failed, pieces, samples };
}
