import {
  customNameCharacterCheck,
  generateRandomId,
  HorizontalAlign,
  ICommandService,
  IUniverInstanceService,
  mergeWorksheetSnapshotWithDefault,
  WrapStrategy,
  type IAccessor,
  type ICellData,
  type IRange,
  type IStyleData,
  type Nullable,
  type Workbook,
  type Worksheet,
} from "@univerjs/core";
import { IDefinedNamesService, RemoveDefinedNameMutation, SetDefinedNameMutation } from "@univerjs/engine-formula";
import {
  InsertRowMutation,
  InsertSheetMutation,
  RemoveRowCommand,
  RemoveRowMutation,
  RemoveSheetCommand,
  RemoveSheetMutation,
  RemoveSheetUndoMutationFactory,
  SetColHiddenMutation,
  SetColVisibleMutation,
  SetFrozenMutation,
  SetRangeValuesMutation,
  SetRangeValuesUndoMutationFactory,
  SetWorksheetActiveOperation,
  SetWorksheetColumnCountMutation,
  SetWorksheetColWidthMutation,
  SetWorksheetColWidthMutationFactory,
  SetWorksheetRowCountMutation,
  SetWorksheetRowHeightMutation,
  SetWorksheetRowHeightMutationFactory,
  SheetInterceptorService,
} from "@univerjs/sheets";
import { AddSheetTableMutation, DeleteSheetTableMutation, SetSheetTableMutation, SheetTableService } from "@univerjs/sheets-table";
import { fixedRange } from "../../workbook/addresses.ts";
import type { CellInput, CellRef, Edit } from "../SheetHost.ts";
import type { Batch } from "./Batch.ts";
import { CELL_TYPE, typeOfText } from "./cellType.ts";
import { placePicture, takePictures } from "./pictures.ts";

/** The open workbook and the services that change it. */
export interface Book {
  readonly unitId: string;
  readonly workbook: Workbook;
  readonly services: IAccessor;
}

/** A cell that a batch wrote, and what it must hold afterwards. */
export interface WrittenCell extends CellRef {
  readonly input: Exclude<CellInput, null>;
}

/** Names that would collide with the sheet's own. */
const EVERYWHERE = "AllDefaultWorkbook";

/** An edit under way: pauses are where the page may answer and the edit may be given up; in the end the cells it wrote. */
export type Editing = Generator<void, readonly WrittenCell[]>;

/** Cells written between two pauses: a few milliseconds. */
const CELLS_AT_ONCE = 400;

/**
 * Carries out one edit inside a batch.
 *
 * @returns The cells it wrote, for reading back.
 * @throws {Error} A sentence for the person where the edit cannot be done; what the batch did before stays done.
 */
export function* editSheet(book: Book, batch: Batch, edit: Edit): Editing {
  switch (edit.kind) {
    case "addSheet":
      return addSheet(book, batch, edit);
    case "cells":
      return yield* writeCells(book, batch, edit.sheet, edit.row, edit.column, edit.cells);
    case "table":
      return yield* addTable(book, batch, edit);
    case "appendRows":
      return yield* appendRows(book, batch, edit);
    case "appendColumns":
      return yield* appendColumns(book, batch, edit);
    case "definedName":
      return nameRange(book, batch, edit);
    case "format":
      return format(book, batch, edit);
    case "columns":
      return shapeColumns(book, batch, edit);
    case "rowHeight":
      return shapeRows(book, batch, edit);
    case "freezeRows":
      return freezeRows(book, batch, edit);
    case "picture":
      placePicture(book, batch, sheetNamed(book, edit.sheet), edit);
      return [];
    case "takePictures":
      takePictures(book, batch, sheetNamed(book, edit.sheet), edit.of);
      return [];
    case "deleteRows":
      return yield* deleteRows(book, batch, edit);
    case "deleteSheet":
      return deleteSheet(book, batch, edit);
  }
}

type EditOf<Kind extends Edit["kind"]> = Extract<Edit, { kind: Kind }>;

