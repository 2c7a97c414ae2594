import { IUniverInstanceService, type IAccessor, type ICellData, type IMutationInfo, type IRange, type Workbook } from "@univerjs/core";
import { FormulaDataModel, LexerTreeBuilder } from "@univerjs/engine-formula";
import { ReorderRangeCommand, SetRangeValuesMutation, SheetInterceptorService } from "@univerjs/sheets";

/** Rows in another order: for each row the one whose cells it gets. */
interface Reordered {
  readonly unitId: string;
  readonly subUnitId: string;
  readonly range: IRange;
  readonly order: Readonly<Record<number, number>>;
}

/**
 * Lets formulas that read cells of their own row read those of their new row when rows are sorted, as every spreadsheet does. By itself this one
 * moves the text of a formula as it is: a trial would get the protocol of the one that stood there before.
 */
export function keepOwnRows(services: IAccessor): void {
  services.get(SheetInterceptorService).interceptCommand({
    getMutations: ({ id, params }) => (id === ReorderRangeCommand.id ? moved(services, params as Reordered) : { redos: [], undos: [] }),
  });
}

function moved(services: IAccessor, { unitId, subUnitId, range, order }: Reordered): { redos: IMutationInfo[]; undos: IMutationInfo[] } {
  const cells = services.get(IUniverInstanceService).getUnit<Workbook>(unitId)?.getSheetBySheetId(subUnitId)?.getCellMatrix();
  const model = services.get(FormulaDataModel);
  const texts = services.get(LexerTreeBuilder);
  const after: Record<number, Record<number, ICellData>> = {};
  const before: Record<number, Record<number, ICellData>> = {};
  for (const [place, from] of Object.entries(order)) {
    const row = Number(place);
    if (row === from) continue;
    for (let column = range.startColumn; column <= range.endColumn; column++) {
      const cell = cells?.getValue(from, column);
      if (!cell?.f && !cell?.si) continue;
      const formula = model.getFormulaStringByCell(from, column, subUnitId, unitId);
      if (!formula) continue;
      (after[row] ??= {})[column] = { f: texts.moveFormulaRefOffset(formula, 0, row - from), si: null };
      (before[from] ??= {})[column] = { f: cell.f ?? null, si: cell.si ?? null };
    }
  }
  if (Object.keys(after).length === 0) return { redos: [], undos: [] };
  const write = (cellValue: object): IMutationInfo => ({ id: SetRangeValuesMutation.id, params: { unitId, subUnitId, cellValue } });
  return { redos: [write(after)], undos: [write(before)] };
}
