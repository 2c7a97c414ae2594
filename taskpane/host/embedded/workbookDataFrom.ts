import type { ICellData, IStyleData, IWorkbookData, IWorksheetData } from "@univerjs/core";
import type { FileCell, FileSheet, FileTable, WorkbookFile } from "../../../src/workbook/WorkbookFile.ts";
import { CELL_TYPE, typeOfText } from "./cellType.ts";
import { pictureId } from "./pictureIds.ts";

const UNIT = "workbook";
const TABLE_LOOK = "table-default-0";

const ALIGN = { left: 1, center: 2, right: 3 } as const;
const WRAP = 3;

/**
 * A workbook of a file as the embedded sheet stores its own. Everything is computed afresh when the sheet opens it; what formulas
 * filled beside their cell is left to them.
 */
export function workbookDataFrom(file: WorkbookFile): Partial<IWorkbookData> {
  const ids = file.sheets.map((_, index) => `sheet-${index + 1}`);
  const tables = file.sheets.map((sheet, index) => (sheet.tables ?? []).map((table, place) => storedTable(table, `${ids[index]}-table-${place + 1}`)));
  return {
    id: UNIT,
    name: "Workbook",
    sheetOrder: ids,
    styles: {},
    sheets: Object.fromEntries(file.sheets.map((sheet, index) => [ids[index], sheetData(sheet, ids[index])])),
    resources: [
      { name: "SHEET_TABLE_PLUGIN", data: JSON.stringify(Object.fromEntries(ids.map((id, index) => [id, { tables: tables[index], tableFilteredOutRows: [] }]))) },
      { name: "SHEET_RANGE_THEME_MODEL_PLUGIN", data: JSON.stringify({ rangeThemeStyleRuleMap: Object.fromEntries(tables.flatMap((list, index) => list.map(({ id, range }) => [id, { rangeInfo: { unitId: UNIT, subUnitId: ids[index], range }, themeName: TABLE_LOOK }]))), rangeThemeStyleMapJson: {} }) },
      { name: "SHEET_DEFINED_NAME_PLUGIN", data: JSON.stringify(Object.fromEntries(file.names.map(({ name, refersTo }, index) => [`name-${index + 1}`, { id: `name-${index + 1}`, name, formulaOrRefString: refersTo, comment: "", hidden: false, localSheetId: "AllDefaultWorkbook" }]))) },
      { name: "SHEET_DRAWING_PLUGIN", data: JSON.stringify(Object.fromEntries(file.sheets.map((sheet, index) => [ids[index], storedPictures(sheet, ids[index])]))) },
    ],
  };
}

function sheetData(sheet: FileSheet, id: string): Partial<IWorksheetData> {
  const filled = spilledCells(sheet);
  const cellData: Record<number, Record<number, ICellData>> = {};
  let [rows, columns] = [0, 0];
  for (const cell of sheet.cells) {
    (cellData[cell.row] ??= {})[cell.column] = cellFor(cell, filled.has(`${cell.row},${cell.column}`));
    rows = Math.max(rows, cell.row + 1);
    columns = Math.max(columns, cell.column + 1);
  }
  const columnData = Object.fromEntries((sheet.columns ?? []).map(({ column, width, hidden }) => [column, { ...(width !== undefined && { w: width }), ...(hidden && { hd: 1 as const }) }]));
  return {
    id,
    name: sheet.name,
    cellData,
    rowCount: Math.max(200, rows + 100),
    columnCount: Math.max(26, columns + 5, (sheet.columns?.at(-1)?.column ?? 0) + 5),
    columnData,
    rowData: Object.fromEntries((sheet.heights ?? []).map(({ row, height }) => [row, { h: height }])),
    ...(sheet.frozenRows && { freeze: { startRow: sheet.frozenRows, startColumn: -1, ySplit: sheet.frozenRows, xSplit: 0 } }),
    ...(sheet.hidden && { hidden: 1 as const }),
  };
}

