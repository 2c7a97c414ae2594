import { InputError } from "../../src/errors.ts";
import { likeProtocols } from "../../src/protocols/likeProtocols.ts";
import type { Protocol } from "../../src/protocols/Protocol.ts";
import { combineTests, type CombinedTests, type Component } from "../../src/sessions/combineTests.ts";
import { instrumentReason } from "../../src/sessions/likeText.ts";
import { COMBINATIONS, type Combination } from "../../src/sessions/pairingReason.ts";
import type { Settings } from "../../src/settings/Settings.ts";
import type { RatioMethod } from "../../src/statistics/ratioInterval.ts";
import { readArmSwing, readBilateralIndex, readDynamicStrength, readEccentricUtilisation, type Reading } from "../../src/wording/readings.ts";
import { inUnits, shownUnit, SI } from "../pane/shownUnits.ts";
import type { UnitChoice } from "../pane/withUnits.ts";
import type { DecideTrial } from "./DecideTrial.ts";
import { sessionResult, sessionsOf, typicalErrorsOf, type Session, type SessionResult } from "./sessions.ts";

/** A combination of an athlete's tests of one day, or the reason why there is none. */
export interface AthleteCombination {
  readonly kind: Combination;
  /** Metric of the components. */
  readonly name: string;
  readonly unit: string;
  /** Sessions behind the components, in the order of the formula; none where nothing fits. */
  readonly results: readonly SessionResult[];
  readonly combined?: CombinedTests;
  readonly reading?: Reading;
  /** Why it was refused. */
  readonly reason?: string;
  /** Protocol of which no valid trial gives the metric. */
  readonly without?: string;
}

/** Unit of every metric that is combined. */
const UNITS: Readonly<Record<string, string>> = { jumpHeight: "m", peakPower: "W", peakForce: "N", peakForcePropulsion: "N", meanForcePropulsion: "N", propulsionImpulse: "N s" };

/** What each place of a combination asks for, before the protocols are compared in earnest. */
const PLACES: Readonly<Record<Combination, readonly ((protocol: Protocol) => boolean)[]>> = {
  eccentricUtilisation: [({ test }) => test === "CMJ", ({ test }) => test === "SJ"],
  prestretchAugmentation: [({ test }) => test === "CMJ", ({ test }) => test === "SJ"],
  dynamicStrength: [({ test }) => test === "CMJ" || test === "SJ", ({ test }) => test === "IMTP"],
  armSwing: [({ test, arms }) => test !== "IMTP" && arms === "swing", ({ test, arms }) => test !== "IMTP" && arms === "hips"],
  bilateral: [({ limb }) => limb === undefined || limb === "both", ({ limb }) => limb === "left", ({ limb }) => limb === "right"],
};

/** Parts that may differ between the places; candidates that differ in more are shown with the reason, once. */
const METRICS: Readonly<Record<Exclude<Combination, "bilateral">, readonly string[]>> = {
  eccentricUtilisation: ["jumpHeight", "peakPower"],
  prestretchAugmentation: ["jumpHeight"],
  dynamicStrength: ["peakForce"],
  armSwing: ["jumpHeight"],
};

/**
 * Every combination of the tests of one athlete on one day. Components first; unlike protocols are refused with the reason.
 *
 * @param trials Trials of everybody: the others give typical errors.
 * @param units Units of what a reading says; the numbers beside it are SI. @default SI
 */
export function combineAthlete(trials: readonly DecideTrial[], athlete: string, date: string, settings: Settings, units: UnitChoice = SI): readonly AthleteCombination[] {
  const sessions = sessionsOf(trials).filter((session) => session.athlete === athlete && session.date === date);
  return COMBINATIONS.flatMap((kind) => {
    const names = kind === "bilateral" ? [String(settings.values["bilateral-variable"])] : METRICS[kind];
    return names.flatMap((name) => ofKind(kind, name, sessions, trials, settings, units));
  });
}

function ofKind(kind: Combination, name: string, sessions: readonly Session[], trials: readonly DecideTrial[], settings: Settings, units: UnitChoice): readonly AthleteCombination[] {
  const candidates = PLACES[kind].map((fits) => sessions.filter((session) => fits(session.protocol)));
  const shared = { kind, name, unit: UNITS[name] ?? "" };
  if (candidates.some((list) => list.length === 0)) return [];
  const good: AthleteCombination[] = [];
  const refused: AthleteCombination[] = [];
  for (const chosen of choices(candidates)) {
    const results = chosen.map((session) => sessionResult(session, name, settings, typicalErrorsOf(trials, name, session.protocolText, settings)));
    const without = chosen.find((_, at) => results[at] === undefined);
    if (without !== undefined) {
      refused.push({ ...shared, results: [], without: without.protocolText });
      continue;
    }
    const there = results as readonly SessionResult[];
    const unlike = instrumentReason(chosen.map((session) => session.instrument));
    if (unlike !== undefined) {
      refused.push({ ...shared, results: there, reason: unlike });
      continue;
    }
    const netFirst = settings.values["force-basis"] === "net";
    for (const net of kind === "dynamicStrength" ? [netFirst, !netFirst] : [false]) {
      try {
        const weight = net ? sessionResult(chosen[0], "bodyWeight", settings)?.value : undefined;
        if (net && weight === undefined) continue;
        const combined = combineTests(kind, there.map(componentOf), { level: Number(settings.values["ratio-level"]) / 100, method: settings.values["ratio-interval"] as RatioMethod, ...(weight === undefined ? {} : { bodyWeight: weight }) });
        good.push({ ...shared, results: there, combined, reading: readingOf(combined, shared.unit, name, settings, units) });
      } catch (thrown) {
        if (!(thrown instanceof InputError)) throw thrown;
        refused.push({ ...shared, results: there, reason: thrown.message });
      }
    }
  }
  return good.length > 0 ? good : refused.slice(0, 1);
}

/** One of each list, in every way; lists are short, and the whole is bounded. */
function choices(lists: readonly (readonly Session[])[]): readonly (readonly Session[])[] {
  return lists.reduce<readonly (readonly Session[])[]>((sofar, list) => sofar.flatMap((before) => list.map((session) => [...before, session])).slice(0, 60), [[]]);
}

function componentOf({ value, u, n, degreesOfFreedom, session }: SessionResult): Component {
  return { value, count: n, protocol: session.protocol, date: session.date, ...(u === undefined ? {} : { u, degreesOfFreedom }) };
}

function readingOf(inSi: CombinedTests, si: string, name: string, { values }: Settings, units: UnitChoice): Reading {
  const combined = { ...inSi, components: inSi.components.map((component) => ({ ...component, ...inUnits({ ...component, unit: si }, units) })) };
  const printed = { name, unit: shownUnit(si, units).unit };
  switch (combined.kind) {
    case "eccentricUtilisation":
    case "prestretchAugmentation":
      return readEccentricUtilisation(combined, printed, { low: Number(values["eur-low"]), high: Number(values["eur-high"]) });
    case "dynamicStrength":
      return readDynamicStrength(combined, { low: Number(values["dsi-low"]), high: Number(values["dsi-high"]) });
    case "armSwing":
      return readArmSwing(combined, printed);
    case "bilateral":
      return readBilateralIndex(combined, printed);
  }
}

/** Whether two sessions ask for the same but for the parts named, and were measured alike. */
export function alikeBut(a: Session, b: Session, except: readonly (keyof Protocol)[]): boolean {
  return a.instrument === b.instrument && likeProtocols(a.protocol, b.protocol, except) === undefined;
}
