import * as formulas from "./formulas.ts";
import { findClipping, flightRun, landingOf, posture, removeZero, takeoffOf, thresholdOf, type Crossing } from "./flightOf.ts";
import { finalStand, landingForces, landingMotion, lowAfterLanding, stabilisation, velocityAtEnd } from "./landing.ts";
import { extremeForce, forceAt, largestAt, phaseForces, riseQuantity, smallestAt, steepestRise } from "./phaseMetrics.ts";
import { onsetRuleOf, onsetSample, type Rest, restBefore } from "./restBefore.ts";
import { Kinematics, restAt } from "./Kinematics.ts";
import { braking, lowestPoint, propulsion, type Push, takeoffVelocity, type Turn } from "./pushPhases.ts";
import type { Trial } from "./Trial.ts";
import { INTEGRAL, type Quantity, TIMES, WEIGHT } from "./workings.ts";
import { valueAt } from "../events/crossing.ts";
import { type EmptyRuns, findEmptyRuns, type Stretch } from "../events/findEmptyRuns.ts";
import { loadedNoise } from "../events/loadedNoise.ts";
import { weigh, type Weighing } from "../events/quietStanding.ts";
import { integrate, type Motion } from "../motion/integrate.ts";
import { loadProfile, type LoadProfile } from "../trace/loadProfile.ts";
import { rectangular } from "../uncertainty/rectangular.ts";
import { NOISE, ONSET, SAMPLING } from "../uncertainty/sources.ts";

const INTEGRATED = TIMES | WEIGHT | INTEGRAL;
const LONGEST_LANDING_SECONDS = 3;
const UNWEIGHED_PUSH_SECONDS = 1;
const FREE_PLATE_SECONDS = 0.05;
const LEAST_SLOPE = 500;
/** A slower downward movement is sway, not a countermovement, m/s; common practice. */
const LEAST_DOWNWARD = 0.1;
const AFTER_TAKEOFF_SECONDS = 0.05;
const OTHER_FOOT_SHARE = 0.1;
const PUSH_SECONDS = 0.5;
/** The other way to name the phases: Harry et al. (2020). */
const FOUR_PHASES = "unloading, yielding, braking, propulsion";

/** Countermovement jump and squat jump: rest, push, flight, landing. */
export function analyseStandingJump(trial: Trial): void {
  const empty = findEmptyRuns(trial.unfiltered);
  let run = flightRun(empty, trial);
  if (run !== undefined && otherFootLands(trial, run, empty.loaded)) run = flightRun(findEmptyRuns(trial.unfiltered), trial);
  if (run !== undefined && empty.brief && !pushedBefore(trial, run, empty.loaded)) run = undefined;
  if (run === undefined) {
    trial.facts.noFlight = true;
    findClipping(trial, undefined);
    restBefore(trial, trial.samples);
    return;
  }
  severalJumps(trial, empty, run);
  const reading = removeZero(trial, run, loadedNoise(trial.unfiltered.force, empty.loaded));
  let threshold = thresholdOf(trial, reading);
  let rest = restBefore(trial, run.start);
  const stand = finalStand(trial, run.end / trial.rate, 1, trial.weight?.value);
  if (rest !== undefined && stand !== undefined && removeDrift(trial, rest, stand, run)) {
    threshold = thresholdOf(trial, reading);
    rest = reweighed(trial, rest);
  }
  const takeoff = takeoffOf(trial, run, threshold, empty.loaded);
  if (takeoff === undefined) {
    trial.facts.noFlight = true;
    return;
  }
  const landing = run.end < trial.samples ? landingOf(trial, run, threshold, empty.loaded) : undefined;
  if (landing === undefined) trial.facts.noLanding = true;
  findClipping(trial, takeoff.time);
  flight(trial, takeoff, landing);
  const start = rest === undefined ? undefined : startOfMovement(trial, rest, takeoff);
  trial.requireOrder("holdEnd", "onset", "takeoff", "landing");
  push(trial, start?.onset, takeoff);
  freePlate(trial, takeoff.time);
  if (landing !== undefined) landingForces(trial, landing.quantity);
  if (start === undefined) return;
  integrated(trial, start, takeoff, landing, stand);
}

