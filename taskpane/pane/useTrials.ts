import { startTransition, useEffect, useRef, useState } from "react";
import type { Verdict } from "../../src/protocols/Analysis.ts";
import type { SettingRow, TrialRow } from "../workbook/WorkbookModel.ts";
import { analyseTrial, type AnalysedTrial } from "./analyseTrial.ts";
import { onQuietChange } from "./onQuietChange.ts";
import { sentenceOf, usePane } from "./PaneContext.tsx";

export interface TrialsState {
  /** `undefined` until the workbook was read. */
  readonly trials?: readonly AnalysedTrial[];
  /** Trials analysed so far of `total`. */
  readonly done: number;
  readonly total: number;
  readonly problem?: string;
}

/** Of more trials than these the verdicts are read from Results, and only what is looked at is analysed. */
const MANY = 400;

/** Longest stretch of work before the page gets to answer, ms. */
const STRETCH = 12;

/** The trials of the sheet, analysed a few at a time so that the page keeps answering; follows every change of the workbook. */
export function useTrials(): TrialsState {
  const { host, workbook } = usePane();
  const [state, setState] = useState<TrialsState>({ done: 0, total: 0 });
  const known = useRef(new Map<string, Known>());

  useEffect(() => {
    let run = 0;
    let over = false;

    const read = async (): Promise<void> => {
      const mine = ++run;
      const stale = (): boolean => over || mine !== run;
      try {
        // Protocols are formulas: a list of blank ones would be grouped anew a moment later. A host that keeps calculating is read as it stands.
        await host.settled().catch(() => undefined);
        if (stale()) return;
        const [rows, settings] = await Promise.all([workbook.trials(), workbook.settingRows()]);
        if (stale()) return;
        const verdicts = rows.length > MANY ? await workbook.verdicts() : NO_VERDICTS;
        if (stale()) return;
        const all = await analyseAll(rows, settings, verdicts, known.current, stale, (done) => setState((before) => ({ ...before, done, total: rows.length })));
        if (stale()) return;
        // A season of them takes a while to draw: in slices, between which the page answers.
        startTransition(() => setState({ trials: all, done: all.length, total: all.length }));
      } catch (thrown) {
        if (!stale()) setState((before) => ({ ...before, problem: sentenceOf(thrown) }));
      }
    };

    void read();
    const stop = onQuietChange(host, () => void read());
    return () => {
      over = true;
      stop();
    };
  }, [host, workbook]);

  return state;
}

const NO_VERDICTS: ReadonlyMap<number, Verdict> = new Map();

/** A trial as it was read last, and what it was made of. */
interface Known {
  readonly settings: string;
  readonly verdict?: Verdict;
  readonly trial: AnalysedTrial;
}

/** Whether two rows hold the same; the traces last, which are long. */
function isSame(a: TrialRow, b: TrialRow): boolean {
  const [{ packed: traceA, ...restA }, { packed: traceB, ...restB }] = [a, b];
  return JSON.stringify(restA) === JSON.stringify(restB) && traceA.length === traceB.length && traceA.every((cell, place) => cell === traceB[place]);
}

async function analyseAll(
  rows: readonly TrialRow[],
  settings: readonly SettingRow[],
  verdicts: ReadonlyMap<number, Verdict>,
  known: Map<string, Known>,
  stale: () => boolean,
  progress: (done: number) => void,
): Promise<readonly AnalysedTrial[]> {
  const settingsMark = settings.map((setting) => `${setting.id}=${setting.value}`).join(";");
  const seen = new Map<string, number>();
  const all: AnalysedTrial[] = [];
  let began = performance.now();
  for (const row of rows) {
    // Two rows of one recording have one key: each keeps its own analysis.
    const times = (seen.get(row.key) ?? 0) + 1;
    seen.set(row.key, times);
    const place = `${row.key} ${times}`;
    const verdict = verdicts.get(row.row);
    let entry = known.get(place);
    if (entry?.settings !== settingsMark || entry.verdict !== verdict || !isSame(entry.trial.row, row)) {
      entry = { settings: settingsMark, verdict, trial: analyseTrial(row, settings, verdict) };
      known.set(place, entry);
    }
    all.push(entry.trial);
    if (performance.now() - began > STRETCH) {
      progress(all.length);
      await new Promise((resolve) => setTimeout(resolve));
      if (stale()) return all;
      began = performance.now();
    }
  }
  for (const place of known.keys()) {
    const [key, times] = [place.slice(0, place.lastIndexOf(" ")), Number(place.slice(place.lastIndexOf(" ") + 1))];
    if ((seen.get(key) ?? 0) < times) known.delete(place);
  }
  return all;
}
