import { tokenize } from "@borgar/fx";
import { settingsFrom } from "../../src/settings/settingsFrom.ts";
import { SETTINGS } from "../../src/settings/definitions.ts";
import type { Verdict } from "../../src/protocols/Analysis.ts";
import type { Settings } from "../../src/settings/Settings.ts";
import type { Applied, ApplyOptions, CellInput, CellRef, CellValue, Edit, RangeRef, SheetHost, TableInfo } from "../host/SheetHost.ts";
import { columnIndex, columnLetters, isoDate, cellText as text } from "./addresses.ts";
import { findResults, findSettings, tableOf } from "./findParts.ts";
import { factsInCommon, filledFrom } from "./matchPlanned.ts";
import { planEdits, protocolFrom, type PlanStep } from "./plan.ts";
import {
  ATHLETE_COLUMNS, athletesEdits, DEFAULT_RESULT_NAMES, firstResultColumn, NAME, plannedCells, RESULT_BLOCK, RESULT_LEAD, resultCells, resultFormats, resultsEdits, settingsEdits, SHEET,
  trialCells, trialsEdits, TRIAL_COLUMNS, type ResultsHead, type TrialColumn, type TrialsPlace,
} from "./sheets.ts";
import type { PlannedRow, SettingRow, TrialDraft, TrialRow, WorkbookModel, WriteReceipt } from "./WorkbookModel.ts";

/** What says which trial a row of Trials waits for, and whether it waits. */
const PLANNED_COLUMNS = ["athlete", "date", "test", "arms", "limb", "drop height", "load", "mass", "hash"] as const satisfies readonly TrialColumn[];

const PLAN_CHANGED = "the planned trials in the sheet changed since the match was shown; nothing was written: look at the table again";

/** Formulas whose row is remembered. */
const MOST_ROWS_TRACED = 20_000;

const VERDICTS: readonly Verdict[] = ["keep", "look", "leave out"];

/** Identity of a trial: the content of its file and where in it the trial starts. */
export function trialKey(hash: string, startInFile: number): string {
  return `${hash}@${startInFile.toFixed(4)}`;
}

/** The workbook behind a `SheetHost`: tables by name, trials by key. */
export function createWorkbookModel(host: SheetHost): WorkbookModel {
  return new HostedWorkbook(host);
}

interface TrialsTable {
  readonly table: TableInfo;
  readonly place: TrialsPlace;
  readonly values: readonly (readonly CellValue[])[];
}

class HostedWorkbook implements WorkbookModel {
  private readonly rowsTraced = new Map<string, number | undefined>();

  constructor(private readonly host: SheetHost) {}

  async ensure(): Promise<void> {
    const edits = await this.missingSheets();
    if (edits.length > 0) {
      await this.host.apply(edits, { label: "New sheets" });
    }
  }

  async trials(): Promise<readonly TrialRow[]> {
    const found = await this.trialsTable();
    if (!found) {
      return [];
    }
    const { table, place, values } = found;
    const rows: TrialRow[] = [];
    values.forEach((cells, index) => {
      const read = (column: TrialColumn) => cells[place.column[column] - table.range.column];
      const hash = text(read("hash"));
      const packed = (["trace 1", "trace 2", "trace 3", "trace 4"] as const).map((column) => text(read(column)));
      if (hash === "" && packed[0] === "") {
        return;
      }
      const mass = number(read("mass"));
      const keep = text(read("keep")).trim().toLowerCase();
      rows.push({
        key: trialKey(hash, number(read("start in file"))),
        row: table.range.row + 1 + index,
        athlete: text(read("athlete")),
        date: isoDate(read("date")),
        protocol: text(read("protocol")),
        test: text(read("test")),
        adjust: text(read("adjust")),
        keep: keep === "keep" || keep === "leave out" ? keep : "",
        reason: text(read("reason")),
        ...(mass > 0 ? { mass } : {}),
        file: text(read("file")),
        startInFile: number(read("start in file")),
        rate: number(read("rate")),
        packed,
      });
    });
    return rows;
  }