/** The sheet of this name; throws a sentence where there is none. */
export function sheetNamed(book: Book, name: string): Worksheet {
  const sheet = book.workbook.getSheetBySheetName(name);
  if (!sheet) throw new Error(`there is no sheet named “${name}” in this workbook`);
  return sheet;
}

function addSheet(book: Book, batch: Batch, edit: EditOf<"addSheet">): WrittenCell[] {
  if (book.workbook.getSheetBySheetName(edit.sheet)) throw new Error(`a sheet named “${edit.sheet}” exists already`);
  const id = generateRandomId();
  const sheet = mergeWorksheetSnapshotWithDefault({ id, name: edit.sheet, rowCount: edit.rows ?? 1000, columnCount: edit.columns ?? 26 });
  const unit = { unitId: book.unitId };
  batch.run(
    InsertSheetMutation.id,
    { ...unit, index: book.workbook.getSheets().length, sheet },
    // First away from it: a sheet that is shown cannot go without the drawing losing its place.
    { id: SetWorksheetActiveOperation.id, params: { ...unit, subUnitId: book.workbook.getActiveSheet()?.getSheetId() } },
    { id: RemoveSheetMutation.id, params: { ...unit, subUnitId: id, subUnitName: edit.sheet } },
  );
  return [];
}

function* writeCells(book: Book, batch: Batch, sheetName: string, row: number, column: number, cells: readonly (readonly CellInput[])[]): Editing {
  const sheet = sheetNamed(book, sheetName);
  const columns = cells.reduce((most, each) => Math.max(most, each.length), 0);
  if (columns === 0) return [];
  makeRoom(book, batch, sheet, row + cells.length, column + columns);
  const written: WrittenCell[] = [];
  const rows = Math.max(1, Math.floor(CELLS_AT_ONCE / columns));
  for (let from = 0; from < cells.length; from += rows) {
    if (from > 0) yield;
    const cellValue: Record<number, Record<number, ICellData>> = {};
    cells.slice(from, from + rows).forEach((inputs, down) => {
      const line: Record<number, ICellData> = {};
      inputs.forEach((input, right) => {
        if (input === null) return;
        line[column + right] = cellData(input);
        written.push({ sheet: sheetName, row: row + from + down, column: column + right, input });
      });
      cellValue[row + from + down] = line;
    });
    setCells(book, batch, sheet, cellValue);
  }
  return written;
}

function setCells(book: Book, batch: Batch, sheet: Worksheet, cellValue: Record<number, Record<number, ICellData>>): void {
  const params = { unitId: book.unitId, subUnitId: sheet.getSheetId(), cellValue };
  batch.run(SetRangeValuesMutation.id, params, { id: SetRangeValuesMutation.id, params: SetRangeValuesUndoMutationFactory(book.services, params) });
}

/** Text stays text, whatever it looks like; only `{ formula }` is a formula. */
function cellData(input: Exclude<CellInput, null>): ICellData {
  const empty = { f: null, si: null, p: null };
  if (typeof input === "object") return { ...empty, f: input.formula, v: null, t: null };
  if (input === "") return { ...empty, v: null, t: null };
  if (typeof input === "number") {
    if (!Number.isFinite(input)) throw new Error("a cell requires a finite number");
    return { ...empty, v: input, t: CELL_TYPE.number };
  }
  if (typeof input === "boolean") return { ...empty, v: input ? 1 : 0, t: CELL_TYPE.boolean };
  if (input.length > 32767) throw new Error("a cell requires text of at most 32,767 characters");
  return { ...empty, v: input, t: typeOfText(input) };
}

