import { createWriteStream } from "node:fs";
import { once } from "node:events";
import { setFlagsFromString } from "node:v8";
import type { Writable } from "node:stream";
import { InputError } from "../src/errors.ts";
import { VERSION } from "../src/version.ts";
import { collectFiles } from "./collectFiles.ts";
import { parseOptions, USAGE, type Options } from "./options.ts";
import { refuseOverwriting } from "./refuseOverwriting.ts";
import { workersFor } from "./threads.ts";
import { visible } from "./visible.ts";

// The engine compiles what ran some times once more, for speed. Each thread would do so for hundreds of functions, most of which a folder
// of thousands of files does not call often enough to win that time back: only what runs four times as often as usual is worth it.
setFlagsFromString("--interrupt-budget=600000");

/** Bytes that may wait to be written before the analysis waits for them: rows that come meanwhile are then one write. */
const WAITING = 2 ** 20;

/**
 * Runs the command.
 *
 * @returns Exit code: zero where every file was read, one where some were not, two where nothing could be done.
 */
export async function main(words: readonly string[]): Promise<number> {
  const [verb, ...rest] = words;
  if (verb === "--version") {
    process.stdout.write(`${VERSION}\n`);
    return 0;
  }
  if (verb === undefined || verb === "--help" || verb === "help" || rest.includes("--help")) {
    process.stdout.write(`${USAGE}\n`);
    return verb === undefined ? 2 : 0;
  }
  if (verb !== "analyse" && verb !== "analyze") {
    process.stderr.write(`leapsheet: there is no command ${visible(verb)}; try leapsheet --help\n`);
    return 2;
  }
  try {
    return await analyseAll(parseOptions(rest));
  } catch (error) {
    process.stderr.write(`leapsheet: ${visible((error as Error).message)}\n`);
    return 2;
  }
}

async function analyseAll(options: Options): Promise<number> {
  const files = collectFiles(options.places);
  if (files.length === 0) {
    throw new InputError("not-recognised", "analyse requires at least one recording; none was found there");
  }
  let failed = 0;
  const workers = workersFor(files.length, options);
  try {
    // Loaded after the workers were started, which takes them as long.
    const [{ inOrder }, { formatOf }] = await Promise.all([import("./inOrder.ts"), import("./formatOf.ts")]);
    refuseOverwriting(files, [options.out, options.samples]);
    const out = options.out === undefined ? process.stdout : createWriteStream(options.out, { highWaterMark: WAITING });
    const writer = (await formatOf(options)).writer();
    const progress = progressLine(files.length);
    const samples = options.samples === undefined ? undefined : { out: createWriteStream(options.samples), file: (await import("./samplesFile.ts")).samplesFile() };
    for await (const batch of inOrder(files, options, workers)) {
      await write(out, joined(batch.pieces.map((piece) => writer.add(piece))));
      for (const { file, trial, trace } of batch.samples) {
        await write(samples!.out, samples!.file.add(file, trial, trace));
      }
      failed += batch.failed;
      progress.step(batch.files);
    }
    await write(out, await writer.end());
    for (const piece of samples?.file.end() ?? []) {
      await write(samples!.out, piece);
    }
    progress.end();
    for (const file of [out, samples?.out]) {
      if (file && file !== process.stdout) {
        file.end();
        await once(file, "close");
      }
    }
  } finally {
    await Promise.all(workers.map((worker) => worker.terminate()));
  }
  if (failed > 0) {
    process.stderr.write(`leapsheet: ${failed} of ${files.length} ${files.length === 1 ? "file" : "files"} could not be read\n`);
  }
  return failed > 0 ? 1 : 0;
}

/** Pieces of text as one, so that a batch is one write; bytes, which come rarely, as they are. */
function joined(pieces: readonly (string | Uint8Array)[]): string | Uint8Array {
  const told = pieces.filter((piece) => piece.length > 0);
  return told.every((piece) => typeof piece === "string") ? told.join("") : Buffer.concat(told.map((piece) => Buffer.from(piece)));
}

/** Writes a piece and waits where the file is slower than the analysis. */
async function write(out: Writable, piece: string | Uint8Array): Promise<void> {
  if (piece.length > 0 && !out.write(piece)) {
    await once(out, "drain");
  }
}

/** A line on standard error that counts files, at a terminal and only where it takes over half a second. */
function progressLine(total: number): { step(files: number): void; end(): void } {
  const began = Date.now();
  let done = 0;
  let shown = 0;
  return {
    step(files) {
      done += files;
      const now = Date.now();
      if (process.stderr.isTTY && now - began > 500 && now - shown > 100) {
        process.stderr.write(`\r${done} of ${total} files`);
        shown = now;
      }
    },
    end() {
      if (shown > 0) {
        process.stderr.write(`\r${" ".repeat(40)}\r`);
      }
    },
  };
}
