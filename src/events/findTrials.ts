import { findEmptyRuns, type Stretch } from "./findEmptyRuns.ts";
import { findPulls } from "./findPulls.ts";
import { findQuietEnd, findQuietStand } from "./quietStanding.ts";
import type { Test } from "../protocols/Protocol.ts";
import { loadProfile, type LoadProfile } from "../trace/loadProfile.ts";
import { reusedMemory } from "../trace/memory.ts";
import type { Trace } from "../trace/Trace.ts";

/** A stretch of a long recording that holds one trial, s from its first sample. */
export interface TrialWindow {
  readonly start: number;
  readonly end: number;
  /** Why the window is not what a trial would like to have. */
  readonly reason?: string;
}

const LEAD_SECONDS = 2;
const TAIL_SECONDS = 2;
const LONGEST_TAIL_SECONDS = 4;
const UNQUIET_LEAD_SECONDS = 3;
const SHORTEST_FLIGHT_SECONDS = 0.1;
const SHORTEST_HOP_SECONDS = 0.05;
const LONGEST_FLIGHT_SECONDS = 1;
const LONGEST_CONTACT_SECONDS = 2;
const LONGEST_HOP_CONTACT_SECONDS = 1;
const EMPTY_LEAD_SECONDS = 1;
const APART_SECONDS = 0.05;
/** Movement accepted in a quiet stand while looking for it, as a share of body weight and in N. */
const QUIET_SHARE = 0.02;
const QUIET_FORCE = 10;
const SQUAT_BAND = 0.15;

/**
 * Finds each jump, series of hops or pull in a recording, with what its analysis needs around it: 2 s before the movement
 * (or the weighing window) to 2 s after the landing, or as far as the final stand of a drop jump.
 *
 * @param trace Recording. @param test Test that was recorded.
 * @returns Windows in order of time, s from the first sample; none where nothing was found.
 * @throws {InputError} `wrong-shape` or `not-a-number` where the trace cannot be one.
 */
export function findTrials(trace: Trace, test: Test): readonly TrialWindow[] {
  MEMORY.restart();
  const carrying = trace.plates.filter((plate) => plate.role !== "box");
  const sides = carrying.filter((plate) => plate.role !== "total");
  const profile = loadProfile((sides.length === 2 ? sides : carrying.slice(0, 1)).map((plate) => plate.force), trace.rate, MEMORY.take);
  if (test === "IMTP") return pullWindows(profile);
  const runs = findEmptyRuns(profile).runs;
  const box = trace.plates.find((plate) => plate.role === "box");
  if (test === "DJ") return dropWindows(profile, runs, box === undefined ? undefined : loadProfile([box.force], trace.rate, MEMORY.take));
  if (test === "RH") return hopWindows(profile, runs);
  return jumpWindows(profile, runs, test);
}

/** The columns of a record are gone when the next one is looked through. */
const MEMORY = reusedMemory();

const secondsOf = (profile: LoadProfile): number => profile.force.length / profile.rate;
const accept = (w: number): number => Math.max(QUIET_SHARE * w, QUIET_FORCE);

/** Flights that a jump could have, each between two loads (or cut by the end of the record). */
function flightsOf(profile: LoadProfile, runs: readonly Stretch[], shortest: number): readonly Stretch[] {
  const { rate, force } = profile;
  return runs.filter(({ start, end }) => {
    const length = (end - start) / rate;
    return start > 0 && length >= shortest && (length <= LONGEST_FLIGHT_SECONDS || end === force.length);
  });
}

function jumpWindows(profile: LoadProfile, runs: readonly Stretch[], test: Test): readonly TrialWindow[] {
  const { rate } = profile;
  const flights = flightsOf(profile, runs, SHORTEST_FLIGHT_SECONDS).filter(({ end }, k) => end < profile.force.length || k === 0);
  const starts = flights.map((flight) => movementStart(profile, flight.start, onPlateFrom(profile, runs, flight, SHORTEST_FLIGHT_SECONDS), test));
  return flights.map((flight, k) => {
    const previous = k === 0 ? 0 : flights[k - 1]!.end / rate;
    const next = flights[k + 1];
    const begun = starts[k];
    const start = begun === undefined ? flight.start / rate - UNQUIET_LEAD_SECONDS : Math.min(begun.moving - LEAD_SECONDS, begun.window);
    const nextStart = next === undefined ? Infinity : (starts[k + 1]?.moving ?? next.start / rate - APART_SECONDS);
    const end = Math.min(flight.end / rate + TAIL_SECONDS, Math.max(nextStart, flight.end / rate + APART_SECONDS));
    return bounded(profile, Math.max(previous, start), end, begun === undefined ? "nobody stands still before this jump" : undefined);
  });
}

/** Sample from which somebody has been on the plate before a flight: the last landing or step on it. Without load for less than `shortest` s one only moves down fast. */
function onPlateFrom({ rate }: LoadProfile, runs: readonly Stretch[], flight: Stretch, shortest: number): number {
  return runs.filter(({ start, end }) => start < flight.start && (end - start) / rate >= shortest).at(-1)?.end ?? 0;
}

