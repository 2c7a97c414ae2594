import type { IWorkbookData } from "@univerjs/core";
import { FUNCTIONS } from "../functions/index.ts";
import { analysesMade } from "../functions/runtime/analyses.ts";
import { startCalculation } from "../functions/runtime/callRecord.ts";
import { languageFor, setLanguage } from "../src/wording/textsOf.ts";
import { installBar, showNotice } from "./embedded/bar.ts";
import { installDivider } from "./embedded/divider.ts";
import { createWorkbookFiles } from "./embedded/createWorkbookFiles.ts";
import { giveFile } from "./embedded/giveFile.ts";
import { createReplacing, type Replacing } from "./embedded/replaceWorkbook.ts";
import { showDemo } from "./embedded/showDemo.ts";
import { createEmbeddedHost, type EmbeddedSheet } from "./host/createEmbeddedHost.ts";
import type { SheetFunction } from "./host/embedded/createUniver.ts";
import type { FunctionMetadata } from "./host/embedded/FunctionMetadata.ts";
import type { SheetHost } from "./host/SheetHost.ts";
import { workbookDataFrom } from "./host/embedded/workbookDataFrom.ts";
import { keepSaved, type Keeper } from "./host/storage/keepSaved.ts";
import { fileText, readFileText, toSaved } from "./host/storage/savedForm.ts";
import { lockTab } from "./host/storage/tabLock.ts";
import { openWorkbookStore, type LoadedWorkbook, type WorkbookStore } from "./host/storage/workbookStore.ts";
import { createWorkbookModel } from "./workbook/createWorkbookModel.ts";
import type { WorkbookFiles } from "./workbook/workbookFiles.ts";
import type { WorkbookModel } from "./workbook/WorkbookModel.ts";
import { VERSION } from "../src/version.ts";
import "./embedded/embedded.css";

declare global {
  interface Window {
    /** For tests and automation only: the sheet as the pane sees it, saving on demand, and how much was computed. */
    leapsheet?: { readonly host: SheetHost; readonly workbook: WorkbookModel; readonly save: () => Promise<void>; readonly analysesMade: () => number };
  }
}

/** Largest workbook file that is opened, bytes. */
const LARGEST_FILE = 128 * 2 ** 20;

void start().catch((error: Error) => {
  document.getElementById("opening")?.remove();
  showNotice("start-failed", `Leapsheet could not start: ${error.message}`);
});

async function start(): Promise<void> {
  setLanguage(languageFor(navigator.languages));
  let keeper: Keeper | undefined;
  let holds = true;
  let lost = 0;
  const pane = import("./mountPane.tsx");
  const lock = await lockTab(async () => {
    holds = false;
    await keeper?.flush();
    keeper?.stop();
    bar.status("Not saved here");
    showNotice("elsewhere", "This workbook was opened in another tab. Changes made here are no longer saved.", [{ label: "Use it here", run: reload }]);
  });
  holds = lock.held;
  const [metadata, opened, program] = await Promise.all([functionMetadata(), openStored(), programName()]);
  const computed = opened.computedBy !== undefined && opened.computedBy === program;
  const sheet = await createEmbeddedHost({
    container: document.getElementById("sheet")!,
    functions: sheetFunctions(metadata),
    workbook: opened.workbook ?? EMPTY,
    parts: opened.parts,
    computed,
    byHand: opened.byHand,
    onLost: () => void lost++,
    onCalculation: startCalculation,
    onWait: () => showNotice("wait", "The sheet is being written. Rows, columns, tables and sheets can be changed, and steps undone, when that is done; cells can be typed meanwhile."),
  });
  const workbook = createWorkbookModel(sheet.host);
  const replacing = createReplacing({ store: opened.store, holds: () => holds, keeper: () => keeper, download: () => download(sheet), reload });
  const files = createWorkbookFiles({
    sheet,
    functions: new Map(metadata.map(({ name, result }) => [name, result?.dimensionality === "matrix"])),
    largest: LARGEST_FILE,
    replace: (file, name) => replacing.replace({ ...toSaved(workbookDataFrom(file), new Date()), name }),
    replacing,
  });
  const bar = installBar({
    startNew: () => void replacing.replace(toSaved(structuredClone(BLANK), new Date())).catch((error: Error) => showNotice("open-failed", `The workbook was not replaced: ${error.message}`)),
    openFile: (file) => void openFile(file, replacing, files),
    download: () => download(sheet),
  });
  installDivider(document.getElementById("divider")!, document.getElementById("pane")!);
  document.getElementById("opening")?.remove();

  if (opened.fault) {
    bar.status("Not saved");
    showNotice("storage", opened.fault, [{ label: "Download a copy", run: () => download(sheet) }]);
  } else if (!lock.held) {
    bar.status("Not saved here");
    showNotice("elsewhere", "This workbook is open in another tab. Changes made here are not saved.", [
      { label: "Use it here", run: () => void lock.takeOver().then(reload, (error: Error) => showNotice("elsewhere", error.message)) },
    ]);
  } else if (opened.store) {
    keeper = keepSaved(sheet, opened.store, program, (state) => {
      if (state.kind === "saved") {
        document.getElementById("save-failed")?.remove();
        bar.status(`Saved on this computer at ${state.at.toLocaleTimeString()}`);
      } else if (state.kind === "saving") {
        bar.status("Saving …");
      } else {
        bar.status("Not saved");
        showNotice("save-failed", saveFault(state.error), [{ label: "Download a copy", run: () => download(sheet) }]);
      }
    });
    bar.status("Saved on this computer");
    if (opened.workbook && (!computed || opened.byHand)) keeper.whenComputed();
  }
  if (lock.held) void replacing.offer().catch(() => {});
  if (opened.missing > 0) {
    showNotice("missing", `${opened.missing} traces of this workbook could not be found in the browser's storage; their cells are blank. Import those files again.`);
  }
  if (lost > 0) {
    showNotice("lost", `${lost} changes were typed on a sheet that was not written yet when the page was closed; they are lost with it.`);
  }

  const { mountPane } = await pane;
  const filled = !opened.workbook && !opened.fault && lock.held ? showDemo(sheet.host, workbook) : undefined;
  mountPane(document.getElementById("pane")!, { host: sheet.host, workbook, files, filled });
  await filled;
  await sheet.host.settled();
  window.leapsheet = { host: sheet.host, workbook, save: async () => keeper?.flush(), analysesMade };
  document.body.dataset.ready = "yes";
}

