import { VERSION } from "../../src/version.ts";
import { explainMetric } from "../explain/explainMetric.ts";
import { isTextId } from "../explain/metricNamesOf.ts";
import { instrumentOf } from "../../src/sessions/likeText.ts";
import type { RecordDraft, RecordRow } from "../workbook/record.ts";
import { trialAdjust, type AnalysedTrial } from "./analyseTrial.ts";
import { words } from "./words.ts";

/**
 * A trial ready for the Record sheet: the metrics of the Results head that it gives, as plain values.
 *
 * @param names Head of Results, with units.
 * @returns `undefined` for a trial that could not be analysed.
 */
export function recordDraftOf({ row, analysis, verdict, use }: AnalysedTrial, names: readonly string[]): RecordDraft | undefined {
  if (analysis === undefined) return undefined;
  const metrics = names.flatMap((name): RecordDraft["metrics"] => {
    const value = liveValue(analysis, name);
    return value === undefined ? [] : [{ name, value: value.value, ...(value.u === undefined ? {} : { u: value.u }) }];
  });
  const instrument = instrumentOf(row.packed[0] ?? "");
  return { athlete: row.athlete, date: row.date, protocol: row.protocol, use, verdict, key: row.key, adjust: trialAdjust(row), settingsDigest: analysis.settings.digest, ...(instrument === "plate" ? {} : { instrument }), metrics };
}

/** What of a recorded trial differs from the live one, and why. */
export interface RecordDifference {
  readonly name: string;
  readonly recorded: number;
  /** Absent where the trial no longer gives the metric. */
  readonly live?: number;
}

/** Relative difference below which two numbers are the same: the sheet keeps full precision, so this is rounding alone. */
const SAME = 1e-9;

/** Metrics whose recorded value is not the live one. */
export function recordDifferences({ analysis }: AnalysedTrial, recorded: RecordRow): readonly RecordDifference[] {
  if (analysis === undefined) return [];
  return [...recorded.values].flatMap(([name, { value }]): RecordDifference[] => {
    const live = liveValue(analysis, name)?.value;
    if (live !== undefined && Math.abs(live - value) <= SAME * Math.max(Math.abs(value), Math.abs(live))) return [];
    return [{ name, recorded: value, ...(live === undefined ? {} : { live }) }];
  });
}

/** Why a recorded trial may differ from the live one: what was recorded beside the values and is no longer so. */
export function differenceReasons({ row, analysis }: AnalysedTrial, recorded: RecordRow): readonly string[] {
  const reasons: string[] = [];
  if (analysis !== undefined && recorded.settingsDigest !== analysis.settings.digest) reasons.push(words.record.settings);
  if (recorded.version !== VERSION) reasons.push(words.record.version(recorded.version, VERSION));
  if (recorded.protocol !== row.protocol) reasons.push(words.record.protocol(recorded.protocol));
  return reasons.length > 0 ? reasons : [words.record.trial];
}

function liveValue(analysis: NonNullable<AnalysedTrial["analysis"]>, name: string): { readonly value: number; readonly u?: number } | undefined {
  if (name.trim() === "" || isTextId(name)) return undefined;
  try {
    return explainMetric(analysis, name).value;
  } catch {
    return undefined;
  }
}
