import type { FunctionTable } from "../../src/workbook/fileFormula.ts";
import type { WorkbookFile } from "../../src/workbook/WorkbookFile.ts";
import type { WriteWorkbookOptions } from "../../src/workbook/writeWorkbook.ts";

export type WorkbookTask =
  | { readonly kind: "write"; readonly file: WorkbookFile; readonly options: WriteWorkbookOptions }
  | { readonly kind: "read"; readonly bytes: Uint8Array; readonly functions: FunctionTable };

export type WorkbookAnswer = { readonly result: WorkbookFile | Uint8Array } | { readonly sentence: string };

/** Longer than a season takes on a slow machine, in ms. */
const PATIENCE = 120_000;

/**
 * Carries out one task in a thread of its own, which ends with it.
 *
 * @throws {Error} A sentence for the person.
 */
export function inWorker(task: WorkbookTask): Promise<WorkbookFile | Uint8Array> {
  return new Promise((resolve, reject) => {
    const worker = new Worker(new URL("./workbookWorker.ts", import.meta.url));
    const end = (finish: () => void) => {
      clearTimeout(timer);
      worker.terminate();
      finish();
    };
    const timer = setTimeout(() => end(() => reject(new Error("the workbook file takes longer than two minutes; it was given up"))), PATIENCE);
    worker.onmessage = ({ data }: MessageEvent<WorkbookAnswer>) => end(() => ("result" in data ? resolve(data.result) : reject(new Error(data.sentence))));
    worker.onerror = (event) => {
      event.preventDefault();
      end(() => reject(new Error("the workbook file could not be worked on: the machine may be short of memory")));
    };
    worker.postMessage(task);
  });
}
