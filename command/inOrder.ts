import type { Worker } from "node:worker_threads";
import { analyseBatch, type Batch } from "./analyseBatch.ts";
import { formatOf } from "./formatOf.ts";
import type { Options } from "./options.ts";
import { BATCH, type Answer, type ReadAnswer, type Task } from "./threads.ts";

/** Most batches that may be read before they are analysed: analysing takes longer at first, reading later. */
const READ_AHEAD = 16;

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
