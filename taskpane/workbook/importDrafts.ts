import { findTrials } from "../../src/events/findTrials.ts";
import type { Protocol } from "../../src/protocols/Protocol.ts";
import { sliceTrace } from "../../src/trace/sliceTrace.ts";
import type { Trace } from "../../src/trace/Trace.ts";
import type { TrialDraft } from "./WorkbookModel.ts";

/** Facts about a file that its trials share. */
export interface FileFacts {
  readonly athlete: string;
  readonly date: string;
  readonly protocol: Protocol;
  readonly mass?: number;
  readonly file: string;
  readonly hash: string;
}

/** A trial found in a recording; `note` says why the window is what it is, where that needs saying. */
export interface FoundTrial {
  readonly draft: TrialDraft;
  readonly note?: string;
  /** True where nothing was found and the recording is kept whole. */
  readonly whole?: true;
}

/**
 * Cuts a recording into its trials: each window of `findTrials` becomes one draft.
 *
 * A recording in which nothing was found is kept whole, so that its findings can say why.
 */
export function importDrafts(trace: Trace, facts: FileFacts): readonly FoundTrial[] {
  const { protocol, ...rest } = facts;
  const windows = findTrials(trace, protocol.test);
  if (windows.length === 0) {
    return [{ draft: { ...rest, protocol, startInFile: trace.start, trace }, whole: true }];
  }
  return windows.map((window) => {
    const cut = sliceTrace(trace, window.start, window.end);
    const draft: TrialDraft = { ...rest, protocol, startInFile: cut.start, trace: cut };
    return window.reason === undefined ? { draft } : { draft, note: window.reason };
  });
}