  async addTrials(drafts: readonly TrialDraft[], options: Partial<ApplyOptions> = {}): Promise<WriteReceipt> {
    const known = new Set((await this.trials()).map((row) => row.key));
    const fresh: TrialDraft[] = [];
    const duplicates: TrialDraft[] = [];
    for (const draft of drafts) {
      const key = trialKey(draft.hash, draft.startInFile);
      (known.has(key) ? duplicates : fresh).push(draft);
      known.add(key);
    }
    if (fresh.length === 0) {
      return { written: 0, duplicates };
    }
    const planned = fresh.some(({ fills }) => fills !== undefined) ? await this.planned() : [];
    const filled = fresh.map((draft) => filledDraft(draft, planned));
    if (new Set(filled.flatMap(({ fills }) => fills ?? [])).size !== filled.filter(({ fills }) => fills !== undefined).length) {
      throw new Error(PLAN_CHANGED);
    }
    const appended = filled.filter(({ fills }) => fills === undefined);
    const edits = await this.missingSheets(() => appended.map((draft, index) => trialCells(draft, index + 1)));
    const results = await findResults(this.host);
    const found = await this.trialsTable();
    const place = found?.place ?? NEW_PLACE;
    refuseParted(place);
    const firstRow = found ? found.table.range.row + found.table.range.rows : 1;
    const ownRow = new Map(appended.map((draft, index) => [draft, firstRow + index]));
    const rowOf = (draft: TrialDraft) => draft.fills ?? ownRow.get(draft)!;
    if (found) {
      for (const draft of filled) {
        if (draft.fills === undefined) continue;
        const cells = trialCells(draft, draft.fills, place);
        // What a person wrote beside a planned trial stays.
        for (const column of ["adjust", "keep", "reason"] as const) {
          cells[TRIAL_COLUMNS.indexOf(column)] = column === "adjust" && draft.adjust ? draft.adjust : null;
        }
        edits.push({ kind: "cells", sheet: place.sheet, row: draft.fills, column: found.table.range.column, cells: [inTableOrder(cells, place, found.table)] });
      }
      if (appended.length > 0) {
        edits.push({ kind: "appendRows", table: found.table.name, rows: appended.map((draft) => inTableOrder(trialCells(draft, rowOf(draft), place), place, found.table)) });
        edits.push(dateFormat(place, firstRow, appended.length));
      }
    }
    const resultsRow = results ? await this.nextResultRow(results.head) : 1;
    const resultsAt = results ?? newResults(DEFAULT_RESULT_NAMES.length);
    for (let from = 0; from < filled.length; from += RESULT_BLOCK) {
      const block = filled.slice(from, from + RESULT_BLOCK);
      edits.push({
        kind: "cells",
        sheet: resultsAt.head.sheet,
        row: resultsRow + from,
        column: firstResultColumn(resultsAt),
        cells: block.map((draft, index) => resultCells(place, rowOf(draft), resultsRow + from + index, resultsAt)),
      });
    }
    const label = options.label ?? `Import of ${fresh.length} ${fresh.length === 1 ? "trial" : "trials"}`;
    const applied = await this.host.apply(edits, { ...options, label });
    return { written: fresh.length, duplicates, applied };
  }

  async planned(): Promise<readonly PlannedRow[]> {
    const found = await this.trialsPlace();
    if (!found || found.table.range.rows < 2) {
      return [];
    }
    const { table, place } = found;
    // Column by column: the traces are millions of characters, and none is wanted here.
    const column = (name: TrialColumn, row = 0, rows = table.range.rows - 1): RangeRef => ({ sheet: place.sheet, row: table.range.row + 1 + row, column: place.column[name], rows, columns: 1 });
    const contents = await this.host.read(PLANNED_COLUMNS.map((name) => column(name)));
    const rows = contents[0]!.values.flatMap((_, index): PlannedRow[] => {
      const read = (name: (typeof PLANNED_COLUMNS)[number]) => contents[PLANNED_COLUMNS.indexOf(name)]!.values[index]![0];
      const athlete = text(read("athlete")).trim();
      const protocol = protocolFrom(text(read("test")), text(read("arms")), text(read("limb")), read("drop height"), read("load"));
      if (athlete === "" || protocol === undefined || text(read("hash")) !== "") {
        return [];
      }
      const mass = number(read("mass"));
      return [{ row: table.range.row + 1 + index, athlete, date: isoDate(read("date")), protocol, ...(mass > 0 ? { mass } : {}) }];
    });
    // A trace that a person put there by hand has no hash.
    const runs = runsOf(rows.map(({ row }) => row - table.range.row - 1));
    const traces = (await this.host.read(runs.map(({ first, count }) => column("trace 1", first, count)))).flatMap((run) => run.values.map((cells) => text(cells[0])));
    return rows.filter((_, index) => traces[index] === "");
  }

