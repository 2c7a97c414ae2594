import { InputError } from "../src/errors.ts";
import { parseProtocol } from "../src/protocols/parseProtocol.ts";
import type { Protocol } from "../src/protocols/Protocol.ts";
import { combineTests, type CombinedTests } from "../src/sessions/combineTests.ts";
import { followSeries as followSeriesOf } from "../src/sessions/followSeries.ts";
import { isometricSpread, trialsFarFromSession } from "../src/sessions/sessionFindings.ts";
import { sideHistory as sideHistoryOf } from "../src/sessions/sideHistory.ts";
import { squadTable as squadTableOf } from "../src/sessions/squadTable.ts";
import { typicalErrorsFromTrials, type TrialRecord } from "../src/sessions/typicalErrorsFromTrials.ts";
import { RATIO_METHODS } from "../src/statistics/ratioInterval.ts";
import { findingSentence } from "../src/wording/findingSentence.ts";
import { inLanguage } from "../src/wording/inLanguage.ts";
import { readReactiveStrength as readingOf } from "../src/wording/readings.ts";
import { columnFrom, combinationFrom, componentFrom } from "./runtime/decisionArguments.ts";
import { isBlank, isGiven, numberFrom, numbersFrom, optionalNumber, optionalWord, singleFrom, textFrom, type Cell } from "./runtime/cells.ts";
import { partsOf } from "./runtime/partsOf.ts";
import { pickWhat } from "./runtime/pickWhat.ts";

/**
 * What the rules that compare trials say: trials far from the others of the session (Q25), isometric peaks that differ too much (Q20). A finding asks for a look and leaves nothing out.
 * @customfunction SESSION_FINDINGS
 * @param trials Valid trials of one session in order; blank and 0 are left out.
 * @param [typicalError] Typical error of one trial, in the unit of the trials: without it Q25 is not checked.
 * @param [test] "IMTP" where the trials are peak forces of isometric pulls, in N: adds Q20.
 * @param [limitErrors] Q25 limit, in typical errors; 3 when left out.
 * @param [limitForce] Q20 limit, in N; 250 when left out.
 * @returns Table: rule, action, trial, sentence; "none" where nothing was found.
 */
export function sessionFindings(trials: any[][], typicalError?: any, test?: any, limitErrors?: any, limitForce?: any): any[][] {
  const values = numbersFrom(trials, "findings of a session");
  const error = optionalNumber(singleFrom(typicalError, "typical error"), "typical error", undefined);
  const isometric = textFrom(singleFrom(test, "test"), "test")?.toUpperCase() === "IMTP";
  const spread = isometric ? isometricSpread(values, optionalNumber(singleFrom(limitForce, "limit"), "limit", undefined)) : undefined;
  const found = [
    ...(spread === undefined ? [] : [spread]),
    ...(error === undefined ? [] : trialsFarFromSession(values, error, optionalNumber(singleFrom(limitErrors, "limit"), "limit", undefined))),
  ];
  const rows = found.map((finding): Cell[] => [finding.rule, finding.action, finding.trial === undefined ? "" : finding.trial + 1, findingSentence(finding.rule, finding.values)]);
  if (error === undefined) rows.push(["Q25", "not checked", "", "no typical error was given"]);
  return rows.length > 0 ? [["rule", "action", "trial", "message"], ...rows] : [["none"]];
}

/**
 * Typical error from a squad's own repeated trials, one row a trial: within a day, between days, or of one person. All of one metric and one protocol.
 * @customfunction TYPICAL_ERROR_TRIALS
 * @param people Name of the person of each trial; one column.
 * @param sessions Session of each trial, such as its date; sessions of a person in the order in which they appear.
 * @param values Result of each trial; blank and 0 are left out.
 * @param [source] "within day" (default: of one trial), "between days" (of a session value), or the name of one person (of one trial of theirs).
 * @param [form] "raw" (default, in the unit) or "log" (%).
 * @param [rule] "mean" (default) or "best": the value of a session, for between days.
 * @param [trialsUsed] Trials that count in a session, k; 3 when left out.
 * @param [what] "value" (default), "low", "high", "degreesOfFreedom", "people", "sessions" …, or "table" for all.
 * @param [better] "higher" (default) or "lower": which of the trials of a session is the best.
 * @returns Typical error, in the unit of the results or in %.
 */
