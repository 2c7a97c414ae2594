/** What a cell shows; null is blank. */
export type FileValue = string | number | boolean | null | { readonly error: string };

/** How a cell looks. */
export interface FileFormat {
  /** As spreadsheets write it, for instance `0.000`. */
  readonly numberFormat?: string;
  readonly bold?: boolean;
  readonly wrap?: boolean;
  /** Background, six hexadecimal digits. */
  readonly fill?: string;
  readonly align?: "left" | "center" | "right";
}

/** One cell; rows and columns count from zero. */
export interface FileCell extends FileFormat {
  readonly row: number;
  readonly column: number;
  /** The value; of a formula, what it gave last. */
  readonly value: FileValue;
  /** Text of the formula with its `=`, English names, comma separators; cell functions as `LEAP.NAME`. */
  readonly formula?: string;
  /** Of a formula that fills more cells than its own: how many. The others stand in the list as plain values. */
  readonly spill?: { readonly rows: number; readonly columns: number };
}

export interface FileColumn {
  readonly column: number;
  /** Pixels at 96 to the inch. */
  readonly width?: number;
  readonly hidden?: boolean;
}

/** A rectangle of cells; rows and columns count from zero. */
export interface FileRange {
  readonly row: number;
  readonly column: number;
  readonly rows: number;
  readonly columns: number;
}

/** A table: its first row holds the heads. */
export interface FileTable {
  readonly name: string;
  readonly range: FileRange;
  readonly columns: readonly string[];
}

export interface FilePicture {
  readonly row: number;
  readonly column: number;
  /** Pixels at 96 to the inch. */
  readonly width: number;
  readonly height: number;
  readonly type: "png" | "jpeg";
  readonly bytes: Uint8Array;
  readonly text: string;
  /** What it was placed for; absent for a person's own. */
  readonly of?: "report" | "chart";
}

/** A chart that the spreadsheet draws itself from its cells. Written, never read. */
export interface FileChart {
  readonly kind: "column" | "line" | "scatter";
  readonly title: string;
  readonly x: string;
  readonly y: string;
  readonly series: readonly { readonly name: string; readonly values: string; readonly categories?: string }[];
  readonly place: FileRange;
}

export interface FileSheet {
  readonly name: string;
  readonly cells: readonly FileCell[];
  readonly columns?: readonly FileColumn[];
  /** Heights in pixels at 96 to the inch, of rows that differ. */
  readonly heights?: readonly { readonly row: number; readonly height: number }[];
  readonly frozenRows?: number;
  readonly hidden?: boolean;
  readonly tables?: readonly FileTable[];
  readonly pictures?: readonly FilePicture[];
  readonly charts?: readonly FileChart[];
}

/** A workbook as plain data, between a spreadsheet and a file. */
export interface WorkbookFile {
  readonly sheets: readonly FileSheet[];
  /** Defined names of the workbook with what they stand for, for instance `Settings!$A$2:$B$40`. */
  readonly names: readonly { readonly name: string; readonly refersTo: string }[];
}