  async addPlan(steps: readonly PlanStep[], options: Partial<ApplyOptions> = {}): Promise<Applied> {
    const found = await this.trialsTable();
    const place = found?.place ?? NEW_PLACE;
    const firstRow = found ? found.table.range.row + found.table.range.rows : 1;
    const rows = steps.map((step, index) => plannedCells(step, firstRow + index, place));
    const names = steps.map(({ athlete }) => athlete);
    const edits = await this.missingSheets(() => rows, names);
    if (found) {
      edits.push({ kind: "appendRows", table: found.table.name, rows: rows.map((cells) => inTableOrder(cells, place, found.table)) });
      edits.push(dateFormat(place, firstRow, rows.length));
    }
    edits.push(...(await planEdits(this.host, steps)), ...(await this.newAthletes(names)));
    return this.host.apply(edits, { ...options, label: options.label ?? `Plan of ${steps.length} ${steps.length === 1 ? "trial" : "trials"}` });
  }

  async setKeep(key: string, keep: TrialRow["keep"], reason: string): Promise<Applied> {
    return this.setTrialCells(key, { keep, reason: keep === "leave out" ? reason : "" }, keep === "" ? "Follow the verdict" : keep === "keep" ? "Keep a trial" : "Leave out a trial");
  }

  async setAdjust(key: string, adjust: string): Promise<Applied> {
    return this.setTrialCells(key, { adjust }, "Adjust a trial");
  }

  async settings(): Promise<Settings> {
    const rows = await this.settingRows();
    return settingsFrom(rows.map((row) => [row.id, row.value] as const));
  }

  async settingRows(): Promise<readonly SettingRow[]> {
    const range = (await findSettings(this.host))?.range;
    const defaults = new Map(SETTINGS.map((setting) => [setting.id, setting.default]));
    if (!range) {
      return SETTINGS.map((setting) => ({ id: setting.id, value: setting.default, isDefault: true }));
    }
    const [content] = await this.host.read([range]);
    return content!.values.flatMap((cells, index): SettingRow[] => {
      const id = text(cells[0]).trim();
      const value = cells[1];
      if (id === "" || (typeof value !== "string" && typeof value !== "number")) {
        return [];
      }
      return [{ id, value, isDefault: String(value) === String(defaults.get(id)), cell: { sheet: range.sheet, row: range.row + index, column: range.column + 1 } }];
    });
  }

  async setSetting(id: string, value: string | number): Promise<Applied> {
    const current = await this.settingRows();
    // Checks the value before anything is written: throws with the sentence.
    settingsFrom([...current.filter((row) => row.id !== id).map((row) => [row.id, row.value] as const), [id, value]]);
    await this.ensure();
    const row = (await this.settingRows()).find((candidate) => candidate.id === id);
    if (!row?.cell) {
      throw new Error(`the Settings sheet has no row for ${id}`);
    }
    return this.host.apply([{ kind: "cells", ...row.cell, cells: [[value]] }], { label: `Setting ${id}` });
  }

  async resultNames(): Promise<readonly string[]> {
    const results = await findResults(this.host);
    if (!results) {
      return DEFAULT_RESULT_NAMES;
    }
    const [content] = await this.host.read([results.head]);
    return content!.values[0]!.map(text);
  }

  async setResultNames(names: readonly string[]): Promise<Applied> {
    await this.ensure();
    const results = (await findResults(this.host))!;
    const { head } = results;
    const chosen = ["verdict", ...names.filter((name) => name !== "verdict" && name.trim() !== "")];
    const next: RangeRef = { ...head, columns: chosen.length };
    await this.refuseForeign(head, chosen.length);
    const blank = Array.from({ length: Math.max(0, head.columns - chosen.length) }, () => "");
    const edits: Edit[] = [
      { kind: "cells", sheet: head.sheet, row: head.row, column: head.column, cells: [[...chosen, ...blank]] },
      { kind: "definedName", name: NAME.results, range: next },
      ...resultFormats(head.sheet, chosen, head.column),
    ];
    const found = await this.trialsTable();
    if (found) {
      refuseParted(found.place);
      for (const { row, trialRow } of await this.resultRows(head, found.place)) {
        const moved = { ...results, head: next };
        edits.push({ kind: "cells", sheet: head.sheet, row, column: firstResultColumn(moved), cells: [resultCells(found.place, trialRow, row, moved)] });
      }
    }
    return this.host.apply(edits, { label: "Columns of Results" });
  }