export function typicalErrorTrials(people: any[][], sessions: any[][], values: any[][], source?: any, form?: any, rule?: any, trialsUsed?: any, what?: any, better?: any): any[][] {
  const trials = trialRecords(people, sessions, values);
  const wanted = textFrom(singleFrom(source, "source"), "source") ?? "within day";
  const errors = typicalErrorsFromTrials(trials, choiceFrom(rule, trialsUsed), betterFrom(better), optionalWord<"raw" | "log">(singleFrom(form, "form"), "typical error", ["raw", "log"], "raw"));
  const plain = wanted.toLowerCase().replace(/[\s_-]/g, "");
  if (plain === "betweendays") {
    if (errors.betweenSessions === undefined) throw new InputError("not-available", "typical error between days requires at least two people with two sessions each");
    const { value, low, high, degreesOfFreedom, people: count, values: used, level } = errors.betweenSessions;
    return pickWhat({ value, low, high, level, degreesOfFreedom, people: count, sessions: used }, what, "value");
  }
  const name = [...errors.people.keys()].find((person) => person.toLowerCase() === wanted.toLowerCase());
  if (plain !== "withinday" && name === undefined && !trials.some((trial) => trial.person.toLowerCase() === wanted.toLowerCase())) {
    throw new InputError("unknown-name", `typical error requires "within day", "between days" or the name of a person of the range, not "${wanted.slice(0, 40)}"`);
  }
  const pooled = plain === "withinday" ? errors.squad : name === undefined ? undefined : errors.people.get(name);
  if (pooled === undefined) throw new InputError("not-available", "typical error within a day requires a session with two or more trials");
  const { value, low, high, level, degreesOfFreedom, groups, values: used, leftOut } = pooled;
  return pickWhat({ value, low, high, level, degreesOfFreedom, sessions: groups, trials: used, leftOut }, what, "value");
}

/**
 * Combination of tests from their trials: components first, then ratio or percentage with its limits. Unlike protocols are refused with the reason.
 * @customfunction COMBINE
 * @param kind "EUR", "PRESTRETCH_AUGMENTATION", "DSI", "ARM_SWING" or "BILATERAL_INDEX".
 * @param first Trials of the numerator: countermovement jump, jump, with arms, both limbs. A range of trials is averaged; its scatter gives the limits.
 * @param second Trials of the denominator: squat jump, pull, without arms, left limb; same quantity and unit.
 * @param [third] Trials of the right limb, for the bilateral index.
 * @param [protocols] Protocol texts of the parts, two or three cells in the same order.
 * @param [bodyWeight] Body weight, in N, for the net strength index: taken off both forces.
 * @param [level] Level of the limits, such as 0.95 (default).
 * @param [method] "fieller" (default), "log" or "delta".
 * @param [what] "table" (default), or one of "value", "low", "high", "u", "first", "second" ….
 * @returns Ratio (no unit) or percentage with its components and limits.
 */
export function combine(kind: any, first: any[][], second: any[][], third?: any[][], protocols?: any[][], bodyWeight?: any, level?: any, method?: any, what?: any): any[][] {
  const combined = combinedFrom(kind, first, second, third, protocols, bodyWeight, level, method);
  const [a, b, c] = combined.components;
  return pickWhat(
    {
      kind: combined.kind,
      ...(combined.basis === undefined ? {} : { basis: combined.basis }),
      first: a.value, firstU: a.u, firstCount: a.count,
      second: b.value, secondU: b.u, secondCount: b.count,
      third: c?.value, thirdU: c?.u, thirdCount: c?.count,
      value: combined.value,
      unit: combined.unit,
      u: combined.u,
      low: combined.low,
      high: combined.high,
      level: combined.interval?.level,
      method: combined.interval?.method,
      noLimits: combined.noLimits === undefined ? undefined : inLanguage(combined.noLimits),
    },
    what,
    "table",
  );
}

/** The combination that the arguments of COMBINE ask for. */
function combinedFrom(kind: unknown, first: unknown, second: unknown, third: unknown, protocols: unknown, bodyWeight: unknown, level: unknown, method: unknown): CombinedTests {
  const chosen = combinationFrom(singleFrom(kind, "kind"));
  const parts = [first, second, ...(chosen === "bilateral" ? [third] : [])];
  const texts = columnFrom(protocols).map((text) => (isGiven(text) ? parseProtocol(String(text)) : undefined));
  const weight = optionalNumber(singleFrom(bodyWeight, "body weight"), "body weight", undefined);
  return combineTests(
    chosen,
    parts.map((part, index) => ({ ...componentFrom(numbersFrom(part, "combination of tests")), ...(texts[index] === undefined ? {} : { protocol: texts[index] }) })),
    {
      level: optionalNumber(singleFrom(level, "level"), "level", undefined),
      method: optionalWord(singleFrom(method, "method"), "limits of a ratio", RATIO_METHODS, "fieller"),
      ...(chosen === "dynamicStrength" && weight !== undefined ? { bodyWeight: weight } : {}),
    },
  );
}