/** Where the movement before a flight begins, and its weighing window, s. */
function movementStart(profile: LoadProfile, before: number, from: number, test: Test): { moving: number; window: number } | undefined {
  const stand = findQuietStand(profile, { before, from, length: 1, accept, ...(test === "SJ" ? { band: SQUAT_BAND } : {}) });
  return stand === undefined ? undefined : { moving: stand.steadyUntil / profile.rate, window: stand.window.start / profile.rate };
}

function dropWindows(profile: LoadProfile, runs: readonly Stretch[], box: LoadProfile | undefined): readonly TrialWindow[] {
  const { rate, force } = profile;
  const contacts: { before: Stretch; flight: Stretch }[] = [];
  for (let k = 1; k < runs.length; k++) {
    const flight = runs[k]!;
    const length = (flight.end - flight.start) / rate;
    let j = k - 1;
    while (j >= 0 && (runs[j]!.end - runs[j]!.start) / rate < SHORTEST_HOP_SECONDS) j--;
    if (j < 0 || length < SHORTEST_FLIGHT_SECONDS || (length > LONGEST_FLIGHT_SECONDS && flight.end < force.length)) continue;
    const before = runs[j]!;
    const follows = contacts.length > 0 && contacts[contacts.length - 1]!.flight === before;
    if (!follows && (flight.start - before.end) / rate <= LONGEST_CONTACT_SECONDS) contacts.push({ before, flight });
  }
  return contacts.map(({ before, flight }, k) => {
    const previous = k === 0 ? 0 : contacts[k - 1]!.flight.end / rate;
    const next = contacts[k + 1];
    let start = Math.max(before.start / rate, before.end / rate - EMPTY_LEAD_SECONDS);
    if (box !== undefined) {
      const onBox = findQuietStand(box, { before: before.end, length: 1, accept });
      if (onBox !== undefined) start = Math.min(start, onBox.window.start / rate, onBox.steadyUntil / rate - LEAD_SECONDS);
    }
    const landing = flight.end / rate;
    const limit = Math.min(secondsOf(profile), next === undefined ? Infinity : next.before.start / rate);
    const quiet = quietAfter(profile, flight.end, Math.min(limit, landing + LONGEST_TAIL_SECONDS));
    const end = Math.min(limit, Math.max(landing + TAIL_SECONDS, quiet ?? 0));
    return bounded(profile, Math.max(previous, start), end, quiet === undefined ? "nobody stands still after this landing" : undefined);
  });
}

/** End of the quietest second (or half) after a landing and before `limit`, s. */
function quietAfter(profile: LoadProfile, landing: number, limit: number): number | undefined {
  const blocks = Math.floor((limit * profile.rate) / profile.blockSize);
  const head = { ...profile, sums: profile.sums.subarray(0, blocks), squares: profile.squares.subarray(0, blocks) };
  const found = findQuietEnd(head, landing + Math.round(0.5 * profile.rate), 1, 0.5, 100);
  return found === undefined ? undefined : found.end / profile.rate;
}

function hopWindows(profile: LoadProfile, runs: readonly Stretch[]): readonly TrialWindow[] {
  const { rate } = profile;
  const series: Stretch[][] = [];
  for (const flight of flightsOf(profile, runs, SHORTEST_HOP_SECONDS)) {
    const last = series.at(-1);
    if (last !== undefined && (flight.start - last.at(-1)!.end) / rate <= LONGEST_HOP_CONTACT_SECONDS) last.push(flight);
    else series.push([flight]);
  }
  const real = series.filter((flights) => flights.length >= 2);
  return real.map((flights, k) => {
    const first = flights[0]!;
    const previous = k === 0 ? 0 : real[k - 1]!.at(-1)!.end / rate;
    const begun = movementStart(profile, first.start, onPlateFrom(profile, runs, first, SHORTEST_HOP_SECONDS), "RH");
    const start = begun === undefined ? first.start / rate - UNQUIET_LEAD_SECONDS : Math.min(begun.moving - LEAD_SECONDS, begun.window);
    const next = real[k + 1]?.[0];
    const landing = flights.at(-1)!.end / rate;
    const end = Math.min(landing + TAIL_SECONDS, next === undefined ? Infinity : next.start / rate - APART_SECONDS);
    return bounded(profile, Math.max(previous, start), end, undefined);
  });
}

function pullWindows(profile: LoadProfile): readonly TrialWindow[] {
  const { rate } = profile;
  const pulls = findPulls(profile);
  return pulls.map((pull, k) => {
    const stand = findQuietStand(profile, { before: pull.start, from: pull.after, length: 1, accept: (w) => 2 * accept(w) });
    const start = stand === undefined ? pull.start / rate - UNQUIET_LEAD_SECONDS : Math.min(stand.steadyUntil / rate - LEAD_SECONDS, stand.window.start / rate);
    const next = pulls[k + 1];
    const end = Math.min(pull.end / rate + TAIL_SECONDS, next === undefined ? Infinity : (pull.end / rate + next.start / rate) / 2);
    return bounded(profile, Math.max(pull.after / rate, start), end, stand === undefined ? "there is no quiet baseline before this pull" : undefined);
  });
}

function bounded(profile: LoadProfile, start: number, end: number, reason: string | undefined): TrialWindow {
  const window = { start: Math.max(0, start), end: Math.min(secondsOf(profile), end) };
  return reason === undefined ? window : { ...window, reason };
}
