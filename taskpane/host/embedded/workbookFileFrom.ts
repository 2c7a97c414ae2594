import type { ICellData, IStyleData, IWorkbookData, IWorksheetData, Nullable } from "@univerjs/core";
import type { FileCell, FileColumn, FileFormat, FilePicture, FileSheet, FileTable, FileValue, WorkbookFile } from "../../../src/workbook/WorkbookFile.ts";
import { CELL_TYPE } from "./cellType.ts";
import type { ComputedCells } from "./computedCells.ts";
import { placedFor } from "./pictureIds.ts";
import { ERROR_CODES } from "./SheetError.ts";

type SheetData = Partial<IWorksheetData>;

/** The embedded sheet's own marks, as it stores them. */
const ALIGN = { 1: "left", 2: "center", 3: "right" } as const;
const WRAP = 3;
const IMAGE = 0;

/**
 * The embedded sheet's workbook as plain data for a file.
 *
 * What a file of ours does not hold is left out: merged cells, borders, fonts and colours of text, notes, rules.
 */
export function workbookFileFrom(workbook: Partial<IWorkbookData>, computed: ComputedCells): WorkbookFile {
  const sheets = workbook.sheets ?? {};
  const resources = new Map((workbook.resources ?? []).map(({ name, data }) => [name, parsed(data)]));
  const tables = resources.get("SHEET_TABLE_PLUGIN") as Record<string, { tables?: StoredTable[] }> | undefined;
  const drawings = resources.get("SHEET_DRAWING_PLUGIN") as Record<string, { data?: Record<string, StoredDrawing> }> | undefined;
  const names = Object.values((resources.get("SHEET_DEFINED_NAME_PLUGIN") ?? {}) as Record<string, StoredName>);
  return {
    sheets: (workbook.sheetOrder ?? []).flatMap((id) => {
      const sheet = sheets[id];
      if (!sheet) return [];
      return [sheetFrom(sheet, workbook.styles ?? {}, computed, id, tables?.[id]?.tables ?? [], Object.values(drawings?.[id]?.data ?? {}))];
    }),
    names: names.filter(({ localSheetId }) => localSheetId === undefined || localSheetId === "AllDefaultWorkbook").map(({ name, formulaOrRefString }) => ({ name, refersTo: formulaOrRefString.replace(/^=/, "") })),
  };
}

interface StoredName {
  readonly name: string;
  readonly formulaOrRefString: string;
  readonly localSheetId?: string;
}

interface StoredTable {
  readonly name: string;
  readonly range: { readonly startRow: number; readonly endRow: number; readonly startColumn: number; readonly endColumn: number };
  readonly columns: readonly { readonly displayName: string }[];
}

interface StoredDrawing {
  readonly drawingId?: string;
  readonly drawingType?: number;
  readonly source?: string;
  readonly description?: string;
  readonly sheetTransform?: { readonly from?: { readonly row: number; readonly column: number } };
  readonly transform?: { readonly width?: number; readonly height?: number };
}

function parsed(text: string): unknown {
  try {
    return text ? JSON.parse(text) : undefined;
  } catch {
    return undefined;
  }
}

