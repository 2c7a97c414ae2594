import type { SettingRow, TrialRow } from "../workbook/WorkbookModel.ts";
import { analyseTrial } from "./analyseTrial.ts";
import { headline } from "./headline.ts";

/** What a change of a setting would do. */
export interface SettingEffect {
  readonly trials: number;
  /** Trials whose headline number moves by more than its standard uncertainty, appears or goes. */
  readonly moved: number;
}

/** Counts the trials whose headline number a changed setting would move; works a few at a time so that the page keeps answering. */
export async function effectOfSetting(trials: readonly TrialRow[], settings: readonly SettingRow[], id: string, value: string | number): Promise<SettingEffect> {
  const changed = settings.map((row) => (row.id === id ? { ...row, value } : row));
  let moved = 0;
  let began = performance.now();
  for (const row of trials) {
    const [before, after] = [analyseTrial(row, settings), analyseTrial(row, changed)].map(({ analysis }) => (analysis === undefined ? undefined : headline(analysis)));
    if (before === undefined || after === undefined) moved += before === after ? 0 : 1;
    else if (before.id !== after.id || before.unit !== after.unit || Math.abs(after.value - before.value) > (before.u ?? 0)) moved++;
    if (performance.now() - began > 12) {
      await new Promise((resolve) => setTimeout(resolve));
      began = performance.now();
    }
  }
  return { trials: trials.length, moved };
}
