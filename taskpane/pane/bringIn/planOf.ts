import { trialKey } from "../../workbook/createWorkbookModel.ts";
import { importDrafts } from "../../workbook/importDrafts.ts";
import type { TrialDraft } from "../../workbook/WorkbookModel.ts";
import type { CommonFacts, IncomingFile } from "./IncomingFile.ts";
import type { ReadFacts } from "./factsOf.ts";

/** A row of the table of what will be written. */
export interface PlanRow {
  readonly key: string;
  readonly fileId: string;
  readonly draft: TrialDraft;
  readonly note?: string;
  /** Why it will not be written: already in the sheet, or twice on the list. */
  readonly already: boolean;
  /** s. */
  readonly length: number;
  /** False where nothing was found and the recording is kept whole. */
  readonly found: boolean;
}

/** Every trial of the files that were read, with those known already marked. */
export function planOf(files: readonly IncomingFile[], common: CommonFacts, facts: ReadFacts, known: ReadonlySet<string>): readonly PlanRow[] {
  const rows: PlanRow[] = [];
  const seen = new Set(known);
  for (const incoming of files) {
    if (incoming.trace === undefined || incoming.recording === undefined) continue;
    const trials = importDrafts(incoming.trace, {
      athlete: (incoming.athlete || common.athlete).trim(),
      date: incoming.date || common.date,
      protocol: facts.protocol,
      ...(facts.mass === undefined ? {} : { mass: facts.mass }),
      file: incoming.file.name,
      hash: incoming.recording.hash,
    });
    for (const { draft, note } of trials) {
      const key = trialKey(draft.hash, draft.startInFile);
      const trace = "plates" in draft.trace ? draft.trace : undefined;
      const length = trace === undefined ? 0 : trace.plates[0].force.length / trace.rate;
      rows.push({ key, fileId: incoming.id, draft, note, already: seen.has(key), length, found: trace !== incoming.trace });
      seen.add(key);
    }
  }
  return rows;
}
