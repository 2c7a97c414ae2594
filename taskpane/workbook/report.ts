import { resolveMetricName } from "../../src/catalogue/resolveMetricName.ts";
import type { Settings } from "../../src/settings/Settings.ts";
import { resultCautions } from "../../src/wording/cautions.ts";
import type { ReadingRole } from "../../src/wording/readings.ts";
import type { Applied, CellInput, CellRef, Edit, SheetHost } from "../host/SheetHost.ts";
import type { AthleteReport, ReportReading } from "../decide/reportOf.ts";
import type { Squad } from "../decide/squadOf.ts";
import { cellAddress, columnLetters, dateSerial, sheetPrefix } from "./addresses.ts";
import { findResults } from "./findParts.ts";
import { numberFormat, RESULT_LEAD, type ResultsHead } from "./sheets.ts";

/** A picture to stand on a report sheet. */
export interface ReportPicture {
  readonly dataUrl: string;
  readonly width: number;
  readonly height: number;
  readonly altText: string;
}

/** Words of a report sheet that belong to the pane's language. */
export interface ReportWords {
  title: string;
  made: string;
  /** What the uncertainties hold, and what they do not. */
  about: string;
  metricName(name: string): string;
  protocol(text: string): string;
  heading(reading: ReportReading): string;
  role(role: ReadingRole): string;
  verdict: string;
  unknown: string;
  fewer: string;
  doubtful(count: number): string;
}

const HEAD = ["date", "protocol", "quantity", "unit", "value", "±", "n", "typical error of a trial", "degrees of freedom"] as const;
const COLUMN = { date: 0, protocol: 1, quantity: 2, unit: 3, value: 4, u: 5, n: 6, error: 7, freedom: 8 } as const;
const WIDTH = HEAD.length;
const LONG = [110, 190, 270, 60, 80, 70, 50, 100, 90, 230];
const PICTURE_ROWS = 13;

/** Marks a sheet as one that may be written anew. */
const MARK = "Leapsheet report";

/** Cells of Results that formulas of a report read. */
export interface ResultsPlace extends ResultsHead {
  readonly names: readonly string[];
  /** Last used row of the sheet, one-based. */
  readonly lastRow: number;
}

/** Where Results stands now; nothing where there is none. */
export async function resultsPlace(host: SheetHost): Promise<ResultsPlace | undefined> {
  const results = await findResults(host);
  if (results === undefined) return undefined;
  const { head, lead } = results;
  const [content] = await host.read([head]);
  const used = await host.usedRange(head.sheet);
  return { head, lead, names: content!.values[0]!.map((value) => (typeof value === "string" ? value : "")), lastRow: used === undefined ? head.row + 2 : used.row + used.rows };
}

/** Name of the sheet of an athlete: what a sheet's name may hold, no longer than it may be. */
export function reportSheetName(athlete: string): string {
  return `Report ${athlete.replace(/[\\/?*[\]:']/g, " ").trim()}`.slice(0, 31).trim();
}

/**
 * The page of one athlete as a sheet: numbers are formulas over Results that anybody can read and change, ratios are read by a
 * formula over these numbers. What rests on the Record or on single traces stands as the text it was, with its day.
 *
 * @returns Edits, and the first row that is free for pictures.
 */