/** Whether the force came up to a push before an empty run: a fall to near zero without one is the way down of a countermovement. */
function pushedBefore(trial: Trial, run: Stretch, loaded: number): boolean {
  const { sums, blockSize, rate } = trial.unfiltered;
  const last = Math.floor(run.start / blockSize);
  const limit = trial.number("q8-push") * loaded * blockSize;
  for (let b = Math.max(0, last - Math.round((PUSH_SECONDS * rate) / blockSize)); b < last; b++) if (sums[b]! > limit) return true;
  return false;
}

/** Says which of several jumps is analysed: the one with the longest flight. */
function severalJumps(trial: Trial, empty: EmptyRuns, run: Stretch): void {
  const shortest = trial.number("q8-flight-shortest") * trial.rate;
  const longest = trial.number("q8-flight-longest") * trial.rate;
  const flights = empty.runs.filter(({ start, end }) => start > 0 && end < trial.samples && end - start >= shortest && end - start <= longest);
  if (flights.length < 2) return;
  trial.facts.jumps = flights.length;
  trial.facts.jumpNumber = flights.filter(({ start }) => start <= run.start).length;
}

/** The weighing again after a drift was taken off; only a weight from the plates lets one be taken off. */
function reweighed(trial: Trial, rest: Rest): Rest {
  const again = (window: Weighing): Weighing => weigh(trial.force, window.start, window.end, trial.rate);
  trial.phases.length = 0;
  trial.setWeight(again(trial.weighing!), undefined);
  return { ...rest, weighing: again(rest.weighing) };
}

/** Drift between the quiet stands before and after, taken off where it is real: `F - b (t - middle of flight)`. */
function removeDrift(trial: Trial, rest: Rest, stand: Weighing, run: Stretch): boolean {
  const { work, facts, rate } = trial;
  const before = rest.weighing;
  // Plates that were set to zero before have no offset.
  if (facts.bodyWeightGiven === true || facts.offset === undefined) return false;
  const sway = Math.max(trial.number("q1-sd-look-force"), (trial.number("q1-sd-look") / 100) * before.mean);
  const halves = Math.max(trial.number("q1-drift-force"), (trial.number("q1-drift") / 100) * before.mean);
  const quiet = (window: Weighing): boolean => window.sway <= sway && Math.abs(window.halfDifference) <= halves;
  if (!quiet(before) || !quiet(stand) || Math.abs(stand.mean / before.mean - 1) > trial.number("q24-standing") / 100) return false;
  const middleOf = (window: Stretch): number => (window.start + window.end) / 2 / rate;
  const drift = work.give(formulas.driftRate, work.exact(stand.mean, WEIGHT), work.exact(before.mean), work.exact(middleOf(stand)), work.exact(middleOf(before))).value;
  facts.drift = drift;
  if (Math.abs(drift) <= trial.number("q4-drift") || facts.offsetRemoved !== true) return false;
  const middle = middleOf(run);
  const { mass } = trial.adjust;
  if (mass !== undefined) {
    const known = (mass + (trial.protocol.load ?? 0)) * trial.gravity.value;
    const corrected = before.mean - drift * (middleOf(before) - middle);
    if (Math.abs(corrected - known) > Math.abs(before.mean - known)) return false;
  }
  trial.correct(0, drift, middle);
  for (const side of [trial.left, trial.right]) {
    if (side === undefined) continue;
    side.slope = drift / 2;
    side.middle = middle;
  }
  facts.driftRemoved = true;
  return true;
}

/** Flight time and its height. */
function flight(trial: Trial, takeoff: Crossing, landing: Crossing | undefined): void {
  const { work } = trial;
  if (landing === undefined) return;
  trial.phase("flight", takeoff.time, landing.time);
  const time = work.give(formulas.flightTime, landing.quantity, takeoff.quantity);
  trial.facts.flight = time.value;
  if (!(time.value > 0)) return;
  work.give(formulas.heightOfFlightWithPosture, time, trial.gravity, posture(trial));
}

interface Start {
  /** Where integration starts, s. */
  readonly rest: number;
  /** Start of the movement (of the push, in a squat jump). */
  readonly onset: Quantity;
}

