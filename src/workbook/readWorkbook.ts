import { translateFormulaToA1, translateFormulaToR1C1 } from "@borgar/fx";
import { readXlsx, type Cell, type CellStyle, type CellValue, type Sheet } from "hucre/xlsx";
import { InputError } from "../errors.ts";
import { checkSpans } from "../read/workbook/checkSpans.ts";
import { checkZip, WORKBOOK_LIMITS, type ZipLimits } from "../read/workbook/checkZip.ts";
import { cellPlace, rangeAt } from "./cellPlaces.ts";
import { fitsFile, formulaShown, type FunctionTable } from "./fileFormula.ts";
import { PLACED } from "./placedPicture.ts";
import type { FileCell, FileFormat, FilePicture, FileSheet, FileTable, FileValue, WorkbookFile } from "./WorkbookFile.ts";

/** More than a person's workbook, less than memory. */
const MOST_CELLS = 5_000_000;
const MOST_SHEETS = 255;
/** Characters of a formula: the limit of the format. */
const LONGEST_FORMULA = 8192;
/** Characters of shared formulas that are written out for the cells that share them: seconds. */
const MOST_SHARED = 4_000_000;

const PIXELS_PER_CHARACTER = 7;
const POINTS_PER_PIXEL = 0.75;

/**
 * Reads an .xlsx file as a workbook: values, formulas with their cached values, tables, defined names, looks and pictures.
 *
 * Nothing of the file is run. What this does not know (charts, pivot tables, macros, comments, rules) is left out.
 *
 * @param bytes Content of the file, no unit.
 * @param functions Cell functions that exist: `_xldudf_LEAP_NAME` in a formula becomes `LEAP.NAME`.
 * @param limits Largest sizes.
 * @returns The workbook.
 * @throws {InputError} as `checkZip` and `checkSpans`; `damaged` if the file cannot be read; `too-large` above five million cells, or above what can be
 *   copied of shared formulas in a few seconds.
 */
export async function readWorkbook(bytes: Uint8Array, functions: FunctionTable, limits: ZipLimits = WORKBOOK_LIMITS): Promise<WorkbookFile> {
  const parts = checkZip(bytes, limits);
  if (!parts.some((part) => part.name === "xl/workbook.xml")) throw new InputError("not-recognised", "opening a workbook requires an .xlsx file, and this one holds no workbook");
  checkSpans(bytes, parts);
  try {
    const { sheets, namedRanges = [] } = await readXlsx(bytes, { readStyles: true });
    if (sheets.length === 0 || sheets.length > MOST_SHEETS) throw new InputError("damaged", `opening a workbook requires 1 to ${MOST_SHEETS} sheets, and this one has ${sheets.length}`);
    const count = sheets.reduce((sum, sheet) => sum + sheet.rows.reduce((cells, row) => cells + row.length, 0), 0);
    if (count > MOST_CELLS) throw new InputError("too-large", `opening a workbook requires at most ${MOST_CELLS / 1e6} million cells, and this one has ${(count / 1e6).toFixed(1)} million`);
    return {
      sheets: sheets.map((sheet) => sheetRead(sheet, functions)),
      // Names that spreadsheets keep for themselves, and names of one sheet, are left out.
      names: namedRanges
        .filter(({ name, scope }) => scope === undefined && !name.startsWith("_xlnm."))
        .map(({ name, range }) => ({ name, refersTo: formulaShown(range, functions).slice(1) })),
    };
  } catch (error) {
    if (error instanceof InputError) throw error;
    const reason = error instanceof Error ? error.message.slice(0, 100).replace(/\.$/, "") : "unknown";
    throw new InputError("damaged", `opening a workbook requires a whole .xlsx file without password, and this one cannot be read (${reason})`);
  }
}

function sheetRead(sheet: Sheet, functions: FunctionTable): FileSheet {
  const details = sheet.cells ?? new Map<string, Cell>();
  const shared = sharedFormulas(details);
  const cells: FileCell[] = [];
  sheet.rows.forEach((values, row) => {
    values.forEach((value, column) => {
      const cell = details.get(`${row},${column}`);
      const format = cell?.style ? formatRead(cell.style) : {};
      const text = cell && formulaRead(cell, row, column, shared, functions);
      // Of a formula that reads another workbook, or is none, the value stays.
      const formula = text !== undefined && fitsFile(text) ? text : undefined;
      const read = valueRead(cell?.type === "richText" ? (cell.richText ?? []).map((run) => run.text).join("") : (cell?.value ?? value), cell?.type, formula !== undefined);
      if (read === null && formula === undefined && Object.keys(format).length === 0) return;
      cells.push({ row, column, value: read, ...format, ...(formula !== undefined && { formula, ...spillRead(cell!) }) });
    });
  });
  const columns = (sheet.columns ?? []).flatMap(({ width, hidden }, column) =>
    width === undefined && !hidden ? [] : [{ column, ...(width !== undefined && { width: Math.round(width * PIXELS_PER_CHARACTER) }), ...(hidden && { hidden }) }],
  );
  const heights = [...(sheet.rowDefs ?? [])].flatMap(([row, { height }]) => (height === undefined ? [] : [{ row, height: Math.round(height / POINTS_PER_PIXEL) }]));
  const tables = (sheet.tables ?? []).flatMap(tableRead);
  const pictures = (sheet.images ?? []).flatMap(pictureRead);
  return {
    name: sheet.name,
    cells,
    ...(columns.length > 0 && { columns }),
    ...(heights.length > 0 && { heights }),
    ...(sheet.freezePane?.rows && { frozenRows: sheet.freezePane.rows }),
    ...((sheet.hidden || sheet.veryHidden) && { hidden: true }),
    ...(tables.length > 0 && { tables }),
    ...(pictures.length > 0 && { pictures }),
  };
}

