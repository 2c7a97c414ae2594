import type { IWorkbookData } from "@univerjs/core";
import { contentHash } from "../../../src/read/contentHash.ts";

/** What marks our files and our stored workbooks. */
const FORMAT = "leapsheet-workbook";

/** The newest form this program writes and reads. Older ones are brought up to it by `MIGRATIONS`. */
export const FORM_VERSION = 2;

/** What marks something stored as ours, in the present form. */
export const FORM = { format: FORMAT, version: FORM_VERSION } as const;

/** Texts at least this long stand apart from the cells, once each: packed traces, mostly. */
const LONG_TEXT = 500;

/** A workbook without its long texts; a cell whose text stands apart has its hash in `text`. */
export interface SavedWorkbook {
  readonly format: typeof FORMAT;
  readonly version: number;
  /** ISO time. */
  readonly savedAt: string;
  readonly workbook: Partial<IWorkbookData>;
}

/** A file: the workbook, and its long texts by hash. */
interface WorkbookFile extends SavedWorkbook {
  readonly texts: Readonly<Record<string, string>>;
}

/** What turns each older form into the next: `MIGRATIONS[1]` makes version 2 of version 1. */
const MIGRATIONS: Readonly<Record<number, (old: SavedWorkbook) => SavedWorkbook>> = {
  // Version 2 may stand in parts, with what its formulas gave; a whole workbook is as it was.
  1: (old) => ({ ...old, version: 2 }),
};

type SavedCell = { v?: unknown; text?: string };

const hashes = new Map<string, string>();

/** Whether a value is a text that stands apart. */
export function isLong(value: unknown): value is string {
  return typeof value === "string" && value.length >= LONG_TEXT;
}

/** Whether the hash of a text is known already. */
export function isHashed(text: string): boolean {
  return hashes.has(text);
}

/** Long texts hashed at once, by the browser's own threads where it has them. */
const HASHED_AT_ONCE = 32;

/** Finds the hashes of texts without holding the page up. */
export async function hashAll(texts: readonly string[]): Promise<void> {
  const { subtle } = globalThis.crypto ?? {};
  for (let from = 0; from < texts.length; from += HASHED_AT_ONCE) {
    const some = texts.slice(from, from + HASHED_AT_ONCE);
    if (subtle) {
      const digests = await Promise.all(some.map((text) => subtle.digest("SHA-256", new TextEncoder().encode(text))));
      some.forEach((text, index) => hashes.set(text, hexadecimal(digests[index]!)));
    } else {
      some.forEach(hashOf);
    }
    await new Promise((resolve) => setTimeout(resolve));
  }
}

function hexadecimal(digest: ArrayBuffer): string {
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** Hash of a text; texts seen before are not hashed again. */
export function hashOf(text: string): string {
  let hash = hashes.get(text);
  if (hash === undefined) {
    hash = contentHash(new TextEncoder().encode(text));
    hashes.set(text, hash);
  }
  return hash;
}

/**
 * Takes the long texts out of a workbook, which is changed.
 *
 * @param workbook The workbook as the sheet gives it; the caller's to change.
 * @returns The saved form, and the texts by their hash.
 */
export function toSaved(workbook: Partial<IWorkbookData>, now: Date): { saved: SavedWorkbook; texts: Map<string, string> } {
  const texts = new Map<string, string>();
  eachCell(workbook, (cell) => {
    if (!isLong(cell.v)) return;
    const hash = hashOf(cell.v);
    texts.set(hash, cell.v);
    cell.text = hash;
    delete cell.v;
  });
  return { saved: { ...FORM, savedAt: now.toISOString(), workbook }, texts };
}

/** Hashes of the texts a saved workbook needs. */
export function textsOf(saved: SavedWorkbook): Set<string> {
  const needed = new Set<string>();
  eachCell(saved.workbook, (cell) => {
    if (typeof cell.text === "string") needed.add(cell.text);
  });
  return needed;
}

/**
 * Puts the long texts back.
 *
 * @returns The workbook for the sheet, and how many texts were not to be had: their cells are blank.
 */
export function fromSaved(saved: SavedWorkbook, texts: ReadonlyMap<string, string>): { workbook: Partial<IWorkbookData>; missing: number } {
  let missing = 0;
  eachCell(saved.workbook, (cell) => {
    if (typeof cell.text !== "string") return;
    const text = texts.get(cell.text);
    if (text === undefined) missing++;
    else {
      cell.v = text;
      hashes.set(text, cell.text);
    }
    delete cell.text;
  });
  return { workbook: saved.workbook, missing };
}

/** A workbook as the text of one file. */
export function fileText(saved: SavedWorkbook, texts: ReadonlyMap<string, string>): string {
  return JSON.stringify({ ...saved, texts: Object.fromEntries(texts) } satisfies WorkbookFile);
}

/**
 * Reads the text of a file.
 *
 * @throws {Error} A sentence for the person, where the file is not a workbook of ours or is newer than this program.
 */
export function readFileText(text: string): { saved: SavedWorkbook; texts: Map<string, string> } {
  let file: unknown;
  try {
    file = JSON.parse(text, withoutTraps);
  } catch {
    throw new Error("this file is not a Leapsheet workbook, or it is damaged; nothing was changed");
  }
  const saved = checkSaved(file);
  const texts = new Map<string, string>();
  for (const [hash, value] of Object.entries((file as WorkbookFile).texts ?? {})) {
    // A text that was altered has another hash: better none than a wrong one.
    if (typeof value === "string" && hashOf(value) === hash) texts.set(hash, value);
  }
  return { saved, texts };
}

/**
 * Checks that something stored is a workbook this program can open, and brings it up to the present form.
 *
 * @throws {Error} A sentence for the person.
 */
export function checkSaved(value: unknown): SavedWorkbook {
  let saved = value as SavedWorkbook;
  if (!isRecord(value) || saved.format !== FORMAT || !Number.isInteger(saved.version) || saved.version < 1) {
    throw new Error("this file is not a Leapsheet workbook; nothing was changed");
  }
  if (saved.version > FORM_VERSION) {
    throw new Error(`this workbook was saved by a newer Leapsheet (form ${saved.version}; this one reads up to ${FORM_VERSION}): update Leapsheet to open it; nothing was changed`);
  }
  while (saved.version < FORM_VERSION) saved = MIGRATIONS[saved.version](saved);
  const { workbook } = saved;
  const sheets = isRecord(workbook) ? workbook.sheets : undefined;
  const sound = isRecord(sheets) && Object.values(sheets).every((sheet) => isRecord(sheet) && (sheet.cellData === undefined || isRecord(sheet.cellData)));
  if (!sound) throw new Error("this workbook is damaged: its sheets cannot be read; nothing was changed");
  return saved;
}

const isRecord = (value: unknown): value is Record<string, unknown> => typeof value === "object" && value !== null && !Array.isArray(value);

/** Leaves out keys with which a file could reach into the program's own objects. */
function withoutTraps(this: unknown, key: string, value: unknown): unknown {
  return key === "__proto__" || key === "constructor" || key === "prototype" ? undefined : value;
}

function eachCell(workbook: Partial<IWorkbookData>, visit: (cell: SavedCell) => void): void {
  for (const sheet of Object.values(workbook.sheets ?? {})) {
    for (const row of Object.values(sheet?.cellData ?? {})) {
      for (const cell of Object.values(row ?? {})) if (isRecord(cell)) visit(cell as SavedCell);
    }
  }
}