function startOfMovement(trial: Trial, rest: Rest, takeoff: Crossing): Start | undefined {
  const { rate, facts } = trial;
  const end = Math.floor(takeoff.time * rate);
  const squat = trial.protocol.test === "SJ";
  const rule = onsetRuleOf(trial, squat ? "squat-onset-rule" : "onset-rule", rest.weighing);
  const first = onsetSample(trial, rest, rule, end);
  const byHand = trial.adjust.events.get("onset");
  if (first === undefined && byHand === undefined) {
    facts.noOnset = true;
    return undefined;
  }
  const moved = Math.max(0, (first ?? 0) / rate - rule.stepBack);
  const u = rectangular(trial.number("onset-half-width"));
  const quantity = (time: number): Quantity => trial.work.quantity(time, TIMES | WEIGHT, ONSET, u);
  if (!squat) {
    const onset = trial.event("onset", moved);
    return { rest: onset, onset: quantity(onset) };
  }
  const hold = trial.event("holdEnd", byHand === undefined ? moved : Math.min(byHand, first === undefined ? byHand : moved));
  const push = pushSample(trial, end, rule.limit);
  const onset = trial.event("onset", Math.max(hold, push / rate - rule.stepBack));
  trial.phase("hold", rest.weighing.start / rate, hold);
  return { rest: hold, onset: quantity(onset) };
}

/** The last sample at which the force rises above body weight by the limit, without coming back for the onset duration before take-off. */
function pushSample(trial: Trial, end: number, limit: number): number {
  const level = trial.weight!.value + limit;
  const needed = Math.max(1, Math.round(trial.number("onset-duration") * trial.rate));
  let i = end;
  while (i > 0 && trial.force[i]! <= level) i--;
  let below = 0;
  while (i > 0 && below < needed) below = trial.force[--i]! > level ? 0 : below + 1;
  return i + below;
}

/** Peak force and steepest rise before take-off; these need no integration. */
function push(trial: Trial, onset: Quantity | undefined, takeoff: Crossing): void {
  const { work, rate } = trial;
  const start = onset?.value ?? Math.max(0, takeoff.time - UNWEIGHED_PUSH_SECONDS);
  const peak = extremeForce(trial, formulas.peakForce, work.exact(start), work.exact(takeoff.time), 0);
  if (peak === undefined) return;
  trial.event("peakForce", peak.at / rate);
  if (trial.weight !== undefined) trial.facts.pushShare = peak.quantity.value / trial.weight.value;
  const window = trial.number("rfd-window");
  const rise = steepestRise(trial.force, start, peak.at / rate - window + 1 / rate, window, rate, trial.noise);
  if (rise === undefined) return;
  work.measured(formulas.maximumRfd, riseQuantity(trial, rise, TIMES), work.exact(window), work.exact(start), work.exact(peak.at / rate));
}

/**
 * In a test of one leg the other foot may help to land: from the flight on, its plate is then part of the force.
 *
 * @returns Whether the other plate was loaded after take-off.
 */
function otherFootLands(trial: Trial, run: Stretch, loaded: number): boolean {
  const plate = trial.freePlate;
  if (plate === undefined) return false;
  const needed = Math.max(1, Math.round(FREE_PLATE_SECONDS * trial.rate));
  const first = run.start + Math.round(AFTER_TAKEOFF_SECONDS * trial.rate);
  let count = 0;
  for (let i = first; i < trial.samples && count < needed; i++) count = plate.force[i]! > OTHER_FOOT_SHARE * loaded ? count + 1 : 0;
  if (count < needed) return false;
  const combined = (force: Float64Array, free: Float64Array): LoadProfile => {
    const sum = force.slice();
    for (let i = first; i < sum.length; i++) sum[i] = sum[i]! + free[i]!;
    return loadProfile([sum], trial.rate);
  };
  const same = trial.unfiltered === trial.profile;
  const { force } = trial.unfiltered;
  trial.profile = combined(trial.force, plate.force);
  trial.force = trial.profile.force;
  trial.unfiltered = same ? trial.profile : combined(force, trial.before(plate).force);
  trial.facts.otherFootLands = true;
  return true;
}

