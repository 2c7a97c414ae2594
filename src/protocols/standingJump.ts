import * as formulas from "./formulas.ts";
import { findClipping, flightRun, landingOf, removeZero, takeoffOf, thresholdOf, type Crossing } from "./flightOf.ts";
import { finalStand, landingForces, landingMotion, lowAfterLanding, stabilisation, velocityAtEnd } from "./landing.ts";
import { extremeForce, forceAt, largestAt, meanForce, sideImpulses, smallestAt, steepestRise } from "./phaseMetrics.ts";
import { onsetRuleOf, onsetSample, type Rest, restBefore } from "./restBefore.ts";
import type { Trial } from "./Trial.ts";
import { INTEGRAL, type Quantity, TIMES, WEIGHT } from "./workings.ts";
import { valueAt } from "../events/crossing.ts";
import { findEmptyRuns, type Stretch } from "../events/findEmptyRuns.ts";
import { loadedNoise } from "../events/loadedNoise.ts";
import { weigh, type Weighing } from "../events/quietStanding.ts";
import { integrate, type Motion } from "../motion/integrate.ts";
import { profileOf } from "../trace/loadProfile.ts";
import { correctedForce } from "../trace/zero.ts";
import { rectangular } from "../uncertainty/rectangular.ts";
import { ONSET, POSTURE } from "../uncertainty/sources.ts";

const INTEGRATED = TIMES | WEIGHT | INTEGRAL;
const LANDING_SECONDS = 0.6;
const LONG_LANDING_SECONDS = 3;
const UNWEIGHED_PUSH_SECONDS = 1;
const FREE_PLATE_SECONDS = 0.05;

/** Countermovement jump and squat jump: rest, push, flight, landing. */
export function analyseStandingJump(trial: Trial): void {
  const empty = findEmptyRuns(trial.profile);
  const run = flightRun(empty, trial);
  if (run === undefined) {
    trial.facts.noFlight = true;
    findClipping(trial, undefined);
    restBefore(trial, trial.samples);
    return;
  }
  const reading = removeZero(trial, run, loadedNoise(trial.force, empty.loaded));
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
  push(trial, start?.onset, takeoff);
  freePlate(trial, takeoff.time);
  if (landing !== undefined) landingForces(trial, landing.quantity);
  if (start === undefined) return;
  integrated(trial, start, takeoff, landing, stand);
}

/** The weighing again after a drift was taken off. */
function reweighed(trial: Trial, rest: Rest): Rest {
  if (rest.weighing === undefined || trial.weighing === undefined) return rest;
  const again = (window: Weighing): Weighing => weigh(trial.force, window.start, window.end, trial.rate);
  trial.phases.length = 0;
  trial.setWeight(again(trial.weighing), trial.adjust.bodyWeight);
  return { ...rest, weighing: again(rest.weighing) };
}

