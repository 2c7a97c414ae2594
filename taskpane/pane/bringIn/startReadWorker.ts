/** A thread that reads files; see `readWorker`. */
export function startReadWorker(): Worker {
  return new Worker(new URL("./readWorker.ts", import.meta.url));
}