/** Cells that a formula beside them fills: a value of their own would be in its way. */
function spilledCells(sheet: FileSheet): Set<string> {
  const filled = new Set<string>();
  for (const { row, column, spill } of sheet.cells) {
    for (let down = 0; down < (spill?.rows ?? 0); down++) for (let right = 0; right < spill!.columns; right++) if (down + right > 0) filled.add(`${row + down},${column + right}`);
  }
  return filled;
}

function cellFor(cell: FileCell, filled: boolean): ICellData {
  const style = styleFor(cell);
  const { value } = cell;
  const content = filled && cell.formula === undefined ? {} : { ...(cell.formula !== undefined && { f: cell.formula }), ...contentOf(value, cell.formula !== undefined) };
  return { ...content, ...(style && { s: style }) };
}

function contentOf(value: FileCell["value"], computed: boolean): ICellData {
  if (value === null) return {};
  if (typeof value === "object") return { v: value.error, t: CELL_TYPE.text };
  if (typeof value === "number") return { v: value, t: CELL_TYPE.number };
  if (typeof value === "boolean") return { v: value ? 1 : 0, t: CELL_TYPE.boolean };
  return { v: value, t: computed ? CELL_TYPE.text : typeOfText(value) };
}

function styleFor({ numberFormat, bold, wrap, fill, align }: FileCell): IStyleData | undefined {
  if (!numberFormat && !bold && !wrap && !fill && !align) return undefined;
  return {
    ...(numberFormat && { n: { pattern: numberFormat } }),
    ...(bold && { bl: 1 as const }),
    ...(wrap && { tb: WRAP }),
    ...(fill && { bg: { rgb: `#${fill}` } }),
    ...(align && { ht: ALIGN[align] }),
  };
}

function storedTable({ name, range, columns }: FileTable, id: string) {
  return {
    id,
    name,
    range: { startRow: range.row, endRow: range.row + range.rows - 1, startColumn: range.column, endColumn: range.column + range.columns - 1 },
    options: { showHeader: true, showFooter: false, tableStyleId: TABLE_LOOK },
    filters: { tableColumnFilterList: [] },
    columns: columns.map((displayName, index) => ({ id: `${id}-column-${index + 1}`, displayName, dataType: "string", formula: "", meta: {}, style: {} })),
  };
}

function storedPictures(sheet: FileSheet, id: string) {
  const pictures = (sheet.pictures ?? []).map(({ row, column, width, height, type, bytes, text, of }, index) => {
    const left = sheetOffset(column, (place) => sheet.columns?.find((each) => each.column === place)?.width ?? 88, (place) => sheet.columns?.find((each) => each.column === place)?.hidden ?? false);
    const top = sheetOffset(row, (place) => sheet.heights?.find((each) => each.row === place)?.height ?? 24);
    const at = { row, rowOffset: 0, column, columnOffset: 0 };
    const still = { flipX: false, flipY: false, angle: 0, skewX: 0, skewY: 0 };
    const to = { row: row + Math.ceil(height / 24), rowOffset: 0, column: column + Math.ceil(width / 88), columnOffset: 0 };
    const own = `${id}-picture-${index + 1}`;
    const drawingId = of === undefined ? own : pictureId(of, own);
    return {
      drawingId,
      drawingType: 0,
      imageSourceType: "BASE64",
      source: `data:image/${type};base64,${base64(bytes)}`,
      unitId: UNIT,
      subUnitId: id,
      sheetTransform: { from: at, to, ...still },
      axisAlignSheetTransform: { from: at, to, ...still },
      transform: { left, top, width, height, ...still },
      title: text,
      description: text,
    };
  });
  return { data: Object.fromEntries(pictures.map((picture) => [picture.drawingId, picture])), order: pictures.map((picture) => picture.drawingId) };
}

function sheetOffset(count: number, size: (place: number) => number, hidden: (place: number) => boolean = () => false): number {
  let sum = 0;
  for (let place = 0; place < count; place++) if (!hidden(place)) sum += size(place);
  return sum;
}

function base64(bytes: Uint8Array): string {
  let text = "";
  for (let i = 0; i < bytes.length; i += 0x8000) text += String.fromCharCode(...bytes.subarray(i, i + 0x8000));
  return btoa(text);
}
