import type { Changes } from "../embedded/ChangedRows.ts";
import { FORM, hashAll, hashOf, isHashed } from "./savedForm.ts";
import { partName, toSavedPart, type SavedPart, type WorkbookPart } from "./savedParts.ts";
import type { IWorkbookData } from "@univerjs/core";
import type { WorkbookStore } from "./workbookStore.ts";

export type SaveState = { readonly kind: "saved"; readonly at: Date } | { readonly kind: "saving" } | { readonly kind: "failed"; readonly error: Error };

/** After a change, a save waits for a rest of this long, ms … */
const REST = 150;
/** … but never longer than this, ms. */
const LONGEST_WAIT = 500;

/** What a save takes of a workbook: its head whole, of its parts those that changed. */
export interface ChangedWorkbook {
  readonly head: Partial<IWorkbookData>;
  /** All parts there are. */
  readonly present: readonly { readonly sheet: string; readonly part: number }[];
  /** Copies of those that changed since the last time. */
  readonly changed: readonly WorkbookPart[];
  readonly changes: Changes;
  /** Whether every formula shows what it gives now. */
  readonly settled: boolean;
}

export interface SheetToKeep {
  /** Long texts of changed parts. */
  changedTexts(): readonly string[];
  takeChanged(): ChangedWorkbook;
  /** Marks as changed again what could not be stored. */
  putBack(changes: Changes): void;
  onWorkbookChange(listener: () => void): () => void;
  settled(): Promise<void>;
  readonly busy: boolean;
}

/** Saves the workbook soon after every change. */
export interface Keeper {
  /** Saves what is not saved yet, at once. */
  flush(): Promise<void>;
  /** No saving from now on: another tab has taken over. */
  stop(): void;
}

/**
 * Keeps the stored workbook like the one that is open.
 *
 * @param program Names the program that computed what formulas show; `undefined` where it cannot be named: then another opening computes again.
 */
export function keepSaved(sheet: SheetToKeep, store: WorkbookStore, program: string | undefined, tell: (state: SaveState) => void): Keeper {
  let firstUnsaved: number | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let running: Promise<void> | undefined;
  let stopped = false;

  const schedule = () => {
    if (stopped) return;
    const now = performance.now();
    firstUnsaved ??= now;
    clearTimeout(timer);
    timer = setTimeout(save, Math.max(0, Math.min(REST, firstUnsaved + LONGEST_WAIT - now)));
  };

  const save = (): Promise<void> => {
    clearTimeout(timer);
    if (stopped || firstUnsaved === undefined) return running ?? Promise.resolve();
    if (running) return running.then(save);
    if (sheet.busy) {
      timer = setTimeout(save, 30);
      return Promise.resolve();
    }
    firstUnsaved = undefined;
    tell({ kind: "saving" });
    running = saveNow()
      .then(
        () => tell({ kind: "saved", at: new Date() }),
        (error: Error) => {
          firstUnsaved ??= performance.now();
          tell({ kind: "failed", error });
        },
      )
      .finally(() => {
        running = undefined;
      });
    return running;
  };

  const saveNow = async (): Promise<void> => {
    // First the hashes, which take their time; then all of the copy at one moment.
    for (let fresh = unknownOf(sheet); fresh.length > 0 || sheet.busy; fresh = unknownOf(sheet)) {
      if (fresh.length > 0) await hashAll(fresh);
      else await new Promise((resolve) => setTimeout(resolve, 30));
    }
    const { head, present, changed, changes, settled } = sheet.takeChanged();
    try {
      const parts: SavedPart[] = [];
      const texts = new Map<string, string>();
      for (const part of changed) {
        const { saved, texts: own } = toSavedPart(part, hashOf);
        parts.push(saved);
        for (const [hash, text] of own) texts.set(hash, text);
      }
      const saved = { ...FORM, savedAt: new Date().toISOString(), workbook: head };
      await store.save({ saved, parts: present.map(({ sheet: id, part }) => partName(id, part)), ...(settled && program !== undefined && { computedBy: program }) }, parts, texts);
    } catch (error) {
      sheet.putBack(changes);
      throw error;
    }
    // Computing may end without another change: then what formulas show becomes good to keep.
    if (!settled) void sheet.settled().then(schedule, () => {});
  };

  const unsubscribe = sheet.onWorkbookChange(schedule);
  const leaving = () => void save();
  document.addEventListener("visibilitychange", leaving);
  addEventListener("pagehide", leaving);
  return {
    flush: save,
    stop() {
      stopped = true;
      clearTimeout(timer);
      unsubscribe();
      document.removeEventListener("visibilitychange", leaving);
      removeEventListener("pagehide", leaving);
    },
  };
}

const unknownOf = (sheet: SheetToKeep): readonly string[] => [...new Set(sheet.changedTexts().filter((text) => !isHashed(text)))];