/** Drift between the quiet stands before and after, taken off where it is real: `F - b (t - middle of flight)`. */
function removeDrift(trial: Trial, rest: Rest, stand: Weighing, run: Stretch): boolean {
  const { work, facts, rate } = trial;
  const before = rest.weighing;
  if (before === undefined || facts.zeroedUpstream === true || facts.bodyWeightGiven === true || facts.offset === undefined) return false;
  const limit = Math.max(trial.number("q1-sd-remove-force"), (trial.number("q1-sd-remove") / 100) * before.mean);
  if (before.sway > limit || Math.abs(stand.mean / before.mean - 1) > trial.number("q24-standing") / 100) return false;
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
  trial.force = correctedForce(trial.force, 0, drift, middle, rate);
  trial.profile = profileOf(trial.force, trial.profile);
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

/** What a lower landing does to a height by flight time: nothing to its value, half of the posture to its uncertainty. */
export function posture(trial: Trial): Quantity {
  return trial.work.quantity(0, 0, POSTURE, 0.5 * Math.hypot(trial.number("landing-posture-mean"), trial.number("landing-posture-u")));
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
  trial.phase("hold", (rest.weighing?.start ?? 0) / rate, hold);
  return { rest: hold, onset: quantity(onset) };
}

/** The last sample at which the force rises above body weight by the limit, without coming back before take-off. */
function pushSample(trial: Trial, end: number, limit: number): number {
  const level = trial.weight!.value + limit;
  let i = end;
  while (i > 0 && trial.force[i]! <= level) i--;
  while (i > 0 && trial.force[i - 1]! > level) i--;
  return i;
}

/** Peak force and steepest rise before take-off; these need no integration. */
function push(trial: Trial, onset: Quantity | undefined, takeoff: Crossing): void {
  const { work, rate } = trial;
  const start = onset?.value ?? Math.max(0, takeoff.time - UNWEIGHED_PUSH_SECONDS);
  const peak = extremeForce(trial, formulas.peakForce, start, takeoff.time, 0);
  if (peak === undefined) return;
  trial.event("peakForce", peak.at / rate);
  if (trial.weight !== undefined) trial.facts.pushShare = peak.quantity.value / trial.weight.value;
  const window = trial.number("rfd-window");
  const rise = steepestRise(trial.force, start, peak.at / rate - window + 1 / rate, window, rate);
  if (rise === undefined) return;
  const q = trial.forceQuantity(rise, TIMES);
  work.measured(formulas.maximumRfd, work.combined(rise, TIMES, q, q, 0), work.exact(window), work.exact(start), work.exact(peak.at / rate));
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
  const weight = trial.weight!;
  const g = trial.gravity;
  const first = Math.max(0, Math.ceil(start.rest * rate - 1e-6));
  const motion = motionUntilRest(trial, first, takeoff, landing);
  trial.anchor = { sample: first, velocity: 0, displacement: 0, restBefore: true };
  const restTime = first / rate;
  const position = takeoff.time * rate - first;
  const seconds = takeoff.time - restTime;

  const bare = trial.velocity(valueAt(motion.velocity, position), seconds);
  const slope = (trial.facts.threshold! / weight.value - 1) * g.value;
  const atTakeoff = work.combined(bare.value, bare.needs, bare, takeoff.quantity, slope);
  if (!(atTakeoff.value > 0)) {
    facts.noTakeoffVelocity = atTakeoff.value;
    work.measured(formulas.takeoffVelocity, atTakeoff, g, weight, work.exact(restTime), takeoff.quantity);
    return;
  }
  const velocity = work.measured(formulas.takeoffVelocity, atTakeoff, g, weight, work.exact(restTime), takeoff.quantity);
  const z = trial.displacement(valueAt(motion.displacement, position), seconds);
  const displacement = work.measured(
    formulas.takeoffDisplacement,
    work.combined(z.value, z.needs, z, takeoff.quantity, velocity.value),
    work.exact(restTime),
    takeoff.quantity,
  );
  heights(trial, velocity, displacement, start.onset, takeoff);
  const squat = trial.protocol.test === "SJ";
  if (squat) squatPhases(trial, start, takeoff, motion, velocity, displacement, restTime);
  else countermovementPhases(trial, start, takeoff, motion, velocity, displacement, restTime);

  if (landing === undefined) return;
  landingMotion(trial, motion, landing.quantity, restTime);
  stabilisation(trial, landing.quantity);
  facts.lowAfterLanding = lowAfterLanding(trial, landing.time);
  if (stand === undefined) return;
  const final = facts.driftRemoved === true ? weigh(trial.force, stand.start, stand.end, rate) : stand;
  facts.finalShare = final.mean / weight.value;
  if (facts.clipping === undefined) velocityAtEnd(trial, motion, final, velocity.value, seconds);
}

/** Motion from rest to take-off and on until the landing has come to rest, as far as the record goes. */
function motionUntilRest(trial: Trial, first: number, takeoff: Crossing, landing: Crossing | undefined): Motion {
  const { force, gravity, rate, samples } = trial;
  const weight = trial.weight!.value;
  const until = (seconds: number): number => Math.min(samples, Math.ceil(((landing?.time ?? takeoff.time) + seconds) * rate) + 2);
  if (landing === undefined) return integrate(force, weight, gravity.value, first, until(0), rate);
  const motion = integrate(force, weight, gravity.value, first, until(LANDING_SECONDS), rate);
  const at = Math.ceil(landing.time * rate) - first;
  for (let k = at; k < motion.velocity.length; k++) if (motion.velocity[k]! >= 0) return motion;
  return integrate(force, weight, gravity.value, first, until(LONG_LANDING_SECONDS), rate);
}

/** Heights, and what is divided by the time to take-off. */
function heights(trial: Trial, velocity: Quantity, displacement: Quantity, onset: Quantity, takeoff: Crossing): void {
  const { work, facts } = trial;
  const byVelocity = work.give(formulas.heightOfVelocity, velocity, trial.gravity);
  facts.heightVelocity = byVelocity.value;
  const squat = trial.protocol.test === "SJ";
  const above = squat ? undefined : work.give(formulas.heightAboveStanding, byVelocity, displacement);
  const byFlight = work.known("jumpHeightFlightTime");
  if (byFlight !== undefined) facts.heightDifference = work.give(formulas.heightDifference, byFlight, byVelocity).value;
  const method = trial.word("height-method");
  const chosen = method === "flight time" ? byFlight : method === "above standing" ? above : byVelocity;
  const time = work.give(formulas.timeToTakeoff, takeoff.quantity, onset);
  if (chosen === undefined) {
    trial.reasons.set("jumpHeight", method === "flight time" ? "the landing is not in the record" : "a squat jump has no height above standing: its displacement starts in the squat");
  } else {
    const height = work.give(formulas.jumpHeight[method]!, chosen);
    if (time.value > 0) work.give(formulas.rsiModified, height, time);
  }
  const flightTime = work.known("flightTime");
  if (flightTime !== undefined && time.value > 0) work.give(formulas.flightToTakeoffTime, flightTime, time);
}

/** Largest velocity before take-off. */
function peakVelocity(trial: Trial, motion: Motion, from: number, takeoff: Crossing, restTime: number): void {
  const { work, rate } = trial;
  const at = largestAt(motion.velocity, Math.max(0, from - restTime), takeoff.time - restTime, rate);
  if (at < 0) return;
  const time = trial.event("peakVelocity", (motion.start + at) / rate);
  work.measured(formulas.peakVelocity, trial.velocity(motion.velocity[at]!, time - restTime), takeoff.quantity);
}

/** Work, mean power, mean force, impulse, peaks of the push from `from` to take-off. */
export function propulsion(
  trial: Trial,
  motion: Motion,
  from: Quantity,
  velocityFrom: Quantity,
  displacementFrom: Quantity,
  takeoff: Crossing,
  velocity: Quantity,
  displacement: Quantity,
  restTime: number,
  timeFormula = formulas.propulsionTime,
): void {
  const { work, rate } = trial;
  const time = work.give(timeFormula, takeoff.quantity, from);
  const dz = work.give(formulas.propulsionDisplacement, displacement, displacementFrom);
  if (!(time.value > 0)) return;
  trial.phase("propulsion", from.value, takeoff.time);
  work.give(formulas.meanVelocityPropulsion, dz, time);
  const works = work.give(formulas.propulsionWork, velocity, velocityFrom, trial.gravity, dz);
  work.give(formulas.meanPowerPropulsion, trial.mass!, works, time);
  work.give(formulas.propulsionImpulse.sum, trial.mass!, velocity, velocityFrom);
  sideImpulses(trial, formulas.propulsionImpulse, from.value, takeoff.time, INTEGRATED);
  meanForce(trial, formulas.meanForcePropulsion, from.value, takeoff.time, INTEGRATED);
  extremeForce(trial, formulas.peakForcePropulsion, from.value, takeoff.time, INTEGRATED);
  const at = extremePower(trial, motion, from.value, takeoff.time, 1);
  if (at >= 0) {
    const seconds = at / rate - restTime;
    work.measured(formulas.peakPower, trial.power(trial.force[at]!, motion.velocity[at - motion.start]!, seconds), from, takeoff.quantity);
  }
}

/** Sample of the largest (sign 1) or most negative (sign -1) power between two times; -1 where there is none. */
export function extremePower(trial: Trial, motion: Motion, start: number, end: number, sign: 1 | -1): number {
  const { force, rate } = trial;
  const { velocity } = motion;
  const last = Math.min(motion.start + velocity.length, Math.ceil(end * rate - 1e-6));
  let at = -1;
  let extreme = -Infinity;
  for (let i = Math.max(motion.start, Math.ceil(start * rate - 1e-6)); i < last; i++) {
    const power = sign * force[i]! * velocity[i - motion.start]!;
    if (power > extreme) {
      extreme = power;
      at = i;
    }
  }
  return at;
}

/** An instant at which the velocity has a known value: its doubt is that of the velocity over the acceleration. */
export function instantOf(trial: Trial, time: number, v: Quantity, acceleration: number): Quantity {
  const a = Math.abs(acceleration) < 0.5 ? 0.5 * Math.sign(acceleration || 1) : acceleration;
  return trial.work.combined(time, v.needs, v, v, -1 - 1 / a);
}

function countermovementPhases(
  trial: Trial,
  start: Start,
  takeoff: Crossing,
  motion: Motion,
  velocity: Quantity,
  displacement: Quantity,
  restTime: number,
): void {
  const { work, rate, facts } = trial;
  peakVelocity(trial, motion, start.onset.value, takeoff, restTime);
  const v = motion.velocity;
  const last = Math.floor(takeoff.time * rate) - motion.start;
  const k1 = smallestAt(v, 0, (last + 1) / rate, rate);
  let k2 = k1;
  while (k2 <= last && v[k2]! < 0) k2++;
  if (k1 <= 0 || k2 > last || v[k1]! >= 0) {
    facts.noLowest = true;
    return;
  }
  const dv = v[k2]! - v[k2 - 1]!;
  const lowestTime = trial.event("lowest", (motion.start + k2 - 1 - v[k2 - 1]! / dv) / rate);
  const minimumTime = trial.event("minimumVelocity", (motion.start + k1) / rate);
  const still = trial.velocity(0, lowestTime - restTime);
  const lowest = instantOf(trial, lowestTime, still, dv * rate);
  const vMin = work.measured(formulas.minimumVelocity, trial.velocity(valueAt(v, minimumTime * rate - motion.start), minimumTime - restTime), start.onset, takeoff.quantity);
  const zAt = (time: number): Quantity => trial.displacement(valueAt(motion.displacement, time * rate - motion.start), time - restTime);
  const zLow = work.measured(formulas.lowestDisplacement, zAt(lowestTime), start.onset, lowest);
  work.give(formulas.countermovementDepth, zLow);
  work.give(formulas.pushOffDistance, displacement, zLow);

  const minimum = extremeForce(trial, formulas.minimumForce, start.onset.value, lowestTime, TIMES | WEIGHT, smallestAt);
  if (minimum !== undefined) trial.event("minimumForce", minimum.at / rate);
  const slope = (trial.force[Math.min(trial.samples - 1, motion.start + k1 + 1)]! - trial.force[Math.max(0, motion.start + k1 - 1)]!) * 0.5 * rate;
  const weight = trial.weight!;
  const turn = work.combined(minimumTime, INTEGRATED, weight, weight, -1 + 1 / Math.max(slope, 500));
  unweighting(trial, start.onset, turn, vMin);
  braking(trial, motion, turn, lowest, vMin, still, zAt(minimumTime), zLow, restTime);
  const low = forceAt(trial, formulas.forceAtZeroVelocity, lowest);
  const atTurn = work.measured(formulas.forceAtMinimumVelocity, trial.forceQuantity(valueAt(trial.force, minimumTime * rate), INTEGRATED), turn);
  const brakingTime = work.known("brakingTime");
  if (brakingTime !== undefined && brakingTime.value > 0) work.give(formulas.brakingRfd, low, atTurn, brakingTime);
  stiffness(trial, low, atTurn, zLow);
  propulsion(trial, motion, lowest, still, zLow, takeoff, velocity, displacement, restTime);
}

function unweighting(trial: Trial, onset: Quantity, turn: Quantity, vMin: Quantity): void {
  const { work } = trial;
  trial.phase("unweighting", onset.value, turn.value);
  work.give(formulas.unweightingTime, turn, onset);
  work.give(formulas.unweightingImpulse.sum, trial.mass!, vMin, work.exact(0));
  sideImpulses(trial, formulas.unweightingImpulse, onset.value, turn.value, INTEGRATED);
  meanForce(trial, formulas.meanForceUnweighting, onset.value, turn.value, INTEGRATED);
}

/** Braking from `from` to the lowest point, of a countermovement or of a drop jump's contact. */
export function braking(
  trial: Trial,
  motion: Motion,
  from: Quantity,
  lowest: Quantity,
  velocityFrom: Quantity,
  still: Quantity,
  displacementFrom: Quantity,
  zLow: Quantity,
  restTime: number,
  timeFormula = formulas.brakingTime,
): void {
  const { work, rate } = trial;
  const time = work.give(timeFormula, lowest, from);
  const dz = work.give(formulas.brakingDisplacement, zLow, displacementFrom);
  if (!(time.value > 0)) return;
  trial.phase("braking", from.value, lowest.value);
  work.give(formulas.meanVelocityBraking, dz, time);
  const works = work.give(formulas.brakingWork, still, velocityFrom, trial.gravity, dz);
  work.give(formulas.meanPowerBraking, trial.mass!, works, time);
  work.give(formulas.brakingImpulse.sum, trial.mass!, still, velocityFrom);
  sideImpulses(trial, formulas.brakingImpulse, from.value, lowest.value, INTEGRATED);
  meanForce(trial, formulas.meanForceBraking, from.value, lowest.value, INTEGRATED);
  extremeForce(trial, formulas.peakForceBraking, from.value, lowest.value, INTEGRATED);
  const at = extremePower(trial, motion, from.value, lowest.value, -1);
  if (at < 0) return;
  const v = motion.velocity[at - motion.start]!;
  work.measured(formulas.minimumPowerBraking, trial.power(trial.force[at]!, v, at / rate - restTime), from, lowest);
}

function stiffness(trial: Trial, low: Quantity, atTurn: Quantity, zLow: Quantity): void {
  const { work } = trial;
  const form = trial.word("stiffness-form");
  const formula = formulas.countermovementStiffness[form]!;
  if (!(zLow.value < 0)) return;
  if (form === "gross") work.give(formula, low, zLow);
  else if (form === "braking change") work.give(formula, low, atTurn, work.known("brakingDisplacement")!);
  else work.give(formula, low, trial.weight!, zLow);
}

function squatPhases(
  trial: Trial,
  start: Start,
  takeoff: Crossing,
  motion: Motion,
  velocity: Quantity,
  displacement: Quantity,
  restTime: number,
): void {
  const { work, rate, facts } = trial;
  const { onset } = start;
  const weight = trial.weight!.value;
  const z = motion.displacement;
  const lowestAt = smallestAt(z, 0, takeoff.time - restTime, rate);
  const lowestTime = (motion.start + Math.max(0, lowestAt)) / rate;
  const zLow = work.measured(formulas.lowestDisplacement, trial.displacement(Math.min(0, z[Math.max(0, lowestAt)]!), lowestTime - restTime), work.exact(restTime), work.exact(lowestTime));
  work.give(formulas.pushOffDistance, displacement, zLow);
  const dipAt = smallestAt(trial.force, start.rest, Math.max(onset.value, start.rest + 1 / rate), rate);
  const depth = dipAt < 0 ? 0 : Math.max(0, weight - trial.force[dipAt]!);
  work.measured(formulas.dipFraction, trial.forceQuantity(depth / weight, TIMES | WEIGHT), trial.weight!, work.exact(start.rest), onset);
  facts.dipRule = trial.word("squat-dip-rule");
  facts.dip = depth / weight;
  facts.dipDepth = -zLow.value;
  const sd = Math.max(trial.weighing?.sd ?? 0, facts.holdSway ?? 0, Math.max(1, trial.trace.step) / 5);
  facts.dipDeviations = depth / sd;
  peakVelocity(trial, motion, onset.value, takeoff, restTime);
  const position = onset.value * rate - motion.start;
  const v0 = trial.velocity(valueAt(motion.velocity, position), Math.max(0, onset.value - restTime));
  const z0 = trial.displacement(valueAt(z, position), Math.max(0, onset.value - restTime));
  propulsion(trial, motion, onset, v0, z0, takeoff, velocity, displacement, restTime, formulas.propulsionTimeSquat);
}
