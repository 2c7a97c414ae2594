import type { ICellData } from "@univerjs/core";
import { FormulaDataModel } from "@univerjs/engine-formula";
import type { Book } from "./editSheet.ts";

/** What a saved workbook leaves out because it can be computed again; by sheet id. */
export interface ComputedCells {
  /** Cells that formulas beside them filled. */
  readonly spilled: Readonly<Record<string, Readonly<Record<number, Readonly<Record<number, ICellData>>>>>>;
  /** The rectangles that formulas fill; the first cell of each holds the formula. */
  readonly spills: Readonly<Record<string, readonly { readonly startRow: number; readonly endRow: number; readonly startColumn: number; readonly endColumn: number }[]>>;
  /** Formulas of cells that share the text of another cell. */
  readonly shared: Readonly<Record<string, readonly { readonly row: number; readonly column: number; readonly formula: string }[]>>;
}

/** Collects what the sheet computed, as plain data. */
export function computedCells({ services, unitId, workbook }: Book): ComputedCells {
  const model = services.get(FormulaDataModel);
  const spills: Record<string, ComputedCells["spills"][string]> = {};
  const shared: Record<string, { row: number; column: number; formula: string }[]> = {};
  const ranges = (model.getArrayFormulaRange()?.[unitId] ?? {}) as Record<string, Record<string, Record<string, ComputedCells["spills"][string][number]>>>;
  for (const sheet of workbook.getSheets()) {
    const id = sheet.getSheetId();
    spills[id] = Object.values(ranges[id] ?? {}).flatMap((columns) => Object.values(columns ?? {}).filter(Boolean).map(({ startRow, endRow, startColumn, endColumn }) => ({ startRow, endRow, startColumn, endColumn })));
    shared[id] = [];
    sheet.getCellMatrix().forValue((row, column, cell) => {
      if (!cell?.si || cell.f) return;
      const formula = model.getFormulaStringByCell(row, column, id, unitId);
      if (formula) shared[id].push({ row, column, formula });
    });
  }
  return { spilled: structuredClone((model.getArrayFormulaCellData()?.[unitId] ?? {}) as ComputedCells["spilled"]), spills, shared };
}
