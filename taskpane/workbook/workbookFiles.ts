/** Workbooks as .xlsx files, where the page can do it itself. */
export interface WorkbookFiles {
  /** Gives the person the workbook as a file: with its formulas, or as values for people without Leapsheet. */
  save(formulas: "live" | "values"): Promise<void>;
  /** Replaces the workbook by that of a file, after asking. */
  open(file: File): Promise<void>;
}