function makeRoom(book: Book, batch: Batch, sheet: Worksheet, rows: number, columns: number): void {
  if (rows > 1_048_576 || columns > 16_384) throw new Error("a sheet requires at most 1,048,576 rows and 16,384 columns");
  const place = { unitId: book.unitId, subUnitId: sheet.getSheetId() };
  const { rowCount, columnCount } = { rowCount: sheet.getRowCount(), columnCount: sheet.getColumnCount() };
  if (rows > rowCount) {
    batch.run(SetWorksheetRowCountMutation.id, { ...place, rowCount: rows + 100 }, { id: SetWorksheetRowCountMutation.id, params: { ...place, rowCount } });
  }
  if (columns > columnCount) {
    batch.run(SetWorksheetColumnCountMutation.id, { ...place, columnCount: columns + 5 }, { id: SetWorksheetColumnCountMutation.id, params: { ...place, columnCount } });
  }
}

function* addTable(book: Book, batch: Batch, edit: EditOf<"table">): Editing {
  const names = new Set<string>(takenNames(book));
  if (!customNameCharacterCheck(edit.name.toLowerCase(), names)) throw new Error(`“${edit.name}” cannot be the name of a new table here`);
  const rows = edit.rows.length > 0 ? edit.rows : [edit.columns.map(() => "")];
  const written = yield* writeCells(book, batch, edit.sheet, edit.row, edit.column, [edit.columns, ...rows]);
  const tableId = generateRandomId();
  const place = { unitId: book.unitId, subUnitId: sheetNamed(book, edit.sheet).getSheetId(), tableId };
  const range = { startRow: edit.row, endRow: edit.row + rows.length, startColumn: edit.column, endColumn: edit.column + edit.columns.length - 1 };
  batch.run(AddSheetTableMutation.id, { ...place, name: edit.name, range, header: [...edit.columns] }, { id: DeleteSheetTableMutation.id, params: place });
  return written;
}

function takenNames(book: Book): string[] {
  const tables = book.services.get(SheetTableService).getTableList(book.unitId).map((table) => table.name.toLowerCase());
  const names = Object.values(book.services.get(IDefinedNamesService).getDefinedNameMap(book.unitId) ?? {}).map((each) => each.name.toLowerCase());
  return [...tables, ...names];
}

/** The table of this name, whatever its letters' case. */
export function findTable(book: Book, name: string) {
  return book.services
    .get(SheetTableService)
    .getTableList(book.unitId)
    .find((table) => table.name.toLowerCase() === name.toLowerCase());
}

function tableNamed(book: Book, name: string) {
  const table = findTable(book, name);
  const sheet = table && book.workbook.getSheetBySheetId(table.subUnitId);
  if (!table || !sheet) throw new Error(`there is no table named “${name}” in this workbook`);
  return { table, sheet };
}

/** Rows go below the last one; a table whose only row is blank is filled from that row on. */
function* appendRows(book: Book, batch: Batch, edit: EditOf<"appendRows">): Editing {
  if (edit.rows.length === 0) return [];
  const { table, sheet } = tableNamed(book, edit.table);
  const { startRow, endRow, startColumn, endColumn } = table.range;
  const blank = endRow === startRow + 1 && isBlank(sheet, { startRow: endRow, endRow, startColumn, endColumn });
  const first = blank ? endRow : endRow + 1;
  const last = first + edit.rows.length - 1;
  if (edit.rows.some((row) => row.length > endColumn - startColumn + 1)) throw new Error(`a row for the table “${edit.table}” requires at most as many cells as the table has columns`);
  if (!isBlank(sheet, { startRow: endRow + 1, endRow: last, startColumn, endColumn })) {
    throw new Error(`the rows below the table “${edit.table}” hold something; clear or move it first`);
  }
  const written = yield* writeCells(book, batch, sheet.getName(), first, startColumn, edit.rows);
  const place = { unitId: book.unitId, subUnitId: table.subUnitId, tableId: table.id };
  const to = (range: object) => ({ ...place, config: { updateRange: { newRange: range } } });
  batch.run(SetSheetTableMutation.id, to({ startRow, endRow: Math.max(endRow, last), startColumn, endColumn }), { id: SetSheetTableMutation.id, params: to({ ...table.range }) });
  return written;
}

