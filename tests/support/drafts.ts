import type { TrialDraft } from "../../taskpane/workbook/WorkbookModel.ts";

/** A trial of six seconds on two plates with a noise of one newton: what a folder import writes by the hundred. */
export function drafts(count: number): TrialDraft[] {
  let seed = 12345;
  const noise = () => {
    seed = (seed * 1103515245 + 12345) % 2147483648;
    return seed / 2147483648 - 0.5;
  };
  const force = () => Float64Array.from({ length: 6000 }, () => 360 + Math.round(40 * noise()) / 10);
  return Array.from({ length: count }, (_, index) => ({
    athlete: `Person ${index % 40}`,
    date: "2026-03-14",
    protocol: { test: "CMJ", arms: "hips" },
    file: `trial${index}.csv`,
    startInFile: 0,
    hash: `h${index}`,
    trace: { rate: 1000, plates: [{ role: "left", force: force() }, { role: "right", force: force() }], start: 0, step: 0.1, rounding: 0 },
  }));
}
