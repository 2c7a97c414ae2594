import { inLanguage } from "../../src/wording/inLanguage.ts";
import type { toSaved } from "../host/storage/savedForm.ts";
import type { Keeper } from "../host/storage/keepSaved.ts";
import type { FormerWorkbook, WorkbookStore } from "../host/storage/workbookStore.ts";
import { showNotice } from "./bar.ts";

export interface ReplaceOptions {
  readonly store: WorkbookStore | undefined;
  /** Whether this tab is the one that may store. */
  readonly holds: () => boolean;
  readonly keeper: () => Keeper | undefined;
  /** Gives the person the open workbook as a file. */
  readonly download: () => void;
  /** Opens the page anew. */
  readonly reload: () => void;
}

/** A workbook that is to take the place of the open one. */
export interface NextWorkbook extends ReturnType<typeof toSaved> {
  /** What it is opened from; absent for a new one. */
  readonly name?: string;
}

/** Putting another workbook in the place of the open one, which can be put back. */
export interface Replacing {
  /** After asking. Where the storage has no room for both, nothing is replaced before the person has the open one as a file. */
  replace(next: NextWorkbook): Promise<void>;
  /** Puts the former workbook back, and keeps the open one in its stead. */
  putBack(): Promise<void>;
  /** What the open workbook is called. */
  name(): string;
  /** Says which workbook can be put back, if any. */
  former(): Promise<string | undefined>;
  /** Offers to put it back, until the person closes the offer. */
  offer(): Promise<void>;
}

/** Remembers the offer that was closed. */
const CLOSED = "leapsheet-former-closed";

const FULL = "replace-full";

export function createReplacing({ store, holds, keeper, download, reload }: ReplaceOptions): Replacing {
  /** The storage, where this tab may change it and it has all of the open workbook. */
  const ready = async (): Promise<WorkbookStore> => {
    if (!store) throw new Error("this browser does not let the page store anything, so no other workbook can be opened here");
    if (!holds()) throw new Error("this workbook is open in another tab, which has it; choose “Use it here” first, then try again; nothing was changed");
    await keeper()?.flush();
    const fault = keeper()?.fault();
    if (fault) throw fault;
    return store;
  };
  const leave = () => {
    keeper()?.stop();
    reload();
  };
  const put = async (open: WorkbookStore, { saved, texts, name = inLanguage("New workbook") }: NextWorkbook, keep: boolean) => {
    await open.replace(saved, texts, { name, keep });
    leave();
  };
  const whenFull = (open: WorkbookStore, next: NextWorkbook) => {
    showNotice(FULL, "The browser's storage has no room for both workbooks, so nothing was replaced. Download a copy of the one that is open; then it can be replaced without being kept here.", [
      {
        label: "Download a copy",
        run() {
          download();
          showNotice(FULL, "Look whether the copy is among your downloads. If it is replaced now, the workbook that is open is in that file alone.", [
            {
              label: "Replace it now",
              run: () => void put(open, next, false).catch((error: Error) => showNotice(FULL, `The workbook was not replaced: ${error.message}`)),
            },
          ]);
        },
      },
    ]);
  };
  const name = () => store?.name() ?? inLanguage(FIRST);
  const said = (former: FormerWorkbook | undefined) =>
    former && inLanguage(`“${name()}” took the place of “${former.name ?? inLanguage(FIRST)}”, which was last saved ${timeOf(former.savedAt)} and is kept in this browser.`);

  const replacing: Replacing = {
    async replace(next) {
      const former = await store?.former();
      const question = [
        "The workbook that is open now is replaced. It is kept in this browser and can be put back, until yet another workbook is opened.",
        ...(former ? [`“${former.name ?? inLanguage(FIRST)}”, which was kept until now, is kept no longer.`] : []),
        "Replace it?",
      ];
      if (store && holds() && !confirm(question.map((sentence) => inLanguage(sentence)).join(" "))) return;
      try {
        await put(await ready(), next, true);
      } catch (error) {
        if ((error as Error).name !== "QuotaExceededError") throw error;
        whenFull(store!, next);
      }
    },
    async putBack() {
      await (await ready()).putBack();
      leave();
    },
    name,
    former: async () => said(await store?.former()),
    async offer() {
      const former = await store?.former();
      if (!former || !holds() || remembered() === former.replacedAt) return;
      showNotice(
        "former",
        said(former)!,
        [{ label: PUT_BACK, run: () => void replacing.putBack().catch((error: Error) => showNotice("open-failed", `The former workbook was not put back: ${error.message}`)) }],
        () => remember(former.replacedAt),
      );
    },
  };
  return replacing;
}

function remembered(): string | null {
  try {
    return localStorage.getItem(CLOSED);
  } catch {
    return null;
  }
}

function remember(closed: string): void {
  try {
    localStorage.setItem(CLOSED, closed);
  } catch {
    // A browser that keeps nothing: the offer comes again.
  }
}

/** Of the button that puts the former workbook back. */
export const PUT_BACK = "Put it back";

/** A workbook that never took the place of another. */
const FIRST = "First workbook";

function timeOf(iso: string): string {
  const time = new Date(iso);
  return Number.isNaN(time.getTime()) ? iso : time.toLocaleString([], { dateStyle: "medium", timeStyle: "short" });
}
