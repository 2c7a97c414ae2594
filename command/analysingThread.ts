// A thread that reads files and analyses them.
import { parentPort, workerData } from "node:worker_threads";
import { analyseBatch } from "./analyseBatch.ts";
import { formatOf } from "./formatOf.ts";
import type { Options } from "./options.ts";
import type { Answer, Task } from "./threads.ts";

const options = workerData as Options;
const format = formatOf(options);

async function analyseTask({ index, files }: Task): Promise<Answer> {
  const { samples, ...batch } = await analyseBatch(files, options, await format);
  return { index, text: JSON.stringify(batch), samples };
}

parentPort!.on("message", (task: Task) => {
  void analyseTask(task).then((answer) => parentPort!.postMessage(answer));
});
