// A thread that reads files for another one to analyse.
import { parentPort, workerData } from "node:worker_threads";
import type { Options } from "./options.ts";
import { readFile, type ReadFile } from "./readFile.ts";
import { columnsIn } from "./reusedColumns.ts";
import type { ReadAnswer, Task } from "./threads.ts";

/** Memory for the columns of a batch, bytes: sixteen trials of three columns, ten seconds long. */
const BATCH_BYTES = 2 ** 22;

const options = workerData as Options;

async function readTask({ index, files, memory = new SharedArrayBuffer(BATCH_BYTES) }: Task): Promise<ReadAnswer> {
  const columns = columnsIn(memory);
  const read: ReadFile[] = [];
  for (const file of files) {
    const one = readFile(file, options, columns);
    read.push(one instanceof Promise ? await one : one);
  }
  return { index, read, memory };
}

parentPort!.on("message", (task: Task) => {
  void readTask(task).then((answer) => parentPort!.postMessage(answer));
});
