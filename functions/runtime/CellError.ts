import { inLanguage } from "../../src/wording/inLanguage.ts";

/** The two error codes with which Excel shows a sentence; every error of a cell function is one of them. */
export type CellErrorCode = "#VALUE!" | "#N/A";

/** An error as a cell shows it, in the language that is spoken: thrown by a function for the whole result, or standing in one cell of it. */
export class CellError extends Error {
  override readonly name = "CellError";
  constructor(
    readonly code: CellErrorCode,
    message: string,
  ) {
    super(inLanguage(message));
  }
}
