import { InputError } from "../../src/errors.ts";
import { likeText } from "../../src/sessions/likeText.ts";
import { loadProfile, type LoadProfile } from "../../src/sessions/loadProfile.ts";
import type { Settings } from "../../src/settings/Settings.ts";
import { dropHeightProfile, type DropHeightProfile } from "../../src/statistics/dropHeightProfile.ts";
import { mean } from "../../src/statistics/moments.ts";
import { pooledTypicalError, type PooledTypicalError } from "../../src/statistics/pooledTypicalError.ts";
import { readDropProfile, readLoadProfile, type Reading, type ReadingUnits } from "../../src/wording/readings.ts";
import { shownUnit, SI } from "../pane/shownUnits.ts";
import type { UnitChoice } from "../pane/withUnits.ts";
import type { DecideTrial } from "./DecideTrial.ts";
import { sessionResult, sessionsOf, type Session } from "./sessions.ts";

/** Reactive strength of an athlete over the drop heights of one day, or why there is none. */
export interface DropResult {
  readonly protocolText: string;
  /** One for each drop height that gives index and contact time, lowest first. */
  readonly sessions: readonly Session[];
  readonly profile?: DropHeightProfile;
  readonly typicalError?: PooledTypicalError;
  readonly reading?: Reading;
  readonly reason?: string;
}

/** Force-velocity line of an athlete's loaded jumps of one day, or why there is none. */
export interface LoadResult {
  readonly protocolText: string;
  /** One for each load that gives height, push-off distance and mass, lightest first. */
  readonly sessions: readonly Session[];
  readonly profile?: LoadProfile;
  readonly bodyMass?: number;
  readonly pushOff?: number;
  readonly reading?: Reading;
  readonly reason?: string;
}

/**
 * Profiles over drop heights of one day, one for each way of performing them (arms, limb, load).
 *
 * The typical error of one trial is pooled over everybody's drop jumps of the same height and day.
 *
 * @param units Units of what the reading says; the numbers beside it are SI. @default SI
 */
export function dropProfilesOf(trials: readonly DecideTrial[], athlete: string, date: string, settings: Settings, units: UnitChoice = SI): readonly DropResult[] {
  const all = sessionsOf(trials).filter((session) => session.protocol.test === "DJ" && session.protocol.dropHeight !== undefined);
  const fastContact = Number(settings.values["fast-contact-limit"]);
  const measured = settings.values["drop-height-basis"] === "measured";
  return [...grouped(all.filter((session) => session.athlete === athlete && session.date === date), "dropHeight")].map(([protocolText, sessions]): DropResult => {
    // Times of a mat and a plate differ in more than scatter.
    const error = errorOf(all.filter((session) => session.instrument === sessions[0].instrument), "rsi");
    const used: Session[] = [];
    const points = [...sessions].sort((a, b) => a.protocol.dropHeight! - b.protocol.dropHeight!).flatMap((session) => {
      const value = (name: string): number | undefined => sessionResult(session, name, settings)?.value;
      const rsi = sessionResult(session, "rsi", settings);
      const contactTime = value("contactTime");
      if (rsi === undefined || contactTime === undefined) return [];
      used.push(session);
      return [{ nominalHeight: session.protocol.dropHeight!, measuredHeight: measured ? value("measuredDropHeight") : undefined, height: value("jumpHeight"), contactTime, rsi: rsi.value, count: rsi.n }];
    });
    try {
      const profile = dropHeightProfile(points, { fastContact, ...(error === undefined ? {} : { typicalError: error.value, degreesOfFreedom: error.degreesOfFreedom }) });
      return { protocolText, sessions: used, profile, ...(error === undefined ? {} : { typicalError: error }), reading: readDropProfile(profile, fastContact, undefined, readingUnits(units)) };
    } catch (thrown) {
      return { protocolText, sessions: used, reason: reasonOf(thrown) };
    }
  });
}

/** Force-velocity lines over the loads of one day, one for each test and way of performing it. One push-off distance: the mean over the loads. */
export function loadProfilesOf(trials: readonly DecideTrial[], athlete: string, date: string, settings: Settings, units: UnitChoice = SI): readonly LoadResult[] {
  const sessions = sessionsOf(trials).filter((session) => session.athlete === athlete && session.date === date && (session.protocol.test === "CMJ" || session.protocol.test === "SJ"));
  return [...grouped(sessions, "load")].flatMap(([protocolText, loaded]): LoadResult[] => {
    if (loaded.length < 2) return [];
    const value = (session: Session, name: string): number | undefined => sessionResult(session, name, settings)?.value;
    const used: Session[] = [];
    const rows = [...loaded].sort((a, b) => (a.protocol.load ?? 0) - (b.protocol.load ?? 0)).flatMap((session) => {
      const [height, pushOff, mass] = ["jumpHeight", "pushOffDistance", "bodyMass"].map((name) => value(session, name));
      if (height === undefined || pushOff === undefined || mass === undefined) return [];
      used.push(session);
      return [{ load: session.protocol.load ?? 0, height, pushOff, mass }];
    });
    if (rows.length === 0) return [{ protocolText, sessions: [], reason: "no load has a valid trial with height, push-off distance and mass" }];
    const [bodyMass, pushOff] = [mean(rows.map((row) => row.mass)), mean(rows.map((row) => row.pushOff))];
    try {
      const gravity = Number(settings.values["gravity"]);
      const profile = loadProfile(rows.map((row) => row.load), rows.map((row) => row.height), bodyMass, pushOff, Number.isFinite(gravity) ? gravity : undefined);
      return [{ protocolText, sessions: used, profile, bodyMass, pushOff, reading: readLoadProfile(profile, undefined, readingUnits(units)) }];
    } catch (thrown) {
      return [{ protocolText, sessions: used, bodyMass, pushOff, reason: reasonOf(thrown) }];
    }
  });
}

function readingUnits(units: UnitChoice): ReadingUnits {
  return { m: shownUnit("m", units), s: shownUnit("s", units), kg: shownUnit("kg", units) };
}

/** Sessions that are alike but for one part of the protocol. */
function grouped(sessions: readonly Session[], except: "dropHeight" | "load"): ReadonlyMap<string, readonly Session[]> {
  const groups = new Map<string, Session[]>();
  for (const session of sessions) {
    const text = likeText({ ...session.protocol, [except]: undefined }, session.instrument);
    groups.set(text, [...(groups.get(text) ?? []), session]);
  }
  return groups;
}

function errorOf(sessions: readonly Session[], name: string): PooledTypicalError | undefined {
  const groups = sessions.map((session) => session.trials.flatMap((trial) => (trial.use === "keep" ? (trial.value(name) ?? []) : [])));
  try {
    const error = pooledTypicalError(groups);
    return error.value > 0 ? error : undefined;
  } catch (thrown) {
    if (thrown instanceof InputError) return undefined;
    throw thrown;
  }
}

function reasonOf(thrown: unknown): string {
  if (thrown instanceof InputError) return thrown.message;
  throw thrown;
}
