import { Worker } from "node:worker_threads";
import path from "node:path";
import { fileURLToPath } from "node:url";
import type { Batch } from "./analyseBatch.ts";
import type { Options } from "./options.ts";
import type { ReadFile } from "./readFile.ts";

/** Files handed to a worker at once: large enough to keep it busy, small enough that results keep flowing. */
export const BATCH = 16;

/** What a worker thread is given. */
export interface Task {
  readonly index: number;
  readonly files: readonly string[];
  /** Memory for the columns of the batch, of which nobody needs any more what stands there. */
  readonly memory: SharedArrayBuffer | undefined;
}

/** What it gives back: a batch as JSON, which passes between threads faster than many objects, and the traces beside it. */
export interface Answer {
  readonly index: number;
  readonly text: string;
  readonly samples: Batch["samples"];
}

/** What a worker that only reads gives back, and the memory in which the columns stand. */
export interface ReadAnswer {
  readonly index: number;
  readonly read: readonly ReadFile[];
  readonly memory: SharedArrayBuffer;
}

/** The threads beside this one, of which the first only reads. They load what they need while this thread does. */
export function workersFor(files: number, options: Options): Worker[] {
  const count = Math.min(options.jobs, Math.ceil(files / BATCH)) - 1;
  const here = path.dirname(fileURLToPath(import.meta.url));
  return Array.from({ length: count }, (_, i) => new Worker(path.join(here, i === 0 ? "readingThread.js" : "analysingThread.js"), { workerData: options }));
}
