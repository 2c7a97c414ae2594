import { resolveMetricName } from "../../src/catalogue/resolveMetricName.ts";
import type { Instrument } from "../../src/sessions/likeText.ts";
import type { Settings } from "../../src/settings/Settings.ts";
import { pageTextsOf } from "../../src/wording/pageTextsOf.ts";
import type { CellInput, Edit, SheetHost } from "../host/SheetHost.ts";
import { cellAddress, cellText, columnLetters, dateSerial, isoDate, sheetPrefix } from "./addresses.ts";
import { tableOf } from "./findParts.ts";
import { recordedAs } from "./recordedAs.ts";
import { latestByTrial, recordedRows, recordTable, type RecordRow } from "./record.ts";
import { HEAD_HEIGHT, resultCells, TRIAL_COLUMNS, type ResultsHead, type TrialColumn, type TrialsPlace } from "./sheets.ts";
import type { WorkbookModel } from "./WorkbookModel.ts";

/** Sheets that the pages of a report read: every trial, every recorded trial, and what the squad gives. */
export const NUMBER_SHEETS = { trials: "Report trials", record: "Report record", squad: "Report squad numbers" } as const;

/** Stands in the first row of a sheet that may be written anew, right of what is read. */
export const REPORT_MARK = "Leapsheet report";
export const MARK_COLUMN = 9;

const HEAD_ROW = 1;
const FIRST_ROW = HEAD_ROW + 1;
const LEAD = ["athlete", "date", "protocol", "use", "kept", "key"] as const;
const AT = { athlete: 0, date: 1, protocol: 2, use: 3, kept: 4, key: 5 } as const;
/** Columns of the sheet of the squad, and of the last recorded sessions beside them. */
const SQUAD_COLUMNS = ["protocol", "quantity", "from", "unit", "error", "freedom", "low", "high", "worthwhile"] as const;
const LAST_COLUMNS = ["athlete", "date", "protocol", "quantity", "value"] as const;
/** Where the last recorded sessions stand on the sheet of the squad. */
const LAST_COLUMN = SQUAD_COLUMNS.length + 1;
/** Ranges reach this many rows farther than they are filled, so that pages written earlier go on when trials come. */
const STEP = 40;

/** Columns that a formula filters by, and the column of a quantity, as ranges. */
export interface NumberColumns {
  readonly athlete: string;
  readonly date: string;
  /** Text of like protocols of the trials that count; blank for the others. */
  readonly kept: string;
  /** Athlete, date and protocol of the trials that count, as one text: a formula that asks for a session compares one column. */
  readonly key: string;
  /** Range of a quantity; it is added where it was not there yet. */
  column(name: string): string;
}

/** Cells of what the squad's own trials give for one protocol and quantity. */
export interface SquadCells {
  readonly error: string;
  readonly freedom: string;
  readonly worthwhile: string;
}

/** A recorded session that counts for the smallest worthwhile change. */
export interface LastSession {
  readonly athlete: string;
  readonly date: string;
}

/** The numbers that the pages of a report are made of. Pages ask for what they need; the edits come last. */
export interface ReportNumbers {
  readonly trials: NumberColumns;
  readonly recorded: NumberColumns;
  /** Typical error of one trial within a day, from everybody's trials of this protocol. */
  withinDay(protocolText: string, name: string): SquadCells;
  /** Typical error of the index of one drop jump, over every drop height. */
  overDropHeights(instrument: Instrument): SquadCells;
  /** Typical error of a session value between days, and the smallest worthwhile change, from the Record. */
  betweenDays(protocolText: string, name: string, last?: readonly LastSession[]): SquadCells;
  edits(): Edit[];
}

/** Row of the squad's sheet. */
interface SquadRow {
  readonly protocol: string;
  readonly name: string;
  readonly from: "trials within a day" | "sessions between days" | "trials within a day, every drop height";
  last?: readonly LastSession[];
}

