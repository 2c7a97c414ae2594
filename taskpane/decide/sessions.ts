import { resolveMetricName } from "../../src/catalogue/resolveMetricName.ts";
import type { Protocol } from "../../src/protocols/Protocol.ts";
import { likeText, type Instrument } from "../../src/sessions/likeText.ts";
import type { SessionChoice } from "../../src/sessions/sessionValue.ts";
import { summariseSession, type SessionSummary } from "../../src/sessions/summariseSession.ts";
import { typicalErrorsFromTrials, type TypicalErrors } from "../../src/sessions/typicalErrorsFromTrials.ts";
import type { Settings } from "../../src/settings/Settings.ts";
import type { DecideTrial } from "./DecideTrial.ts";

/** Trials of one athlete, one day, like protocol and one instrument, in the order they were made. */
export interface Session {
  readonly athlete: string;
  readonly date: string;
  readonly protocol: Protocol;
  readonly instrument: Instrument;
  /** Equal for sessions that may be compared: canonical protocol, and the instrument where it is no force plate. */
  readonly protocolText: string;
  readonly trials: readonly DecideTrial[];
}

/** Value of a session with what must be said beside it. */
export interface SessionResult {
  readonly session: Session;
  readonly value: number;
  readonly sd?: number;
  /** Standard uncertainty, in the unit of the metric. */
  readonly u?: number;
  /** Degrees of freedom of `u`. */
  readonly degreesOfFreedom?: number;
  /** Trials used. */
  readonly n: number;
  /** Fewer trials than the setting asks for. */
  readonly short: boolean;
  readonly doubtful: number;
  readonly leftOut: number;
  readonly findings: SessionSummary["findings"];
}

/** Sessions, oldest first. */
export function sessionsOf(trials: readonly DecideTrial[]): readonly Session[] {
  const found = new Map<string, { session: Session; trials: DecideTrial[] }>();
  for (const trial of trials) {
    const protocolText = likeText(trial.protocol, trial.instrument);
    const key = [trial.date, trial.athlete, protocolText].join("\u0001");
    let entry = found.get(key);
    if (entry === undefined) {
      const list: DecideTrial[] = [];
      entry = { session: { athlete: trial.athlete, date: trial.date, protocol: trial.protocol, instrument: trial.instrument ?? "plate", protocolText, trials: list }, trials: list };
      found.set(key, entry);
    }
    entry.trials.push(trial);
  }
  return [...found].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, { session }]) => session);
}

/** How the settings make one value of trials; a metric without a better direction has no best trial, so its mean is used. */
export function choiceOf(settings: Settings, name?: string): SessionChoice {
  const best = settings.values["session-value"] === "best" && (name === undefined || resolveMetricName(name).base.better !== "neither");
  return { rule: best ? "best" : "mean", trials: Number(settings.values["session-trials"]) };
}

/**
 * Value of a session; nothing where no valid trial gives the metric.
 *
 * The uncertainty is that of the squad's typical error within a day where it is known (it rests on more trials), else of the
 * scatter of these trials; a single trial without a typical error has none.
 */
export function sessionResult(session: Session, name: string, settings: Settings, errors?: TypicalErrors): SessionResult | undefined {
  const { id, base } = resolveMetricName(name);
  const choice = choiceOf(settings, name);
  const typicalError = errors?.squad;
  const summary = summariseSession(
    session.trials.map((trial, index) => {
      const value = trial.value(name);
      return {
        name: String(index + 1),
        protocol: trial.protocol,
        verdict: trial.verdict,
        ...(trial.doubtful ? {} : { choice: trial.use }),
        reason: trial.reason,
        metrics: new Map(value === undefined ? [] : [[id, value]]),
      };
    }),
    [{ id, better: base.better, ...(typicalError === undefined ? {} : { typicalError: typicalError.value }) }],
    choice,
    { isometricDifference: Number(settings.values["q20-difference"]), typicalErrors: Number(settings.values["q25-errors"]) },
  );
  const found = summary.values.get(id);
  if (found === undefined) return undefined;
  const shared = typicalError !== undefined && typicalError.degreesOfFreedom > found.count - 1;
  const u = shared && choice.rule === "mean" ? typicalError.value / Math.sqrt(found.count) : shared ? typicalError.value : found.u;
  return {
    session,
    value: found.value,
    ...(found.sd === undefined ? {} : { sd: found.sd }),
    ...(u === undefined || u === 0 ? {} : { u, degreesOfFreedom: shared ? typicalError.degreesOfFreedom : found.count - 1 }),
    n: found.count,
    short: found.short,
    doubtful: summary.doubtful.length,
    leftOut: summary.leftOut.length,
    findings: summary.findings,
  };
}

/** Typical errors of a metric from everybody's valid trials of like protocol and one instrument. */
export function typicalErrorsOf(trials: readonly DecideTrial[], name: string, protocolText: string, settings: Settings): TypicalErrors {
  const { base } = resolveMetricName(name);
  const records = trials.flatMap((trial) => {
    if (trial.use !== "keep" || likeText(trial.protocol, trial.instrument) !== protocolText) return [];
    const value = trial.value(name);
    return value === undefined ? [] : [{ person: trial.athlete, session: trial.date, value }];
  });
  return typicalErrorsFromTrials(records, choiceOf(settings, name), base.better);
}

/** The last session of each athlete with like protocol. */
export function latestSessions(sessions: readonly Session[], protocolText: string): readonly Session[] {
  const latest = new Map<string, Session>();
  for (const session of sessions) if (session.protocolText === protocolText) latest.set(session.athlete, session);
  return [...latest.values()];
}
