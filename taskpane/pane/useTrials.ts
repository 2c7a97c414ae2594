import { useEffect, useRef, useState } from "react";
import type { SettingRow, TrialRow } from "../workbook/WorkbookModel.ts";
import { analyseTrial, type AnalysedTrial } from "./analyseTrial.ts";
import { sentenceOf, usePane } from "./PaneContext.tsx";

export interface TrialsState {
  /** `undefined` until the workbook was read. */
  readonly trials?: readonly AnalysedTrial[];
  /** Trials analysed so far of `total`. */
  readonly done: number;
  readonly total: number;
  readonly problem?: string;
}

/** Longest stretch of work before the page gets to answer, ms. */
const STRETCH = 12;

/** The trials of the sheet, analysed a few at a time so that the page keeps answering; follows every change of the workbook. */
export function useTrials(): TrialsState {
  const { host, workbook } = usePane();
  const [state, setState] = useState<TrialsState>({ done: 0, total: 0 });
  const known = useRef(new Map<string, { readonly mark: string; readonly trial: AnalysedTrial }>());

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
        const all = await analyseAll(rows, settings, known.current, stale, (done) => setState((before) => ({ ...before, done, total: rows.length })));
        if (stale()) return;
        setState({ trials: all, done: all.length, total: all.length });
      } catch (thrown) {
        if (!stale()) setState((before) => ({ ...before, problem: sentenceOf(thrown) }));
      }
    };

    void read();
    let timer: ReturnType<typeof setTimeout> | undefined;
    const stop = host.onChange(() => {
      clearTimeout(timer);
      timer = setTimeout(() => void read(), 120);
    });
    return () => {
      over = true;
      clearTimeout(timer);
      stop();
    };
  }, [host, workbook]);

  return state;
}

async function analyseAll(
  rows: readonly TrialRow[],
  settings: readonly SettingRow[],
  known: Map<string, { readonly mark: string; readonly trial: AnalysedTrial }>,
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
    const mark = JSON.stringify([settingsMark, row]);
    let entry = known.get(place);
    if (entry?.mark !== mark) {
      entry = { mark, trial: analyseTrial(row, settings) };
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