/**
 * Which side was higher over the last sessions, and how steadily. In many healthy people the side changes from session to session.
 * @customfunction SIDE_HISTORY
 * @param signed Signed percentages by session, oldest first, positive when left is higher; blank cells are left out.
 * @param [last] How many of the last sessions count; 5 when left out.
 * @param [what] "table" (default), or one of "side", "sessions", "sameSide", "inARow", "mean".
 * @returns Side and counts, no unit; mean of the signed percentages, in %.
 */
export function sideHistory(signed: any[][], last?: any, what?: any): any[][] {
  const { side, sessions, sameSide, inARow, mean } = sideHistoryOf(numbersFrom(signed, "side over sessions"), optionalNumber(singleFrom(last, "last"), "last", undefined));
  return pickWhat({ side, sessions, sameSide, inARow, mean }, what, "table");
}

/**
 * Squad table with its n, T scores, and places only as far as the typical error allows: people who cannot be told apart share a range of places.
 * @customfunction SQUAD_TABLE
 * @param names Names; one column.
 * @param values Session value of each; blank and 0 mean no value.
 * @param [typicalError] Typical error of a session value, in the unit of the values: without it nobody has a place.
 * @param [better] "higher" (default) or "lower".
 * @returns Table with a head row: name, value, T score, place from, place to; then n, mean, SD and the margin below which two people are not told apart.
 */
export function squadTable(names: any[][], values: any[][], typicalError?: any, better?: any): any[][] {
  const [people, results] = [columnFrom(names), columnFrom(values)];
  requireLikeLengths("squad table", people, results);
  const members = people.flatMap((name, i) => (isGiven(name) ? [{ name: String(name), value: isGiven(results[i]) ? numberFrom(results[i], "squad table") : undefined }] : []));
  const squad = squadTableOf(members, betterFrom(better), optionalNumber(singleFrom(typicalError, "typical error"), "typical error", undefined));
  return [
    ["name", "value", "tScore", "placeFrom", "placeTo"],
    ...squad.rows.map((row) => [row.name, row.value, row.tScore, row.placeFrom ?? "", row.placeTo ?? ""]),
    ["n", squad.n, "", "", ""],
    ["mean", squad.mean, "", "", ""],
    ["sd", squad.sd, "", "", ""],
    ["margin", squad.margin ?? "", "", "", ""],
    ...(squad.missing.length > 0 ? [["without a value", squad.missing.join(", "), "", "", ""]] : []),
  ];
}

/**
 * One person over time: each session against the band from their earlier sessions of like protocol. No session counts in its own baseline.
 * @customfunction FOLLOW
 * @param dates Date of each session, oldest first; one column.
 * @param values Session value of each; blank and 0 are left out.
 * @param protocols Protocol text of each session, or one for all; sessions of unlike protocols never share a baseline.
 * @param [typicalError] Typical error of one session value, in the unit of the values: the band then uses it, better with few sessions.
 * @param [degreesOfFreedom] Degrees of freedom of the typical error.
 * @param [sessions] How many of the last sessions make a baseline; all when left out.
 * @param [level] Level of the band, such as 0.95 (default).
 * @param [weight] Weight of the newest session in the weighted mean; 0.3 when left out.
 * @returns Table with a head row: date, value, protocol, baseline, low, high, place, weighted, protocol change.
 */
