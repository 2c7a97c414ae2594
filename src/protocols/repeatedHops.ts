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
import { BODY_WEIGHT, GAIN, GRAVITY, LANDING, NOISE, POSTURE, TAKEOFF, THRESHOLD } from "../uncertainty/sources.ts";

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
  let empty = findEmptyRuns(trial.unfiltered);
  let runs = flightRuns(empty, trial);
  if (runs.length > 1 && removeEmptyDrift(trial, runs[0]!, runs[runs.length - 1]!)) {
    empty = findEmptyRuns(trial.unfiltered);
    runs = flightRuns(empty, trial);
  }
  const longest = runs.reduce<Stretch | undefined>((best, run) => (best === undefined || run.end - run.start > best.end - best.start ? run : best), undefined);
  if (longest === undefined) {
    facts.noFlight = true;
    return [];
  }
  const reading = removeZero(trial, longest, loadedNoise(trial.unfiltered.force, empty.loaded));
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
  const compression = broken ? undefined : compressionOf(trial, touchdown, takeoff, touchdown - before.takeoff.time);
  const stiffness = compression === undefined ? undefined : stiffnessOf(trial, compression, peakForce);
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

/** How far and how long the body sinks in a contact. */
interface Compression {
  /** m. */
  readonly drop: number;
  /** s. */
  readonly seconds: number;
  /** Force at the lowest point, N. */
  readonly force: number;
}

/** The flight before gives the velocity at touchdown; the force of the contact the rest. */
function compressionOf(trial: Trial, touchdown: number, takeoff: number, flightBefore: number): Compression | undefined {
  if (trial.weight === undefined) return undefined;
  const g = trial.gravity.value;
  const first = Math.max(0, Math.floor(touchdown * trial.rate));
  const end = Math.min(trial.samples, Math.ceil(takeoff * trial.rate) + 1);
  const into = touchdown - first / trial.rate;
  const down = (-g * flightBefore) / 2;
  const { displacement } = integrate(trial.force, trial.weight.value, g, first, end, trial.rate, down + g * into, 0, trial.take);
  let at = 0;
  for (let k = 1; k < displacement.length; k++) if (displacement[k]! < displacement[at]!) at = k;
  const drop = down * into - displacement[at]!;
  return drop > 0 ? { drop, seconds: at / trial.rate - into, force: trial.force[first + at]! } : undefined;
}

function stiffnessOf(trial: Trial, { drop, force }: Compression, peakForce: number): number {
  return (trial.word("contact-stiffness-force") === "lowest point" ? force : peakForce) / drop;
}

/** A stiffness with what the velocity at touchdown and body weight leave open of the drop. */
function stiffnessQuantity(trial: Trial, hop: Hop, before: number, up: EdgeDoubt, down: EdgeDoubt): Quantity {
  const { work } = trial;
  const g = trial.gravity.value;
  const compression = compressionOf(trial, hop.touchdown, hop.takeoff, before)!;
  const k = hop.stiffness!;
  const perDrop = k / compression.drop;
  const speed = Math.max(0.1, (g * before) / 2);
  const t = compression.seconds;
  const perSecond = 0.5 * g * t * perDrop;
  // A later touchdown leaves less of the sinking to the contact, and begins it less fast than a fall that lasted until then.
  const perLanding = perSecond + speed * perDrop;
  const stiffness = work.quantity(k, TIMES | WEIGHT | INTEGRAL, GAIN, k * trial.uGain, NOISE, trial.noise / compression.drop);
  work.put(stiffness, THRESHOLD, perSecond * up.threshold - perLanding * down.threshold);
  work.put(stiffness, TAKEOFF, perSecond * up.instant);
  work.put(stiffness, LANDING, perLanding * down.instant);
  work.put(stiffness, POSTURE, ((0.5 * g * Math.hypot(trial.number("landing-posture-mean"), trial.number("landing-posture-u"))) / speed) * t * perDrop);
  work.put(stiffness, BODY_WEIGHT, ((speed * t + 0.5 * g * t * t - compression.drop) / trial.weight!.value) * trial.uWeight * perDrop);
  work.put(stiffness, GRAVITY, -k * trial.uGravity);
  return stiffness;
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
  const basis = trial.word("rsi-basis") === "flight" ? "flight" : "height";
  const rsiOf = (hop: Hop): Quantity => (basis === "flight" ? work.derive(formulas.rsiOfFlight, flightOf(hop), contactOf(hop)) : work.derive(formulas.rsiOfHeight, heightOf(hop), contactOf(hop)));
  const byRsi = [...valid].sort((a, b) => b.rsi - a.rsi || a.number - b.number);
  const enough = valid.length >= trial.number("q18-hops") && valid.length >= FIVE;
  if (enough) {
    work.measured(formulas.bestFiveRsi[basis], work.mean(byRsi.slice(0, FIVE).map(rsiOf)), count);
    work.measured(formulas.lastFiveRsi[basis], work.mean(valid.slice(-FIVE).map(rsiOf)), count);
  } else for (const id of ["bestFiveRsi", "lastFiveRsi"]) trial.reasons.set(id, `the series has ${valid.length} valid hops, and five are needed`);
  work.measured(formulas.meanHopRsi[basis], work.mean(valid.map(rsiOf)), count);
  const asked = trial.word("hops-used");
  const used = !enough || asked === "all valid" ? valid : asked === "last five" ? valid.slice(-FIVE) : byRsi.slice(0, FIVE);
  work.measured(formulas.meanContactTime, work.mean(used.map(contactOf)), count);
  work.measured(formulas.meanFlightTime, work.mean(used.map(flightOf)), count);
  work.measured(formulas.meanHopHeight, work.mean(used.map(heightOf)), count);
  const stiff = used.filter((hop) => hop.stiffness !== undefined);
  if (stiff.length > 0) {
    const flightBefore = (hop: Hop): number => hop.touchdown - contacts[hop.number - 1]!.before.takeoff.time;
    work.measured(formulas.hopStiffness, work.mean(stiff.map((hop) => stiffnessQuantity(trial, hop, flightBefore(hop), up, down))), count);
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
