import type { Hop } from "./Analysis.ts";
import { edgeDoubt, type EdgeDoubt, findClipping, posture, removeEmptyDrift, removeZero, thresholdOf } from "./flightOf.ts";
import * as formulas from "./formulas.ts";
import { restBefore } from "./restBefore.ts";
import type { Trial } from "./Trial.ts";
import { INTEGRAL, type Quantity, TIMES, WEIGHT } from "./workings.ts";
import { type FlightEdge, landingEdge, takeoffEdge } from "../events/flightEdges.ts";
import { type EmptyRuns, findEmptyRuns, type Stretch } from "../events/findEmptyRuns.ts";
import { loadedNoise } from "../events/loadedNoise.ts";
import { jumpHeightFromFlightTime } from "../metrics/jumpHeightFromFlightTime.ts";
import { reactiveStrengthIndex } from "../metrics/reactiveStrengthIndex.ts";
import { flightToContactRatio } from "../metrics/flightToContactRatio.ts";
import { integrate } from "../motion/integrate.ts";
import { LANDING, TAKEOFF, THRESHOLD } from "../uncertainty/sources.ts";

/** A longer stay on the plate ends a series. */
const LONGEST_CONTACT_SECONDS = 1;
const SHORTEST_GAP_SECONDS = 0.015;
const MOST_CONTACTS = 10;
const FIVE = 5;
const LOADED_SHARE = 0.1;

interface Flight {
  readonly run: Stretch;
  readonly takeoff: FlightEdge;
  readonly landing: FlightEdge;
}

interface Contact {
  readonly before: Flight;
  readonly after: Flight;
  readonly broken: boolean;
}

/** Repeated hops: contacts between flights, after one preparatory jump; the last landing is not a hop. */
export function analyseHops(trial: Trial): readonly Hop[] {
  const { facts, rate } = trial;
  let empty = findEmptyRuns(trial.profile);
  let runs = flightRuns(empty, trial);
  if (runs.length > 1 && removeEmptyDrift(trial, runs[0]!, runs[runs.length - 1]!)) {
    empty = findEmptyRuns(trial.profile);
    runs = flightRuns(empty, trial);
  }
  const longest = runs.reduce<Stretch | undefined>((best, run) => (best === undefined || run.end - run.start > best.end - best.start ? run : best), undefined);
  if (longest === undefined) {
    facts.noFlight = true;
    return [];
  }
  const reading = removeZero(trial, longest, loadedNoise(trial.force, empty.loaded));
  const threshold = thresholdOf(trial, reading);
  restBefore(trial, runs[0]!.start);
  const flights: Flight[] = [];
  for (const run of runs) {
    const takeoff = takeoffEdge(trial.force, run, threshold, LOADED_SHARE * empty.loaded, rate);
    const landing = landingEdge(trial.force, run, threshold, LOADED_SHARE * empty.loaded, rate);
    if (takeoff === undefined || landing === undefined || !(landing.time > takeoff.time)) continue;
    facts.bridged = (facts.bridged ?? 0) + takeoff.bridged + landing.bridged;
    flights.push({ run, takeoff, landing });
  }
  if (flights.length === 0) {
    facts.noFlight = true;
    return [];
  }
  const contacts = longestSeries(flights, empty, trial).slice(0, MOST_CONTACTS);
  findClipping(trial, Infinity);
  facts.flight = Math.max(...flights.map((flight) => flight.landing.time - flight.takeoff.time));
  const hops = contacts.map((contact, k) => hopOf(trial, contact, k + 1));
  metrics(trial, hops, contacts, threshold);
  return hops;
}

function flightRuns(empty: EmptyRuns, trial: Trial): readonly Stretch[] {
  const shortest = trial.number("hop-flight-shortest") * trial.rate;
  const longest = trial.number("q8-flight-longest") * trial.rate;
  return empty.runs.filter(({ start, end }) => start > 0 && end < trial.samples && end - start >= shortest && end - start <= longest);
}

