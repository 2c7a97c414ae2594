import type { Verdict } from "../protocols/Analysis.ts";

/** Whether a trial counts. A doubtful one counts until a person leaves it out; it is shown as doubtful. */
export interface TrialUse {
  readonly use: "keep" | "leave out";
  /** True where the recording asks for a look and no person has decided. */
  readonly doubtful: boolean;
  readonly decidedBy: "verdict" | "person";
}

/**
 * Whether a trial counts: the person's choice wins, a blank choice follows the verdict.
 *
 * Verdicts judge technique and recording, never the outcome.
 *
 * @param verdict Verdict of the trial, no unit.
 * @param choice The person's `keep` or `leave out`, no unit; absent: follow the verdict.
 * @returns Use of the trial, no unit.
 */
export function trialUse(verdict: Verdict, choice?: "keep" | "leave out"): TrialUse {
  if (choice !== undefined) return { use: choice, doubtful: false, decidedBy: "person" };
  return { use: verdict === "leave out" ? "leave out" : "keep", doubtful: verdict === "look", decidedBy: "verdict" };
}
