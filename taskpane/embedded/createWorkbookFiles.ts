import type { FunctionTable } from "../../src/workbook/fileFormula.ts";
import type { WorkbookFile } from "../../src/workbook/WorkbookFile.ts";
import type { EmbeddedSheet } from "../host/createEmbeddedHost.ts";
import { workbookFileFrom } from "../host/embedded/workbookFileFrom.ts";
import { sharedCopy } from "../workbook/exportWorkbook.ts";
import { inWorker } from "../workbook/inWorker.ts";
import type { WorkbookFiles } from "../workbook/workbookFiles.ts";
import { giveFile } from "./giveFile.ts";

const TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";

export interface WorkbookFilesOptions {
  readonly sheet: EmbeddedSheet;
  readonly functions: FunctionTable;
  /** Largest file that is opened, bytes. */
  readonly largest: number;
  /** Puts a workbook in the place of the one that is open, after asking. */
  readonly replace: (file: WorkbookFile) => Promise<void>;
}

/** Workbooks as .xlsx files, for the page with the embedded sheet. */
export function createWorkbookFiles({ sheet, functions, largest, replace }: WorkbookFilesOptions): WorkbookFiles {
  return {
    async save(formulas) {
      await sheet.host.settled();
      const whole = workbookFileFrom(sheet.save(), sheet.computed());
      const bytes = (await inWorker({ kind: "write", file: formulas === "live" ? whole : sharedCopy(whole), options: { formulas, functions } })) as Uint8Array<ArrayBuffer>;
      giveFile([bytes], TYPE, `leapsheet-${new Date().toISOString().slice(0, 10)}${formulas === "live" ? "" : "-values"}.xlsx`);
    },
    async open(file) {
      if (file.size > largest) throw new Error(`a workbook file requires at most ${Math.round(largest / 2 ** 20)} MB; nothing was changed`);
      const bytes = new Uint8Array(await file.arrayBuffer());
      await replace((await inWorker({ kind: "read", bytes, functions })) as WorkbookFile);
    },
  };
}
