import { parseProtocol } from "../../src/protocols/parseProtocol.ts";
import { resolveMetricName } from "../../src/catalogue/resolveMetricName.ts";
import { instrumentOf, instrumentReason, likeText, type Instrument } from "../../src/sessions/likeText.ts";
import type { Settings } from "../../src/settings/Settings.ts";
import { fillTemplate } from "../../src/wording/fillTemplate.ts";
import { inLanguage } from "../../src/wording/inLanguage.ts";
import { pageTextsOf } from "../../src/wording/pageTextsOf.ts";
import type { Applied, CellInput, Edit, SheetHost } from "../host/SheetHost.ts";
import { cellAddress, columnLetters, dateSerial, sheetPrefix } from "./addresses.ts";
import { findResults } from "./findParts.ts";
import { HEAD_HEIGHT, numberFormat, RESULT_LEAD, type ResultsHead } from "./sheets.ts";
import type { TrialRow, WorkbookModel } from "./WorkbookModel.ts";

const SHEET = "Sessions";
const LEAD = ["athlete", "date", "protocol", "trials used", "of"] as const;

/** One session: an athlete, a day, one protocol. Unlike protocols never share a row. */
interface SessionKey {
  readonly athlete: string;
  readonly date: string;
  /** Text of like protocols, however much of them was stated. */
  readonly protocol: string;
  /** What measured its trials. */
  readonly instruments: readonly Instrument[];
}

/**
 * The Sessions sheet: one row for each athlete, day and protocol, each number an ordinary formula over Results that a
 * person can read and change. Trials left out do not count; what a trial cannot give is passed over.
 *
 * The settings `session-value` and `session-trials` say whether a row shows the mean or the best, and of how many: the
 * first valid trials in the order they were made, the same number for everyone. A metric of which neither more nor less
 * is better has no best trial: its mean is shown.
 */
export async function writeSessions(host: SheetHost, workbook: WorkbookModel): Promise<Applied | undefined> {
  const results = await findResults(host);
  const trials = await workbook.trials();
  if (!results || trials.length === 0) {
    return undefined;
  }
  const { head } = results;
  const used = await host.usedRange(head.sheet);
  const lastRow = used ? used.row + used.rows : head.row + 1;
  const names = await workbook.resultNames();
  const keys = sessionKeys(trials);
  const sheets = await host.sheets();
  const old = sheets.includes(SHEET) ? await host.usedRange(SHEET) : undefined;
  const edits = sessionsEdits(keys, names, results, lastRow, await workbook.settings(), trials.some(({ protocol }) => canonical(protocol) !== protocol));
  const blanks: Edit[] = old ? [{ kind: "cells", sheet: SHEET, row: 0, column: 0, cells: Array.from({ length: old.rows }, () => Array.from({ length: old.columns }, () => "")) }] : [];
  const add: Edit[] = sheets.includes(SHEET) ? [] : [{ kind: "addSheet", sheet: SHEET, rows: Math.max(200, keys.length + 60), columns: LEAD.length + names.length + 10 }];
  return host.apply([...add, ...blanks, ...edits], { label: "Sessions sheet" });
}

/** Sessions in the order of athlete, day and protocol. */
export function sessionKeys(trials: readonly TrialRow[]): readonly SessionKey[] {
  const found = new Map<string, SessionKey>();
  for (const { athlete, date, protocol: stated, packed } of trials) {
    const protocol = canonical(stated);
    const key = JSON.stringify([athlete, date, protocol]);
    found.set(key, { athlete, date, protocol, instruments: [...new Set([...(found.get(key)?.instruments ?? []), instrumentOf(packed[0] ?? "")])] });
  }
  return [...found].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, key]) => key);
}

/** A protocol as the formulas compare it; a text that is none stays as it is. */
function canonical(protocol: string): string {
  try {
    return likeText(parseProtocol(protocol));
  } catch {
    return protocol;
  }
}

function sessionsEdits(keys: readonly SessionKey[], names: readonly string[], place: ResultsHead, lastRow: number, settings: Settings, statedOtherwise: boolean): Edit[] {
  const { head, lead } = place;
  const metrics = names.map((name, index) => ({ name, column: head.column + index })).filter(({ name }) => name !== "verdict" && name !== "findings" && name.trim() !== "");
  const rule = settings.values["session-value"] === "best" ? "best" : "mean";
  const trials = Number(settings.values["session-trials"]);
  const results = sheetPrefix(head.sheet);
  const first = head.row + 2;
  const column = (index: number) => `${results}$${columnLetters(index)}$${first}:$${columnLetters(index)}$${lastRow}`;
  const [athletes, dates, protocols, uses] = RESULT_LEAD.map((name) => column(lead[name])) as [string, string, string, string];
  const rows = keys.map((key, index): CellInput[] => {
    const at = (lead: number) => cellAddress(index + 1, lead, { column: true });
    const own = `(${athletes}=${at(0)})*(${dates}=${at(1)})*(${statedOtherwise ? `IFERROR(LEAP.LIKE_PROTOCOL(${protocols}),${protocols})` : protocols}=${at(2)})`;
    // Results do not say what measured a trial: trials of two instruments are named here and not averaged.
    const mixed = instrumentReason(key.instruments);
    if (mixed !== undefined) return [key.athlete, dateSerial(key.date), key.protocol, fillTemplate(pageTextsOf().sheets.sessions.notCombined, { reason: inLanguage(mixed) }), { formula: `=SUMPRODUCT(${own})` }, ...metrics.map(() => "")];
    return [
      key.athlete,
      dateSerial(key.date),
      key.protocol,
      { formula: `=MIN(${trials},SUMPRODUCT(${own}*(${uses}="keep")))` },
      { formula: `=SUMPRODUCT(${own})` },
      ...metrics.map(({ name, column: index }): CellInput => {
        const values = column(index);
        const kept = `FILTER(${values},${own}*(${uses}="keep")*ISNUMBER(${values}))`;
        return { formula: `=IFERROR(LEAP.SESSION_VALUE(${kept},,${ruleOf(name, rule)},${trials}${rule === "best" && betterOf(name) === "lower" ? ',"lower"' : ""}),"")` };
      }),
    ];
  });
  return [
    { kind: "cells", sheet: SHEET, row: 0, column: 0, cells: [[...LEAD, ...metrics.map(({ name }) => name)], ...rows] },
    { kind: "format", range: { sheet: SHEET, row: 0, column: 0, rows: 1, columns: LEAD.length + metrics.length }, bold: true, wrap: true },
    { kind: "rowHeight", sheet: SHEET, row: 0, count: 1, height: HEAD_HEIGHT },
    { kind: "freezeRows", sheet: SHEET, rows: 1 },
    { kind: "columns", sheet: SHEET, column: 0, count: 1, width: 150 },
    { kind: "columns", sheet: SHEET, column: 2, count: 1, width: 170 },
    { kind: "format", range: { sheet: SHEET, row: 1, column: 1, rows: Math.max(1, keys.length), columns: 1 }, numberFormat: "yyyy-mm-dd" },
    ...metrics.map(({ name }, index): Edit => ({
      kind: "format",
      range: { sheet: SHEET, row: 1, column: LEAD.length + index, rows: Math.max(1, keys.length), columns: 1 },
      numberFormat: numberFormat(name),
    })),
  ];
}

function betterOf(name: string): "higher" | "lower" | "neither" {
  return resolveMetricName(name).base.better;
}

function ruleOf(name: string, rule: "mean" | "best"): string {
  return rule === "best" && betterOf(name) !== "neither" ? '"best"' : '"mean"';
}