/** Why nothing can be written over a sheet of a person's own. */
export async function refuseForeign(host: SheetHost, names: readonly string[]): Promise<readonly string[]> {
  const sheets = await host.sheets();
  const old = names.flatMap((name) => sheets.filter((sheet) => sheet.toLowerCase() === name.toLowerCase()));
  for (const sheet of old) {
    const [content] = await host.read([{ sheet, row: 0, column: MARK_COLUMN, rows: 1, columns: 1 }]);
    if (content!.values[0]![0] !== REPORT_MARK) throw new Error(`a sheet named ${sheet} exists but is no report; rename it, then try again`);
  }
  return old;
}

/** Reads what stands already, so that columns and rows keep their places; nothing where there are no trials. */
export async function openReportNumbers(host: SheetHost, workbook: Pick<WorkbookModel, "trials">, settings: Settings): Promise<ReportNumbers | undefined> {
  const table = tableOf(await host.tables(), "Trials", TRIAL_COLUMNS);
  const rows = await workbook.trials();
  if (table === undefined || rows.length === 0) return undefined;
  const at = (name: TrialColumn): number => table.range.column + table.columns.findIndex((column) => column.trim().toLowerCase() === name);
  const place: TrialsPlace = { sheet: table.range.sheet, column: Object.fromEntries(TRIAL_COLUMNS.map((name) => [name, at(name)])) as Record<TrialColumn, number> };
  const record = await recordTable(host);
  const recorded = record === undefined ? [] : latestByTrial(await recordedRows(host));
  const old = await refuseForeign(host, Object.values(NUMBER_SHEETS));
  const before = await Promise.all(Object.values(NUMBER_SHEETS).map((sheet) => oldCells(host, old.find((name) => name.toLowerCase() === sheet.toLowerCase()))));
  return reportNumbers({ place, rows: rows.map(({ row }) => row), record: record && { sheet: record.range.sheet, column: record.range.column, columns: record.columns }, recorded, settings, before });
}

/** Text of every used cell of an old sheet, from its first row and column. */
interface OldSheet {
  readonly sheet: string;
  readonly rows: number;
  readonly columns: number;
  readonly text: readonly (readonly string[])[];
}

async function oldCells(host: SheetHost, sheet: string | undefined): Promise<OldSheet | undefined> {
  if (sheet === undefined) return undefined;
  const used = await host.usedRange(sheet);
  const rows = used === undefined ? 0 : used.row + used.rows;
  const columns = used === undefined ? 0 : used.column + used.columns;
  if (rows === 0) return { sheet, rows, columns, text: [] };
  const [content] = await host.read([{ sheet, row: 0, column: 0, rows, columns }]);
  return { sheet, rows, columns, text: content!.values.map((line) => line.map((value) => cellText(value))) };
}

/** What the numbers are made from. */
export interface NumbersSource {
  readonly place: TrialsPlace;
  /** Zero-based rows of Trials. */
  readonly rows: readonly number[];
  readonly record?: { readonly sheet: string; readonly column: number; readonly columns: readonly string[] };
  readonly recorded: readonly RecordRow[];
  readonly settings: Settings;
  /** The three sheets as they stand, in the order of `NUMBER_SHEETS`. */
  readonly before?: readonly (OldSheet | undefined)[];
}

