import { resolveMetricName } from "../../src/catalogue/resolveMetricName.ts";
import { TIMES_MARK, TRACE_MARK } from "../../src/trace/packFormat.ts";
import { fillTemplate } from "../../src/wording/fillTemplate.ts";
import { inLanguage } from "../../src/wording/inLanguage.ts";
import { pageTextsOf } from "../../src/wording/pageTextsOf.ts";
import type { FileCell, FileChart, FileSheet, FileValue, WorkbookFile } from "../../src/workbook/WorkbookFile.ts";
import { fixedRange, rangeFrom } from "./addresses.ts";
import { NAME, RESULT_LEAD } from "./sheets.ts";

/** The first metrics of the head that hold numbers are drawn, this many at most. */
const MOST_CHARTS = 3;
const CHART = { rows: 18, columns: 8 };
const SHEET = "Charts";

/**
 * The workbook for sharing with people without Leapsheet: traces are left out, and a sheet of charts is added that any
 * spreadsheet draws from the numbers beside them.
 */
export function sharedCopy(file: WorkbookFile): WorkbookFile {
  const sheets = file.sheets.map((sheet) => ({ ...sheet, cells: sheet.cells.filter((cell) => !isTrace(cell)) }));
  return { ...file, sheets: [...sheets, ...chartSheet(file)] };
}

function isTrace({ value }: FileCell): boolean {
  return typeof value === "string" && (value.startsWith(`${TRACE_MARK} `) || value.startsWith(`${TIMES_MARK} `));
}

/** One row of Results that is not left out. */
interface Trial {
  readonly athlete: string;
  readonly protocol: string;
  readonly values: ReadonlyMap<number, number>;
}

/** A block of numbers and a chart for each metric; one colour a protocol, since unlike protocols are not compared. */
function chartSheet(file: WorkbookFile): FileSheet[] {
  const place = headPlace(file);
  const results = place && file.sheets.find((sheet) => sheet.name === place.sheet);
  if (!results || file.sheets.some((sheet) => sheet.name.toLowerCase() === SHEET.toLowerCase())) return [];
  const trials = trialsOf(results, place);
  const columns = [...new Set(trials.flatMap((trial) => [...trial.values.keys()]))].sort((a, b) => a - b).slice(0, MOST_CHARTS);
  if (columns.length === 0) return [];
  const protocols = [...new Set(trials.map((trial) => trial.protocol))];
  const ordered = [...trials].sort((a, b) => protocols.indexOf(a.protocol) - protocols.indexOf(b.protocol));
  const texts = pageTextsOf().sheets.charts;
  const cells: FileCell[] = [];
  const charts: FileChart[] = [];
  const height = Math.max(ordered.length + 3, CHART.rows + 2);
  columns.forEach((column, block) => {
    const head = block * height;
    const { title, unit } = wordsOf(String(results.cells.find((cell) => cell.row === place.row && cell.column === column)?.value ?? ""));
    [unit ? `${title}, ${unit}` : title, ...protocols].forEach((text, index) => cells.push({ row: head, column: index, value: text || texts.noProtocol, bold: true }));
    ordered.forEach(({ athlete, protocol, values }, index) => {
      cells.push({ row: head + 1 + index, column: 0, value: athlete });
      const value = values.get(column);
      if (value !== undefined) cells.push({ row: head + 1 + index, column: 1 + protocols.indexOf(protocol), value, numberFormat: results.cells.find((cell) => cell.row > place.row && cell.column === column)?.numberFormat });
    });
    const range = (at: number) => fixedRange({ sheet: SHEET, row: head + 1, column: at, rows: ordered.length, columns: 1 });
    charts.push({
      kind: "column",
      title: fillTemplate(texts.title, { metric: title }),
      x: texts.trial,
      y: unit,
      series: protocols.map((protocol, index) => ({ name: protocol || texts.noProtocol, values: range(1 + index), categories: range(0) })),
      place: { row: head, column: protocols.length + 2, ...CHART },
    });
  });
  return [{ name: SHEET, cells, charts, columns: [{ column: 0, width: 200 }, ...protocols.map((_, index) => ({ column: index + 1, width: 170 }))] }];
}

/** Trials of Results that are not left out. People put columns in: what leads a row is found by its head, the metrics by the defined name. */
function trialsOf(results: FileSheet, place: HeadPlace): Trial[] {
  const heads = new Map<string, number>();
  const rows = new Map<number, Map<number, FileValue>>();
  for (const { row, column, value } of results.cells) {
    if (row === place.row && column < place.first && typeof value === "string") heads.set(value.trim().toLowerCase(), column);
    if (row <= place.row || value === null) continue;
    const cells = rows.get(row) ?? new Map<number, FileValue>();
    rows.set(row, cells.set(column, value));
  }
  const lead = (cells: ReadonlyMap<number, FileValue>, name: (typeof RESULT_LEAD)[number]) => {
    const value = cells.get(heads.get(name) ?? -1);
    return typeof value === "string" ? value : "";
  };
  return [...rows]
    .sort(([a], [b]) => a - b)
    .filter(([, cells]) => lead(cells, "use") !== "leave out")
    .map(([, cells]) => ({
      athlete: lead(cells, "athlete"),
      protocol: lead(cells, "protocol"),
      values: new Map([...cells].filter((entry): entry is [number, number] => entry[0] >= place.first && entry[0] <= place.last && typeof entry[1] === "number")),
    }))
    .filter(({ values }) => values.size > 0);
}

/** The head of the metrics in Results; zero-based, both columns included. */
interface HeadPlace {
  readonly sheet: string;
  readonly row: number;
  readonly first: number;
  readonly last: number;
}

/** Where the head of Results stands, from its defined name: `Results!$E$1:$S$1` or `'My results'!$E$1`. */
function headPlace(file: WorkbookFile): HeadPlace | undefined {
  const range = rangeFrom(file.names.find(({ name }) => name === NAME.results)?.refersTo ?? "");
  return range && { sheet: range.sheet, row: range.row, first: range.column, last: range.column + range.columns - 1 };
}

function wordsOf(name: string): { title: string; unit: string } {
  try {
    const { base, side, unit } = resolveMetricName(name);
    const { left, right } = pageTextsOf().sheets.charts;
    const metric = inLanguage(base.name);
    return { title: side ? fillTemplate(side === "Left" ? left : right, { metric }) : metric, unit };
  } catch {
    return { title: name, unit: "" };
  }
}
