import { checkSaved, textsOf, type SavedWorkbook } from "./savedForm.ts";

const DATABASE = "leapsheet";
const WORKBOOKS = "workbooks";
const TEXTS = "texts";

/** The one workbook the page keeps. */
const CURRENT = "current";

interface StoredWorkbook {
  readonly id: string;
  /** Grows with every save: who saves must have seen the last one. */
  readonly revision: number;
  readonly saved: SavedWorkbook;
}

/** Thrown where another tab has saved since this one last read or saved. */
export class ChangedElsewhere extends Error {
  override readonly name = "ChangedElsewhere";
}

/** The browser's own storage: the workbook, and its long texts once each under their hash. */
export interface WorkbookStore {
  /** The stored workbook, or `undefined` where there is none. Rejects with a sentence where it cannot be read. */
  load(): Promise<{ saved: SavedWorkbook; texts: Map<string, string> } | undefined>;
  /** Stores a workbook: all of it or nothing. */
  save(saved: SavedWorkbook, texts: ReadonlyMap<string, string>): Promise<void>;
  /** Stores a workbook in the place of whatever is there. */
  replace(saved: SavedWorkbook, texts: ReadonlyMap<string, string>): Promise<void>;
}

/** Opens the storage; rejects where the browser refuses it. */
export async function openWorkbookStore(): Promise<WorkbookStore> {
  const database = await open();
  let revision = 0;
  let stored = new Set<string>();

  const write = async (saved: SavedWorkbook, texts: ReadonlyMap<string, string>, expected: number | undefined) => {
    // Relaxed: handed to the system at once, so that a killed browser loses nothing; waiting for the disk itself would hold
    // up the next save for as long as the disk is busy.
    const change = database.transaction([WORKBOOKS, TEXTS], "readwrite", { durability: "relaxed" });
    const done = finished(change);
    const workbooks = change.objectStore(WORKBOOKS);
    const former = (await result(workbooks.get(CURRENT))) as StoredWorkbook | undefined;
    const now = former?.revision ?? 0;
    if (expected !== undefined && now !== expected) {
      change.abort();
      await done.catch(() => {});
      throw new ChangedElsewhere("another tab has saved this workbook since; reload to see it, or download this copy");
    }
    for (const [hash, text] of texts) if (!stored.has(hash)) change.objectStore(TEXTS).put(text, hash);
    workbooks.put({ id: CURRENT, revision: now + 1, saved } satisfies StoredWorkbook);
    await done;
    revision = now + 1;
    for (const hash of texts.keys()) stored.add(hash);
  };

  return {
    async load() {
      const view = database.transaction([WORKBOOKS, TEXTS], "readwrite");
      const done = finished(view);
      const current = (await result(view.objectStore(WORKBOOKS).get(CURRENT))) as StoredWorkbook | undefined;
      if (!current) return undefined;
      revision = current.revision;
      const saved = checkSaved(current.saved);
      const needed = textsOf(saved);
      const texts = new Map<string, string>();
      const all = view.objectStore(TEXTS);
      const keys = (await result(all.getAllKeys())) as string[];
      for (const hash of keys) {
        // Texts no cell needs any more were kept for undo; a new session has none.
        if (!needed.has(hash)) all.delete(hash);
        else texts.set(hash, (await result(all.get(hash))) as string);
      }
      await done;
      stored = new Set(texts.keys());
      return { saved, texts };
    },
    save: (saved, texts) => write(saved, texts, revision),
    replace: (saved, texts) => write(saved, texts, undefined),
  };
}

function open(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(DATABASE, 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore(WORKBOOKS, { keyPath: "id" });
      request.result.createObjectStore(TEXTS);
    };
    request.onsuccess = () => {
      // A newer page may want to change the storage: let it.
      request.result.onversionchange = () => request.result.close();
      resolve(request.result);
    };
    request.onerror = () => reject(request.error);
    request.onblocked = () => reject(new Error("another tab with an older Leapsheet is open; close it and reload"));
  });
}

const result = (request: IDBRequest): Promise<unknown> =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });

const finished = (transaction: IDBTransaction): Promise<void> =>
  new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error ?? new DOMException("aborted", "AbortError"));
    transaction.onerror = () => reject(transaction.error);
  });
