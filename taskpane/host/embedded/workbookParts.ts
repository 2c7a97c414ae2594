import { ICommandService, IResourceManagerService, UniverInstanceType, type ICellData, type IWorkbookData, type Nullable } from "@univerjs/core";
import { FormulaDataModel, SetArrayFormulaDataMutation } from "@univerjs/engine-formula";
import type { ComputedPart, WorkbookPart } from "../storage/savedParts.ts";
import { PART_ROWS, type Changes } from "./ChangedRows.ts";
import type { Book } from "./editSheet.ts";
import type { ErrorSentences } from "./functionClass.ts";

type Cells = Record<number, Record<number, Nullable<ICellData>> | undefined>;
type Blocks = Record<number, Record<number, Nullable<{ startRow: number; endRow: number; startColumn: number; endColumn: number }>> | undefined>;

/** Numbers of all parts of the workbook, by sheet. */
export function partsOf(book: Book): ReadonlyMap<string, readonly number[]> {
  return new Map(
    book.workbook.getSheets().map((sheet) => {
      const parts = new Set<number>();
      for (const row in cellsOf(book, sheet.getSheetId())) parts.add(Math.floor(Number(row) / PART_ROWS));
      return [sheet.getSheetId(), [...parts]];
    }),
  );
}

/** The parts that changed, of those there are. */
export function changedParts(all: ReadonlyMap<string, readonly number[]>, { everything, sheets }: Changes): { sheet: string; part: number }[] {
  return [...all].flatMap(([sheet, parts]) => {
    const changed = everything ? "all" : sheets.get(sheet);
    return parts.filter((part) => changed === "all" || changed?.has(part)).map((part) => ({ sheet, part }));
  });
}

/** Visits the cells of a part as they stand. */
export function eachCellOf(book: Book, sheet: string, part: number, visit: (cell: ICellData) => void): void {
  const cells = cellsOf(book, sheet);
  for (let row = part * PART_ROWS; row < (part + 1) * PART_ROWS; row++) for (const cell of Object.values(cells[row] ?? {})) if (cell) visit(cell);
}

/** A copy of a part: its cells, and what the formulas in it filled and said. */
export function readPart(book: Book, sentences: ErrorSentences, sheet: string, part: number): WorkbookPart {
  const cells = cellsOf(book, sheet);
  const model = book.services.get(FormulaDataModel);
  const blocks = (model.getArrayFormulaRange()?.[book.unitId]?.[sheet] ?? {}) as Blocks;
  const filled = (model.getArrayFormulaCellData()?.[book.unitId]?.[sheet] ?? {}) as Cells;
  const cellData: WorkbookPart["cellData"] = {};
  const computed: { spills: ComputedPart["spills"][number][]; sentences: ComputedPart["sentences"][number][] } = { spills: [], sentences: [] };
  for (let row = part * PART_ROWS; row < (part + 1) * PART_ROWS; row++) {
    const line = cells[row];
    if (!line) continue;
    const copy: Record<number, ICellData> = {};
    for (const [place, cell] of Object.entries(line)) {
      if (!cell) continue;
      const column = Number(place);
      copy[column] = { ...cell };
      if (!cell.f && !cell.si) continue;
      const block = blocks[row]?.[column];
      if (block) computed.spills.push({ row, column, cells: blockOf(filled, block) });
      const said = sentences.of(sheet, row, column);
      if (said.length > 0) computed.sentences.push({ row, column, said });
    }
    cellData[row] = copy;
  }
  return { sheet, part, cellData, computed };
}

function blockOf(filled: Cells, { startRow, endRow, startColumn, endColumn }: { startRow: number; endRow: number; startColumn: number; endColumn: number }): (ICellData | null)[][] {
  return Array.from({ length: endRow - startRow + 1 }, (_, down) =>
    Array.from({ length: endColumn - startColumn + 1 }, (__, right) => {
      const cell = filled[startRow + down]?.[startColumn + right];
      return cell ? { ...cell } : null;
    }),
  );
}

/** The workbook without its cells: sheets, styles, names, tables, pictures. */
export function readHead({ services, unitId, workbook }: Book): Partial<IWorkbookData> {
  const snapshot = workbook.getSnapshot();
  return {
    ...snapshot,
    sheets: Object.fromEntries(Object.entries(snapshot.sheets).map(([id, sheet]) => [id, { ...sheet, cellData: {} }])),
    resources: services.get(IResourceManagerService).getResources(unitId, UniverInstanceType.UNIVER_SHEET),
  };
}

/** Shows what formulas filled and said when the workbook was saved. */
export function restoreComputed({ services, unitId }: Book, sentences: ErrorSentences, parts: readonly WorkbookPart[]): void {
  const ranges: Record<string, Blocks> = {};
  const filled: Record<string, Cells> = {};
  for (const { sheet, computed } of parts) {
    for (const { row, column, cells } of computed.spills) {
      ((ranges[sheet] ??= {})[row] ??= {})[column] = { startRow: row, endRow: row + cells.length - 1, startColumn: column, endColumn: column + (cells[0]?.length ?? 1) - 1 };
      cells.forEach((line, down) =>
        line.forEach((cell, right) => {
          if (cell) ((filled[sheet] ??= {})[row + down] ??= {})[column + right] = cell;
        }),
      );
    }
    for (const { row, column, said } of computed.sentences) for (const { down, right, sentence } of said) sentences.set(sheet, row, column, down, right, sentence);
  }
  services.get(ICommandService).syncExecuteCommand(SetArrayFormulaDataMutation.id, { arrayFormulaRange: { [unitId]: ranges }, arrayFormulaCellData: { [unitId]: filled } }, { onlyLocal: true });
}

function cellsOf(book: Book, sheet: string): Cells {
  return (book.workbook.getSnapshot().sheets[sheet]?.cellData ?? {}) as Cells;
}