  async resultCell(key: string): Promise<CellRef | undefined> {
    const [results, found, row] = [await findResults(this.host), await this.trialsTable(), await this.trialRow(key)];
    if (!results || !found || !row) {
      return undefined;
    }
    const { head } = results;
    const result = (await this.resultRows(head, found.place)).find((candidate) => candidate.trialRow === row.row);
    return result && { sheet: head.sheet, row: result.row, column: head.column };
  }

  async verdicts(): Promise<ReadonlyMap<number, Verdict>> {
    const [results, found] = [await findResults(this.host), await this.trialsPlace()];
    if (!results || !found) {
      return new Map();
    }
    const { head } = results;
    const rows = (await this.nextResultRow(head)) - head.row;
    const [content] = await this.host.read([{ ...head, rows, columns: 1 }]);
    if (text(content!.values[0]?.[0]).trim() !== "verdict") {
      return new Map();
    }
    return new Map(
      content!.values.flatMap(([value], index) => {
        const trialRow = this.tracedRow(content!.formulas[index]![0] ?? "", found.place);
        const verdict = VERDICTS.find((word) => word === value);
        return trialRow === undefined || verdict === undefined ? [] : [[trialRow, verdict] as const];
      }),
    );
  }

  async trialCell(key: string): Promise<CellRef | undefined> {
    const [found, row] = [await this.trialsTable(), await this.trialRow(key)];
    return found && row && { sheet: found.place.sheet, row: row.row, column: found.place.column.athlete };
  }

  async athletes(): Promise<readonly { name: string; mass?: number; stature?: number; squad?: string }[]> {
    const table = tableOf(await this.host.tables(), "Athletes", ATHLETE_COLUMNS);
    if (!table) {
      return [];
    }
    const at = (name: string) => table.columns.findIndex((column) => column.trim().toLowerCase() === name);
    const [content] = await this.host.read([body(table)]);
    return content!.values.flatMap((cells) => {
      const name = text(cells[at("athlete")]).trim();
      if (name === "") {
        return [];
      }
      const [mass, stature, squad] = [number(cells[at("mass")]), number(cells[at("stature")]), text(cells[at("squad")])];
      return [{
        name,
        ...(mass > 0 ? { mass } : {}),
        ...(stature > 0 ? { stature } : {}),
        ...(squad !== "" ? { squad } : {}),
      }];
    });
  }

  async undo(applied: Applied): Promise<void> {
    await this.host.undo(applied);
  }

  /** Edits that add these names to the Athletes there is, into its blank lines first. */
  private async newAthletes(names: readonly string[]): Promise<Edit[]> {
    const table = tableOf(await this.host.tables(), "Athletes", ATHLETE_COLUMNS);
    if (!table) {
      return [];
    }
    const known = new Set((await this.athletes()).map(({ name }) => name.toLowerCase()));
    const fresh = eachOnce(names).filter((name) => !known.has(name.toLowerCase()));
    const column = table.columns.findIndex((name) => name.trim().toLowerCase() === "athlete");
    if (fresh.length === 0 || column < 0) {
      return [];
    }
    const [content] = await this.host.read([body(table)]);
    const blanks = content!.values.flatMap((cells, index) => (cells.every((cell) => cell === "") ? [table.range.row + 1 + index] : []));
    const into = fresh.slice(0, blanks.length);
    const below = fresh.slice(blanks.length);
    return [
      ...into.map((name, index): Edit => ({ kind: "cells", sheet: table.range.sheet, row: blanks[index]!, column: table.range.column + column, cells: [[name]] })),
      ...(below.length > 0 ? [{ kind: "appendRows", table: table.name, rows: below.map((name) => table.columns.map((_, index) => (index === column ? name : ""))) } as const] : []),
    ];
  }

