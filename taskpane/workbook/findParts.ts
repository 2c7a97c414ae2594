import { SETTINGS } from "../../src/settings/definitions.ts";
import type { CellValue, RangeRef, SheetHost, TableInfo } from "../host/SheetHost.ts";
import { NAME, RESULT_LEAD, SHEET, type ResultsHead } from "./sheets.ts";

/** Rows from the top of a sheet in which a head is looked for whose name was lost. */
const HEAD_ROWS = 20;

/** A table by its name; where a person renamed it, the one table that has all its columns. */
export function tableOf(tables: readonly TableInfo[], name: string, columns: readonly string[]): TableInfo | undefined {
  const named = tables.find((table) => table.name === name) ?? tables.find((table) => table.name.toLowerCase() === name.toLowerCase());
  if (named) {
    return named;
  }
  const alike = tables.filter((table) => columns.every((column) => table.columns.some((candidate) => plain(candidate) === column)));
  return alike.length === 1 ? alike[0] : undefined;
}

/** Where Results stands now: its head by the defined name, or by what is written in it where the name was lost. */
export async function findResults(host: SheetHost): Promise<(ResultsHead & { readonly named: boolean }) | undefined> {
  const named = await host.definedName(NAME.results);
  const head = named ?? (await lostHead(host));
  if (!head) {
    return undefined;
  }
  const [content] = head.column === 0 ? [undefined] : await host.read([{ ...head, column: 0, columns: head.column }]);
  const before = (content?.values[0] ?? []).map(plain);
  const lead = {} as Record<(typeof RESULT_LEAD)[number], number>;
  for (const name of RESULT_LEAD) {
    lead[name] = before.lastIndexOf(name);
    if (lead[name] < 0) {
      throw new Error(`the Results sheet has no column named "${name}" left of its first quantity; give the column its name back, then try again`);
    }
  }
  return { head, lead, named: named !== undefined };
}

/** Where the settings stand: by the defined name, or below the head they were written with. */
export async function findSettings(host: SheetHost): Promise<{ readonly range: RangeRef; readonly named: boolean } | undefined> {
  const named = await host.definedName(NAME.settings);
  if (named) {
    return { range: named, named: true };
  }
  const top = await topOf(host, SHEET.settings);
  const at = top?.rows.findIndex((row) => row.includes("setting")) ?? -1;
  const column = top?.rows[at]?.indexOf("setting") ?? -1;
  if (!top || at < 0 || top.rows[at]![column + 1] !== "value") {
    return undefined;
  }
  const rows = Math.max(SETTINGS.length, top.used.rows - at - 1);
  return { range: { sheet: top.used.sheet, row: top.used.row + at + 1, column: top.used.column + column, rows, columns: 2 }, named: false };
}

async function lostHead(host: SheetHost): Promise<RangeRef | undefined> {
  const top = await topOf(host, SHEET.results);
  if (!top) {
    return undefined;
  }
  for (const [index, row] of top.rows.entries()) {
    const use = row.indexOf("use");
    const column = row.indexOf("verdict", use + 1);
    if (use < 0 || column < 0 || !RESULT_LEAD.every((name) => row.slice(0, column).includes(name))) {
      continue;
    }
    let end = column;
    while (end < row.length && row[end] !== "") {
      end += 1;
    }
    return { sheet: top.used.sheet, row: top.used.row + index, column: top.used.column + column, rows: 1, columns: end - column };
  }
  return undefined;
}

/** The first rows of a sheet, as plain words. */
async function topOf(host: SheetHost, name: string): Promise<{ readonly used: RangeRef; readonly rows: readonly (readonly string[])[] } | undefined> {
  const sheet = (await host.sheets()).find((candidate) => candidate.toLowerCase() === name.toLowerCase());
  const used = sheet === undefined ? undefined : await host.usedRange(sheet);
  if (!used) {
    return undefined;
  }
  const [content] = await host.read([{ ...used, rows: Math.min(HEAD_ROWS, used.rows) }]);
  return { used, rows: content!.values.map((row) => row.map(plain)) };
}

function plain(value: CellValue | string): string {
  return typeof value === "object" ? "" : String(value).trim().toLowerCase();
}
