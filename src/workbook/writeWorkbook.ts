import { writeXlsx, type Cell, type CellStyle, type WriteSheet } from "hucre/xlsx";
import { InputError } from "../errors.ts";
import { cellPlace, rangePlace } from "./cellPlaces.ts";
import { PLACED } from "./placedPicture.ts";
import { fitsFile, formulaInFile, usesArrays, type FunctionTable } from "./fileFormula.ts";
import { replaceParts } from "./replaceParts.ts";
import { withTableHeads } from "./tableHeads.ts";
import { valuesOnly } from "./valuesOnly.ts";
import type { FileCell, FileChart, FileSheet, FileValue, WorkbookFile } from "./WorkbookFile.ts";

export interface WriteWorkbookOptions {
  /** `live` keeps formulas with the values they gave last; `values` writes numbers and text only. */
  readonly formulas: "live" | "values";
  /** Cell functions that exist, for `live`. */
  readonly functions?: FunctionTable;
}

/** The calculation engine of Excel 2019 and later: a file that names it is not computed afresh when it opens (from memory). */
const CALCULATION = '<calcPr calcId="191029"/>';

/** Spreadsheets trust stored results of a file that carries this word, as most libraries write it; without it LibreOffice computes every text afresh (seen, 7.4). */
const APPLICATION = "<Application>Microsoft Excel</Application>";

/** Stands before the cached error of a formula until the part is rewritten; no keyboard has it. */
const ERROR_MARK = "\uF8FFerror ";

const ERRORS = new Set(["#VALUE!", "#REF!", "#N/A", "#NAME?", "#NULL!", "#DIV/0!", "#NUM!", "#GETTING_DATA", "#SPILL!", "#CALC!"]);

/** What spreadsheets allow (limits of Excel). */
const LONGEST_TEXT = 32_767;
const WIDEST = 255;
const HIGHEST = 409;

const PIXELS_PER_CHARACTER = 7;
const POINTS_PER_PIXEL = 0.75;

/**
 * Writes a workbook as the bytes of an .xlsx file.
 *
 * Cached values show when the file opens and stay until something they read changes. A formula that no file can hold (it cannot
 * be parsed, is longer than 8,192 characters or reads another workbook) is written as text.
 *
 * @param file The workbook.
 * @param options Live formulas, or values only.
 * @returns Bytes of the file.
 * @throws {InputError} `out-of-range` if a sheet's name or a text is more than the format holds, or every sheet is hidden.
 */
export async function writeWorkbook(file: WorkbookFile, options: WriteWorkbookOptions): Promise<Uint8Array> {
  const { sheets: given, names } = options.formulas === "live" ? file : valuesOnly(file);
  const sheets = given.map(withTableHeads);
  const functions = options.functions ?? new Map<string, boolean>();
  if (sheets.every((sheet) => sheet.hidden)) throw new InputError("out-of-range", "saving as .xlsx requires a sheet that is not hidden");
  sheets.forEach((sheet, index) => checkSheet(sheet, sheets.slice(0, index)));
  const visible = sheets.findIndex((sheet) => !sheet.hidden);
  const written = await writeXlsx({
    sheets: sheets.map((sheet) => sheetToWrite(sheet, functions)),
    ...(visible > 0 && { activeSheet: visible }),
    ...(names.length > 0 && { namedRanges: names.map(({ name, refersTo }) => ({ name, range: formulaInFile(`=${refersTo}`, functions) })) }),
  });
  const withErrors = new Set(sheets.flatMap((sheet, index) => (sheet.cells.some((cell) => cell.formula !== undefined && isError(cell.value)) ? [`xl/worksheets/sheet${index + 1}.xml`] : [])));
  return replaceParts(
    written,
    (name) => name === "xl/workbook.xml" || name === "docProps/app.xml" || withErrors.has(name),
    (name, text) => {
      if (name === "xl/workbook.xml") return text.replace(/<calcPr [^>]*\/>/, CALCULATION);
      if (name === "docProps/app.xml") return text.replace(/<Application>[^<]*<\/Application>/, APPLICATION);
      return text.replace(CACHED_ERROR, '$1 t="e">$2<v>$3</v>');
    },
  );
}

const CACHED_ERROR = new RegExp(`(<c r="[A-Z0-9]+"[^>]*) t="str">(<f[^>]*>[^<]*</f>)<v>${ERROR_MARK}(#[^<]*)</v>`, "g");

/** Width of a sheet from which it is laid across the page, px. */
const LANDSCAPE = 800;

function pixelsOf({ columns = [] }: FileSheet): number {
  return columns.reduce((sum, { width = 0, hidden }) => sum + (hidden ? 0 : width), 0);
}

