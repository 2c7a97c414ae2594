import { Worker, isMainThread, parentPort, workerData } from "node:worker_threads";
import { fileURLToPath } from "node:url";
import type { Trace } from "../src/trace/Trace.ts";
import { VERSION } from "../src/version.ts";
import { analyseFile, analyseRead, readFile, type ReadFile } from "./analyseFile.ts";
import { formatOf } from "./formatOf.ts";
import type { Format } from "./formats.ts";
import type { Options } from "./options.ts";
import { columnsIn } from "./reusedColumns.ts";

/** Files handed to a worker at once: large enough to keep it busy, small enough that results keep flowing. */
const BATCH = 8;

/** Most batches that may be read before they are analysed: analysing takes longer at first, reading later. */
const READ_AHEAD = 32;
/** Memory for the columns of a batch, bytes: eight trials of three columns, ten seconds long. */
const BATCH_BYTES = 2 ** 21;

/** What some files gave, ready to be written. */
export interface Batch {
  readonly files: number;
  readonly failed: number;
  readonly pieces: readonly unknown[];
  readonly samples: readonly { readonly file: string; readonly trial: number; readonly trace: Trace }[];
}

/** Analyses files one after another: those named by this thread itself, those that another thread has read as they come. */
async function analyseBatch(files: readonly (string | ReadFile)[], options: Options, format: Format): Promise<Batch> {
  let failed = 0;
  const pieces: unknown[] = [];
  const samples: Batch["samples"][number][] = [];
  for (const file of files) {
    for (const { samples: trace, ...entry } of typeof file === "string" ? await analyseFile(file, options, VERSION) : analyseRead(file, options, VERSION)) {
      if ("error" in entry) failed += 1;
      else if (trace !== undefined) samples.push({ file: entry.file, trial: entry.trial, trace });
      pieces.push(format.pieceOf(entry));
    }
  }
  return { files: files.length, failed, pieces, samples };
}

/**
 * Results of batch after batch, in the order of the files, with `jobs` threads: this one and workers.
 *
 * The first worker reads and this thread analyses what it has read, so that the engine of each makes half of the code fast and not all
 * of it twice; where nothing is read yet, this thread reads for itself. Further workers do both.
 */
export async function* inOrder(files: readonly string[], options: Options, workers: readonly Worker[]): AsyncGenerator<Batch> {
  const batches: string[][] = [];
  for (let from = 0; from < files.length; from += BATCH) {
    batches.push(files.slice(from, from + BATCH));
  }
  const format = await formatOf(options);
  const results = new Map<number, Batch>();
  /** Batches that were read and wait to be analysed, in their order. */
  const read: ReadAnswer[] = [];
  const spare: SharedArrayBuffer[] = [];
  let wake = () => {};
  let failure: Error | undefined;
  let next = 0;
  // In a small folder fewer, so that every thread has something to do.
  const readAhead = Math.min(READ_AHEAD, Math.max(2, Math.ceil(batches.length / (4 * options.jobs))));
  // Work may run ahead of the output by this many batches: what waits in memory stays bounded.
  const ahead = readAhead + options.jobs * 4;
  let written = 0;
  const idle: Worker[] = [];
  const mayStart = () => next < batches.length && next - written <= ahead;
  const feed = (worker: Worker) => {
    if (!mayStart()) {
      idle.push(worker);
      return;
    }
    worker.postMessage({ index: next, files: batches[next]!, memory: spare.pop() } satisfies Task);
    next += 1;
  };
  workers.forEach((worker, i) => {
    worker.on("message", (answer: Answer | ReadAnswer) => {
      if ("read" in answer) read.push(answer);
      else {
        results.set(answer.index, { ...(JSON.parse(answer.text) as Batch), samples: answer.samples });
        feed(worker);
      }
      wake();
    });
    worker.on("error", (error) => {
      failure = error;
      wake();
    });
    // One batch at work and more waiting, so that it never stands still while this thread is busy.
    for (let waiting = i === 0 ? readAhead : 2; waiting > 0; waiting--) feed(worker);
  });
  for (let index = 0; index < batches.length; index += 1) {
    while (!results.has(index)) {
      if (failure) {
        throw failure;
      }
      const ready = read.shift();
      if (ready !== undefined) {
        results.set(ready.index, await analyseBatch(ready.read, options, format));
        spare.push(ready.memory);
        feed(workers[0]!);
      } else if (mayStart()) {
        const mine = next;
        next += 1;
        results.set(mine, await analyseBatch(batches[mine]!, options, format));
      } else {
        await new Promise<void>((resolve) => (wake = resolve));
        continue;
      }
      if (workers.length > 0) await new Promise((resolve) => setImmediate(resolve));
    }
    const batch = results.get(index)!;
    results.delete(index);
    written = index + 1;
    idle.splice(0).forEach(feed);
    yield batch;
  }
}

/** The threads beside this one, of which the first only reads. */
export function workersFor(files: number, options: Options): Worker[] {
  const count = Math.min(options.jobs, Math.ceil(files / BATCH)) - 1;
  return Array.from({ length: count }, (_, i) => new Worker(fileURLToPath(import.meta.url), { workerData: { options, reads: i === 0 } satisfies WorkerData }));
}

interface WorkerData {
  readonly options: Options;
  /** Whether it only reads. */
  readonly reads: boolean;
}

/** What a worker thread is given. */
interface Task {
  readonly index: number;
  readonly files: readonly string[];
  /** Memory for the columns of the batch, of which nobody needs any more what stands there. */
  readonly memory: SharedArrayBuffer | undefined;
}

/** What it gives back: a batch as JSON, which passes between threads faster than many objects, and the traces beside it. */
interface Answer {
  readonly index: number;
  readonly text: string;
  readonly samples: Batch["samples"];
}

/** What a worker that only reads gives back, and the memory in which the columns stand. */
interface ReadAnswer {
  readonly index: number;
  readonly read: readonly ReadFile[];
  readonly memory: SharedArrayBuffer;
}

if (!isMainThread && parentPort) {
  const port = parentPort;
  const { options, reads } = workerData as WorkerData;
  const answer = reads ? readTask : analyseTask(formatOf(options));
  port.on("message", (task: Task) => {
    void answer(task, options).then((done) => port.postMessage(done));
  });
}

function analyseTask(format: Promise<Format>): (task: Task, options: Options) => Promise<Answer> {
  return async ({ index, files }, options) => {
    const { samples, ...batch } = await analyseBatch(files, options, await format);
    return { index, text: JSON.stringify(batch), samples };
  };
}

async function readTask({ index, files, memory = new SharedArrayBuffer(BATCH_BYTES) }: Task, options: Options): Promise<ReadAnswer> {
  const columns = columnsIn(memory);
  const read: ReadFile[] = [];
  for (const file of files) {
    const one = readFile(file, options, columns);
    read.push(one instanceof Promise ? await one : one);
  }
  return { index, read, memory };
}
