import { InputError } from "../errors.ts";
import type { Verdict } from "../protocols/Analysis.ts";
import { likeProtocols } from "../protocols/likeProtocols.ts";
import type { Protocol } from "../protocols/Protocol.ts";
import { isometricSpread, trialsFarFromSession } from "./sessionFindings.ts";
import type { SessionFinding } from "./sessionFindings.ts";
import { sessionValue } from "./sessionValue.ts";
import type { SessionChoice, SessionValue } from "./sessionValue.ts";
import { trialUse } from "./trialUse.ts";

/** One trial as a session sees it. */
export interface SessionTrial {
  /** How the trial is named to a person: its number, or file and start. */
  readonly name: string;
  readonly protocol: Protocol;
  readonly verdict: Verdict;
  /** The person's own choice; absent: follow the verdict. */
  readonly choice?: "keep" | "leave out";
  /** Why it is left out, as the person or the findings say. */
  readonly reason?: string;
  /** Values by metric id, SI units; a metric that the trial cannot give is absent. */
  readonly metrics: ReadonlyMap<string, number>;
}

/** What is asked of a session. */
export interface SessionMetric {
  readonly id: string;
  readonly better: "higher" | "lower" | "neither";
  /** Typical error of one trial, in the unit of the metric, for Q25; absent: not checked. */
  readonly typicalError?: number;
}

/** A session of one person and one protocol. */
export interface SessionSummary {
  readonly protocol: Protocol;
  /** Trials that count, in order. */
  readonly used: readonly string[];
  /** Of these, the ones that ask for a look and on which nobody has decided. */
  readonly doubtful: readonly string[];
  readonly leftOut: readonly { readonly name: string; readonly reason: string }[];
  /** Values by metric id. */
  readonly values: ReadonlyMap<string, SessionValue>;
  /** Why a metric has no value, by id. */
  readonly missing: ReadonlyMap<string, string>;
  readonly findings: readonly (SessionFinding & { readonly metric: string })[];
}

/** Limits of the rules that compare trials; absent ones take their defaults. */
export interface SessionLimits {
  /** Q20, N. @default 250 */
  readonly isometricDifference?: number;
  /** Q25, typical errors. @default 3 */
  readonly typicalErrors?: number;
}

/**
 * Summary of the trials of one person, one day and one protocol: a value for each metric from the valid trials.
 *
 * Trials that are left out stay in the summary with the reason. Trials of unlike protocols are
 * refused, since a mean over them means nothing.
 *
 * @param trials Trials in the order they were made; values in SI units.
 * @param metrics Metrics asked for, with typical errors in their units.
 * @param choice Mean or best, and of how many trials, no unit.
 * @param limits Limits of the rules that compare trials.
 * @returns Session values in the units of the metrics, and what was found.
 * @throws {InputError} `not-available` without trials, or with the reason where protocols are unlike.
 * @see Claudino et al. (2017); Comfort et al. (2019).
 */
export function summariseSession(
  trials: readonly SessionTrial[],
  metrics: readonly SessionMetric[],
  choice: SessionChoice,
  limits: SessionLimits = {},
): SessionSummary {
  if (trials.length === 0) throw new InputError("not-available", "session requires at least one trial");
  const protocol = trials[0].protocol;
  for (const trial of trials) {
    const reason = likeProtocols(protocol, trial.protocol);
    if (reason !== undefined) throw new InputError("not-available", `session requires trials of one protocol: ${reason}`, trial.name);
  }
  const used: SessionTrial[] = [];
  const doubtful: string[] = [];
  const leftOut: { name: string; reason: string }[] = [];
  for (const trial of trials) {
    const { use, doubtful: ask } = trialUse(trial.verdict, trial.choice);
    if (use === "leave out") leftOut.push({ name: trial.name, reason: trial.reason ?? "" });
    else used.push(trial);
    if (ask) doubtful.push(trial.name);
  }
  const values = new Map<string, SessionValue>();
  const missing = new Map<string, string>();
  const findings: (SessionFinding & { metric: string })[] = [];
  for (const { id, better, typicalError } of metrics) {
    const there = used.filter((trial) => trial.metrics.has(id));
    const numbers = there.map((trial) => trial.metrics.get(id)!);
    try {
      values.set(id, sessionValue(numbers, choice, better));
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      missing.set(id, error.message);
      continue;
    }
    const found = typicalError === undefined ? [] : trialsFarFromSession(numbers, typicalError, limits.typicalErrors);
    if (protocol.test === "IMTP" && id === "peakForce") {
      const spread = isometricSpread(numbers, limits.isometricDifference);
      if (spread) found.push(spread);
    }
    for (const finding of found) {
      const trial = finding.trial === undefined ? undefined : used.indexOf(there[finding.trial]);
      findings.push({ ...finding, trial, metric: id });
    }
  }
  return { protocol, used: used.map((trial) => trial.name), doubtful, leftOut, values, missing, findings };
}
