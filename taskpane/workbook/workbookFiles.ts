/** Workbooks as .xlsx files, where the page can do it itself. */
export interface WorkbookFiles {
  /** Gives the person the workbook as a file: with its formulas, or as values for people without Leapsheet. */
  save(formulas: "live" | "values"): Promise<void>;
  /** Replaces the workbook by that of a file, after asking. */
  open(file: File): Promise<void>;
  /** Gives the person a copy with codes in place of names, after the key to them; says in how many cells part of a name still stands. */
  saveCoded(): Promise<{ readonly people: number; readonly left: readonly string[] }>;
  /** Puts the names of a key file back into the workbook, after asking. */
  nameAgain(key: File): Promise<void>;
  /** The workbook that can be put back in the place of the open one, in words, and what its button says; absent where none is kept. */
  former(): Promise<{ readonly label: string; readonly text: string } | undefined>;
  /** Puts it back. */
  putBack(): Promise<void>;
}
