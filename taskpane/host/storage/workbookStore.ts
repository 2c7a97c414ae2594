import { checkSaved, fromSaved, textsOf, type SavedWorkbook } from "./savedForm.ts";
import { joined, PART_PREFIX, textsOfParts, type ChangeByHand, type SavedHead, type SavedPart } from "./savedParts.ts";

const DATABASE = "leapsheet";
const WORKBOOKS = "workbooks";
const TEXTS = "texts";

/** The workbook that is open … */
const CURRENT = "current";
/** … and the one in whose place it was put. No others are kept. */
const FORMER = "former";

/** Parts of the two stand apart: what stands before their names. A workbook stays on its shelf when the two change places. */
const SHELVES = ["", "other/"] as const;

type Shelf = (typeof SHELVES)[number];

/** Either a whole workbook, as it came from a file, or the head of one whose parts stand beside it. */
interface StoredWorkbook {
  readonly id: string;
  /** Grows with every save: who saves must have seen the last one. */
  readonly revision: number;
  readonly saved: SavedWorkbook;
  readonly parts?: readonly string[];
  readonly computedBy?: string;
  /** What it was opened from. */
  readonly name?: string;
  readonly shelf?: Shelf;
  /** What a person changed in cells while a batch was half written, of which nothing is stored. */
  readonly byHand?: readonly ChangeByHand[];
}

/** A workbook in whose place another was put. */
interface StoredFormer extends StoredWorkbook {
  /** ISO time. */
  readonly replacedAt: string;
  /** Hashes of its long texts; absent where they cannot be told, as in a form of a newer program. */
  readonly texts?: readonly string[];
}

/** A workbook that can be put back. */
export interface FormerWorkbook {
  readonly name?: string;
  /** ISO times. */
  readonly savedAt: string;
  readonly replacedAt: string;
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
  readonly byHand?: readonly ChangeByHand[];
}

/** The browser's own storage: the workbook in parts, and its long texts once each under their hash. */
export interface WorkbookStore {
  /** The stored workbook, or `undefined` where there is none. Rejects with a sentence where it cannot be read. */
  load(): Promise<LoadedWorkbook | undefined>;
  /** Stores the head of a workbook and the parts of it that changed: all of it or nothing. */
  save(head: SavedHead, changed: readonly SavedPart[], texts: ReadonlyMap<string, string>): Promise<void>;
  /** Stores what a person changed in cells since the last save, beside the workbook as it was saved then. */
  saveByHand(changes: readonly ChangeByHand[]): Promise<void>;
  /** Stores a whole workbook in the place of the one that is there: all of it or nothing. `keep`: the one that is there can be put back. */
  replace(saved: SavedWorkbook, texts: ReadonlyMap<string, string>, options: { readonly name?: string; readonly keep: boolean }): Promise<void>;
  /** What the workbook was opened from; absent where it never took the place of another. */
  name(): string | undefined;
  /** The workbook that can be put back. */
  former(): Promise<FormerWorkbook | undefined>;
  /** Puts it back; the one that is there can be put back then. */
  putBack(): Promise<void>;
}

