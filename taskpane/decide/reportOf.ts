import { resolveMetricName } from "../../src/catalogue/resolveMetricName.ts";
import { unitUnder } from "../../src/catalogue/unitUnder.ts";
import { likeText } from "../../src/sessions/likeText.ts";
import type { Settings } from "../../src/settings/Settings.ts";
import type { Reading } from "../../src/wording/readings.ts";
import { SI } from "../pane/shownUnits.ts";
import type { UnitChoice } from "../pane/withUnits.ts";
import { isTextId } from "../explain/metricNamesOf.ts";
import { combineAthlete, type AthleteCombination } from "./combineAthlete.ts";
import type { DecideTrial } from "./DecideTrial.ts";
import { followAthlete, seriesOf, seriesText, type Followed } from "./followAthlete.ts";
import { dropProfilesOf, loadProfilesOf, type DropResult, type LoadResult } from "./profilesOf.ts";
import { sessionResult, sessionsOf, typicalErrorsOf, type Session, type SessionResult } from "./sessions.ts";
import { sideMetrics, sidesOfAthlete, type Sides } from "./sidesOfAthlete.ts";

/** One number of a report, with all that must be said beside it. */
export interface ReportLine {
  readonly name: string;
  readonly unit: string;
  readonly result: SessionResult;
}

/** The last session of one protocol. */
export interface ReportSession {
  readonly session: Session;
  readonly lines: readonly ReportLine[];
  readonly doubtful: number;
}

/** What a reading was made of: enough to make it again from formulas. */
export type ReadingSource =
  | { readonly kind: "combination"; readonly of: AthleteCombination }
  /** Sessions up to this one, oldest first. */
  | { readonly kind: "sides"; readonly of: readonly Sides[] }
  | { readonly kind: "baseline" | "change"; readonly of: Followed }
  | { readonly kind: "drop"; readonly of: DropResult }
  | { readonly kind: "load"; readonly of: LoadResult };

/** A reading with its heading in words of the pane: a kind of combination, a metric. */
export type ReportReading = ReadingSource & {
  /** What it is about: a combination as kind, metric and basis, else a metric. */
  readonly about: string;
  /** Protocols of the components. */
  readonly protocols: readonly string[];
  readonly date: string;
  readonly reading: Reading;
};

/** Everything on the page of one athlete. Trials left out are no part of it. */
export interface AthleteReport {
  readonly athlete: string;
  readonly sessions: readonly ReportSession[];
  readonly readings: readonly ReportReading[];
  /** The headline metric of each series over time, from the Record. */
  readonly followed: readonly Followed[];
  readonly drops: readonly DropResult[];
  readonly loads: readonly LoadResult[];
}

/** The metrics of a report: numbers of the head of Results, in its units. */
export function reportNames(head: readonly string[]): readonly string[] {
  return head.filter((name) => {
    if (name.trim() === "" || isTextId(name)) return false;
    try {
      resolveMetricName(name);
      return true;
    } catch {
      return false;
    }
  });
}

/**
 * The report of one athlete: the last session of each protocol, and what may be read from them.
 *
 * @param live Trials as they are now, of everybody.
 * @param recorded Recorded trials of everybody, for what is followed over time.
 * @param head Names in the head of Results.
 * @param label Name of a metric in words.
 * @param units Units of what readings say. @default SI
 */
export function reportOf(live: readonly DecideTrial[], recorded: readonly DecideTrial[], athlete: string, head: readonly string[], label: (name: string) => string, settings: Settings, units: UnitChoice = SI): AthleteReport {
  const names = reportNames(head);
  const last = new Map<string, Session>();
  for (const session of sessionsOf(live)) if (session.athlete === athlete) last.set(session.protocolText, session);
  const sessions = [...last.values()].flatMap((session): ReportSession[] => {
    const lines = names.flatMap((name): ReportLine[] => {
      const result = sessionResult(session, name, settings, typicalErrorsOf(live, name, session.protocolText, settings));
      return result === undefined ? [] : [{ name, unit: unitUnder(resolveMetricName(name), settings), result }];
    });
    return lines.length === 0 ? [] : [{ session, lines, doubtful: session.trials.filter((trial) => trial.doubtful).length }];
  });
  const days = [...new Set(sessions.map(({ session }) => session.date))];
  const readings: ReportReading[] = days.flatMap((date) =>
    combineAthlete(live, athlete, date, settings, units).flatMap((of): ReportReading[] => {
      const { kind, name, reading, results, combined } = of;
      return reading === undefined ? [] : [{ kind: "combination", of, about: [kind, name, combined?.basis ?? ""].join(" ").trim(), protocols: results.map((result) => result.session.protocolText), date, reading }];
    }),
  );
  for (const { session } of sessions) {
    const [name] = sideMetrics(session.protocol.test);
    if (name === undefined) continue;
    const all = sidesOfAthlete(live, athlete, session.protocolText, name, settings);
    const sides = all.at(-1);
    if (sides?.reading !== undefined && sides.date === session.date) readings.push({ kind: "sides", of: all, about: name, protocols: sides.protocols, date: session.date, reading: sides.reading });
  }
  const followed = [...new Map(sessions.map(({ session, lines }) => [seriesText(seriesOf(session.protocol)), { series: seriesOf(session.protocol), name: lines[0].name }])).values()].flatMap(({ series, name }) => {
    const found = followAthlete(recorded, athlete, series, name, label(name), settings);
    return found.points.length > 1 ? [found] : [];
  });
  for (const { session, lines: [{ name }] } of sessions) {
    // The band and the change of each protocol: on a day of several, none hides behind another.
    const like = recorded.filter((trial) => trial.athlete !== athlete || likeText(trial.protocol, trial.instrument) === session.protocolText);
    const each = followAthlete(like, athlete, seriesOf(session.protocol), name, label(name), settings);
    const point = each.points[each.points.length - 1];
    if (point === undefined) continue;
    if (each.baseline !== undefined) readings.push({ kind: "baseline", of: each, about: each.name, protocols: [point.protocolText], date: point.date, reading: each.baseline });
    if (each.change !== undefined) readings.push({ kind: "change", of: each, about: each.name, protocols: [point.protocolText], date: point.date, reading: each.change });
  }
  const drops = days.flatMap((date) => dropProfilesOf(live, athlete, date, settings, units).filter((drop) => drop.profile !== undefined).map((drop) => ({ ...drop, date })));
  const loads = days.flatMap((date) => loadProfilesOf(live, athlete, date, settings, units).filter((load) => load.profile !== undefined).map((load) => ({ ...load, date })));
  for (const drop of drops) if (drop.reading !== undefined) readings.push({ kind: "drop", of: drop, about: "rsi", protocols: [drop.protocolText], date: drop.date, reading: drop.reading });
  for (const load of loads) if (load.reading !== undefined) readings.push({ kind: "load", of: load, about: "jumpHeight", protocols: [load.protocolText], date: load.date, reading: load.reading });
  return { athlete, sessions, readings, followed, drops, loads };
}
