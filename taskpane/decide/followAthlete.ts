import { resolveMetricName } from "../../src/catalogue/resolveMetricName.ts";
import { unitUnder } from "../../src/catalogue/unitUnder.ts";
import { likeProtocols } from "../../src/protocols/likeProtocols.ts";
import type { Protocol, Test } from "../../src/protocols/Protocol.ts";
import { followSeries, type FollowPoint } from "../../src/sessions/followSeries.ts";
import { instrumentReason } from "../../src/sessions/likeText.ts";
import type { Settings } from "../../src/settings/Settings.ts";
import { betweenPeopleSd } from "../../src/statistics/betweenPeopleSd.ts";
import { individualChange } from "../../src/statistics/individualChange.ts";
import { smallestWorthwhileChange } from "../../src/statistics/smallestWorthwhileChange.ts";
import type { TypicalError } from "../../src/statistics/typicalError.ts";
import { readBaseline, readChange, type Reading } from "../../src/wording/readings.ts";
import type { DecideTrial } from "./DecideTrial.ts";
import { latestSessions, sessionResult, sessionsOf, typicalErrorsOf, type Session } from "./sessions.ts";

/** A session on the chart. */
export interface FollowedSession extends FollowPoint {
  readonly protocolText: string;
  readonly n: number;
  readonly short: boolean;
}

/** One person and one metric over time, with what the chart and the words beside it need. */
export interface Followed {
  readonly athlete: string;
  readonly name: string;
  readonly unit: string;
  readonly points: readonly FollowedSession[];
  /** Trials that were left out: drawn hollow and crossed, and part of nothing. */
  readonly leftOut: readonly { readonly date: string; readonly value: number }[];
  /** Error of a session value between days, from the squad; absent where fewer than two people have two sessions. */
  readonly typicalError?: TypicalError;
  /** Whether the band uses it. */
  readonly bandFrom: "typicalError" | "own";
  readonly smallestWorthwhile?: number;
  /** The last session of each person with the protocol of the last point, which the smallest worthwhile change comes from. */
  readonly last: readonly { readonly athlete: string; readonly date: string }[];
  /** The last session against its band. */
  readonly baseline?: Reading;
  /** The last session against the one before of like protocol. */
  readonly change?: Reading;
}

/** What is followed as one series: a test and its limb. Arms, drop height and load may change within it; the chart marks it. */
export interface Series {
  readonly test: Test;
  readonly limb?: "left" | "right";
}

export function seriesOf({ test, limb }: Protocol): Series {
  return limb === "left" || limb === "right" ? { test, limb } : { test };
}

/** Text that is equal for equal series. */
export function seriesText({ test, limb }: Series): string {
  return limb === undefined ? test : `${test} limb=${limb}`;
}

/**
 * Follows one person in one metric. Sessions of unlike protocol never count in each other's band.
 *
 * @param trials Recorded trials of everybody: the others give the typical error.
 * @param series Test and limb.
 * @param name Metric as the head of the Record sheet names it, in its unit.
 * @param label Name of the metric in words.
 */
export function followAthlete(trials: readonly DecideTrial[], athlete: string, series: Series, name: string, label: string, settings: Settings): Followed {
  const metric = resolveMetricName(name);
  const { base } = metric;
  const unit = unitUnder(metric, settings);
  const all = sessionsOf(trials);
  const own = all.filter((session) => session.athlete === athlete && seriesText(seriesOf(session.protocol)) === seriesText(series));
  const results = own.flatMap((session) => sessionResult(session, name, settings) ?? []);
  const last = results[results.length - 1];
  const error = last === undefined ? undefined : typicalErrorsOf(trials, name, last.session.protocolText, settings).betweenSessions;
  const usable = error !== undefined && error.value > 0;
  const bandFrom = usable && settings.values["baseline-band"] === "typical error" ? "typicalError" : "own";
  const points: FollowedSession[] = new Array<FollowedSession>(results.length);
  for (const text of new Set(results.map((result) => result.session.protocolText))) {
    const places = results.flatMap((result, at) => (result.session.protocolText === text ? [at] : []));
    const its = typicalErrorsOf(trials, name, text, settings).betweenSessions;
    const followed = followSeries(
      places.map((at) => ({ date: results[at].session.date, value: results[at].value, protocol: results[at].session.protocol, doubtful: results[at].doubtful > 0 })),
      {
        sessions: Number(settings.values["baseline-sessions"]),
        weight: Number(settings.values["ewma-weight"]),
        ...(settings.values["baseline-band"] === "typical error" && its !== undefined && its.value > 0 ? { typicalError: its.value, degreesOfFreedom: its.degreesOfFreedom } : {}),
      },
    );
    places.forEach((at, order) => {
      const protocolChange = at === 0 ? undefined : changeOf(results[at - 1].session, results[at].session);
      points[at] = { ...followed[order], protocolChange, protocolText: text, n: results[at].n, short: results[at].short };
    });
  }
  const lastOfSquad = last === undefined ? [] : latestSessions(all, last.session.protocolText).flatMap((session) => sessionResult(session, name, settings) ?? []);
  const smallestWorthwhile = last === undefined ? undefined : worthwhile(lastOfSquad.map(({ value }) => value), settings);
  const printed = { name: label, unit, better: base.better };
  const latest = points[points.length - 1];
  const before = latest === undefined ? undefined : [...points.slice(0, -1)].reverse().find((point) => point.protocolText === latest.protocolText);
  return {
    athlete,
    name,
    unit,
    points,
    leftOut: own.flatMap((session) =>
      session.trials.flatMap((trial) => {
        const value = trial.use === "leave out" ? trial.value(name) : undefined;
        return value === undefined ? [] : [{ date: session.date, value }];
      }),
    ),
    ...(usable ? { typicalError: error } : {}),
    bandFrom,
    last: lastOfSquad.map(({ session: { athlete: name, date } }) => ({ athlete: name, date })),
    ...(smallestWorthwhile === undefined ? {} : { smallestWorthwhile }),
    ...(latest?.band === undefined ? {} : { baseline: readBaseline(latest.value, latest.band, printed) }),
    ...(before === undefined || !usable
      ? {}
      : {
          change: readChange(
            {
              before: before.value,
              after: latest.value,
              change: individualChange(before.value, latest.value, error.value, { degreesOfFreedom: error.degreesOfFreedom, level: Number(settings.values["change-level"]) / 100, smallestWorthwhile }),
              smallestWorthwhile,
              probabilities: settings.values["change-display"] === "probability",
            },
            printed,
          ),
        }),
  };
}

/** Why a session is not comparable with the one before it. */
function changeOf(before: Session, after: Session): string | undefined {
  return likeProtocols(before.protocol, after.protocol) ?? instrumentReason([before.instrument, after.instrument]);
}

/** Smallest worthwhile change from one value of each person; nothing from fewer than two, or from equal ones. */
function worthwhile(values: readonly number[], settings: Settings): number | undefined {
  if (values.length < 2) return undefined;
  const spread = betweenPeopleSd(values.map((value) => [value])).value;
  return spread > 0 ? smallestWorthwhileChange(spread, Number(settings.values["swc-factor"])) : undefined;
}
