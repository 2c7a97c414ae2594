import { resolveMetricName } from "../../src/catalogue/resolveMetricName.ts";
import { unitUnder } from "../../src/catalogue/unitUnder.ts";
import { InputError } from "../../src/errors.ts";
import { squadTable, type SquadTable } from "../../src/sessions/squadTable.ts";
import type { Settings } from "../../src/settings/Settings.ts";
import type { DecideTrial } from "./DecideTrial.ts";
import { latestSessions, sessionResult, sessionsOf, typicalErrorsOf, type SessionResult } from "./sessions.ts";

/** A squad in one metric of one protocol: the last session of each person. */
export interface Squad {
  readonly name: string;
  readonly unit: string;
  readonly protocolText: string;
  /** By name of the athlete. */
  readonly results: ReadonlyMap<string, SessionResult>;
  readonly table?: SquadTable;
  /** Why there is no table. */
  readonly reason?: string;
  /** Where the margin comes from; the error within a day is too small for comparisons between days, and is said to be. */
  readonly errorFrom?: "between days" | "within a day";
}

/** Squad table of the last sessions; places only as far as the typical error allows. */
export function squadOf(trials: readonly DecideTrial[], protocolText: string, name: string, settings: Settings): Squad {
  const metric = resolveMetricName(name);
  const { base } = metric;
  const unit = unitUnder(metric, settings);
  const sessions = sessionsOf(trials);
  const errors = typicalErrorsOf(trials, name, protocolText, settings);
  const results = new Map<string, SessionResult>();
  const athletes = new Set(sessions.map((session) => session.athlete));
  for (const session of latestSessions(sessions, protocolText)) {
    const result = sessionResult(session, name, settings, errors);
    if (result !== undefined) results.set(session.athlete, result);
  }
  const between = errors.betweenSessions;
  const fewest = Math.min(...[...results.values()].map((result) => result.n));
  const typicalError = between !== undefined && between.value > 0 ? between.value : errors.squad !== undefined && errors.squad.value > 0 ? errors.squad.value / Math.sqrt(fewest) : undefined;
  const shared = {
    name,
    unit,
    protocolText,
    results,
    ...(typicalError === undefined ? {} : { errorFrom: between !== undefined && between.value > 0 ? ("between days" as const) : ("within a day" as const) }),
  };
  try {
    const members = [...athletes].map((athlete) => ({ name: athlete, value: results.get(athlete)?.value }));
    return { ...shared, table: squadTable(members, base.better === "lower" ? "lower" : "higher", base.better === "neither" ? undefined : typicalError) };
  } catch (thrown) {
    if (!(thrown instanceof InputError)) throw thrown;
    return { ...shared, reason: thrown.message };
  }
}