/** New columns stand at the right of the table, blank below their heads. */
function* appendColumns(book: Book, batch: Batch, edit: EditOf<"appendColumns">): Editing {
  const count = edit.columns.length;
  if (count === 0) return [];
  const { table, sheet } = tableNamed(book, edit.table);
  const { startRow, endRow, endColumn } = table.range;
  if (!isBlank(sheet, { startRow, endRow, startColumn: endColumn + 1, endColumn: endColumn + count })) {
    throw new Error(`the columns beside the table “${edit.table}” hold something; clear or move it first`);
  }
  const written = yield* writeCells(book, batch, sheet.getName(), startRow, endColumn + 1, [edit.columns]);
  const place = { unitId: book.unitId, subUnitId: table.subUnitId, tableId: table.id };
  const at = { rowColType: DIRECTION.Col, index: endColumn + 1, count };
  const columnsJson = edit.columns.map((displayName) => ({ id: generateRandomId(), displayName, dataType: "string", formula: "", meta: {}, style: {} }));
  batch.run(
    SetSheetTableMutation.id,
    { ...place, config: { rowColOperation: { ...at, operationType: OPERATION.Insert, columnsJson } } },
    { id: SetSheetTableMutation.id, params: { ...place, config: { rowColOperation: { ...at, operationType: OPERATION.Delete } } } },
  );
  return written;
}

/** As the table package spells them; it does not export the words. */
const OPERATION = { Insert: "insert", Delete: "delete" } as const;
const DIRECTION = { Col: "column" } as const;

function isBlank(sheet: Worksheet, { startRow, endRow, startColumn, endColumn }: IRange): boolean {
  const cells = sheet.getCellMatrix();
  for (let row = startRow; row <= endRow; row++) {
    for (let column = startColumn; column <= endColumn; column++) {
      if (holdsSomething(cells.getValue(row, column))) return false;
    }
  }
  return true;
}

/** Whether a stored cell has a value or a formula; a style alone is nothing. */
export function holdsSomething(cell: Nullable<ICellData>): boolean {
  return !!cell && ((cell.v !== undefined && cell.v !== null && cell.v !== "") || !!cell.f || !!cell.si || !!cell.p);
}

function nameRange(book: Book, batch: Batch, edit: EditOf<"definedName">): WrittenCell[] {
  sheetNamed(book, edit.range.sheet);
  const service = book.services.get(IDefinedNamesService);
  const former = Object.values(service.getDefinedNameMap(book.unitId) ?? {}).find((each) => each.name.toLowerCase() === edit.name.toLowerCase());
  const params = {
    unitId: book.unitId,
    id: former?.id ?? generateRandomId(),
    name: edit.name,
    formulaOrRefString: fixedRange(edit.range),
    localSheetId: EVERYWHERE,
    comment: former?.comment ?? "",
    hidden: false,
  };
  const inverse = former ? { id: SetDefinedNameMutation.id, params: { ...former, unitId: book.unitId } } : { id: RemoveDefinedNameMutation.id, params };
  batch.run(SetDefinedNameMutation.id, params, inverse);
  return [];
}

const ALIGN = { left: HorizontalAlign.LEFT, center: HorizontalAlign.CENTER, right: HorizontalAlign.RIGHT } as const;

function format(book: Book, batch: Batch, edit: EditOf<"format">): WrittenCell[] {
  const { range } = edit;
  const sheet = sheetNamed(book, range.sheet);
  const style: IStyleData = {
    ...(edit.numberFormat !== undefined && { n: { pattern: edit.numberFormat } }),
    ...(edit.bold !== undefined && { bl: edit.bold ? 1 : 0 }),
    ...(edit.wrap !== undefined && { tb: edit.wrap ? WrapStrategy.WRAP : WrapStrategy.OVERFLOW }),
    ...(edit.fill !== undefined && { bg: { rgb: edit.fill } }),
    ...(edit.align !== undefined && { ht: ALIGN[edit.align] }),
  };
  makeRoom(book, batch, sheet, range.row + range.rows, range.column + range.columns);
  const cellValue: Record<number, Record<number, ICellData>> = {};
  for (let row = range.row; row < range.row + range.rows; row++) {
    cellValue[row] = {};
    for (let column = range.column; column < range.column + range.columns; column++) {
      // With the formula in it: the engine takes a formula that a change leaves out for removed.
      const { f, si } = sheet.getCellMatrix().getValue(row, column) ?? {};
      cellValue[row][column] = { s: style, ...(f && { f }), ...(si && { si }) };
    }
  }
  setCells(book, batch, sheet, cellValue);
  return [];
}

