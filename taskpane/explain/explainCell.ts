import { analysisByKey } from "../../functions/runtime/analyses.ts";
import { callsOf, forgetCalls, type CallRecord } from "../../functions/runtime/callRecord.ts";
import type { Analysis } from "../../src/protocols/Analysis.ts";
import type { CellRef, CellValue, RangeRef, SheetHost } from "../host/SheetHost.ts";
import { fullCellName } from "../pane/cellName.ts";
import { formulaParts, leapCalls, type FormulaPart, type LeapCall } from "./leapCalls.ts";
import { matchRecords } from "./matchRecords.ts";
import { metricNamesOf } from "./metricNamesOf.ts";

/** A call of a formula with what it was given and gave. */
export interface ExplainedCall {
  readonly call: LeapCall;
  /** Absent for a call that was not reached. */
  readonly record?: CallRecord;
  readonly analysis?: Analysis;
  /** Names of the metrics the call reads, as written; empty for functions that read none. */
  readonly metricNames: readonly string[];
  /** The one this cell shows. */
  readonly chosen: number;
}

/** A cell with a LEAP formula, taken apart. */
export interface CellExplanation {
  readonly cell: CellRef;
  /** The cell that holds the formula; another than `cell` inside a spill. */
  readonly anchor: CellRef;
  readonly formula: string;
  readonly parts: readonly FormulaPart[];
  readonly calls: readonly ExplainedCall[];
  readonly value: CellValue;
  /** False where the cell was not calculated in this session, even after asking for it. */
  readonly calculated: boolean;
}

/**
 * Takes a cell apart for explanation, from the records of its calls; evaluates nothing itself.
 *
 * A cell inside a spill is explained through its anchor. A cell whose records or analysis have made way is calculated afresh once.
 *
 * @returns `undefined` for a cell without a LEAP formula.
 */
export async function explainCell(host: SheetHost, cell: CellRef): Promise<CellExplanation | undefined> {
  const anchor = await host.spillAnchor(cell);
  const [at, own] = await host.read([rangeOf(anchor), rangeOf(cell)]);
  const formula = at.formulas[0]?.[0] ?? "";
  const calls = leapCalls(formula);
  if (calls.length === 0) return undefined;

  let explained = explainCalls(calls, anchor, cell);
  if (isIncomplete(explained)) {
    forgetCalls(fullCellName(anchor));
    await host.recalculate([rangeOf(anchor)]);
    await host.settled();
    explained = explainCalls(calls, anchor, cell);
  }
  return { cell, anchor, formula, parts: formulaParts(formula, calls), calls: explained, value: own.values[0]?.[0] ?? "", calculated: explained.some((one) => one.record !== undefined) };
}

function explainCalls(calls: readonly LeapCall[], anchor: CellRef, cell: CellRef): readonly ExplainedCall[] {
  const records = matchRecords(calls, callsOf(fullCellName(anchor)));
  return calls.map((call, place) => {
    const record = records[place];
    const { names, chosen } = record === undefined ? { names: [], chosen: 0 } : metricNamesOf(record, cell.row - anchor.row, cell.column - anchor.column);
    return { call, record, analysis: record?.analysisKey === undefined ? undefined : analysisByKey(record.analysisKey), metricNames: names, chosen };
  });
}

/** Nothing recorded, or an analysis that has made way. */
function isIncomplete(calls: readonly ExplainedCall[]): boolean {
  return calls.every((one) => one.record === undefined) || calls.some((one) => one.record?.analysisKey !== undefined && one.analysis === undefined);
}

function rangeOf(cell: CellRef): RangeRef {
  return { ...cell, rows: 1, columns: 1 };
}
