import { readWorkbook } from "../../src/workbook/readWorkbook.ts";
import { writeWorkbook } from "../../src/workbook/writeWorkbook.ts";
import type { WorkbookAnswer, WorkbookTask } from "./inWorker.ts";

/** Files are packed and unpacked here, away from the page: a season takes seconds, and a hostile file only this thread. */
addEventListener("message", ({ data }: MessageEvent<WorkbookTask>) => {
  const done = data.kind === "write" ? writeWorkbook(data.file, data.options) : readWorkbook(data.bytes, data.functions);
  done.then(
    (result) => postMessage({ result } satisfies WorkbookAnswer),
    (error: Error & { where?: string }) => postMessage({ sentence: error.where ? `${error.message} (${error.where})` : error.message } satisfies WorkbookAnswer),
  );
});