/** Largest 50 ms mean of the plate that should be free, before take-off. */
function freePlate(trial: Trial, takeoff: number): void {
  const plate = trial.freePlate;
  if (plate === undefined) return;
  const width = Math.max(1, Math.round(FREE_PLATE_SECONDS * trial.rate));
  const last = Math.floor(takeoff * trial.rate);
  let sum = 0;
  let largest = -Infinity;
  for (let i = 0; i < last; i++) {
    sum += plate.force[i]!;
    if (i >= width) sum -= plate.force[i - width]!;
    if (i >= width - 1 && sum > largest) largest = sum;
  }
  if (Number.isFinite(largest)) trial.facts.freePlate = largest / width;
}

/** Everything that needs velocity. */
function integrated(trial: Trial, start: Start, takeoff: Crossing, landing: Crossing | undefined, stand: Weighing | undefined): void {
  const { work, rate, facts } = trial;
  const first = Math.max(0, Math.ceil(start.rest * rate - 1e-6));
  const restTime = first / rate;
  const kinematics = new Kinematics(trial, motionUntilRest(trial, first, takeoff, landing), restTime, restAt(trial));
  trial.anchor = { sample: first, velocity: 0, displacement: 0, restBefore: true };

  const velocity = work.measured(
    formulas.takeoffVelocity,
    takeoffVelocity(trial, kinematics, takeoff),
    trial.gravity,
    trial.weight!,
    work.exact(restTime),
    takeoff.quantity,
  );
  if (!(velocity.value > 0)) {
    facts.noTakeoffVelocity = velocity.value;
    return;
  }
  const displacement = work.measured(formulas.takeoffDisplacement, kinematics.displacementAt(takeoff.quantity), work.exact(restTime), takeoff.quantity);
  heights(trial, velocity, displacement, start.onset, takeoff);
  const push: Push = { kinematics, takeoff, velocity, displacement };
  if (trial.protocol.test === "SJ") squatPhases(trial, start, push);
  else countermovementPhases(trial, start, push);

  if (landing === undefined) return;
  landingMotion(trial, kinematics, landing.quantity);
  stabilisation(trial, landing.quantity);
  facts.lowAfterLanding = lowAfterLanding(trial, landing.time);
  if (stand === undefined) return;
  const final = facts.driftRemoved === true ? weigh(trial.force, stand.start, stand.end, rate) : stand;
  facts.finalShare = final.mean / trial.weight!.value;
  if (facts.clipping === undefined) velocityAtEnd(trial, kinematics, final, restTime, velocity.value, takeoff.time - restTime);
}

/** Motion from rest to take-off and on until the landing has come to rest, as far as the record goes. */
function motionUntilRest(trial: Trial, first: number, takeoff: Crossing, landing: Crossing | undefined): Motion {
  const { force, gravity, rate, samples, take } = trial;
  const last = landing === undefined ? takeoff.time : landing.time + LONGEST_LANDING_SECONDS;
  const end = Math.min(samples, Math.ceil(last * rate) + 2);
  return integrate(force, trial.weight!.value, gravity.value, first, end, rate, 0, 0, take, landing === undefined ? Infinity : Math.ceil(landing.time * rate));
}

/** Heights, and what is divided by the time to take-off. */
function heights(trial: Trial, velocity: Quantity, displacement: Quantity, onset: Quantity, takeoff: Crossing): void {
  const { work, facts } = trial;
  const byVelocity = work.give(formulas.heightOfVelocity, velocity, trial.gravity);
  facts.heightVelocity = byVelocity.value;
  const squat = trial.protocol.test === "SJ";
  const above = squat ? undefined : work.give(formulas.heightAboveStanding, byVelocity, displacement);
  const byFlight = work.metrics.get("jumpHeightFlightTime");
  if (byFlight !== undefined) facts.heightDifference = work.give(formulas.heightDifference, byFlight, byVelocity).value;
  const method = trial.word("height-method");
  const chosen = method === "flight time" ? byFlight : method === "above standing" ? above : byVelocity;
  const time = work.give(formulas.timeToTakeoff, takeoff.quantity, onset);
  if (chosen === undefined) {
    const reason = method === "flight time" ? "the landing is not in the record" : "a squat jump has no height above standing: its displacement starts in the squat";
    for (const id of ["jumpHeight", "rsiModified"]) trial.reasons.set(id, reason);
  } else {
    const height = work.give(formulas.jumpHeight[method]!, chosen);
    if (time.value > 0) work.give(formulas.rsiModified, height, time);
  }
  const flightTime = work.metrics.get("flightTime");
  if (flightTime !== undefined && time.value > 0) work.give(formulas.flightToTakeoffTime, flightTime, time);
}