/** The numbers from rows of Trials and Record. */
export function reportNumbers({ place, rows, record, recorded, settings, before = [] }: NumbersSource): ReportNumbers {
  const [oldTrials, oldRecord, oldSquad] = before;
  const trialNames = ["verdict", ...namesIn(oldTrials, LEAD.length + 1)];
  const recordNames = [...namesIn(oldRecord, LEAD.length)];
  const squad: SquadRow[] = squadRowsIn(oldSquad);
  const rule = `"${settings.values["session-value"] === "best" ? "best" : "mean"}"`;
  const k = Number(settings.values["session-trials"]);

  const columnsOf = (sheet: string, names: string[], count: number): NumberColumns => {
    const range = (column: number): string => `${sheetPrefix(sheet)}$${columnLetters(column)}$${FIRST_ROW + 1}:$${columnLetters(column)}$${FIRST_ROW + STEP * Math.ceil((count + 1) / STEP)}`;
    return {
      athlete: range(AT.athlete), date: range(AT.date), kept: range(AT.kept), key: range(AT.key),
      column(name) {
        if (!names.includes(name)) names.push(name);
        return range(LEAD.length + names.indexOf(name));
      },
    };
  };
  const trials = columnsOf(NUMBER_SHEETS.trials, trialNames, rows.length);
  const fromRecord = columnsOf(NUMBER_SHEETS.record, recordNames, recorded.length);
  const betterOf = (name: string): string => (resolveMetricName(name).base.better === "lower" ? "lower" : "higher");
  const ruleFor = (name: string): string => (resolveMetricName(name).base.better === "neither" ? '"mean"' : rule);

  const cellsOf = (row: SquadRow): SquadCells => {
    let at = squad.findIndex((each) => each.protocol === row.protocol && each.name === row.name && each.from === row.from);
    if (at < 0) at = squad.push(row) - 1;
    if (row.last !== undefined) squad[at]!.last = row.last;
    const cell = (column: (typeof SQUAD_COLUMNS)[number]): string => `${sheetPrefix(NUMBER_SHEETS.squad)}$${columnLetters(SQUAD_COLUMNS.indexOf(column))}$${FIRST_ROW + at + 1}`;
    return { error: cell("error"), freedom: cell("freedom"), worthwhile: cell("worthwhile") };
  };

  const lastSessions = (): { readonly row: SquadRow; readonly last: LastSession }[] => squad.flatMap((row) => (row.last ?? []).map((last) => ({ row, last })));

  const squadCells = (row: SquadRow, at: number): CellInput[] => {
    const { protocol, name, from } = row;
    const source = from === "sessions between days" ? fromRecord : trials;
    const values = source.column(name);
    const own = cellAddress(FIRST_ROW + at, 0, { column: true });
    const drops = from === "trials within a day, every drop height";
    const by = protocol.includes(" by=") ? `(RIGHT(${source.kept},${protocol.length - protocol.indexOf(" by=")})="${protocol.slice(protocol.indexOf(" by="))}")` : `ISERROR(SEARCH(" by=",${source.kept}))`;
    const protocols = drops ? `(LEFT(${source.kept},8)="DJ drop=")*${by}` : `(${source.kept}=${own})`;
    const mine = `${protocols}*ISNUMBER(${values})`;
    const days = drops ? `FILTER(${source.date},${mine})&" "&FILTER(${source.kept},${mine})` : `FILTER(${source.date},${mine})`;
    const error = (what: string): CellInput => ({
      formula: `=IFERROR(LEAP.TYPICAL_ERROR_TRIALS(FILTER(${source.athlete},${mine}),${days},FILTER(${values},${mine}),"${from === "sessions between days" ? "between days" : "within day"}",,${ruleFor(name)},${k},"${what}","${betterOf(name)}"),"")`,
    });
    const [first, ends] = [LAST_COLUMN, FIRST_ROW + STEP * Math.ceil((lastSessions().length + 1) / STEP)];
    const last = (column: number): string => `$${columnLetters(first + column)}$${FIRST_ROW + 1}:$${columnLetters(first + column)}$${ends}`;
    const quantity = cellAddress(FIRST_ROW + at, 1, { column: true });
    const worthwhile: CellInput = from === "sessions between days" ? { formula: `=IFERROR(LEAP.SWC(FILTER(${last(4)},(${last(2)}=${own})*(${last(3)}=${quantity})*ISNUMBER(${last(4)})),${Number(settings.values["swc-factor"])}),"")` } : "";
    return [protocol, name, from, resolveMetricName(name).unit, error("value"), error("degreesOfFreedom"), error("low"), error("high"), worthwhile];
  };

  return {
    trials,
    recorded: fromRecord,
    withinDay: (protocol, name) => {
      trials.column(name);
      return cellsOf({ protocol, name, from: "trials within a day" });
    },
    overDropHeights: (instrument) => {
      trials.column("rsi");
      return cellsOf({ protocol: `DJ${instrument === "plate" ? "" : ` by=${instrument}`}`, name: "rsi", from: "trials within a day, every drop height" });
    },
    betweenDays: (protocol, name, last) => {
      fromRecord.column(name);
      return cellsOf({ protocol, name, from: "sessions between days", ...(last === undefined ? {} : { last }) });
    },
    edits() {
      const head: ResultsHead = { head: { sheet: NUMBER_SHEETS.trials, row: HEAD_ROW, column: LEAD.length, rows: 1, columns: trialNames.length }, lead: { athlete: AT.athlete, date: AT.date, protocol: AT.protocol, use: AT.use } };
      const trialLines = rows.map((row, index): CellInput[] => {
        const cells = resultCells(place, row, FIRST_ROW + index, head);
        const from = (column: TrialColumn): string => `${sheetPrefix(place.sheet)}${cellAddress(row, place.column[column], { column: true })}`;
        cells[AT.date] = { formula: `=IF(${from("date")}="","",${from("date")})` };
        cells[AT.protocol] = { formula: `=IFERROR(LEAP.LIKE_PROTOCOL(${from("protocol")},${from("trace 1")}),"")` };
        [cells[AT.kept], cells[AT.key]] = keys(FIRST_ROW + index);
        return cells;
      });
      const recordedColumns = recordNames.map((name) => recordedAs(name, record?.columns ?? []));
      const recordLines = recorded.map(({ row }, index): CellInput[] => {
        const cell = (name: string): string | undefined => {
          const column = record!.columns.indexOf(name);
          return column < 0 ? undefined : `${sheetPrefix(record!.sheet)}${cellAddress(row, record!.column + column, { column: true })}`;
        };
        return [
          { formula: `=${cell("athlete")}&""` },
          { formula: `=IF(${cell("date")}="","",${cell("date")})` },
          { formula: `=IFERROR(LEAP.LIKE_PROTOCOL(${cell("protocol")}${cell("instrument") === undefined ? "" : `,${cell("instrument")}`}),"")` },
          { formula: `=IF(${cell("use")}="leave out","leave out","keep")` },
          ...keys(FIRST_ROW + index),
          ...recordedColumns.map((columns): CellInput =>
            columns.length === 0 ? "" : { formula: `=${columns.reduceRight((otherwise, { column, factor }) => `IF(ISNUMBER(${cell(column)}),${cell(column)}${factor === 1 ? "" : `*${factor}`},${otherwise})`, '""')}` },
          ),
        ];
      });
      // The formulas of the squad may ask for columns of their own.
      const squadLines = squad.map(squadCells);
      const lastLines = lastSessions().map(({ row: { protocol, name }, last: { athlete, date } }, index): CellInput[] => {
        const at = (column: number): string => cellAddress(FIRST_ROW + index, LAST_COLUMN + column, { column: true });
        const values = fromRecord.column(name);
        const mine = `(${fromRecord.key}=${at(0)}&" "&${at(1)}&" "&${at(2)})*ISNUMBER(${values})`;
        return [athlete, dateSerial(date), protocol, name, { formula: `=IFERROR(LEAP.SESSION_VALUE(FILTER(${values},${mine}),,${ruleFor(name)},${k},"${betterOf(name)}"),"")` }];
      });
      const both = Array.from({ length: Math.max(squadLines.length, lastLines.length) }, (_, index) => [...(squadLines[index] ?? SQUAD_COLUMNS.map(() => "")), "", ...(lastLines[index] ?? LAST_COLUMNS.map(() => ""))]);
      const texts = pageTextsOf().sheets.numbers;
      // Heads that name people, days and protocols are the same on every sheet and in every language.
      const headOf = (column: (typeof SQUAD_COLUMNS | typeof LAST_COLUMNS)[number]): string => (column === "athlete" || column === "date" || column === "protocol" ? column : texts[column]);
      return [
        ...sheetOf(NUMBER_SHEETS.trials, texts.trials, [...LEAD, ...trialNames], trialLines, oldTrials, [150, 90, 190, 70, 190, 250]),
        ...sheetOf(NUMBER_SHEETS.record, texts.record, [...LEAD, ...recordNames], recordLines, oldRecord, [150, 90, 190, 70, 190, 250]),
        ...sheetOf(NUMBER_SHEETS.squad, texts.squad, [...SQUAD_COLUMNS.map(headOf), "", ...LAST_COLUMNS.map(headOf)], both, oldSquad, [190, 150, 230, 70, 110, 110, 90, 90, 120, 120, 150, 90, 190, 150]),
        { kind: "format", range: { sheet: NUMBER_SHEETS.squad, row: FIRST_ROW, column: LAST_COLUMN + 1, rows: 400, columns: 1 }, numberFormat: "yyyy-mm-dd" },
      ];
    },
  };
}

