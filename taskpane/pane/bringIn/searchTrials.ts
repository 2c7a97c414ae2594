import type { Test } from "../../../src/protocols/Protocol.ts";
import type { Trace } from "../../../src/trace/Trace.ts";
import { importDrafts, type FoundTrial } from "../../workbook/importDrafts.ts";

const searched = new WeakMap<Trace, Map<Test, readonly FoundTrial[]>>();

/** Trials of a recording, searched once for each test: names and facts are typed while the list is on show. */
export function searchTrials(trace: Trace, test: Test): readonly FoundTrial[] {
  const byTest = searched.get(trace) ?? new Map<Test, readonly FoundTrial[]>();
  searched.set(trace, byTest);
  let trials = byTest.get(test);
  if (trials === undefined) {
    trials = importDrafts(trace, { athlete: "", date: "", protocol: { test }, file: "", hash: "" });
    byTest.set(test, trials);
  }
  return trials;
}

/** Keeps trials that were searched elsewhere. */
export function keepTrials(trace: Trace, test: Test, trials: readonly FoundTrial[]): void {
  searched.set(trace, (searched.get(trace) ?? new Map<Test, readonly FoundTrial[]>()).set(test, trials));
}

/** Whether a recording's trials are known for this test. */
export function isSearched(trace: Trace, test: Test): boolean {
  return searched.get(trace)?.has(test) === true;
}