export function follow(dates: any[][], values: any[][], protocols: any[][], typicalError?: any, degreesOfFreedom?: any, sessions?: any, level?: any, weight?: any): any[][] {
  const [days, results, texts] = [columnFrom(dates), columnFrom(values), columnFrom(protocols)];
  requireLikeLengths("series over time", days, results);
  if (texts.length > 1) requireLikeLengths("series over time", days, texts);
  const read = new Map<string, Protocol>();
  const protocolOf = (i: number): Protocol => {
    const text = textFrom(texts[texts.length === 1 ? 0 : i], "protocol");
    if (text === undefined) throw new InputError("wrong-shape", "series over time requires the protocol of every session", `row ${i + 1} of the range`);
    if (!read.has(text)) read.set(text, parseProtocol(text));
    return read.get(text)!;
  };
  const kept = days.flatMap((_, i) => (isGiven(results[i]) ? [i] : []));
  const points = followSeriesOf(
    kept.map((i) => ({ date: String(days[i] ?? ""), value: numberFrom(results[i], "series over time"), protocol: protocolOf(i) })),
    {
      typicalError: optionalNumber(singleFrom(typicalError, "typical error"), "typical error", undefined),
      degreesOfFreedom: optionalNumber(singleFrom(degreesOfFreedom, "degrees of freedom"), "degrees of freedom", undefined),
      sessions: optionalNumber(singleFrom(sessions, "sessions"), "sessions", undefined),
      level: optionalNumber(singleFrom(level, "level"), "level", undefined),
      weight: optionalNumber(singleFrom(weight, "weight"), "weight", undefined),
    },
  );
  return [
    ["date", "value", "protocol", "baseline", "low", "high", "place", "weighted", "protocolChange"],
    ...points.map((point, at) => {
      const i = kept[at];
      return [isBlank(days[i]) ? "" : (days[i] as Cell), point.value, textFrom(texts[texts.length === 1 ? 0 : i], "protocol") ?? "", point.band?.mean ?? "", point.band?.low ?? "", point.band?.high ?? "", point.place ?? "", point.weighted ?? "", inLanguage(point.protocolChange ?? "")];
    }),
  ];
}

/**
 * Reading of reactive strength: which of its parts, contact or height, holds it down.
 * @customfunction READ_REACTIVE_STRENGTH
 * @param rsi Reactive strength index.
 * @param height Jump height, in m.
 * @param contactTime Contact time, in s.
 * @param [heightTScore] T score of the height within the squad.
 * @param [indexTScore] T score of the index within the squad.
 * @param [n] Number of people in the squad.
 * @param [unit] "m/s" on the basis of height (default), "none" on that of flight time.
 * @param [fastContact] Longest contact of a fast stretch-shortening cycle, in s; 0.25 when left out.
 * @param [what] "text" (default), "word" for the verdict in a word or two, or a part: "components", "reading", "next".
 * @returns The reading.
 */
export function readReactiveStrength(rsi: any, height: any, contactTime: any, heightTScore?: any, indexTScore?: any, n?: any, unit?: any, fastContact?: any, what?: any): any[][] {
  const given = (value: unknown, what: string): number | undefined => optionalNumber(singleFrom(value, what), what, undefined);
  const [heightT, indexT, count] = [given(heightTScore, "T score of the height"), given(indexTScore, "T score of the index"), given(n, "n")];
  if ([heightT, indexT, count].some((value) => value === undefined) && [heightT, indexT, count].some((value) => value !== undefined)) {
    throw new InputError("wrong-shape", "reading of reactive strength requires both T scores and the n of the squad, or none of them");
  }
  const printed = textFrom(singleFrom(unit, "unit"), "unit") ?? "m/s";
  const reading = readingOf(
      {
        rsi: numberFrom(singleFrom(rsi, "reactive strength index"), "reactive strength index"),
        unit: printed === "none" ? "" : printed,
        height: numberFrom(singleFrom(height, "jump height"), "jump height"),
        contactTime: numberFrom(singleFrom(contactTime, "contact time"), "contact time"),
        ...(heightT === undefined ? {} : { squad: { heightTScore: heightT, indexTScore: indexT!, n: count! } }),
      },
      given(fastContact, "fast contact"),
    );
  return pickWhat(partsOf(reading), what, "text");
}

function choiceFrom(rule: unknown, trialsUsed: unknown): { rule: "mean" | "best"; trials: number } {
  return {
    rule: optionalWord(singleFrom(rule, "rule"), "session value", ["mean", "best"], "mean"),
    trials: optionalNumber(singleFrom(trialsUsed, "trials used"), "trials used", 3),
  };
}

function betterFrom(better: unknown): "higher" | "lower" {
  return optionalWord(singleFrom(better, "better"), "better", ["higher", "lower"], "higher");
}

function trialRecords(people: unknown, sessions: unknown, values: unknown): TrialRecord[] {
  const [names, days, results] = [columnFrom(people), columnFrom(sessions), columnFrom(values)];
  requireLikeLengths("typical error from trials", names, days);
  requireLikeLengths("typical error from trials", names, results);
  return names.flatMap((name, i) => (isGiven(name) && isGiven(results[i]) ? [{ person: String(name), session: String(days[i] ?? ""), value: numberFrom(results[i], "typical error from trials") }] : []));
}

function requireLikeLengths(what: string, a: readonly unknown[], b: readonly unknown[]): void {
  if (a.length !== b.length) throw new InputError("wrong-shape", `${what} requires ranges of one length: ${a.length} and ${b.length} cells do not go together`);
}
