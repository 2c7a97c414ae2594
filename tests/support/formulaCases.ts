import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect } from "vitest";

/**
 * One row of `tests/formulas.json`: a formula made of constants and LEAP calls, and what it gives in
 * every host. `expect` is a value, or a table in which `null` stands for a cell that is not compared
 * and which may be smaller than the result; `error` is the code with a part of the sentence.
 */
export interface FormulaCase {
  readonly formula: string;
  readonly expect?: string | number | boolean | readonly (readonly (string | number | boolean | null)[])[];
  readonly error?: { readonly code: string; readonly says: string };
  /** Largest difference of a number; 0 when left out. */
  readonly tolerance?: number;
  /** Where the expected value comes from. */
  readonly source: string;
}

export const FORMULA_CASES = JSON.parse(readFileSync(join(import.meta.dirname, "..", "formulas.json"), "utf8")) as readonly FormulaCase[];

/** Compares what a host gave with the row; errors are objects with `code` (or `error`) and `message`. */
export function expectCase(row: FormulaCase, got: unknown): void {
  if (row.error !== undefined) {
    const cell = (Array.isArray(got) ? got[0][0] : got) as { code?: string; error?: string; message?: string };
    expect(cell?.code ?? cell?.error, row.formula).toBe(row.error.code);
    expect(cell?.message, row.formula).toContain(row.error.says);
    return;
  }
  const wanted = Array.isArray(row.expect) ? row.expect : [[row.expect]];
  const table = (Array.isArray(got) ? got : [[got]]) as unknown[][];
  wanted.forEach((cells, r) =>
    cells.forEach((cell: unknown, c: number) => {
      if (cell === null) return;
      const value = table[r]?.[c];
      const where = `${row.formula}, row ${r + 1}, column ${c + 1}`;
      if (typeof cell === "number" && row.tolerance !== undefined) {
        expect(typeof value, `${where}: ${describe(value)}`).toBe("number");
        expect(Math.abs((value as number) - cell), `${where}: ${String(value)} against ${cell}`).toBeLessThanOrEqual(row.tolerance);
      } else {
        expect(value, where).toEqual(cell);
      }
    }),
  );
}

function describe(value: unknown): string {
  return value instanceof Error ? value.message : String(value);
}