/** The longest series of contacts without a pause; a contact that holds a short gap is a broken one. */
function longestSeries(flights: readonly Flight[], empty: EmptyRuns, trial: Trial): readonly Contact[] {
  let best: Contact[] = [];
  let series: Contact[] = [];
  for (let k = 1; k < flights.length; k++) {
    const before = flights[k - 1]!;
    const after = flights[k]!;
    const contact = after.takeoff.time - before.landing.time;
    // Edges that meet or cross: the empty plate reads above the threshold (drift), and no contact was told from it.
    if (!(contact > 0 && contact <= LONGEST_CONTACT_SECONDS)) series = [];
    else {
      const gap = SHORTEST_GAP_SECONDS * trial.rate;
      const broken = empty.runs.some(({ start, end }) => start > before.run.end && end < after.run.start && end - start >= gap);
      series.push({ before, after, broken });
    }
    if (series.length > best.length) best = [...series];
  }
  return best;
}

function hopOf(trial: Trial, { before, after, broken }: Contact, number: number): Hop {
  const { rate } = trial;
  const g = trial.gravity.value;
  const touchdown = before.landing.time;
  const takeoff = after.takeoff.time;
  const contactTime = takeoff - touchdown;
  const flightTime = after.landing.time - takeoff;
  const height = jumpHeightFromFlightTime(flightTime, g);
  const rsi = trial.word("rsi-basis") === "flight" ? flightToContactRatio(flightTime, contactTime) : reactiveStrengthIndex(height, contactTime);
  const limit = trial.number("hop-contact-limit") || Infinity;
  const reason = broken ? "the contact was a double one" : contactTime > limit ? `the contact is longer than ${Math.round(limit * 1000)} ms` : undefined;
  let peakForce = -Infinity;
  for (let i = Math.ceil(touchdown * rate); i < takeoff * rate; i++) if (trial.force[i]! > peakForce) peakForce = trial.force[i]!;
  const stiffness = broken ? undefined : stiffnessOf(trial, touchdown, takeoff, touchdown - before.takeoff.time, peakForce);
  return {
    number,
    touchdown,
    takeoff,
    contactTime,
    flightTime,
    height,
    rsi,
    peakForce,
    valid: reason === undefined,
    ...(stiffness === undefined ? {} : { stiffness }),
    ...(reason === undefined ? {} : { reason }),
  };
}

/** Peak force (or force at the lowest point) over the drop of the centre of mass; the flight before gives the velocity at touchdown. */
function stiffnessOf(trial: Trial, touchdown: number, takeoff: number, flightBefore: number, peakForce: number): number | undefined {
  if (trial.weight === undefined) return undefined;
  const g = trial.gravity.value;
  const first = Math.max(0, Math.floor(touchdown * trial.rate));
  const end = Math.min(trial.samples, Math.ceil(takeoff * trial.rate) + 1);
  const into = touchdown - first / trial.rate;
  const motion = integrate(trial.force, trial.weight.value, g, first, end, trial.rate, (-g * flightBefore) / 2 + g * into);
  const at = motion.displacement.reduce((low, z, k) => (z < motion.displacement[low]! ? k : low), 0);
  const drop = (-g * flightBefore * into) / 2 - motion.displacement[at]!;
  if (!(drop > 0)) return undefined;
  return (trial.word("contact-stiffness-force") === "lowest point" ? trial.force[first + at]! : peakForce) / drop;
}