/** Opens the storage; rejects where the browser refuses it. */
export async function openWorkbookStore(): Promise<WorkbookStore> {
  const database = await open();
  let revision = 0;
  let stored = new Set<string>();
  let storedParts = new Set<string>();
  let name: string | undefined;
  let shelf: Shelf = SHELVES[0];

  /** Changes what is stored, all of it or nothing; refuses where another tab has saved since. */
  const change = async (work: (stores: { workbooks: IDBObjectStore; texts: IDBObjectStore; current: StoredWorkbook | undefined }) => Promise<void>): Promise<void> => {
    // Relaxed: handed to the system at once, so that a killed browser loses nothing; waiting for the disk itself would hold
    // up the next save for as long as the disk is busy.
    const transaction = database.transaction([WORKBOOKS, TEXTS], "readwrite", { durability: "relaxed" });
    const done = finished(transaction);
    // Whoever waits for it hears of it; until then it is nobody's fault.
    done.catch(() => {});
    const workbooks = transaction.objectStore(WORKBOOKS);
    const current = (await result(workbooks.get(CURRENT))) as StoredWorkbook | undefined;
    if ((current?.revision ?? 0) !== revision) {
      transaction.abort();
      await done.catch(() => {});
      throw new ChangedElsewhere("another tab has saved this workbook since; reload to see it, or download this copy");
    }
    try {
      await work({ workbooks, texts: transaction.objectStore(TEXTS), current });
    } catch (error) {
      // Nothing of it: the stored workbook stays as it was.
      const aborted = error instanceof DOMException && error.name === "AbortError";
      if (!aborted) abort(transaction);
      const why = await done.catch((reason: unknown) => reason);
      throw aborted && why instanceof Error ? why : error;
    }
    await done;
  };

  const save: WorkbookStore["save"] = async (next, changed, texts) => {
    const fresh = [...texts].filter(([hash]) => !stored.has(hash));
    const names = new Set(next.parts);
    const gone = [...storedParts].filter((part) => !names.has(part));
    const breathe = inSlices();
    await change(async ({ workbooks, texts: all }) => {
      for (const [hash, text] of fresh) await breathe(all.put(text, hash));
      for (const part of changed) await breathe(workbooks.put({ ...part, id: shelf + part.id }));
      for (const part of gone) await breathe(workbooks.delete(shelf + part));
      workbooks.put({ ...next, id: CURRENT, revision: revision + 1, shelf, ...(name !== undefined && { name }) } satisfies StoredWorkbook);
    });
    revision += 1;
    for (const [hash] of fresh) stored.add(hash);
    storedParts = names;
  };

  const replace: WorkbookStore["replace"] = async (saved, texts, { name: nextName, keep }) => {
    const breathe = inSlices();
    await change(async ({ workbooks, texts: all, current }) => {
      const taken = current?.shelf ?? SHELVES[0];
      const free = SHELVES.find((other) => other !== taken)!;
      workbooks.delete(partsOn(free));
      if (keep && current) {
        workbooks.put(await asFormer(workbooks, current));
      } else {
        workbooks.delete(FORMER);
        workbooks.delete(partsOn(taken));
        // Before the others come: they may need the room.
        all.clear();
      }
      for (const [hash, text] of texts) if (!keep || !stored.has(hash)) await breathe(all.put(text, hash));
      workbooks.put({ saved, id: CURRENT, revision: revision + 1, shelf: free, ...(nextName !== undefined && { name: nextName }) } satisfies StoredWorkbook);
    });
    revision += 1;
  };

  const putBack: WorkbookStore["putBack"] = async () => {
    await change(async ({ workbooks, current }) => {
      const former = (await result(workbooks.get(FORMER))) as StoredFormer | undefined;
      if (!former) throw new Error("no other workbook is kept; nothing was changed");
      const { saved, parts, computedBy, byHand } = former;
      if (current) workbooks.put(await asFormer(workbooks, current));
      else workbooks.delete(FORMER);
      workbooks.put({ saved, parts, computedBy, byHand, name: former.name, shelf: former.shelf, id: CURRENT, revision: revision + 1 } satisfies StoredWorkbook);
    });
    revision += 1;
  };

  return {
    async load() {
      const view = database.transaction([WORKBOOKS, TEXTS], "readwrite");
      const done = finished(view);
      const workbooks = view.objectStore(WORKBOOKS);
      const current = (await result(workbooks.get(CURRENT))) as StoredWorkbook | undefined;
      if (!current) return undefined;
      revision = current.revision;
      name = current.name;
      shelf = current.shelf ?? SHELVES[0];
      const head = checkSaved(current.saved);
      const all = view.objectStore(TEXTS);
      const [former, parts, keys] = await Promise.all([
        result(workbooks.get(FORMER)) as Promise<StoredFormer | undefined>,
        partsStored(workbooks, shelf),
        result(all.getAllKeys()) as Promise<string[]>,
      ]);
      const wanted = new Set(current.parts);
      const own = parts.filter(({ id }) => wanted.has(id));
      const needed = current.parts ? textsOfParts(own) : textsOf(head);
      // Those of the other workbook are many, perhaps, and are not read.
      const values = former ? await Promise.all(keys.map((hash) => (needed.has(hash) ? result(all.get(hash)) : undefined))) : await result(all.getAll());
      const keptForFormer = former && (former.texts === undefined ? new Set(keys) : new Set(former.texts));
      const texts = new Map<string, string>();
      keys.forEach((hash, index) => {
        if (needed.has(hash)) texts.set(hash, (values as string[])[index]!);
        // Texts no cell needs any more were kept for undo; a new session has none.
        else if (!keptForFormer?.has(hash)) all.delete(hash);
      });
      await done;
      stored = new Set([...texts.keys(), ...keys.filter((hash) => keptForFormer?.has(hash))]);
      storedParts = new Set(parts.map(({ id }) => id));
      const { parts: names, computedBy, byHand } = current;
      if (!names) return { ...fromSaved(head, texts), byHand };
      return { ...fromSaved(joined({ saved: head, parts: names }, own), texts), parts: own, computedBy, byHand };
    },
    save,
    saveByHand: (byHand) =>
      change(async ({ workbooks, current }) => {
        // What cannot be stored as it is has no place in a cell either.
        if (current) workbooks.put({ ...current, byHand: JSON.parse(JSON.stringify(byHand)) as ChangeByHand[] } satisfies StoredWorkbook);
      }),
    replace,
    name: () => name,
    async former() {
      const former = (await result(database.transaction(WORKBOOKS).objectStore(WORKBOOKS).get(FORMER))) as StoredFormer | undefined;
      return former && { name: former.name, savedAt: former.saved.savedAt, replacedAt: former.replacedAt };
    },
    putBack,
  };
}

const partsOn = (shelf: Shelf): IDBKeyRange => IDBKeyRange.bound(shelf + PART_PREFIX, `${shelf}${PART_PREFIX}\uffff`);

/** All parts on a shelf, by the names that their workbook knows them by. */
async function partsStored(workbooks: IDBObjectStore, shelf: Shelf): Promise<SavedPart[]> {
  const parts = (await result(workbooks.getAll(partsOn(shelf)))) as SavedPart[];
  return shelf === "" ? parts : parts.map((part) => ({ ...part, id: part.id.slice(shelf.length) }));
}

/** The workbook that is open, as the one that can be put back. */
async function asFormer(workbooks: IDBObjectStore, current: StoredWorkbook): Promise<StoredFormer> {
  const former = { ...current, id: FORMER, replacedAt: new Date().toISOString() };
  try {
    const texts = current.parts ? textsOfParts(await partsStored(workbooks, current.shelf ?? SHELVES[0])) : textsOf(checkSaved(current.saved));
    return { ...former, texts: [...texts] };
  } catch {
    return former;
  }
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