  /** Edits that create what is missing: a Trials table with these rows, Athletes with these names. */
  private async missingSheets(rows?: () => readonly (readonly CellInput[])[], names: readonly string[] = []): Promise<Edit[]> {
    const [tables, settings, results] = [await this.host.tables(), await findSettings(this.host), await findResults(this.host)];
    const taken = new Set((await this.host.sheets()).map((sheet) => sheet.toLowerCase()));
    const refuseTaken = (sheet: string, edits: Edit[]): Edit[] => {
      if (taken.has(sheet.toLowerCase())) {
        throw new Error(`a sheet named ${sheet} exists but is not the one Leapsheet writes to; rename it, then try again`);
      }
      return edits;
    };
    return [
      ...(tableOf(tables, "Athletes", ATHLETE_COLUMNS) ? [] : refuseTaken(SHEET.athletes, athletesEdits(eachOnce(names).map((name) => ATHLETE_COLUMNS.map((column) => (column === "athlete" ? name : "")))))),
      ...(tableOf(tables, "Trials", TRIAL_COLUMNS) || !rows ? [] : refuseTaken(SHEET.trials, trialsEdits(rows()))),
      ...(results ? namedAgain(NAME.results, results.head, results.named) : refuseTaken(SHEET.results, resultsEdits(DEFAULT_RESULT_NAMES))),
      ...(settings ? namedAgain(NAME.settings, settings.range, settings.named) : refuseTaken(SHEET.settings, settingsEdits())),
    ];
  }

  private async trialsTable(): Promise<TrialsTable | undefined> {
    const found = await this.trialsPlace();
    if (!found) {
      return undefined;
    }
    const [content] = await this.host.read([body(found.table)]);
    return { ...found, values: content!.values };
  }

  private async trialsPlace(): Promise<Omit<TrialsTable, "values"> | undefined> {
    const table = tableOf(await this.host.tables(), "Trials", TRIAL_COLUMNS);
    if (!table) {
      return undefined;
    }
    const column = {} as Record<TrialColumn, number>;
    for (const name of TRIAL_COLUMNS) {
      const index = table.columns.findIndex((candidate) => candidate.trim().toLowerCase() === name);
      if (index < 0) {
        throw new Error(`the Trials table has no column named "${name}"; give the column its name back, then try again`);
      }
      column[name] = table.range.column + index;
    }
    return { table, place: { sheet: table.range.sheet, column } };
  }

  private async trialRow(key: string): Promise<TrialRow | undefined> {
    return (await this.trials()).find((row) => row.key === key);
  }

  private async setTrialCells(key: string, cells: Partial<Record<TrialColumn, CellInput>>, label: string): Promise<Applied> {
    const [found, row] = [await this.trialsTable(), await this.trialRow(key)];
    if (!found || !row) {
      throw new Error("this trial is no longer in the Trials table");
    }
    const edits = Object.entries(cells).map(([column, value]): Edit => ({
      kind: "cells", sheet: found.place.sheet, row: row.row, column: found.place.column[column as TrialColumn], cells: [[value ?? ""]],
    }));
    return this.host.apply(edits, { label });
  }

  private async nextResultRow(head: RangeRef): Promise<number> {
    const used = await this.host.usedRange(head.sheet);
    return Math.max(head.row + 1, used ? used.row + used.rows : 0);
  }

  /** Other names over the same cells: refuses where values stand in place of a formula, or something of the person's in the way. */
  private async refuseForeign(head: RangeRef, columns: number): Promise<void> {
    const rows = (await this.nextResultRow(head)) - head.row;
    const wider = Math.max(0, columns - head.columns);
    const [first, beside] = await this.host.read([
      { ...head, rows, columns: 1 },
      ...(wider > 0 ? [{ ...head, rows, column: head.column + head.columns, columns: wider }] : []),
    ]);
    const pasted = first!.values.findIndex((cells, index) => index > 0 && cells[0] !== "" && first!.formulas[index]![0] === "");
    if (pasted > 0) {
      throw new Error(`row ${head.row + pasted + 1} of ${head.sheet} holds values in place of its formula, and they would come to stand under other names; move or delete that row, then try again`);
    }
    const taken = (beside?.values ?? []).findIndex((cells) => cells.some((cell) => cell !== ""));
    if (taken >= 0) {
      const column = beside!.values[taken]!.findIndex((cell) => cell !== "");
      throw new Error(`column ${columnLetters(head.column + head.columns + column)} of ${head.sheet} holds something of yours where quantities would be written; move it to the right, then try again`);
    }
  }

  /** Kept by the text of the formula: taking thousands apart takes a while. */
  private tracedRow(formula: string, place: TrialsPlace): number | undefined {
    const key = `${place.column["trace 1"]} ${formula}`;
    if (!this.rowsTraced.has(key)) {
      if (this.rowsTraced.size >= MOST_ROWS_TRACED) this.rowsTraced.clear();
      this.rowsTraced.set(key, tracedRow(formula, place));
    }
    return this.rowsTraced.get(key);
  }