/** Formulas that cells share, as the text that moves with its cell; each stands once in the file, at its first cell. */
function sharedFormulas(details: ReadonlyMap<string, Cell>): ReadonlyMap<number, string> {
  const first = new Map<number, { readonly place: string; readonly formula: string }>();
  let written = 0;
  for (const [key, { formulaType, formula, formulaSharedIndex: index }] of details) {
    if (formulaType !== "shared" || index === undefined) continue;
    if (formula && formula.length <= LONGEST_FORMULA) {
      const [row, column] = key.split(",").map(Number);
      first.set(index, { place: cellPlace(row, column), formula });
    } else written += first.get(index)?.formula.length ?? 0;
  }
  if (written > MOST_SHARED) throw new InputError("too-large", `opening a workbook requires shared formulas of at most ${MOST_SHARED / 1e6} million characters in all cells together, and this one has ${(written / 1e6).toFixed(1)} million`);
  return new Map([...first].map(([index, { place, formula }]) => [index, translateFormulaToR1C1(`=${formula}`, place)]));
}

/** A formula longer than the format allows is none; the value of its cell stays. */
function formulaRead(cell: Cell, row: number, column: number, shared: ReadonlyMap<number, string>, functions: FunctionTable): string | undefined {
  if (cell.formula === undefined || cell.formula.length > LONGEST_FORMULA) return undefined;
  if (cell.formula !== "") return formulaShown(cell.formula, functions);
  const moving = cell.formulaSharedIndex === undefined ? undefined : shared.get(cell.formulaSharedIndex);
  return moving && formulaShown(translateFormulaToA1(moving, cellPlace(row, column)).slice(1), functions);
}

function spillRead(cell: Cell): Pick<FileCell, "spill"> {
  const range = cell.formulaType === "array" && cell.formulaRef ? rangeAt(cell.formulaRef) : undefined;
  return range && range.rows * range.columns > 1 ? { spill: { rows: range.rows, columns: range.columns } } : {};
}

function valueRead(value: CellValue | undefined, type: Cell["type"] | undefined, computed: boolean): FileValue {
  if (value === undefined || value === null) return null;
  if (value instanceof Date) return dayNumber(value);
  if (typeof value === "number") return Number.isFinite(value) ? value : null;
  if (type === "error" || (computed && typeof value === "string" && ERROR.test(value))) return { error: String(value) };
  return value;
}

const ERROR = /^#(VALUE!|REF!|N\/A|NAME\?|NULL!|DIV\/0!|NUM!|SPILL!|CALC!)$/;

const DAY = 86_400_000;

/** Serial day number as sheets store dates: day 1 is the first of January 1900, and day 60 never was. */
function dayNumber(date: Date): number {
  const days = (date.getTime() - Date.UTC(1899, 11, 31)) / DAY;
  return days >= 60 ? days + 1 : days;
}

function formatRead({ numFmt, font, fill, alignment }: CellStyle): FileFormat {
  const colour = fill?.type === "pattern" && fill.pattern === "solid" ? fill.fgColor?.rgb : undefined;
  const align = alignment?.horizontal;
  return {
    ...(numFmt !== undefined && numFmt !== "General" && { numberFormat: numFmt }),
    ...(font?.bold && { bold: true }),
    ...(alignment?.wrapText && { wrap: true }),
    ...(colour !== undefined && /^[0-9A-F]{6,8}$/i.test(colour) && { fill: colour.slice(-6).toUpperCase() }),
    ...((align === "left" || align === "center" || align === "right") && { align }),
  };
}

function tableRead({ name, displayName, range, columns }: NonNullable<Sheet["tables"]>[number]): FileTable[] {
  const place = range === undefined ? undefined : rangeAt(range);
  if (!place || place.rows < 2) return [];
  return [{ name: displayName ?? name, range: place, columns: columns.map((column) => column.name) }];
}

function pictureRead({ data, type, anchor, width = 400, height = 300, altText, title = "" }: NonNullable<Sheet["images"]>[number]): FilePicture[] {
  if (type !== "png" && type !== "jpeg") return [];
  const of = (["report", "chart"] as const).find((what) => title === `${PLACED}${what}`);
  return [{ row: anchor.from.row, column: anchor.from.col, width, height, type, bytes: data, text: altText ?? "", ...(of && { of }) }];
}