function sheetToWrite(sheet: FileSheet, functions: FunctionTable): WriteSheet {
  const cells = new Map<string, Partial<Cell>>();
  for (const cell of sheet.cells) cells.set(`${cell.row},${cell.column}`, cellToWrite(cell, functions));
  const widest = (sheet.columns ?? []).reduce((most, column) => Math.max(most, column.column + 1), 0);
  const columns: NonNullable<WriteSheet["columns"]> = Array.from({ length: widest }, () => ({}));
  for (const { column, width, hidden } of sheet.columns ?? []) columns[column] = { ...(width !== undefined && { width: Math.min(WIDEST, width / PIXELS_PER_CHARACTER) }), ...(hidden && { hidden }) };
  return {
    name: sheet.name,
    cells,
    ...(widest > 0 && { columns }),
    ...(sheet.heights?.length && { rowDefs: new Map(sheet.heights.map(({ row, height }) => [row, { height: Math.min(HIGHEST, height * POINTS_PER_PIXEL) }])) }),
    ...(sheet.frozenRows && { freezePane: { rows: sheet.frozenRows } }),
    ...(sheet.hidden && { hidden: true }),
    // On paper a sheet is as wide as a page: sentences in its last columns would else lie on pages of their own.
    pageSetup: { paperSize: "a4", orientation: pixelsOf(sheet) > LANDSCAPE ? "landscape" : "portrait", fitToPage: true, fitToWidth: 1, fitToHeight: 0 },
    ...(sheet.tables?.length && {
      tables: sheet.tables.map(({ name, range, columns: heads }) => ({ name, range: rangePlace(range), columns: heads.map((head) => ({ name: head })), style: "TableStyleLight1" })),
    }),
    ...(sheet.pictures?.length && {
      images: sheet.pictures.map(({ row, column, width, height, type, bytes, text, of }) => ({ data: bytes, type, anchor: { from: { row, col: column } }, width, height, altText: text, ...(of && { title: `${PLACED}${of}` }) })),
    }),
    ...(sheet.charts?.length && { charts: sheet.charts.map(chartToWrite) }),
  };
}

function cellToWrite(cell: FileCell, functions: FunctionTable): Partial<Cell> {
  const style = styleOf(cell);
  const common = style === undefined ? {} : { style };
  if (cell.formula === undefined) return { ...common, ...plainCell(cell.value) };
  if (!fitsFile(cell.formula)) return { ...common, ...plainCell(cell.formula.slice(0, LONGEST_TEXT)) };
  const { rows, columns } = cell.spill ?? { rows: 1, columns: 1 };
  const array = rows * columns > 1 || usesArrays(cell.formula, functions);
  return {
    ...common,
    formula: formulaInFile(cell.formula, functions),
    formulaResult: isError(cell.value) ? ERROR_MARK + knownError(cell.value.error) : textOrValue(cell.value),
    ...(array && { formulaType: "array" as const, formulaRef: rangeOrCell(cell.row, cell.column, rows, columns), formulaDynamic: true }),
  };
}

function rangeOrCell(row: number, column: number, rows: number, columns: number): string {
  return rows * columns === 1 ? cellPlace(row, column) : rangePlace({ row, column, rows, columns });
}

/** A text that reads like an error would become one: it is written as a run of text instead. */
function plainCell(value: FileValue): Partial<Cell> {
  if (isError(value)) return { value: knownError(value.error) };
  return typeof value === "string" && ERRORS.has(value) ? { value, richText: [{ text: value }] } : { value: textOrValue(value) };
}

function isError(value: FileValue): value is { readonly error: string } {
  return typeof value === "object" && value !== null;
}

/** Errors that the format does not know become the general one. */
function knownError(error: string): string {
  return ERRORS.has(error) ? error : "#VALUE!";
}

/** In the text of a file `_x0041_` means A: a text that holds such letters says so. */
function textOrValue(value: Exclude<FileValue, { error: string }>): string | number | boolean | null {
  return typeof value === "string" ? value.replace(/_x(?=[0-9A-Fa-f]{4}_)/g, "_x005F_x") : value;
}

function styleOf({ numberFormat, bold, wrap, fill, align }: FileCell): CellStyle | undefined {
  if (!numberFormat && !bold && !wrap && !fill && !align) return undefined;
  return {
    ...(numberFormat && { numFmt: numberFormat }),
    ...(bold && { font: { name: "Calibri", size: 11, bold: true } }),
    ...(fill && { fill: { type: "pattern" as const, pattern: "solid" as const, fgColor: { rgb: fill } } }),
    ...((wrap || align) && { alignment: { ...(wrap && { wrapText: true }), ...(align && { horizontal: align }) } }),
  };
}

function chartToWrite({ kind, title, x, y, series, place }: FileChart): NonNullable<WriteSheet["charts"]>[number] {
  return {
    type: kind,
    title,
    series: series.map((each) => ({ ...each, ...(kind === "scatter" && { marker: { symbol: "circle" as const } }) })),
    // Series of one chart stand in the same places: where one has a number the others are blank.
    ...(kind === "column" && { barGrouping: "clustered" as const, overlap: 100 }),
    axes: { x: { title: x }, y: { title: y } },
    anchor: { from: { row: place.row, col: place.column }, to: { row: place.row + place.rows, col: place.column + place.columns } },
  };
}

function checkSheet(sheet: FileSheet, before: readonly FileSheet[]): void {
  const { name } = sheet;
  if (name.length === 0 || name.length > 31 || /[[\]:*?/\\]|^'|'$/.test(name) || name.toLowerCase() === "history") {
    throw new InputError("out-of-range", `saving as .xlsx requires a sheet name of 1 to 31 characters without [ ] : * ? / \\ and without ' at its ends, other than History: rename “${name.slice(0, 60)}”`);
  }
  if (before.some((other) => other.name.toLowerCase() === name.toLowerCase())) {
    throw new InputError("out-of-range", `saving as .xlsx requires sheet names that differ in more than capitals: rename “${name}”`);
  }
  for (const cell of sheet.cells) {
    const where = `${name}, ${cellPlace(cell.row, cell.column)}`;
    if (typeof cell.value === "string" && cell.value.length > LONGEST_TEXT) throw new InputError("out-of-range", "saving as .xlsx requires at most 32,767 characters in a cell", where);
    if (typeof cell.value === "number" && !Number.isFinite(cell.value)) throw new InputError("not-a-number", "saving as .xlsx requires finite numbers", where);
  }
}
