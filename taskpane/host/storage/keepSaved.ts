import type { Changes } from "../embedded/ChangedRows.ts";
import { FORM, hashAll, hashOf, isHashed } from "./savedForm.ts";
import { partName, toSavedPart, type ChangeByHand, type SavedPart, type WorkbookPart } from "./savedParts.ts";
import type { IWorkbookData } from "@univerjs/core";
import type { WorkbookStore } from "./workbookStore.ts";

export type SaveState = { readonly kind: "saved"; readonly at: Date } | { readonly kind: "saving" } | { readonly kind: "failed"; readonly error: Error };

/** After a change, a save waits for a rest of this long, ms … */
const REST = 150;
/**
 * … but never longer than this, ms. A change made just after a save took its copy waits for that save and for its own: this
 * leaves each of them a third of the second within which a change is stored.
 */
const LONGEST_WAIT = 300;

/** A long batch waits no longer than this for what was changed before it to be stored, ms. */
const LONGEST_BEFORE_BATCH = 1000;

/** So many long texts at most are hashed with the copy; where there are more, they are hashed before, in slices. */
const HASHED_IN_PASSING = 32;

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
  /** What a person changed in cells since the last copy was taken. */
  byHand(): readonly ChangeByHand[];
  /** Whether a batch is half written: then there is no copy to be had. */
  isHalfWritten(): boolean;
  onWorkbookChange(listener: () => void): () => void;
  settled(): Promise<void>;
  /** Runs something as soon as no batch is half written, before the next one begins. */
  between<T>(run: () => T): Promise<T>;
  /** Called before a batch that takes its time to write, which waits for it. */
  onLargeBatch(listener: () => Promise<void>): () => void;
}

/** Saves the workbook soon after every change. */
export interface Keeper {
  /** Saves what is not saved yet, at once. */
  flush(): Promise<void>;
  /** Why the last save failed; absent where it did not. */
  fault(): Error | undefined;
  /** Saves when everything is computed: what opening computed anew is no change, but the next opening can do without. */
  whenComputed(): void;
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
  /** Whether something was changed since the last copy was taken. */
  let changedSince = false;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let running: Promise<void> | undefined;
  let stopped = false;
  let fault: Error | undefined;
  /** Of what was changed by hand since the last copy, so much is stored beside it. */
  let keptByHand = 0;
  let timerByHand: ReturnType<typeof setTimeout> | undefined;
  /** The storing under way, if any: where it fails, what it had is changed again when it ends. */
  let storing: Promise<void> = Promise.resolve();

  const schedule = () => {
    if (stopped) return;
    if (sheet.isHalfWritten()) scheduleByHand();
    const now = performance.now();
    firstUnsaved ??= now;
    changedSince = true;
    clearTimeout(timer);
    // While a save runs, its end sees to what was changed since.
    if (!running) timer = setTimeout(save, Math.max(0, Math.min(REST, firstUnsaved + LONGEST_WAIT - now)));
  };

  const save = (): Promise<void> => {
    clearTimeout(timer);
    if (running) return running.then(save);
    if (stopped || firstUnsaved === undefined) return Promise.resolve();
    tell({ kind: "saving" });
    running = saveNow()
      .then(
        () => {
          fault = undefined;
          tell({ kind: "saved", at: new Date() });
        },
        (error: Error) => {
          fault = error;
          firstUnsaved ??= performance.now();
          tell({ kind: "failed", error });
        },
      )
      .finally(() => {
        running = undefined;
        // What could not be stored is tried again with the next change.
        if (changedSince) schedule();
      });
    return running;
  };

  const saveNow = async (): Promise<void> => {
    await hashMany(sheet);
    // All of the copy at one moment. Nothing here waits for the writing to rest: it may not rest for long.
    const { head, present, changed, changes, settled } = await sheet.between(() => {
      firstUnsaved = undefined;
      changedSince = false;
      return sheet.takeChanged();
    });
    keptByHand = 0;
    storing = (async () => {
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
        keptByHand = 0;
        throw error;
      }
    })();
    await storing;
    // Computing may end without another change: then what formulas show becomes good to keep.
    if (!settled) whenComputed();
  };

  const scheduleByHand = () => {
    if (timerByHand === undefined && sheet.byHand().length > keptByHand) timerByHand = setTimeout(() => void saveByHand(), REST);
  };

  /**
   * What is typed while a batch is half written does not wait for its end: the changes themselves are stored beside the last
   * copy, which has nothing of the batch. Opening makes them once more; the save after the batch has them in their cells.
   */
  const saveByHand = async (): Promise<void> => {
    clearTimeout(timerByHand);
    await storing.catch(() => {});
    timerByHand = undefined;
    const changes = [...sheet.byHand()];
    if (stopped || !sheet.isHalfWritten() || changes.length <= keptByHand) return;
    try {
      await store.saveByHand(changes);
      keptByHand = changes.length;
    } catch (error) {
      tell({ kind: "failed", error: error as Error });
      return;
    }
    if (sheet.isHalfWritten()) scheduleByHand();
  };

  const whenComputed = (): void => void sheet.settled().then(schedule, () => {});

  const unsubscribe = sheet.onWorkbookChange(schedule);
  // What was changed before a long batch would otherwise wait for its end.
  const unsubscribeLarge = sheet.onLargeBatch(() => Promise.race([save(), pause(LONGEST_BEFORE_BATCH)]));
  const leaving = () => {
    void saveByHand();
    void save();
  };
  document.addEventListener("visibilitychange", leaving);
  addEventListener("pagehide", leaving);
  return {
    flush: save,
    fault: () => fault,
    whenComputed,
    stop() {
      stopped = true;
      clearTimeout(timer);
      clearTimeout(timerByHand);
      unsubscribe();
      unsubscribeLarge();
      document.removeEventListener("visibilitychange", leaving);
      removeEventListener("pagehide", leaving);
    },
  };
}

/**
 * Hashes many long texts ahead of the copy, without holding the page up: those that are there, and those that a batch under
 * way still writes. It ends with that batch, or where writing is as fast as hashing.
 */
async function hashMany(sheet: SheetToKeep): Promise<void> {
  let whole = false;
  const ended = sheet.between(() => void (whole = true));
  for (let former = Infinity; ; ) {
    const fresh = unknownOf(sheet);
    if (!whole) await (fresh.length > 0 ? hashAll(fresh) : Promise.race([ended, pause(30)]));
    else if (fresh.length <= HASHED_IN_PASSING || fresh.length >= former) return;
    else {
      await hashAll(fresh);
      former = fresh.length;
    }
  }
}

const pause = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms));

const unknownOf = (sheet: SheetToKeep): readonly string[] => [...new Set(sheet.changedTexts().filter((text) => !isHashed(text)))];