function metrics(trial: Trial, hops: readonly Hop[], contacts: readonly Contact[], threshold: number): void {
  const { work, facts } = trial;
  const valid = hops.filter((hop) => hop.valid);
  facts.validHops = valid.length;
  facts.droppedHops = hops.length - valid.length;
  const why = [...new Set(hops.flatMap((hop) => (hop.reason === undefined ? [] : [hop.reason])))].join("; ");
  if (why !== "") facts.droppedWhy = why;
  const count = work.measured(formulas.hopCount, work.exact(valid.length, TIMES));
  if (valid.length === 0) return;
  const up = meanDoubt(contacts.map(({ after }) => edgeDoubt(trial, after.takeoff, threshold)));
  const down = meanDoubt(contacts.map(({ before }) => edgeDoubt(trial, before.landing, threshold)));
  const g = trial.gravity;
  const edges = up.threshold + down.threshold;
  const contactOf = (hop: Hop): Quantity => work.quantity(hop.contactTime, TIMES, TAKEOFF, up.instant, LANDING, -down.instant, THRESHOLD, edges);
  const flightOf = (hop: Hop): Quantity => work.quantity(hop.flightTime, TIMES, TAKEOFF, -up.instant, LANDING, down.instant, THRESHOLD, -edges);
  const heightOf = (hop: Hop): Quantity => work.derive(formulas.heightOfFlightWithPosture, flightOf(hop), g, posture(trial));
  const ratio = trial.word("rsi-basis") === "flight";
  const rsiOf = (hop: Hop): Quantity => (ratio ? work.derive(formulas.rsiOfFlight, flightOf(hop), contactOf(hop)) : work.derive(formulas.rsiOfHeight, heightOf(hop), contactOf(hop)));
  const byRsi = [...valid].sort((a, b) => b.rsi - a.rsi || a.number - b.number);
  const enough = valid.length >= trial.number("q18-hops") && valid.length >= FIVE;
  if (enough) {
    work.measured(formulas.bestFiveRsi, work.mean(byRsi.slice(0, FIVE).map(rsiOf)), count);
    work.measured(formulas.lastFiveRsi, work.mean(valid.slice(-FIVE).map(rsiOf)), count);
  } else for (const id of ["bestFiveRsi", "lastFiveRsi"]) trial.reasons.set(id, `the series has ${valid.length} valid hops, and five are needed`);
  work.measured(formulas.meanHopRsi, work.mean(valid.map(rsiOf)), count);
  const asked = trial.word("hops-used");
  const used = !enough || asked === "all valid" ? valid : asked === "last five" ? valid.slice(-FIVE) : byRsi.slice(0, FIVE);
  work.measured(formulas.meanContactTime, work.mean(used.map(contactOf)), count);
  work.measured(formulas.meanFlightTime, work.mean(used.map(flightOf)), count);
  work.measured(formulas.meanHopHeight, work.mean(used.map(heightOf)), count);
  const stiff = used.filter((hop) => hop.stiffness !== undefined);
  if (stiff.length > 0) {
    const mean = stiff.reduce((sum, hop) => sum + hop.stiffness!, 0) / stiff.length;
    work.measured(formulas.hopStiffness, work.uncertain(mean, TIMES | WEIGHT | INTEGRAL), count);
  }
  const last = contacts[contacts.length - 1]!;
  const total = work.quantity(last.after.landing.time - contacts[0]!.before.landing.time, TIMES);
  const inAir = work.quantity(hops.reduce((sum, hop) => sum + hop.flightTime, 0), TIMES, TAKEOFF, -hops.length * up.instant, LANDING, hops.length * down.instant, THRESHOLD, -hops.length * edges);
  work.give(formulas.hopPowerFromTimes, total, inAir, work.exact(hops.length), g);
  trial.event("touchdown", contacts[0]!.before.landing.time);
  trial.event("takeoff", contacts[0]!.before.takeoff.time);
  trial.event("landing", last.after.landing.time);
  for (const hop of hops) {
    trial.phase("contact", hop.touchdown, hop.takeoff);
    trial.phase("flight", hop.takeoff, hop.takeoff + hop.flightTime);
  }
}

function meanDoubt(doubts: readonly EdgeDoubt[]): EdgeDoubt {
  const mean = (of: (doubt: EdgeDoubt) => number): number => doubts.reduce((sum, doubt) => sum + of(doubt), 0) / doubts.length;
  return { threshold: mean(({ threshold }) => threshold), instant: mean(({ instant }) => instant) };
}
