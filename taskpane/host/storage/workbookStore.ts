import { checkSaved, fromSaved, textsOf, type SavedWorkbook } from "./savedForm.ts";
import { joined, PART_PREFIX, textsOfParts, type SavedHead, type SavedPart } from "./savedParts.ts";

const DATABASE = "leapsheet";
const WORKBOOKS = "workbooks";
const TEXTS = "texts";

/** The one workbook the page keeps. */
const CURRENT = "current";

/** Either a whole workbook, as it came from a file, or the head of one whose parts stand beside it. */
interface StoredWorkbook {
  readonly id: string;
  /** Grows with every save: who saves must have seen the last one. */
  readonly revision: number;
  readonly saved: SavedWorkbook;
  readonly parts?: readonly string[];
  readonly computedBy?: string;
}

/** Thrown where another tab has saved since this one last read or saved. */
export class ChangedElsewhere extends Error {
  override readonly name = "ChangedElsewhere";
}

/** A stored workbook as it is opened. */
export interface LoadedWorkbook extends ReturnType<typeof fromSaved> {
  /** Its parts, where what its formulas gave is stored too. */
  readonly parts?: readonly SavedPart[];
  readonly computedBy?: string;
}

/** The browser's own storage: the workbook in parts, and its long texts once each under their hash. */
export interface WorkbookStore {
  /** The stored workbook, or `undefined` where there is none. Rejects with a sentence where it cannot be read. */
  load(): Promise<LoadedWorkbook | undefined>;
  /** Stores the head of a workbook and the parts of it that changed: all of it or nothing. */
  save(head: SavedHead, changed: readonly SavedPart[], texts: ReadonlyMap<string, string>): Promise<void>;
  /** Stores a whole workbook in the place of whatever is there. */
  replace(saved: SavedWorkbook, texts: ReadonlyMap<string, string>): Promise<void>;
}

/** Opens the storage; rejects where the browser refuses it. */
export async function openWorkbookStore(): Promise<WorkbookStore> {
  const database = await open();
  let revision = 0;
  let stored = new Set<string>();
  let storedParts = new Set<string>();

  const write = async (next: Omit<StoredWorkbook, "id" | "revision">, changed: readonly SavedPart[], texts: ReadonlyMap<string, string>, expected: number | undefined) => {
    // Relaxed: handed to the system at once, so that a killed browser loses nothing; waiting for the disk itself would hold
    // up the next save for as long as the disk is busy.
    const change = database.transaction([WORKBOOKS, TEXTS], "readwrite", { durability: "relaxed" });
    const done = finished(change);
    // Whoever waits for it hears of it; until then it is nobody's fault.
    done.catch(() => {});
    const workbooks = change.objectStore(WORKBOOKS);
    const former = (await result(workbooks.get(CURRENT))) as StoredWorkbook | undefined;
    const now = former?.revision ?? 0;
    if (expected !== undefined && now !== expected) {
      change.abort();
      await done.catch(() => {});
      throw new ChangedElsewhere("another tab has saved this workbook since; reload to see it, or download this copy");
    }
    const fresh = [...texts].filter(([hash]) => !stored.has(hash));
    const names = new Set(next.parts);
    const gone = [...storedParts].filter((name) => !names.has(name));
    const breathe = inSlices();
    try {
      for (const [hash, text] of fresh) await breathe(change.objectStore(TEXTS).put(text, hash));
      for (const part of changed) await breathe(workbooks.put(part));
      for (const name of gone) await breathe(workbooks.delete(name));
      workbooks.put({ ...next, id: CURRENT, revision: now + 1 } satisfies StoredWorkbook);
    } catch (error) {
      // Nothing of it: the former workbook stays as it was.
      const aborted = error instanceof DOMException && error.name === "AbortError";
      if (!aborted) abort(change);
      const why = await done.catch((reason: unknown) => reason);
      throw aborted && why instanceof Error ? why : error;
    }
    await done;
    revision = now + 1;
    for (const [hash] of fresh) stored.add(hash);
    storedParts = names;
  };

  return {
    async load() {
      const view = database.transaction([WORKBOOKS, TEXTS], "readwrite");
      const done = finished(view);
      const workbooks = view.objectStore(WORKBOOKS);
      const current = (await result(workbooks.get(CURRENT))) as StoredWorkbook | undefined;
      if (!current) return undefined;
      revision = current.revision;
      const head = checkSaved(current.saved);
      const all = view.objectStore(TEXTS);
      const [parts, keys, values] = await Promise.all([
        result(workbooks.getAll(IDBKeyRange.bound(PART_PREFIX, `${PART_PREFIX}\uffff`))) as Promise<SavedPart[]>,
        result(all.getAllKeys()) as Promise<string[]>,
        result(all.getAll()) as Promise<string[]>,
      ]);
      const wanted = new Set(current.parts);
      const own = parts.filter(({ id }) => wanted.has(id));
      const needed = current.parts ? textsOfParts(own) : textsOf(head);
      const texts = new Map<string, string>();
      keys.forEach((hash, index) => {
        // Texts no cell needs any more were kept for undo; a new session has none.
        if (!needed.has(hash)) all.delete(hash);
        else texts.set(hash, values[index]!);
      });
      await done;
      stored = new Set(texts.keys());
      storedParts = new Set(parts.map(({ id }) => id));
      if (!current.parts) return fromSaved(head, texts);
      const { parts: names, computedBy } = current;
      return { ...fromSaved(joined({ saved: head, parts: names }, own), texts), parts: own, computedBy };
    },
    save: (head, changed, texts) => write(head, changed, texts, revision),
    replace: (saved, texts) => write({ saved }, [], texts, undefined),
  };
}

/** Copying into the storage goes on for so long before the page gets to answer, ms. */
const COPYING_AT_ONCE = 8;

/**
 * Copying a season's parts at once would hold the page up; waiting for each by itself would take as long as all else the page
 * does in between, many times over.
 *
 * @returns To be called with each request: resolves at once, or now and then when that request is done.
 */
function inSlices(): (request: IDBRequest) => Promise<void> | undefined {
  let breath = performance.now();
  return (request) => {
    if (performance.now() - breath < COPYING_AT_ONCE) return undefined;
    return result(request).then(() => void (breath = performance.now()));
  };
}

function abort(transaction: IDBTransaction): void {
  try {
    transaction.abort();
  } catch {
    // It has ended already.
  }
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
    // The fault is the request's; the transaction has none of its own yet.
    transaction.onerror = ({ target }) => reject((target as IDBRequest).error ?? transaction.error);
  });