/** A first visit starts here and gets the demo session. */
const EMPTY: Partial<IWorkbookData> = {};

/** What *New workbook* gives: one blank sheet. */
const BLANK: Partial<IWorkbookData> = {
  id: "workbook",
  name: "Workbook",
  sheetOrder: ["sheet-1"],
  sheets: { "sheet-1": { id: "sheet-1", name: "Sheet1", cellData: {}, rowCount: 1000, columnCount: 26 } },
};

interface Opened extends Partial<LoadedWorkbook> {
  readonly store?: WorkbookStore;
  readonly missing: number;
  /** Why nothing is saved in this tab. */
  readonly fault?: string;
}

async function openStored(): Promise<Opened> {
  let store: WorkbookStore;
  try {
    store = await openWorkbookStore();
  } catch {
    return { missing: 0, fault: "This browser does not let the page store anything, so the workbook is lost when the page closes. Download a copy before you leave." };
  }
  try {
    const stored = await store.load();
    return stored ? { store, ...stored } : { store, missing: 0 };
  } catch (error) {
    return { store, missing: 0, fault: `The workbook stored in this browser was not opened: ${(error as Error).message}. Nothing is saved in this tab.` };
  }
}

async function functionMetadata(): Promise<readonly FunctionMetadata[]> {
  const response = await fetch("functions.json");
  if (!response.ok) throw new Error("the list of functions is missing from the build");
  return ((await response.json()) as { functions: FunctionMetadata[] }).functions;
}

/** Names this very build: what another one computed is computed again. Nothing can be said of a build without a receipt. */
async function programName(): Promise<string | undefined> {
  try {
    const { digest } = (await (await fetch("build.json")).json()) as { digest?: unknown };
    return typeof digest === "string" ? `${VERSION} ${digest}` : undefined;
  } catch {
    return undefined;
  }
}

function sheetFunctions(metadata: readonly FunctionMetadata[]): SheetFunction[] {
  return metadata.flatMap((each) => {
    const run = FUNCTIONS.get(each.id);
    return run ? [{ metadata: each, run }] : [];
  });
}

function download(sheet: EmbeddedSheet): void {
  const { saved, texts } = toSaved(sheet.save(), new Date());
  giveFile([fileText(saved, texts)], "application/json", `leapsheet-${saved.savedAt.slice(0, 10)}.json`);
}

async function openFile(file: File, replacing: Replacing, files: WorkbookFiles): Promise<void> {
  try {
    if (/\.xlsx$/i.test(file.name)) return await files.open(file);
    if (file.size > LARGEST_FILE) throw new Error("a workbook file requires at most 128 MB; nothing was changed");
    const { saved, texts } = readFileText(await file.text());
    await replacing.replace({ saved, texts, name: file.name });
  } catch (error) {
    showNotice("open-failed", `${file.name} was not opened: ${(error as Error).message}`);
  }
}

function saveFault(error: Error): string {
  if (error.name === "QuotaExceededError") return "The browser's storage is full: the last changes are not saved. Download a copy, then free some space.";
  if (error.name === "ChangedElsewhere") return `Not saved: ${error.message}.`;
  return "The browser refused to save: the last changes are not saved. Download a copy before you leave.";
}

function reload(): void {
  location.reload();
}