export function athleteReportEdits(report: AthleteReport, place: ResultsPlace, settings: Settings, words: ReportWords): { readonly edits: Edit[]; readonly pictureRow: number; readonly sheet: string } {
  const sheet = reportSheetName(report.athlete);
  const rows: CellInput[][] = [[words.title], [words.made], [], [...HEAD]];
  const formats: Edit[] = [bold(sheet, 0, 1), bold(sheet, 3, WIDTH)];
  const cellOf = new Map<string, number>();
  for (const { session, lines, doubtful } of report.sessions) {
    for (const { name, unit, result } of lines) {
      const row = rows.length;
      cellOf.set(JSON.stringify([session.protocolText, resolveMetricName(name).id]), row);
      rows.push([
        dateSerial(session.date),
        session.trials[0]!.stated,
        words.metricName(name),
        unit,
        ...numberCells(report.athlete, row, name, place, settings),
        note(cellAddress(row, COLUMN.u), words.unknown, result.short ? words.fewer : ""),
      ]);
      formats.push({ kind: "format", range: { sheet, row, column: COLUMN.value, rows: 1, columns: 2 }, numberFormat: numberFormat(name) }, { kind: "format", range: { sheet, row, column: COLUMN.error, rows: 1, columns: 1 }, numberFormat: numberFormat(name) });
    }
    if (doubtful > 0) rows.push(["", "", words.doubtful(doubtful)]);
  }
  formats.push({ kind: "format", range: { sheet, row: 4, column: 0, rows: Math.max(1, rows.length - 4), columns: 1 }, numberFormat: "yyyy-mm-dd" });
  rows.push([]);
  for (const reading of report.readings) {
    formats.push(bold(sheet, rows.length, 1));
    const formula = (what: string): CellInput | undefined => ratioFormula(reading, cellOf, settings, what);
    rows.push([`${words.heading(reading)} · ${reading.protocols.map(words.protocol).join(" / ")} · ${reading.date}`]);
    rows.push([words.verdict, formula("word") ?? reading.reading.verdictWord]);
    for (const role of new Set(reading.reading.parts.map((part) => part.role))) {
      const text = reading.reading.parts.filter((part) => part.role === role).map((part) => part.text).join(" ");
      rows.push([words.role(role), formula(role) ?? text]);
    }
  }
  rows.push([]);
  for (const text of [words.about, ...resultCautions()]) rows.push([text]);
  return { edits: [...sheetEdits(sheet, rows), ...formats], pictureRow: rows.length + 1, sheet };
}

/** The page of the squad: one block for each protocol, values and places as formulas. */
export function squadReportEdits(squads: readonly Squad[], place: ResultsPlace, settings: Settings, words: Pick<ReportWords, "title" | "made" | "about" | "metricName" | "protocol">): { readonly edits: Edit[]; readonly sheet: string } {
  const sheet = "Report squad";
  const rows: CellInput[][] = [[words.title], [words.made]];
  const formats: Edit[] = [bold(sheet, 0, 1)];
  for (const squad of squads) {
    const { name, results, protocolText, unit } = squad;
    if (results.size === 0) continue;
    rows.push([]);
    formats.push(bold(sheet, rows.length, 1), bold(sheet, rows.length + 1, WIDTH));
    rows.push([`${words.metricName(name)}, ${unit} · ${words.protocol(protocolText)} · n = ${results.size}`]);
    rows.push(["date", "protocol", "athlete", "unit", "value", "±", "n", "typical error of a trial", "degrees of freedom"]);
    const first = rows.length;
    for (const [athlete, result] of results) {
      const row = rows.length;
      rows.push([dateSerial(result.session.date), result.session.trials[0]!.stated, athlete, unit, ...numberCells({ column: COLUMN.quantity }, row, name, place, settings)]);
    }
    const last = rows.length - 1;
    const range = (column: number): string => `${cellAddress(first, column)}:${cellAddress(last, column)}`;
    const filter = trialFilter(place, name, cellAddress(first, COLUMN.protocol));
    const error = `LEAP.TYPICAL_ERROR_TRIALS(FILTER(${filter.athletes},${filter.squad}),FILTER(${filter.dates},${filter.squad}),FILTER(${filter.values},${filter.squad}),"between days")`;
    formats.push(
      { kind: "format", range: { sheet, row: first, column: COLUMN.value, rows: rows.length - first, columns: 2 }, numberFormat: numberFormat(name) },
      { kind: "format", range: { sheet, row: first, column: 0, rows: rows.length - first, columns: 1 }, numberFormat: "yyyy-mm-dd" },
    );
    const { better } = resolveMetricName(name).base;
    rows.push(["", "", "typical error between days", unit, { formula: `=IFERROR(${error},"")` }]);
    const errorCell = cellAddress(rows.length - 1, COLUMN.value);
    rows.push([]);
    if (results.size > 1) {
      formats.push({ kind: "format", range: { sheet, row: rows.length, column: COLUMN.quantity + 1, rows: results.size + 6, columns: 2 }, numberFormat: "0.0" });
      rows.push(["", "", { formula: `=IFERROR(LEAP.SQUAD_TABLE(${range(COLUMN.quantity)},${range(COLUMN.value)},${better === "neither" ? "" : errorCell},"${better === "lower" ? "lower" : "higher"}"),"")` }]);
      for (let spilled = 0; spilled < results.size + 5; spilled++) rows.push([]);
    }
  }
  rows.push([]);
  for (const text of [words.about, ...resultCautions()]) rows.push([text]);
  return { edits: [...sheetEdits(sheet, rows), ...formats], sheet };
}