/** Protocol, and the text of the session, of a row where it counts. */
function keys(row: number): [CellInput, CellInput] {
  const at = (column: number): string => cellAddress(row, column, { column: true });
  return [
    { formula: `=IF(${at(AT.use)}="keep",${at(AT.protocol)},"")` },
    { formula: `=IF(${at(AT.use)}="keep",${at(AT.athlete)}&" "&${at(AT.date)}&" "&${at(AT.protocol)},"")` },
  ];
}

/** A sheet with its head and lines, over what stood there. */
function sheetOf(sheet: string, title: string, head: readonly string[], lines: readonly (readonly CellInput[])[], old: OldSheet | undefined, widths: readonly number[]): Edit[] {
  const width = Math.max(head.length, MARK_COLUMN + 1, old?.columns ?? 0, ...lines.map((line) => line.length));
  const height = Math.max(FIRST_ROW + lines.length, old?.rows ?? 0);
  // Cells that a formula of the same row fills are left alone: a blank text in them would stop it.
  const filled = (row: number): number => (lines[row] === undefined ? 0 : sheet === NUMBER_SHEETS.trials ? head.length : 0);
  const cells = Array.from({ length: height }, (_, row): CellInput[] =>
    Array.from({ length: width }, (_, column): CellInput => {
      if (row === 0) return column === 0 ? title : column === MARK_COLUMN ? REPORT_MARK : null;
      if (row === HEAD_ROW) return head[column] ?? "";
      const line = lines[row - FIRST_ROW];
      if (line !== undefined && column < line.length) return line[column]!;
      return column < filled(row - FIRST_ROW) || old === undefined ? null : "";
    }),
  );
  const looks: readonly Edit[] = [
    { kind: "format", range: { sheet, row: HEAD_ROW, column: 0, rows: 1, columns: width }, bold: true, wrap: true },
    ...(sheet === NUMBER_SHEETS.squad ? [] : [{ kind: "format", range: { sheet, row: FIRST_ROW, column: 1, rows: Math.max(380, height + 280), columns: 1 }, numberFormat: "yyyy-mm-dd" } as const]),
    { kind: "rowHeight", sheet, row: HEAD_ROW, count: 1, height: HEAD_HEIGHT },
    { kind: "freezeRows", sheet, rows: FIRST_ROW },
    ...widths.map((pixels, column) => ({ kind: "columns", sheet, column, count: 1, width: pixels }) as const),
  ];
  return [
    ...(old === undefined ? [{ kind: "addSheet", sheet, rows: Math.max(400, height + 300), columns: width + 20 } as const] : []),
    { kind: "cells", sheet: old?.sheet ?? sheet, row: 0, column: 0, cells },
    ...(old === undefined ? looks : []),
  ];
}

