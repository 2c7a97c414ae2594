import type { MetricValue } from "../../src/protocols/Analysis.ts";
import { pooledTypicalError } from "../../src/statistics/pooledTypicalError.ts";
import type { SettingRow, TrialRow } from "../workbook/WorkbookModel.ts";
import { analyseTrial } from "./analyseTrial.ts";
import { headline } from "./headline.ts";

/** What a change of a setting would do. */
export interface SettingEffect {
  readonly trials: number;
  /** Trials whose headline number moves by more than the typical error, appears or goes. */
  readonly moved: number;
  /** Trials without a typical error, for want of a second trial of anybody's in a session: there the standard uncertainty is the measure. */
  readonly withoutError: number;
}

/** Longest stretch of work before the page gets to answer, ms. */
const STRETCH = 12;

/**
 * Counts the trials whose headline number a changed setting would move by more than the typical error of one trial, which the trials of the
 * workbook themselves give, by protocol; works a few at a time so that the page keeps answering.
 */
export async function effectOfSetting(trials: readonly TrialRow[], settings: readonly SettingRow[], id: string, value: string | number): Promise<SettingEffect> {
  const changed = settings.map((row) => (row.id === id ? { ...row, value } : row));
  let began = performance.now();
  const breathe = async (): Promise<void> => {
    if (performance.now() - began <= STRETCH) return;
    await new Promise((resolve) => setTimeout(resolve));
    began = performance.now();
  };
  const numbers: { readonly row: TrialRow; readonly before?: MetricValue; readonly after?: MetricValue }[] = [];
  /** Values of each person in each session, by kind. */
  const sessions = new Map<string, Map<string, number[]>>();
  for (const row of trials) {
    const { analysis, use } = analyseTrial(row, settings);
    const before = analysis === undefined ? undefined : headline(analysis);
    const { analysis: again } = analyseTrial(row, changed);
    numbers.push({ row, before, after: again === undefined ? undefined : headline(again) });
    if (before !== undefined && use === "keep") {
      const kind = kindOf(row, before);
      const ofKind = sessions.get(kind) ?? new Map<string, number[]>();
      sessions.set(kind, ofKind);
      const session = JSON.stringify([row.athlete, row.date]);
      ofKind.set(session, [...(ofKind.get(session) ?? []), before.value]);
    }
    await breathe();
  }
  const errors = new Map([...sessions].flatMap(([kind, ofKind]) => {
    const groups = [...ofKind.values()].filter((values) => values.length > 1);
    return groups.length === 0 ? [] : [[kind, pooledTypicalError(groups).value] as const];
  }));
  let moved = 0;
  let withoutError = 0;
  for (const { row, before, after } of numbers) {
    if (before === undefined || after === undefined) {
      moved += before === after ? 0 : 1;
      continue;
    }
    const error = errors.get(kindOf(row, before));
    if (error === undefined) withoutError++;
    if (before.id !== after.id || before.unit !== after.unit || Math.abs(after.value - before.value) > (error ?? before.u ?? 0)) moved++;
  }
  return { trials: trials.length, moved, withoutError };
}

/** Only numbers of one metric, unit and protocol share an error. */
function kindOf({ protocol }: TrialRow, { id, unit }: MetricValue): string {
  return `${protocol} ${id} ${unit}`;
}