  /** Rows of Results with the Trials row each reads, from the references in its formula. */
  private async resultRows(head: RangeRef, place: TrialsPlace): Promise<{ row: number; trialRow: number }[]> {
    const rows = (await this.nextResultRow(head)) - head.row - 1;
    if (rows <= 0) {
      return [];
    }
    const [content] = await this.host.read([{ sheet: head.sheet, row: head.row + 1, column: head.column, rows, columns: 1 }]);
    return content!.formulas.flatMap((cells, index) => {
      const trialRow = this.tracedRow(cells[0] ?? "", place);
      return trialRow === undefined ? [] : [{ row: head.row + 1 + index, trialRow }];
    });
  }
}

/** The draft with what its planned row states; refuses a row that is none for it any more. */
function filledDraft(draft: TrialDraft, planned: readonly PlannedRow[]): TrialDraft {
  if (draft.fills === undefined) {
    return draft;
  }
  const row = planned.find((candidate) => candidate.row === draft.fills);
  if (row === undefined || factsInCommon(draft, row) === undefined) {
    throw new Error(PLAN_CHANGED);
  }
  return filledFrom(draft, row);
}

const NEW_PLACE: TrialsPlace = {
  sheet: SHEET.trials,
  column: Object.fromEntries(TRIAL_COLUMNS.map((name, index) => [name, index])) as Record<TrialColumn, number>,
};

function newResults(columns: number): ResultsHead {
  return { head: { sheet: SHEET.results, row: 0, column: RESULT_LEAD.length, rows: 1, columns }, lead: { athlete: 0, date: 1, protocol: 2, use: 3 } };
}

/** Gives a range its defined name back where it was lost: formulas read it by that name. */
function namedAgain(name: string, range: RangeRef, named: boolean): Edit[] {
  return named ? [] : [{ kind: "definedName", name, range }];
}

/** A formula takes the four trace columns as one range. */
function refuseParted({ column }: TrialsPlace): void {
  const first = column["trace 1"];
  if (column["trace 2"] !== first + 1 || column["trace 3"] !== first + 2 || column["trace 4"] !== first + 3) {
    throw new Error('the columns "trace 1" to "trace 4" of the Trials table must stand side by side, in this order; move them back, then try again');
  }
}

function dateFormat(place: TrialsPlace, row: number, rows: number): Edit {
  return { kind: "format", range: { sheet: place.sheet, row, column: place.column.date, rows, columns: 1 }, numberFormat: "yyyy-mm-dd" };
}

/** Names once each, whatever their capitals. */
function eachOnce(names: readonly string[]): readonly string[] {
  const found = new Map<string, string>();
  for (const name of names) {
    if (!found.has(name.toLowerCase())) found.set(name.toLowerCase(), name);
  }
  return [...found.values()];
}

/** Rising numbers as runs without gaps. */
function runsOf(numbers: readonly number[]): readonly { readonly first: number; readonly count: number }[] {
  const runs: { first: number; count: number }[] = [];
  for (const each of numbers) {
    const last = runs.at(-1);
    if (last !== undefined && each === last.first + last.count) last.count += 1;
    else runs.push({ first: each, count: 1 });
  }
  return runs;
}

function body(table: TableInfo): RangeRef {
  return { ...table.range, row: table.range.row + 1, rows: Math.max(1, table.range.rows - 1) };
}

/** Cells in the order the table has now; columns a person added are left alone. */
function inTableOrder(cells: readonly CellInput[], place: TrialsPlace, table: TableInfo): CellInput[] {
  const ordered: CellInput[] = Array.from({ length: table.range.columns }, () => null);
  TRIAL_COLUMNS.forEach((name, index) => {
    ordered[place.column[name] - table.range.column] = cells[index]!;
  });
  return ordered;
}

/** Zero-based Trials row that a Results formula reads its trace from. */
function tracedRow(formula: string, place: TrialsPlace): number | undefined {
  if (formula === "") {
    return undefined;
  }
  for (const token of tokenize(formula)) {
    const match = /^(?:.*!)?\$?([A-Z]+)\$?(\d+):/i.exec(token.value);
    if (match && columnIndex(match[1]!) === place.column["trace 1"]) {
      return Number(match[2]) - 1;
    }
  }
  return undefined;
}

/** A number, also one that came as text with a decimal comma or point; 0 where there is none. */
function number(value: CellValue | undefined): number {
  if (typeof value === "number") {
    return value;
  }
  return typeof value === "string" && /^\s*[+-]?\d+([.,]\d+)?\s*$/.test(value) ? Number(value.trim().replace(",", ".")) : 0;
}
