import type { IWorkbookData } from "@univerjs/core";
import { toSaved } from "./savedForm.ts";
import type { WorkbookStore } from "./workbookStore.ts";

export type SaveState = { readonly kind: "saved"; readonly at: Date } | { readonly kind: "saving" } | { readonly kind: "failed"; readonly error: Error };

/** After a change, a save waits for a rest of this long, ms … */
const REST = 150;
/** … but never longer than this, ms. */
const LONGEST_WAIT = 500;

export interface SheetToKeep {
  save(): Partial<IWorkbookData>;
  onWorkbookChange(listener: () => void): () => void;
  readonly busy: boolean;
}

/** Saves the workbook soon after every change. */
export interface Keeper {
  /** Saves what is not saved yet, at once. */
  flush(): Promise<void>;
  /** No saving from now on: another tab has taken over. */
  stop(): void;
}

export function keepSaved(sheet: SheetToKeep, store: WorkbookStore, tell: (state: SaveState) => void): Keeper {
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
    const { saved, texts } = toSaved(sheet.save(), new Date());
    running = store
      .save(saved, texts)
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