/** Largest velocity before take-off. */
function peakVelocity(trial: Trial, { kinematics, takeoff }: Push, from: number): void {
  const { rate, work } = trial;
  const { velocity, start } = kinematics.motion;
  const at = largestAt(velocity, Math.max(0, from - start / rate), takeoff.time - start / rate, rate);
  if (at < 0) return;
  const time = trial.event("peakVelocity", (start + at) / rate);
  work.measured(formulas.peakVelocity, kinematics.velocity(time), takeoff.quantity);
}

function countermovementPhases(trial: Trial, start: Start, push: Push): void {
  const { work, rate, facts } = trial;
  const { kinematics, takeoff } = push;
  peakVelocity(trial, push, start.onset.value);
  const v = kinematics.motion.velocity;
  const first = kinematics.motion.start;
  const last = Math.floor(takeoff.time * rate) - first;
  const k1 = smallestAt(v, 0, (last + 1) / rate, rate);
  const low = lowestPoint(trial, kinematics, k1, last);
  if (k1 <= 0 || v[k1]! > -LEAST_DOWNWARD || low === undefined) {
    facts.noLowest = true;
    trial.events.delete("lowest");
    return;
  }
  const turnTime = trial.event("minimumVelocity", (first + k1) / rate);
  const slope = slopeAtTurn(trial, first + k1);
  const grid = work.quantity(0, 0, SAMPLING, 1 / (rate * Math.sqrt(12)), NOISE, trial.noise / slope);
  // Zero and gain move the force and body weight alike, and so not the instant at which they cross.
  const turn = work.linear(turnTime, INTEGRATED, grid, 1, trial.weight!, 1 / slope, trial.forceQuantity(trial.weight!.value, 0, Infinity), -1 / slope);
  const vTurn = work.measured(formulas.minimumVelocity, kinematics.velocity(turnTime), start.onset, takeoff.quantity);
  const zTurn = work.widened(kinematics.displacement(turnTime), turn, vTurn.value);
  const zLow = work.measured(formulas.lowestDisplacement, kinematics.displacement(low.instant.value), start.onset, low.instant);
  work.give(formulas.countermovementDepth, zLow);
  work.give(formulas.pushOffDistance, push.displacement, zLow);
  const minimum = extremeForce(trial, formulas.minimumForce, work.exact(start.onset.value), work.exact(low.instant.value), TIMES | WEIGHT, -1);
  if (minimum !== undefined) trial.event("minimumForce", minimum.at / rate);
  unweighting(trial, start.onset, turn, vTurn);
  const lowest: Turn = { instant: low.instant, velocity: low.velocity, displacement: zLow };
  braking(trial, kinematics, { instant: turn, velocity: vTurn, displacement: zTurn }, lowest);
  const lowForce = forceAt(trial, formulas.forceAtZeroVelocity, low.instant);
  const turnForce = work.measured(formulas.forceAtMinimumVelocity, forceAtTurn(trial, turnTime), turn);
  const brakingTime = work.metrics.get("brakingTime");
  if (brakingTime !== undefined && brakingTime.value > 0) work.give(formulas.brakingRfd, lowForce, turnForce, brakingTime);
  stiffness(trial, lowForce, turnForce, zLow);
  propulsion(trial, push, lowest);
}

/**
 * Force where the velocity is least: body weight, with its doubt, whatever the doubt of the instant. It is only used in a difference to another
 * force, where the noise of two samples does not cancel: with this share of it, of the other sign, the difference has sqrt(2) of the noise.
 */
