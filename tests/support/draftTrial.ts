import type { TrialDraft } from "../../taskpane/workbook/WorkbookModel.ts";

/** A trial to be brought in whose trace is only there to be stored: 64 samples of one plate, told from others by its hash. */
export function draftTrial(hash: string, athlete: string, more: Partial<TrialDraft> = {}): TrialDraft {
  return {
    athlete,
    date: "2026-03-14",
    protocol: { test: "CMJ" },
    file: "",
    startInFile: 0,
    hash,
    trace: { rate: 1000, plates: [{ role: "total", force: new Float64Array(64).fill(700) }], start: 0, step: 0, rounding: 0 },
    ...more,
  };
}
