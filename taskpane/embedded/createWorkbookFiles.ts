import { inLanguage } from "../../src/wording/inLanguage.ts";
import type { FunctionTable } from "../../src/workbook/fileFormula.ts";
import type { WorkbookFile } from "../../src/workbook/WorkbookFile.ts";
import type { EmbeddedSheet } from "../host/createEmbeddedHost.ts";
import { workbookFileFrom } from "../host/embedded/workbookFileFrom.ts";
import { cellAddress } from "../workbook/addresses.ts";
import { codeNames, keyText, namesAgain, readKeyText } from "../workbook/codeNames.ts";
import { sharedCopy } from "../workbook/exportWorkbook.ts";
import { inWorker } from "../workbook/inWorker.ts";
import type { WorkbookFiles } from "../workbook/workbookFiles.ts";
import { giveFile } from "./giveFile.ts";
import { PUT_BACK, type Replacing } from "./replaceWorkbook.ts";

const TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";

export interface WorkbookFilesOptions {
  readonly sheet: EmbeddedSheet;
  readonly functions: FunctionTable;
  /** Largest file that is opened, bytes. */
  readonly largest: number;
  /** Puts a workbook in the place of the one that is open, after asking. */
  readonly replace: (file: WorkbookFile, name: string) => Promise<void>;
  readonly replacing: Pick<Replacing, "former" | "name" | "putBack">;
}

/** Workbooks as .xlsx files, for the page with the embedded sheet. */
export function createWorkbookFiles({ sheet, functions, largest, replace, replacing }: WorkbookFilesOptions): WorkbookFiles {
  return {
    async save(formulas) {
      await sheet.host.settled();
      const whole = workbookFileFrom(sheet.save(), sheet.computed());
      const bytes = (await inWorker({ kind: "write", file: formulas === "live" ? whole : sharedCopy(whole), options: { formulas, functions } })) as Uint8Array<ArrayBuffer>;
      giveFile([bytes], TYPE, `leapsheet-${new Date().toISOString().slice(0, 10)}${formulas === "live" ? "" : "-values"}.xlsx`);
    },
    async saveCoded() {
      await sheet.host.settled();
      const { file, key, left } = codeNames(workbookFileFrom(sheet.save(), sheet.computed()), unguessable);
      const people = Object.keys(key.people).length;
      if (people === 0) throw new Error("no column is headed “athlete”, so there are no names to replace; nothing was saved");
      const bytes = (await inWorker({ kind: "write", file, options: { formulas: "live", functions } })) as Uint8Array<ArrayBuffer>;
      const day = new Date().toISOString().slice(0, 10);
      // The key first: without it nobody can go back.
      giveFile([keyText(key)], "application/json", `leapsheet-${day}-key.json`);
      giveFile([bytes], TYPE, `leapsheet-${day}-codes.xlsx`);
      return { people, left: left.map((cell) => `${cell.sheet}!${cellAddress(cell.row, cell.column)}`) };
    },
    async nameAgain(file) {
      if (file.size > largest) throw new Error("this file is not a key to names; nothing was changed");
      const key = readKeyText(await file.text());
      await sheet.host.settled();
      const coded = workbookFileFrom(sheet.save(), sheet.computed());
      const named = namesAgain(coded, key);
      if (JSON.stringify(named.sheets.map(({ cells }) => cells.map(({ value }) => value))) === JSON.stringify(coded.sheets.map(({ cells }) => cells.map(({ value }) => value)))) {
        throw new Error("no code of this key stands in the workbook; nothing was changed");
      }
      await replace(named, inLanguage(`${replacing.name()} with names`));
    },
    async open(file) {
      if (file.size > largest) throw new Error(`a workbook file requires at most ${Math.round(largest / 2 ** 20)} MB; nothing was changed`);
      const bytes = new Uint8Array(await file.arrayBuffer());
      await replace((await inWorker({ kind: "read", bytes, functions })) as WorkbookFile, file.name);
    },
    async former() {
      const text = await replacing.former();
      return text === undefined ? undefined : { label: inLanguage(PUT_BACK), text };
    },
    putBack: () => replacing.putBack(),
  };
}

/** From zero up to one, by the browser's source for secrets. */
function unguessable(): number {
  return crypto.getRandomValues(new Uint32Array(1))[0]! / 2 ** 32;
}
