import { readXlsx } from "hucre/xlsx";
import { InputError } from "../../errors.ts";
import { checkSpans } from "./checkSpans.ts";
import { checkZip, WORKBOOK_LIMITS, type ZipLimits } from "./checkZip.ts";

/** A sheet of a workbook as plain values. */
export interface SheetRows {
  readonly name: string;
  readonly rows: readonly (readonly unknown[])[];
}

/**
 * The values of the sheets of an .xlsx file, read only after its ZIP directory and the reach of its cells were checked. Formulas are never run: their stored values are taken.
 *
 * @param bytes Content of the file, no unit.
 * @param limits Largest sizes.
 * @returns Sheets in order; blank cells are null.
 * @throws {InputError} as `checkZip` and `checkSpans`, and `damaged` if the workbook cannot be read.
 */
export async function readSheets(bytes: Uint8Array, limits: ZipLimits = WORKBOOK_LIMITS): Promise<SheetRows[]> {
  checkSpans(bytes, checkZip(bytes, limits));
  try {
    const workbook = await readXlsx(bytes);
    return workbook.sheets.map((sheet) => ({ name: sheet.name, rows: sheet.rows }));
  } catch (error) {
    const reason = error instanceof Error ? error.message.slice(0, 100).replace(/\.$/, "") : "unknown";
    throw new InputError("damaged", `reading a workbook requires a whole .xlsx file without password, and this one cannot be read (${reason})`);
  }
}
