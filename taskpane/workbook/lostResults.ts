import { tokenize } from "@borgar/fx";
import type { Applied, CellInput, RangeRef, SheetHost } from "../host/SheetHost.ts";
import { findResults } from "./findParts.ts";
import { firstResultColumn, type ResultsHead } from "./sheets.ts";

/** Rows of Results whose trial is gone from the Trials table. */
export interface LostResults {
  readonly sheet: string;
  /** Zero-based rows on that sheet, from the top. */
  readonly rows: readonly number[];
}

const CHANGED = "the rows of Results changed since they were shown; nothing was removed: look at the list again";

/** The rows of Results that read a deleted row of Trials: their formula has lost the reference to its trace, and never gets it back. */
export async function lostResults(host: SheetHost): Promise<LostResults | undefined> {
  const results = await findResults(host);
  return results && { sheet: results.head.sheet, rows: await lostRows(host, results.head) };
}

/** Blanks these rows of Results, from the athlete to the formula; what a person wrote in columns of their own stays. Refuses, changing nothing, where one of them reads a trial by now. */
export async function removeLostResults(host: SheetHost, shown: LostResults): Promise<Applied> {
  const results = await findResults(host);
  const lost = new Set(results && results.head.sheet === shown.sheet ? await lostRows(host, results.head) : []);
  if (!results || shown.rows.length === 0 || !shown.rows.every((row) => lost.has(row))) {
    throw new Error(CHANGED);
  }
  const cells = blankRow(results);
  const edits = shown.rows.map((row) => ({ kind: "cells", sheet: shown.sheet, row, column: firstResultColumn(results), cells: [cells] }) as const);
  return host.apply(edits, { label: shown.rows.length === 1 ? "Remove a row of Results" : `Remove ${shown.rows.length} rows of Results` });
}

/** Only the cells that a row was written with; the quantities beside its formula are filled by it. */
function blankRow(results: ResultsHead): CellInput[] {
  const first = firstResultColumn(results);
  const cells: CellInput[] = Array.from({ length: results.head.column - first + 1 }, () => null);
  for (const column of [...Object.values(results.lead), results.head.column]) cells[column - first] = "";
  return cells;
}

async function lostRows(host: SheetHost, head: RangeRef): Promise<readonly number[]> {
  const used = await host.usedRange(head.sheet);
  const rows = used ? used.row + used.rows - head.row - 1 : 0;
  if (rows <= 0) {
    return [];
  }
  const [content] = await host.read([{ sheet: head.sheet, row: head.row + 1, column: head.column, rows, columns: 1 }]);
  return content!.formulas.flatMap(([formula], index) => (hasLostTrace(formula!) ? [head.row + 1 + index] : []));
}

/** Whether the first argument of the formula's call, the trace, is a reference that is gone. */
function hasLostTrace(formula: string): boolean {
  if (!formula.includes("#REF!")) {
    return false;
  }
  const tokens = tokenize(formula);
  const call = tokens.findIndex(({ value }) => /^LEAP\.METRIC$/i.test(value));
  if (call < 0) {
    return false;
  }
  const rest = tokens.slice(call + 1);
  const end = rest.findIndex(({ value }) => value === ",");
  return rest.slice(0, end < 0 ? rest.length : end).some(({ value }) => value.includes("#REF!"));
}
