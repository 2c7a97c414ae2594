import { trialKey } from "../../workbook/createWorkbookModel.ts";
import type { TrialDraft } from "../../workbook/WorkbookModel.ts";
import { factsOf } from "./factsOf.ts";
import type { CommonFacts, IncomingFile } from "./IncomingFile.ts";
import { searchTrials } from "./searchTrials.ts";

/** A row of the table of what will be written. */
export interface PlanRow {
  readonly key: string;
  readonly fileId: string;
  readonly draft: TrialDraft;
  readonly note?: string;
  /** True where it will not be written: already in the sheet, or twice on the list. */
  readonly already: boolean;
  /** s. */
  readonly length: number;
  /** False where nothing was found and the recording is kept whole. */
  readonly found: boolean;
}

/**
 * Every trial of the files that were read, with those known already marked.
 *
 * @param known Keys of the trials in the sheet.
 * @param masses Body mass by athlete, kg, where the sheet knows it; a typed mass wins.
 */
export function planOf(files: readonly IncomingFile[], common: CommonFacts, known: ReadonlySet<string>, masses: ReadonlyMap<string, number> = new Map()): readonly PlanRow[] {
  const rows: PlanRow[] = [];
  const seen = new Set(known);
  for (const incoming of files) {
    if (incoming.trace === undefined || incoming.recording === undefined) continue;
    const { protocol, mass } = factsOf({ ...common, test: incoming.test ?? common.test });
    const athlete = (incoming.athlete || common.athlete).trim();
    const knownMass = mass ?? masses.get(athlete);
    const shared = { athlete, date: incoming.date || common.date, protocol, ...(knownMass === undefined ? {} : { mass: knownMass }), file: incoming.file.name, hash: incoming.recording.hash };
    for (const found of searchTrials(incoming.trace, protocol.test)) {
      const draft: TrialDraft = { ...found.draft, ...shared };
      const key = trialKey(draft.hash, draft.startInFile);
      const trace = "plates" in draft.trace ? draft.trace : undefined;
      const length = trace === undefined ? 0 : trace.plates[0].force.length / trace.rate;
      rows.push({ key, fileId: incoming.id, draft, note: found.note, already: seen.has(key), length, found: found.whole !== true });
      seen.add(key);
    }
  }
  return rows;
}
