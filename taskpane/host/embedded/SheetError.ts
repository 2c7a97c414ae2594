/** An error value of a cell, on its way into or out of a function: a code such as `#N/A`, and a sentence. */
export class SheetError extends Error {
  override readonly name = "SheetError";
  constructor(
    readonly code: string,
    message = "",
  ) {
    super(message);
  }
}

/** Error codes a cell can show. */
export const ERROR_CODES = ["#N/A", "#VALUE!", "#NUM!", "#DIV/0!", "#REF!", "#NAME?", "#NULL!", "#SPILL!", "#CALC!", "#BUSY!"] as const;

/** Reads any error a function throws or returns; what carries no cell error code counts as a wrong value. */
export function toSheetError(error: unknown): SheetError {
  if (error instanceof SheetError) return error;
  const { code, message } = (error ?? {}) as { code?: unknown; message?: unknown };
  const known = ERROR_CODES.find((each) => each === code);
  return new SheetError(known ?? "#VALUE!", typeof message === "string" ? message : String(error));
}

/** Whether a returned value stands for a cell error. */
export function isErrorValue(value: unknown): boolean {
  return typeof value === "object" && value !== null && ERROR_CODES.includes((value as { code?: never }).code as never);
}