function shapeColumns(book: Book, batch: Batch, edit: EditOf<"columns">): WrittenCell[] {
  const sheet = sheetNamed(book, edit.sheet);
  makeRoom(book, batch, sheet, 0, edit.column + edit.count);
  const place = { unitId: book.unitId, subUnitId: sheet.getSheetId() };
  const range = wholeColumns(sheet, edit.column, edit.column + edit.count - 1);
  if (edit.width !== undefined) {
    const params = { ...place, ranges: [range], colWidth: edit.width };
    batch.run(SetWorksheetColWidthMutation.id, params, { id: SetWorksheetColWidthMutation.id, params: SetWorksheetColWidthMutationFactory(params, sheet) });
  }
  if (edit.hidden !== undefined) {
    const changing = columnsFrom(edit.column, edit.count).filter((column) => sheet.getColVisible(column) === edit.hidden);
    const params = { ...place, ranges: changing.map((column) => wholeColumns(sheet, column, column)) };
    const [there, back] = edit.hidden ? [SetColHiddenMutation.id, SetColVisibleMutation.id] : [SetColVisibleMutation.id, SetColHiddenMutation.id];
    if (changing.length > 0) batch.run(there, params, { id: back, params });
  }
  return [];
}

function shapeRows(book: Book, batch: Batch, edit: EditOf<"rowHeight">): WrittenCell[] {
  const sheet = sheetNamed(book, edit.sheet);
  const range: IRange = { startRow: edit.row, endRow: edit.row + edit.count - 1, startColumn: 0, endColumn: sheet.getColumnCount() - 1 };
  const params = { unitId: book.unitId, subUnitId: sheet.getSheetId(), ranges: [range], rowHeight: edit.height };
  batch.run(SetWorksheetRowHeightMutation.id, params, { id: SetWorksheetRowHeightMutation.id, params: SetWorksheetRowHeightMutationFactory(params, sheet) });
  return [];
}

const columnsFrom = (first: number, count: number) => Array.from({ length: count }, (_, index) => first + index);

const wholeColumns = (sheet: Worksheet, startColumn: number, endColumn: number): IRange => ({ startRow: 0, endRow: sheet.getRowCount() - 1, startColumn, endColumn });

function freezeRows(book: Book, batch: Batch, edit: EditOf<"freezeRows">): WrittenCell[] {
  const sheet = sheetNamed(book, edit.sheet);
  const place = { unitId: book.unitId, subUnitId: sheet.getSheetId() };
  const former = sheet.getFreeze();
  const frozen = { startRow: edit.rows > 0 ? edit.rows : -1, startColumn: former.startColumn, ySplit: edit.rows, xSplit: former.xSplit };
  batch.run(SetFrozenMutation.id, { ...place, ...frozen }, { id: SetFrozenMutation.id, params: { ...place, ...former } });
  return [];
}

