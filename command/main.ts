import { createWriteStream } from "node:fs";
import { once } from "node:events";
import type { Writable } from "node:stream";
import { Worker, isMainThread, parentPort, workerData } from "node:worker_threads";
import { fileURLToPath } from "node:url";
import { InputError } from "../src/errors.ts";
import { VERSION } from "../src/version.ts";
import { analyseFile } from "./analyseFile.ts";
import { collectFiles } from "./collectFiles.ts";
import type { AnalysedEntry, AnyEntry } from "./entry.ts";
import { writerOf } from "./writerOf.ts";
import { parseOptions, USAGE, type Options } from "./options.ts";
import { refuseOverwriting } from "./refuseOverwriting.ts";
import { visible } from "./visible.ts";

/** Files handed to a worker at once: large enough to keep it busy, small enough that results keep flowing. */
const BATCH = 8;

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
  refuseOverwriting(files, [options.out, options.samples]);
  const out = options.out === undefined ? process.stdout : createWriteStream(options.out);
  const writer = await writerOf(options);
  const progress = progressLine(files.length);
  let failed = 0;
  const samples = options.samples === undefined ? undefined : { out: createWriteStream(options.samples), file: (await import("./samplesFile.ts")).samplesFile() };
  for await (const entries of inOrder(files, options)) {
    for (const entry of entries) {
      const { samples: trace, ...plain } = entry;
      failed += "error" in plain ? 1 : 0;
      await write(out, writer.add(plain));
      if (samples && trace && "trial" in plain) {
        await write(samples.out, samples.file.add(plain.file, plain.trial, trace));
      }
    }
    progress.step();
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
  if (failed > 0) {
    process.stderr.write(`leapsheet: ${failed} of ${files.length} ${files.length === 1 ? "file" : "files"} could not be read\n`);
  }
  return failed > 0 ? 1 : 0;
}

/** Writes a piece and waits where the file is slower than the analysis. */
async function write(out: Writable, piece: string | Uint8Array): Promise<void> {
  if (piece.length > 0 && !out.write(piece)) {
    await once(out, "drain");
  }
}

/** Entries of every file, in the order of the files, with `jobs` worker threads. */
async function* inOrder(files: readonly string[], options: Options): AsyncGenerator<readonly AnalysedEntry[]> {
  if (options.jobs === 1 || files.length <= BATCH) {
    for (const file of files) {
      yield await analyseFile(file, options, VERSION);
    }
    return;
  }
  const batches: string[][] = [];
  for (let from = 0; from < files.length; from += BATCH) {
    batches.push(files.slice(from, from + BATCH));
  }
  // This thread analyses too: one thread less to start, and half of the results stay where they are needed.
  const workers = Array.from({ length: Math.min(options.jobs, batches.length) - 1 }, () => new Worker(fileURLToPath(import.meta.url), { workerData: options }));
  const results = new Map<number, readonly (readonly AnalysedEntry[])[]>();
  let wake = () => {};
  let failure: Error | undefined;
  let next = 0;
  // Work may run ahead of the output by this many batches: what waits in memory stays bounded.
  const ahead = options.jobs * 4;
  let written = 0;
  const idle: Worker[] = [];
  const mayStart = () => next < batches.length && next - written <= ahead;
  const feed = (worker: Worker) => {
    if (!mayStart()) {
      idle.push(worker);
      return;
    }
    worker.postMessage({ index: next, files: batches[next] } satisfies Task);
    next += 1;
  };
  for (const worker of workers) {
    worker.on("message", (answer: Answer) => {
      results.set(answer.index, entriesOf(answer));
      feed(worker);
      wake();
    });
    worker.on("error", (error) => {
      failure = error;
      wake();
    });
    // One batch at work and one waiting, so that it never stands still while this thread is busy.
    feed(worker);
    feed(worker);
  }
  try {
    for (let index = 0; index < batches.length; index += 1) {
      while (!results.has(index)) {
        if (failure) {
          throw failure;
        }
        if (mayStart()) {
          const mine = next;
          next += 1;
          results.set(mine, await analyseBatch(batches[mine]!, options));
          await new Promise((resolve) => setImmediate(resolve));
        } else {
          await new Promise<void>((resolve) => (wake = resolve));
        }
      }
      const entries = results.get(index)!;
      results.delete(index);
      written = index + 1;
      idle.splice(0).forEach(feed);
      yield* entries;
    }
  } finally {
    await Promise.all(workers.map((worker) => worker.terminate()));
  }
}

/** The entries of each file. */
async function analyseBatch(files: readonly string[], options: Options): Promise<AnalysedEntry[][]> {
  const entries: AnalysedEntry[][] = [];
  for (const file of files) {
    entries.push(await analyseFile(file, options, VERSION));
  }
  return entries;
}

/** What a worker thread is given. */
interface Task {
  readonly index: number;
  readonly files: readonly string[];
}

/** What it gives back: the entries as JSON, which passes between threads faster than the objects, and the traces beside them. */
interface Answer {
  readonly index: number;
  readonly entries: string;
  readonly samples: readonly (readonly AnalysedEntry["samples"][])[];
}

function answerOf(index: number, files: readonly (readonly AnalysedEntry[])[]): Answer {
  const plain = files.map((entries) => entries.map((entry) => ({ ...entry, samples: undefined })));
  return { index, entries: JSON.stringify(plain), samples: files.map((entries) => entries.map(({ samples }) => samples)) };
}

function entriesOf({ entries, samples }: Answer): readonly (readonly AnalysedEntry[])[] {
  return (JSON.parse(entries) as AnyEntry[][]).map((file, f) =>
    file.map((entry, i) => {
      const trace = samples[f]![i];
      return trace === undefined ? entry : { ...entry, samples: trace };
    }),
  );
}

if (!isMainThread && parentPort) {
  const port = parentPort;
  const options = workerData as Options;
  port.on("message", ({ index, files }: Task) => {
    void analyseBatch(files, options).then((entries) => port.postMessage(answerOf(index, entries)));
  });
}

/** A line on standard error that counts files, at a terminal and only where it takes over half a second. */
function progressLine(total: number): { step(): void; end(): void } {
  const began = Date.now();
  let done = 0;
  let shown = 0;
  return {
    step() {
      done += 1;
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
