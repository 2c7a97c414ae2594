/** What a cell holds: `""` is blank. Errors arrive as `{ error: "#N/A", message }`. */
export type CellValue = string | number | boolean | CellErrorValue;
export interface CellErrorValue {
  readonly error: string;
  /** The sentence of the function that gave it, where the host keeps it. */
  readonly message?: string;
}

/** What may be written to a cell: text is always written as text (even `=…`); a formula is `{ formula: "=…" }`; `null` leaves the cell alone. */
export type CellInput = string | number | boolean | null | { readonly formula: string };

/** Zero-based, half-open. */
export interface RangeRef {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
  readonly rows: number;
  readonly columns: number;
}

export interface CellRef {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
}

export interface RangeContent {
  readonly ref: RangeRef;
  /** Full-precision values, spilled cells included. */
  readonly values: readonly (readonly CellValue[])[];
  /** `""` where the cell holds no formula. English names, comma separators. */
  readonly formulas: readonly (readonly string[])[];
}

export interface TableInfo {
  readonly name: string;
  /** Header row included. */
  readonly range: RangeRef;
  readonly columns: readonly string[];
}

/** What a placed picture belongs to. */
export type PictureOf = "report" | "chart";

/** One change to the workbook. A batch of edits is one step for undo. */
export type Edit =
  | { readonly kind: "addSheet"; readonly sheet: string; readonly rows?: number; readonly columns?: number }
  | { readonly kind: "cells"; readonly sheet: string; readonly row: number; readonly column: number; readonly cells: readonly (readonly CellInput[])[] }
  | { readonly kind: "table"; readonly name: string; readonly sheet: string; readonly row: number; readonly column: number; readonly columns: readonly string[]; readonly rows: readonly (readonly CellInput[])[] }
  | { readonly kind: "appendRows"; readonly table: string; readonly rows: readonly (readonly CellInput[])[] }
  /** New columns at the right of a table, blank below their heads. */
  | { readonly kind: "appendColumns"; readonly table: string; readonly columns: readonly string[] }
  | { readonly kind: "definedName"; readonly name: string; readonly range: RangeRef }
  | { readonly kind: "format"; readonly range: RangeRef; readonly numberFormat?: string; readonly bold?: boolean; readonly wrap?: boolean; readonly fill?: string; readonly align?: "left" | "right" | "center" }
  | { readonly kind: "columns"; readonly sheet: string; readonly column: number; readonly count: number; readonly width?: number; readonly hidden?: boolean }
  /** Height in pixels at 96 to the inch. */
  | { readonly kind: "rowHeight"; readonly sheet: string; readonly row: number; readonly count: number; readonly height: number }
  | { readonly kind: "freezeRows"; readonly sheet: string; readonly rows: number }
  /** A picture (PNG or JPEG data address) with its top left corner at a cell; sizes in pixels at 96 to the inch. */
  | { readonly kind: "picture"; readonly of: PictureOf; readonly sheet: string; readonly row: number; readonly column: number; readonly dataUrl: string; readonly width: number; readonly height: number; readonly altText: string }
  /** Takes the pictures off a sheet that were placed there for this; those of a person's own and those for something else stay. */
  | { readonly kind: "takePictures"; readonly of: PictureOf; readonly sheet: string }
  | { readonly kind: "deleteRows"; readonly table: string; readonly rows: readonly number[] }
  | { readonly kind: "deleteSheet"; readonly sheet: string };

export interface ApplyOptions {
  /** Words for the undo button, for instance "Import of 12 trials". */
  readonly label: string;
  /** Called with a fraction from zero to one. */
  readonly onProgress?: (fraction: number) => void;
  readonly signal?: AbortSignal;
}

/** The receipt of one batch; gives back to `undo`. */
export interface Applied {
  readonly label: string;
  readonly id: number;
}

/** The record of a LEAP call: see `functions/runtime/callRecord`. */
export type Unsubscribe = () => void;

/**
 * The small set of things the pane needs of a spreadsheet. Two adapters: the embedded sheet and Office.js.
 *
 * Every method rejects with an `Error` whose message is a sentence for the person.
 */
export interface SheetHost {
  readonly kind: "embedded" | "excel";
  sheets(): Promise<readonly string[]>;
  /** Smallest range that holds every non-blank cell; `undefined` for an empty sheet. */
  usedRange(sheet: string): Promise<RangeRef | undefined>;
  tables(): Promise<readonly TableInfo[]>;
  definedName(name: string): Promise<RangeRef | undefined>;
  read(ranges: readonly RangeRef[]): Promise<readonly RangeContent[]>;
  /**
   * Applies a batch: all of it or none. Former values are kept for `undo`; what was written is read
   * back and compared. Calculation waits until the batch is in.
   */
  apply(edits: readonly Edit[], options: ApplyOptions): Promise<Applied>;
  /** Puts the former values back; rejects, changing nothing, where someone changed the cells since. */
  undo(applied: Applied): Promise<void>;
  /** The active cell. */
  selection(): Promise<CellRef | undefined>;
  onSelection(listener: (cell: CellRef) => void): Unsubscribe;
  /** Any change of values in the workbook, at most a few times a second. */
  onChange(listener: () => void): Unsubscribe;
  select(cell: CellRef): Promise<void>;
  /** The anchor cell of the spill that covers `cell`; the cell itself where it is not spilled. */
  spillAnchor(cell: CellRef): Promise<CellRef>;
  /** Computes these ranges (or all) afresh. */
  recalculate(ranges?: readonly RangeRef[]): Promise<void>;
  /** Resolves when no calculation is pending. */
  settled(): Promise<void>;
}
