import { VERSION } from "../../src/version.ts";
import type { Applied, CellInput, Edit, RangeRef, SheetHost, TableInfo } from "../host/SheetHost.ts";
import { dateSerial, isoDate, cellText as text } from "./addresses.ts";
import { tableOf } from "./findParts.ts";

/** What is recorded of a trial before its metrics. Values only: a record does not change when settings do. */
export const RECORD_COLUMNS = ["recorded", "athlete", "date", "protocol", "use", "verdict", "trial", "adjust", "settings", "version"] as const;
/** Beside them where a trial was not measured with force plates. */
const INSTRUMENT = "instrument";
const TABLE = "Record";

/** One analysed trial, ready to be recorded. */
export interface RecordDraft {
  readonly athlete: string;
  /** ISO date. */
  readonly date: string;
  readonly protocol: string;
  readonly use: "keep" | "leave out";
  readonly verdict: string;
  readonly key: string;
  readonly adjust: string;
  readonly settingsDigest: string;
  /** What measured it, where that were no force plates. */
  readonly instrument?: string;
  /** Values and standard uncertainties by the name that heads the Results column, in its unit. */
  readonly metrics: readonly { readonly name: string; readonly value: number; readonly u?: number }[];
}

/** A recorded trial as read back. */
export interface RecordRow {
  /** Zero-based row on the sheet at the time of reading. */
  readonly row: number;
  readonly recorded: string;
  readonly athlete: string;
  readonly date: string;
  readonly protocol: string;
  readonly use: string;
  readonly verdict: string;
  readonly key: string;
  readonly settingsDigest: string;
  readonly version: string;
  /** Blank for force plates. */
  readonly instrument: string;
  readonly values: ReadonlyMap<string, { readonly value: number; readonly u?: number }>;
}

/** Head of the column that holds the standard uncertainty of a metric. */
export function uncertaintyHead(name: string): string {
  return `u ${name}`;
}

/**
 * Edits that append trials to the Record table, creating it or widening it where needed. Recording the same trials
 * again appends them again: a record is never overwritten.
 */
export async function recordEdits(host: SheetHost, drafts: readonly RecordDraft[], now: Date): Promise<Edit[]> {
  const names = [...new Set(drafts.flatMap((draft) => draft.metrics.map((metric) => metric.name)))];
  const wanted = [...(drafts.some((draft) => draft.instrument !== undefined) ? [INSTRUMENT] : []), ...names.flatMap((name) => [name, uncertaintyHead(name)])];
  const table = await recordTable(host);
  const known = table?.columns ?? [...RECORD_COLUMNS];
  const added = wanted.filter((column) => !known.includes(column));
  const columns = [...known, ...added];
  const rows = drafts.map((draft) => cellsOf(draft, columns, now));
  if (!table) {
    return [
      { kind: "addSheet", sheet: TABLE, rows: Math.max(400, rows.length + 200), columns: columns.length + 10 },
      { kind: "table", name: TABLE, sheet: TABLE, row: 0, column: 0, columns, rows },
      { kind: "freezeRows", sheet: TABLE, rows: 1 },
      { kind: "columns", sheet: TABLE, column: 1, count: 1, width: 150 },
      { kind: "columns", sheet: TABLE, column: 3, count: 1, width: 170 },
      dateFormat({ sheet: TABLE, row: 1, column: columns.indexOf("date"), rows: Math.max(400, rows.length), columns: 1 }),
    ];
  }
  return [
    ...(added.length > 0 ? [{ kind: "appendColumns", table: table.name, columns: added } as const] : []),
    { kind: "appendRows", table: table.name, rows },
    dateFormat({ ...table.range, row: table.range.row + table.range.rows, column: table.range.column + columns.indexOf("date"), rows: rows.length, columns: 1 }),
  ];
}

/** Appends drafts to Record as one step. */
export async function record(host: SheetHost, drafts: readonly RecordDraft[], now: Date): Promise<Applied> {
  return host.apply(await recordEdits(host, drafts, now), { label: `Record of ${drafts.length} ${drafts.length === 1 ? "trial" : "trials"}` });
}

/** Everything recorded, oldest first; where a trial was recorded more than once, each stands. */
export async function recordedRows(host: SheetHost): Promise<readonly RecordRow[]> {
  const table = await recordTable(host);
  if (!table || table.range.rows < 2) {
    return [];
  }
  const [content] = await host.read([{ ...table.range, row: table.range.row + 1, rows: table.range.rows - 1 }]);
  const at = (name: string) => table.columns.indexOf(name);
  const metricColumns = table.columns.map((name, column) => ({ name, column })).filter(({ name }) => !(RECORD_COLUMNS as readonly string[]).includes(name) && name !== INSTRUMENT && !name.startsWith("u "));
  return content!.values.flatMap((cells, index): RecordRow[] => {
    const key = text(cells[at("trial")]);
    if (key === "") {
      return [];
    }
    const values = new Map<string, { value: number; u?: number }>();
    for (const { name, column } of metricColumns) {
      const value = cells[column];
      const u = cells[at(uncertaintyHead(name))];
      if (typeof value === "number") {
        values.set(name, typeof u === "number" ? { value, u } : { value });
      }
    }
    return [{
      row: table.range.row + 1 + index,
      recorded: text(cells[at("recorded")]),
      athlete: text(cells[at("athlete")]),
      date: isoDate(cells[at("date")]),
      protocol: text(cells[at("protocol")]),
      use: text(cells[at("use")]),
      verdict: text(cells[at("verdict")]),
      key,
      settingsDigest: text(cells[at("settings")]),
      version: text(cells[at("version")]),
      instrument: text(cells[at(INSTRUMENT)]),
      values,
    }];
  });
}

/** Of rows that record one trial more than once, the latest. */
export function latestByTrial(rows: readonly RecordRow[]): readonly RecordRow[] {
  const latest = new Map<string, RecordRow>();
  for (const row of rows) {
    latest.delete(row.key);
    latest.set(row.key, row);
  }
  return [...latest.values()];
}

/** The Record table as it stands. */
export async function recordTable(host: SheetHost): Promise<TableInfo | undefined> {
  const table = tableOf(await host.tables(), TABLE, RECORD_COLUMNS);
  const missing = table && RECORD_COLUMNS.find((column) => !table.columns.includes(column));
  if (missing) {
    throw new Error(`the Record table has no column named "${missing}"; give the column its name back, then try again`);
  }
  return table;
}

function cellsOf(draft: RecordDraft, columns: readonly string[], now: Date): CellInput[] {
  const cells = new Map<string, CellInput>([
    ["recorded", now.toISOString()],
    ["athlete", draft.athlete],
    ["date", dateSerial(draft.date)],
    ["protocol", draft.protocol],
    ["use", draft.use],
    ["verdict", draft.verdict],
    ["trial", draft.key],
    ["adjust", draft.adjust],
    ["settings", draft.settingsDigest],
    ["version", VERSION],
    [INSTRUMENT, draft.instrument ?? ""],
  ]);
  for (const { name, value, u } of draft.metrics) {
    cells.set(name, value);
    cells.set(uncertaintyHead(name), u ?? "");
  }
  return columns.map((column) => cells.get(column) ?? "");
}

function dateFormat(range: RangeRef): Edit {
  return { kind: "format", range, numberFormat: "yyyy-mm-dd" };
}
