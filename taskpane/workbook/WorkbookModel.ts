import type { Protocol } from "../../src/protocols/Protocol.ts";
import type { TimesRecord, Trace } from "../../src/trace/Trace.ts";
import type { Settings } from "../../src/settings/Settings.ts";
import type { Verdict } from "../../src/protocols/Analysis.ts";
import type { ApplyOptions, Applied, CellRef } from "../host/SheetHost.ts";

/** A trial about to be written to the sheet. */
export interface TrialDraft {
  readonly athlete: string;
  /** ISO date, `2026-03-14`; blank where unknown. */
  readonly date: string;
  readonly protocol: Protocol;
  /** Body mass measured elsewhere, kg. */
  readonly mass?: number;
  /** Name of the file it came from; blank for demo data; of typed times where they were measured. */
  readonly file: string;
  /** Time in the file of the first packed sample, s. */
  readonly startInFile: number;
  /** Content hash of the whole file. */
  readonly hash: string;
  readonly trace: Trace | TimesRecord;
  /** The trace as the text of its cells, where it was packed already. */
  readonly packed?: readonly string[];
  readonly adjust?: string;
  /** Zero-based row on the Trials sheet of the planned trial that this one fills; absent: a row of its own. */
  readonly fills?: number;
}

/** A trial that somebody is to perform. */
export interface PlannedTrial {
  readonly athlete: string;
  /** ISO date; blank where unknown. */
  readonly date: string;
  readonly protocol: Protocol;
  /** Body mass measured elsewhere, kg. */
  readonly mass?: number;
}

/** A row of the Trials table that waits for its trace. */
export interface PlannedRow extends PlannedTrial {
  /** Zero-based row on the Trials sheet at the time of reading. */
  readonly row: number;
}

/** A trial as it stands in the Trials table. Known by `key` (hash and start), never by position. */
export interface TrialRow {
  readonly key: string;
  /** Zero-based row on the Trials sheet at the time of reading: for display and selection only. */
  readonly row: number;
  readonly athlete: string;
  readonly date: string;
  readonly protocol: string;
  readonly test: string;
  readonly adjust: string;
  /** The person's word: `keep`, `leave out`, or blank (follow the verdict). */
  readonly keep: "" | "keep" | "leave out";
  readonly reason: string;
  readonly mass?: number;
  readonly file: string;
  readonly startInFile: number;
  readonly rate: number;
  /** The packed trace cells, as the formulas pass them. */
  readonly packed: readonly string[];
}

export interface WriteReceipt {
  readonly written: number;
  /** Drafts that were already in the table (same hash and start) and were left alone. */
  readonly duplicates: readonly TrialDraft[];
  readonly applied?: Applied;
}

/** A row of the Settings sheet. */
export interface SettingRow {
  readonly id: string;
  readonly value: string | number;
  readonly isDefault: boolean;
  /** Where it stands, for the pane to jump to. */
  readonly cell?: CellRef;
}

/** The sheets as the pane sees them. Tables are found by name, rows by key. */
export interface WorkbookModel {
  /** Creates the sheets that are missing (Athletes, Trials, Results, Settings); changes nothing that exists. */
  ensure(): Promise<void>;
  trials(): Promise<readonly TrialRow[]>;
  /** Writes drafts: one row each in Trials (a planned one where the draft names it) and one formula row each in Results, as one step for undo. */
  addTrials(drafts: readonly TrialDraft[], options?: Partial<ApplyOptions>): Promise<WriteReceipt>;
  /** Rows of the Trials table without a trace, from the top. */
  planned(): Promise<readonly PlannedRow[]>;
  /** Writes planned trials, a row each in Trials, and the plan itself; names that Athletes lacks are added to it. One step for undo. */
  addPlan(steps: readonly import("./plan.ts").PlanStep[], options?: Partial<ApplyOptions>): Promise<Applied>;
  setKeep(key: string, keep: TrialRow["keep"], reason: string): Promise<Applied>;
  setAdjust(key: string, adjust: string): Promise<Applied>;
  settings(): Promise<Settings>;
  settingRows(): Promise<readonly SettingRow[]>;
  setSetting(id: string, value: string | number): Promise<Applied>;
  /** Metric names in the head of Results, left to right. */
  resultNames(): Promise<readonly string[]>;
  setResultNames(names: readonly string[]): Promise<Applied>;
  /** The Results cell that holds the formula of a trial. */
  resultCell(key: string): Promise<CellRef | undefined>;
  /** Verdicts that Results shows, by zero-based row on the Trials sheet; none of trials whose formula shows an error or something else. */
  verdicts(): Promise<ReadonlyMap<number, Verdict>>;
  /** Trials row cell of a trial. */
  trialCell(key: string): Promise<CellRef | undefined>;
  athletes(): Promise<readonly { name: string; mass?: number; stature?: number; squad?: string }[]>;
  undo(applied: Applied): Promise<void>;
}

/** What the trials list shows of one analysed trial. */
export interface TrialSummary {
  readonly key: string;
  readonly verdict: Verdict;
  /** The person's word wins over the verdict. */
  readonly use: "keep" | "leave out";
}

/** What the page gives the pane. */
export interface PaneServices {
  readonly host: import("../host/SheetHost.ts").SheetHost;
  readonly workbook: WorkbookModel;
  /** Absent in Excel, which has its own. */
  readonly files?: import("./workbookFiles.ts").WorkbookFiles;
  /** Resolves when the workbook holds what it opens with: until then, blank does not mean empty. */
  readonly filled?: Promise<void> | undefined;
}