function sheetFrom(sheet: SheetData, styles: Readonly<Record<string, Nullable<IStyleData>>>, computed: ComputedCells, id: string, storedTables: readonly StoredTable[], drawings: readonly StoredDrawing[]): FileSheet {
  const formulas = new Map((computed.shared[id] ?? []).map(({ row, column, formula }) => [`${row},${column}`, formula]));
  const spills = new Map((computed.spills[id] ?? []).map((spill) => [`${spill.startRow},${spill.startColumn}`, { rows: spill.endRow - spill.startRow + 1, columns: spill.endColumn - spill.startColumn + 1 }]));
  const spilled = computed.spilled[id] ?? {};
  const cells: FileCell[] = [];
  let lastColumn = -1;
  const add = (row: number, column: number, stored: Nullable<ICellData>) => {
    const inSpill = spilled[row]?.[column];
    const formula = stored?.f ?? formulas.get(`${row},${column}`);
    const shown = isBlank(stored) ? (inSpill ?? stored) : stored;
    const value = valueOf(shown, formula !== undefined || inSpill !== undefined);
    const format = formatOf(stored?.s, styles);
    const spill = formula === undefined ? undefined : spills.get(`${row},${column}`);
    if (value === null && !formula && Object.keys(format).length === 0) return;
    if (value !== null || formula) lastColumn = Math.max(lastColumn, column);
    cells.push({ row, column, value, ...format, ...(formula && { formula }), ...(spill && spill.rows * spill.columns > 1 && { spill }) });
  };
  const cellData = (sheet.cellData ?? {}) as Record<number, Record<number, Nullable<ICellData>>>;
  for (const [row, columns] of Object.entries(cellData)) for (const [column, cell] of Object.entries(columns ?? {})) add(Number(row), Number(column), cell);
  for (const [row, columns] of Object.entries(spilled)) for (const [column, cell] of Object.entries(columns ?? {})) if (cellData[Number(row)]?.[Number(column)] === undefined) add(Number(row), Number(column), { ...cell, f: undefined });
  const columns = columnsFrom(sheet, lastColumn);
  const heights = Object.entries(sheet.rowData ?? {}).flatMap(([row, data]) => (data?.h === undefined ? [] : [{ row: Number(row), height: data.h }]));
  const frozenRows = sheet.freeze?.ySplit ?? 0;
  const tables = storedTables.map(tableFrom);
  const pictures = drawings.flatMap(pictureFrom);
  return {
    name: sheet.name ?? "Sheet",
    cells,
    ...(columns.length > 0 && { columns }),
    ...(heights.length > 0 && { heights }),
    ...(frozenRows > 0 && { frozenRows }),
    ...(sheet.hidden === 1 && { hidden: true }),
    ...(tables.length > 0 && { tables }),
    ...(pictures.length > 0 && { pictures }),
  };
}

function isBlank(cell: Nullable<ICellData>): boolean {
  return (cell?.v === undefined || cell.v === null || cell.v === "") && !cell?.p;
}

function valueOf(cell: Nullable<ICellData>, isComputed: boolean): FileValue {
  const value = cell?.v;
  if (value === undefined || value === null) return cell?.p?.body?.dataStream?.replace(/\r\n$/, "") || null;
  if (cell!.t === CELL_TYPE.boolean) return value === true || value === 1 || value === "TRUE";
  if (isComputed && typeof value === "string" && (ERROR_CODES as readonly string[]).includes(value)) return { error: value };
  if (typeof value === "number" && !Number.isFinite(value)) return { error: "#NUM!" };
  return value === "" && !isComputed ? null : value;
}

function formatOf(style: ICellData["s"], styles: Readonly<Record<string, Nullable<IStyleData>>>): FileFormat {
  const found = typeof style === "string" ? styles[style] : style;
  if (!found) return {};
  const fill = /^#?([0-9a-f]{6})$/i.exec(found.bg?.rgb ?? "")?.[1];
  const align = ALIGN[found.ht as keyof typeof ALIGN];
  return {
    ...(found.n?.pattern && { numberFormat: found.n.pattern }),
    ...(found.bl === 1 && { bold: true }),
    ...(found.tb === WRAP && { wrap: true }),
    ...(fill && { fill: fill.toUpperCase() }),
    ...(align && { align }),
  };
}

/** Every column that holds something has its width said: what is usual differs between spreadsheets. */
function columnsFrom(sheet: SheetData, lastColumn: number): FileColumn[] {
  const data = (sheet.columnData ?? {}) as Record<number, Nullable<{ w?: number; hd?: number }>>;
  const last = Math.max(lastColumn, ...Object.keys(data).map(Number));
  return Array.from({ length: last + 1 }, (_, column) => ({ column, width: data[column]?.w ?? sheet.defaultColumnWidth ?? 88, ...(data[column]?.hd === 1 && { hidden: true }) }));
}

function tableFrom({ name, range, columns }: StoredTable): FileTable {
  const { startRow, endRow, startColumn, endColumn } = range;
  return { name, range: { row: startRow, column: startColumn, rows: endRow - startRow + 1, columns: endColumn - startColumn + 1 }, columns: columns.map((column) => column.displayName) };
}

function pictureFrom({ drawingId, drawingType, source, description, sheetTransform, transform }: StoredDrawing): FilePicture[] {
  const data = /^data:image\/(png|jpeg);base64,([A-Za-z0-9+/=]+)$/.exec(source ?? "");
  const from = sheetTransform?.from;
  if (drawingType !== IMAGE || !data || !from) return [];
  const bytes = Uint8Array.from(atob(data[2]), (letter) => letter.charCodeAt(0));
  const of = placedFor(drawingId);
  return [{ row: from.row, column: from.column, width: transform?.width ?? 400, height: transform?.height ?? 300, type: data[1] as "png" | "jpeg", bytes, text: description ?? "", ...(of && { of }) }];
}