/** Takes whole sheet rows away, so that formulas elsewhere follow; refuses where they hold anything beside the table. */
function* deleteRows(book: Book, batch: Batch, edit: EditOf<"deleteRows">): Editing {
  const { table, sheet } = tableNamed(book, edit.table);
  const { startRow, endRow, startColumn, endColumn } = table.range;
  const rows = [...new Set(edit.rows)].sort((a, b) => b - a);
  const body = endRow - startRow;
  if (rows.some((row) => !Number.isInteger(row) || row < 0 || row >= body)) throw new Error(`the table “${edit.table}” has ${body} rows; the rows to delete must be among them`);
  for (const row of rows) {
    const at = startRow + 1 + row;
    const line = { startRow: at, endRow: at };
    const beside = !isBlank(sheet, { ...line, startColumn: 0, endColumn: startColumn - 1 }) || !isBlank(sheet, { ...line, startColumn: endColumn + 1, endColumn: sheet.getColumnCount() - 1 });
    if (beside) throw new Error(`a row of the table “${edit.table}” has something beside the table; clear or move it first`);
  }
  // A table keeps one row: where all go, the last one is emptied.
  const emptied = rows.length === body ? rows.pop() : undefined;
  // The sheet's own parts adjust tables and formulas of the active sheet only.
  const active = book.workbook.getActiveSheet();
  activate(book, sheet);
  try {
    for (const row of rows) deleteRow(book, batch, sheet, startRow + 1 + row);
  } finally {
    if (active) activate(book, active);
  }
  if (emptied !== undefined) yield* writeCells(book, batch, sheet.getName(), startRow + 1, startColumn, [Array.from({ length: endColumn - startColumn + 1 }, () => "")]);
  return [];
}

function activate(book: Book, sheet: Worksheet): void {
  book.services.get(ICommandService).syncExecuteCommand(SetWorksheetActiveOperation.id, { unitId: book.unitId, subUnitId: sheet.getSheetId() });
}

function deleteRow(book: Book, batch: Batch, sheet: Worksheet, row: number): void {
  const place = { unitId: book.unitId, subUnitId: sheet.getSheetId() };
  const range: IRange = { startRow: row, endRow: row, startColumn: 0, endColumn: sheet.getColumnCount() - 1 };
  const rowInfo = sheet.getRowManager().getRowData()[row];
  const cellValue = structuredClone(sheet.getCellMatrix().getSlice(row, row, 0, range.endColumn).getMatrix());
  const others = book.services.get(SheetInterceptorService).onCommandExecute({ id: RemoveRowCommand.id, params: { ...place, range } });
  batch.runAll(
    [...(others.preRedos ?? []), { id: RemoveRowMutation.id, params: { ...place, range } }, ...others.redos],
    [
      ...(others.preUndos ?? []),
      { id: InsertRowMutation.id, params: { ...place, range, ...(rowInfo && { rowInfo: { 0: { ...rowInfo } } }) } },
      { id: SetRangeValuesMutation.id, params: { ...place, cellValue } },
      ...others.undos,
    ],
  );
}

function deleteSheet(book: Book, batch: Batch, edit: EditOf<"deleteSheet">): WrittenCell[] {
  const sheet = sheetNamed(book, edit.sheet);
  if (book.workbook.getSheets().length === 1) throw new Error("a workbook requires at least one sheet");
  const place = { unitId: book.unitId, subUnitId: sheet.getSheetId() };
  const params = { ...place, subUnitName: edit.sheet };
  if (book.workbook.getActiveSheet() === sheet) activate(book, book.workbook.getSheets().find((other) => other !== sheet)!);
  const inverse = RemoveSheetUndoMutationFactory(book.services, params);
  const others = book.services.get(SheetInterceptorService).onCommandExecute({ id: RemoveSheetCommand.id, params: place });
  batch.runAll(
    [...(others.preRedos ?? []), { id: RemoveSheetMutation.id, params }, ...others.redos],
    [...(others.preUndos ?? []), { id: InsertSheetMutation.id, params: inverse }, ...others.undos],
  );
  return [];
}

/** The workbook that is open. */
export function openBook(services: IAccessor): Book {
  const workbook = services.get(IUniverInstanceService).getCurrentUnitOfType<Workbook>(2);
  if (!workbook) throw new Error("no workbook is open");
  return { unitId: workbook.getUnitId(), workbook, services };
}
