import { analysisFrom } from "../../functions/runtime/analyses.ts";
import type { Analysis, Verdict } from "../../src/protocols/Analysis.ts";
import { trialUse, type TrialUse } from "../../src/sessions/trialUse.ts";
import type { SettingRow, TrialRow } from "../workbook/WorkbookModel.ts";
import { sentenceOf } from "./PaneContext.tsx";

/** A trial of the sheet with what the analysis says of it; a trial that cannot be read has a problem instead. */
export interface AnalysedTrial extends TrialUse {
  readonly row: TrialRow;
  readonly analysis?: Analysis;
  /** One sentence why there is no analysis. */
  readonly problem?: string;
  readonly verdict: Verdict;
}

/**
 * Analyses a trial as its formula in Results does: same cache, same settings, the mass of its row joined to its adjust text. The analysis itself stays
 * in that cache, which is bounded: it is taken from there, or made again, whenever it is asked for.
 *
 * @param shown The verdict that Results shows for the trial: then nothing is analysed before somebody asks for more.
 */
export function analyseTrial(row: TrialRow, settings: readonly SettingRow[], shown?: Verdict): AnalysedTrial {
  const read = (): { readonly analysis?: Analysis; readonly problem?: string } => {
    try {
      const filled = row.packed.filter((cell) => cell !== "");
      return { analysis: analysisFrom([filled], row.protocol, settings.map((setting) => [setting.id, setting.value]), trialAdjust(row), undefined) };
    } catch (thrown) {
      return { problem: sentenceOf(thrown) };
    }
  };
  const verdict = shown ?? read().analysis?.verdict ?? "leave out";
  return {
    row,
    verdict,
    ...trialUse(verdict, row.keep === "" ? undefined : row.keep),
    get analysis() {
      return read().analysis;
    },
    get problem() {
      return read().problem;
    },
  };
}

/** The adjust text that the trial's formula passes. */
export function trialAdjust(row: Pick<TrialRow, "mass" | "adjust">): string {
  return `${row.mass !== undefined && row.mass > 0 ? `mass=${row.mass}; ` : ""}${row.adjust}`;
}
