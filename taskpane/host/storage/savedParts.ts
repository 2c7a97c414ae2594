import type { ICellData, IWorkbookData } from "@univerjs/core";
import { isLong, type SavedWorkbook } from "./savedForm.ts";

/** What formulas of a part filled, and the sentences of their errors: kept so that opening computes nothing again. */
export interface ComputedPart {
  /** By the cell of the formula, which is the first of those it fills. */
  readonly spills: { readonly row: number; readonly column: number; readonly cells: readonly (readonly (ICellData | null)[])[] }[];
  readonly sentences: { readonly row: number; readonly column: number; readonly said: readonly { readonly down: number; readonly right: number; readonly sentence: string }[] }[];
}

/** A change of cells that a person made, as the sheet makes it. */
export interface ChangeByHand {
  readonly id: string;
  readonly params: object;
}

/** Some rows of a sheet. */
export interface WorkbookPart {
  readonly sheet: string;
  readonly part: number;
  readonly cellData: Record<number, Record<number, ICellData>>;
  readonly computed: ComputedPart;
}

/** A part as it is stored: long texts stand apart, their cells have the hash in `text`. */
export interface SavedPart {
  readonly id: string;
  readonly sheet: string;
  readonly part: number;
  readonly cellData: Record<number, Record<number, ICellData & { text?: string }>>;
  readonly computed: ComputedPart;
}

/** The head of a workbook that is stored in parts. */
export interface SavedHead {
  readonly saved: SavedWorkbook;
  /** Names of all its parts. */
  readonly parts: readonly string[];
  /** Which program computed what the formulas show; absent where something waited to be computed. */
  readonly computedBy?: string;
}

/** What stands before the name of every part. */
export const PART_PREFIX = "part/";

export function partName(sheet: string, part: number): string {
  return `${PART_PREFIX}${sheet}/${part}`;
}

/**
 * A part as it is stored; the part is changed.
 *
 * @param hashOf Hash of a long text.
 */
export function toSavedPart({ sheet, part, cellData, computed }: WorkbookPart, hashOf: (text: string) => string): { saved: SavedPart; texts: Map<string, string> } {
  const texts = new Map<string, string>();
  for (const cells of Object.values(cellData)) {
    for (const cell of Object.values(cells) as (ICellData & { text?: string })[]) {
      if (!isLong(cell.v)) continue;
      cell.text = hashOf(cell.v);
      texts.set(cell.text, cell.v);
      delete cell.v;
    }
  }
  return { saved: { id: partName(sheet, part), sheet, part, cellData, computed }, texts };
}

/** Hashes of the texts that parts need. */
export function textsOfParts(parts: readonly SavedPart[]): Set<string> {
  const needed = new Set<string>();
  for (const { cellData } of parts) for (const cells of Object.values(cellData)) for (const { text } of Object.values(cells)) if (typeof text === "string") needed.add(text);
  return needed;
}

/**
 * The workbook of its head and parts, without its long texts.
 *
 * @throws {Error} A sentence for the person, where a part is missing.
 */
export function joined({ saved, parts: names }: SavedHead, parts: readonly SavedPart[]): SavedWorkbook {
  const present = new Map(parts.map((part) => [part.id, part]));
  const sheets = Object.fromEntries(Object.entries(saved.workbook.sheets ?? {}).map(([id, sheet]) => [id, { ...sheet, cellData: {} as Record<number, object> }]));
  for (const name of names) {
    const part = present.get(name);
    if (!part || !sheets[part.sheet]) throw new Error("a part of this workbook is missing from the browser's storage; nothing was changed");
    Object.assign(sheets[part.sheet].cellData, part.cellData);
  }
  return { ...saved, workbook: { ...saved.workbook, sheets: sheets as IWorkbookData["sheets"] } };
}
