import type { MetricValue } from "../../src/protocols/Analysis.ts";
import { tracePicture } from "../plots/tracePicture.ts";
import type { AnalysedTrial } from "./analyseTrial.ts";
import { headline } from "./headline.ts";

/** What a list shows of a trial, small enough to be kept for all of them. */
export interface TrialLineContent {
  /** Path of the small trace, 72 by 36; blank where there is none. */
  readonly path: string;
  readonly value?: MetricValue;
  /** What a person should know of the trial first. */
  readonly finding: string;
  readonly problem?: string;
}

const lines = new WeakMap<AnalysedTrial, TrialLineContent>();

/** What a list shows of a trial: its analysis is looked at once, and need not stay. */
export function lineOf(trial: AnalysedTrial): TrialLineContent {
  let line = lines.get(trial);
  if (line === undefined) {
    line = read(trial);
    lines.set(trial, line);
  }
  return line;
}

function read(trial: AnalysedTrial): TrialLineContent {
  const { analysis } = trial;
  if (analysis === undefined) return { path: "", finding: "", problem: trial.problem };
  const value = headline(analysis);
  return {
    path: analysis.trace.plates.length === 0 ? "" : tracePicture(analysis.timeSeries().force, 72, 36),
    // Not the metric itself, which holds on to its analysis.
    ...(value && { value: { id: value.id, value: value.value, unit: value.unit } }),
    finding: analysis.findings.find((finding) => finding.action === "leave out" || finding.action === "look")?.message ?? "",
  };
}
