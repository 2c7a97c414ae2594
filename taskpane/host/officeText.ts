import type { CellInput } from "./SheetHost.ts";

/**
 * What to hand to `Range.formulas` so that Excel stores exactly this input.
 *
 * Excel reads typed text: `007`, `1-2`, `true` or `=A1` would become something else. A leading apostrophe keeps
 * such text as text and is not part of the value.
 */
export function officeInput(input: CellInput): string | number | boolean | null {
  if (input === null || typeof input === "number" || typeof input === "boolean") {
    return input;
  }
  if (typeof input === "object") {
    return input.formula;
  }
  return input === "" || isPlainText(input) ? input : `'${input}`;
}

/** Text that Excel takes as it is: begins with a letter and is no truth value, month-and-day or error. */
function isPlainText(text: string): boolean {
  return /^\p{L}/u.test(text) && !/^(true|false)$/i.test(text) && !/^\p{L}{3,10}[ .\-/]+\d/u.test(text) && !/^\p{L}{1,3}\d+e\d/iu.test(text);
}

/** Bytes that one cell adds to a request, near enough to keep requests under the limit of Excel on the web. */
export function payloadBytes(input: CellInput): number {
  if (input === null || typeof input === "number" || typeof input === "boolean") {
    return 20;
  }
  return (typeof input === "object" ? input.formula.length : input.length) + 4;
}