/** Writes report sheets anew, each with its pictures. A sheet of the same name that is no report is left alone. */
export async function writeReports(host: SheetHost, pages: readonly { readonly sheet: string; readonly edits: readonly Edit[]; readonly pictureRow?: number; readonly pictures?: readonly ReportPicture[] }[]): Promise<Applied> {
  const sheets = await host.sheets();
  const old = pages.map(({ sheet }) => sheets.find((name) => name.toLowerCase() === sheet.toLowerCase())).filter((name): name is string => name !== undefined);
  for (const sheet of old) {
    const [content] = await host.read([{ sheet, row: 0, column: WIDTH, rows: 1, columns: 1 }]);
    if (content!.values[0]![0] !== MARK) throw new Error(`a sheet named ${sheet} exists but is no report; rename it, then try again`);
  }
  if (old.length > 0) await host.apply(old.map((sheet) => ({ kind: "deleteSheet", sheet }) as const), { label: "Old report" });
  const applied = await host.apply(pages.flatMap(({ edits }) => edits), { label: pages.length === 1 ? pages[0]!.sheet : `${pages.length} report sheets` });
  for (const { sheet, pictureRow = 0, pictures = [] } of pages) {
    let row = pictureRow;
    for (const picture of pictures) {
      const at: CellRef = { sheet, row, column: 0 };
      await host.addPicture(sheet, picture.dataUrl, at, { width: picture.width, height: picture.height }, picture.altText);
      row += PICTURE_ROWS;
    }
  }
  return applied;
}

/** What must be said beside a number: that its uncertainty is not known, that it has fewer trials than the others. */
function note(u: string, unknown: string, fewer: string): CellInput {
  const text = (words: string): string => `"${words.replaceAll('"', '""')}"`;
  return { formula: `=IF(${u}="",${text(fewer === "" ? unknown : `${unknown}; ${fewer}`)},${text(fewer)})` };
}

/** Value, uncertainty, n, typical error and its degrees of freedom, as formulas over Results. */
function numberCells(athlete: string | { readonly column: number }, row: number, name: string, place: ResultsPlace, settings: Settings): CellInput[] {
  const at = (column: number): string => cellAddress(row, column);
  const filter = trialFilter(place, name, at(COLUMN.protocol));
  const who = typeof athlete === "string" ? `"${athlete.replaceAll('"', '""')}"` : at(athlete.column);
  const own = `FILTER(${filter.values},(${filter.athletes}=${who})*(${filter.dates}=${at(COLUMN.date)})*${filter.squad})`;
  const { better } = resolveMetricName(name).base;
  const rule = settings.values["session-value"] === "best" && better !== "neither" ? "best" : "mean";
  const session = (what: string): string => `LEAP.SESSION_VALUE(${own},,"${rule}",${settings.values["session-trials"]},"${better === "lower" ? "lower" : "higher"}","${what}")`;
  const error = (what: string): string => `LEAP.TYPICAL_ERROR_TRIALS(FILTER(${filter.athletes},${filter.squad}),FILTER(${filter.dates},${filter.squad}),FILTER(${filter.values},${filter.squad}),"within day",,,,"${what}")`;
  const [n, te, df] = [at(COLUMN.n), at(COLUMN.error), at(COLUMN.freedom)];
  const shared = rule === "mean" ? `${te}/SQRT(${n})` : te;
  return [
    { formula: `=IFERROR(${session("value")},"")` },
    { formula: `=IF(N(${df})>N(${n})-1,IFERROR(${shared},""),IFERROR(${session("u")},""))` },
    { formula: `=IFERROR(${session("count")},"")` },
    { formula: `=IFERROR(${error("value")},"")` },
    { formula: `=IFERROR(${error("degreesOfFreedom")},"")` },
  ];
}