/** Quantities in the head of an old sheet. */
function namesIn(old: OldSheet | undefined, from: number): readonly string[] {
  const head = old?.text[HEAD_ROW]?.slice(from) ?? [];
  const end = head.indexOf("");
  return end < 0 ? head : head.slice(0, end);
}

function squadRowsIn(old: OldSheet | undefined): SquadRow[] {
  const rows: SquadRow[] = [];
  for (const line of old?.text.slice(FIRST_ROW) ?? []) {
    const [protocol = "", name = "", from = ""] = line;
    if (protocol === "") break;
    rows.push({ protocol, name, from: from as SquadRow["from"] });
  }
  // The last sessions were listed beside them.
  for (const line of old?.text.slice(FIRST_ROW) ?? []) {
    const [athlete = "", , protocol = "", name = ""] = line.slice(LAST_COLUMN);
    if (athlete === "") break;
    const row = rows.find((each) => each.protocol === protocol && each.name === name && each.from === "sessions between days");
    if (row !== undefined) row.last = [...(row.last ?? []), { athlete, date: isoDate(numberOrText(line[LAST_COLUMN + 1] ?? "")) }];
  }
  return rows;
}

/** A serial day as the number it is. */
function numberOrText(text: string): number | string {
  return /^\d+$/.test(text) ? Number(text) : text;
}