function forceAtTurn(trial: Trial, time: number): Quantity {
  const { work } = trial;
  const noise = work.quantity(0, INTEGRATED, NOISE, (1 - Math.SQRT2) * trial.noise);
  return work.linear(valueAt(trial.force, time * trial.rate), INTEGRATED, trial.weight!, 1, noise, 1);
}

/** Slope of the force where it crosses body weight upward, N/s; it tells how sharp that instant is. */
function slopeAtTurn(trial: Trial, at: number): number {
  const { force, rate, samples } = trial;
  const slope = (force[Math.min(samples - 1, at + 1)]! - force[Math.max(0, at - 1)]!) * 0.5 * rate;
  return Math.max(slope, LEAST_SLOPE);
}

function unweighting(trial: Trial, onset: Quantity, turn: Quantity, vMin: Quantity): void {
  const { work } = trial;
  const least = trial.events.get("minimumForce")?.time;
  if (trial.word("phase-names") === FOUR_PHASES && least !== undefined && least > onset.value && least < turn.value) {
    trial.phase("unloading", onset.value, least);
    trial.phase("yielding", least, turn.value);
  } else trial.phase("unweighting", onset.value, turn.value);
  work.give(formulas.unweightingTime, turn, onset);
  work.give(formulas.unweightingImpulse.sum, trial.mass!, vMin, work.exact(0));
  phaseForces(trial, formulas.unweightingImpulse, formulas.meanForceUnweighting, onset, turn, INTEGRATED);
}

function stiffness(trial: Trial, low: Quantity, atTurn: Quantity, zLow: Quantity): void {
  const { work } = trial;
  const form = trial.word("stiffness-form");
  const formula = formulas.countermovementStiffness[form]!;
  if (!(zLow.value < 0)) return;
  if (form === "gross") work.give(formula, low, zLow);
  else if (form === "braking change") work.give(formula, low, atTurn, work.metrics.get("brakingDisplacement")!);
  else work.give(formula, low, trial.weight!, zLow);
}

function squatPhases(trial: Trial, start: Start, push: Push): void {
  const { work, rate, facts } = trial;
  const { onset } = start;
  const { kinematics, takeoff } = push;
  const weight = trial.weight!.value;
  const first = kinematics.motion.start;
  const z = kinematics.motion.displacement;
  const lowestAt = Math.max(0, smallestAt(z, 0, takeoff.time - first / rate, rate));
  const zLow = work.measured(formulas.lowestDisplacement, kinematics.displacement((first + lowestAt) / rate), onset, work.exact((first + lowestAt) / rate));
  work.give(formulas.pushOffDistance, push.displacement, zLow);
  const dipAt = smallestAt(trial.force, start.rest, Math.max(onset.value, start.rest + 1 / rate), rate);
  const least = dipAt < 0 ? weight : Math.min(weight, trial.force[dipAt]!);
  const depth = weight - least;
  // A force that never falls below body weight is no dip, whatever the doubt of both: only noise could hide one.
  const dip =
    depth > 0
      ? work.linear(depth / weight, TIMES | WEIGHT, trial.forceQuantity(least, 0), -1 / weight, trial.weight!, least / (weight * weight))
      : work.quantity(0, TIMES | WEIGHT, NOISE, trial.noise / weight);
  work.measured(formulas.dipFraction, dip, trial.weight!, work.exact(start.rest), onset);
  facts.dipRule = trial.word("squat-dip-rule");
  facts.dip = depth / weight;
  facts.dipDepth = -zLow.value;
  facts.dipDeviations = depth / Math.max(trial.weighing?.sd ?? 0, facts.holdSway ?? 0, Math.max(1, trial.trace.step) / 5);
  peakVelocity(trial, push, onset.value);
  // The push may begin in motion: a later start is a start with another velocity, from another height.
  const from = Math.max(first / rate, onset.value);
  const v = kinematics.velocity(from);
  const zOnset = kinematics.displacement(from);
  const acceleration = (valueAt(trial.force, from * rate) / weight - 1) * trial.gravity.value;
  const velocity = work.widened(v, onset, acceleration);
  const displacement = work.widened(zOnset, onset, v.value);
  propulsion(trial, push, { instant: onset, velocity, displacement }, formulas.propulsionTimeSquat);
}