/** Columns of Results, and the condition that a row is a valid trial of the protocol of a cell. */
function trialFilter(place: ResultsPlace, name: string, protocolCell: string): { athletes: string; dates: string; values: string; squad: string } {
  const { head, lead, names, lastRow } = place;
  const column = (index: number): string => `${sheetPrefix(head.sheet)}$${columnLetters(index)}$${head.row + 2}:$${columnLetters(index)}$${lastRow}`;
  const [athletes, dates, protocols, uses] = RESULT_LEAD.map((name) => column(lead[name])) as [string, string, string, string];
  const values = column(head.column + names.indexOf(name));
  return { athletes, dates, values, squad: `(${protocols}=${protocolCell})*(${uses}="keep")*ISNUMBER(${values})` };
}

const RATIOS: Readonly<Record<string, { readonly kind: string; readonly cuts?: readonly [string, string] }>> = {
  eccentricUtilisation: { kind: "EUR", cuts: ["eur-low", "eur-high"] },
  prestretchAugmentation: { kind: "PRESTRETCH_AUGMENTATION", cuts: ["eur-low", "eur-high"] },
  armSwing: { kind: "ARM_SWING" },
};

/** The reading of a ratio of two numbers of the page as a formula; nothing where they are not on it. */
function ratioFormula({ kind, about, protocols }: ReportReading, cellOf: ReadonlyMap<string, number>, { values }: Settings, what: string): { formula: string } | undefined {
  const [combination, name] = about.split(" ") as [string, string];
  const ratio = kind === "combination" ? RATIOS[combination] : undefined;
  const [first, second] = protocols.map((protocol) => cellOf.get(JSON.stringify([protocol, name])));
  if (ratio === undefined || first === undefined || second === undefined || values["ratio-interval"] !== "fieller") return undefined;
  const cell = (row: number, column: number): string => cellAddress(row, column);
  const cuts = ratio.cuts === undefined ? "" : `{${ratio.cuts.map((id) => String(values[id])).join(",")}}`;
  return {
    formula: `=LEAP.READ_RATIO("${ratio.kind}",${cell(first, COLUMN.value)},${cell(second, COLUMN.value)},${cell(first, COLUMN.u)},${cell(second, COLUMN.u)},${cell(first, COLUMN.protocol)},${cell(second, COLUMN.protocol)},,,${cell(first, COLUMN.unit)},"${what}",${cuts},${Number(values["ratio-level"]) / 100},MIN(${freedom(first)},${freedom(second)}),${cell(first, COLUMN.n)},${cell(second, COLUMN.n)})`,
  };
}

/** Degrees of freedom of the uncertainty in a row: those of the typical error where it was used. */
function freedom(row: number): string {
  return `MAX(N(${cellAddress(row, COLUMN.freedom)}),N(${cellAddress(row, COLUMN.n)})-1)`;
}

function sheetEdits(sheet: string, rows: readonly (readonly CellInput[])[]): Edit[] {
  const width = WIDTH + 1;
  const cells = rows.map((row, index): CellInput[] => Array.from({ length: width }, (_, column) => (index === 0 && column === WIDTH ? MARK : (row[column] ?? null))));
  return [
    { kind: "addSheet", sheet, rows: Math.max(120, rows.length + 90), columns: width + 4 },
    { kind: "cells", sheet, row: 0, column: 0, cells },
    ...LONG.map((pixels, column): Edit => ({ kind: "columns", sheet, column, count: 1, width: pixels })),
  ];
}

function bold(sheet: string, row: number, columns: number): Edit {
  return { kind: "format", range: { sheet, row, column: 0, rows: 1, columns }, bold: true };
}
