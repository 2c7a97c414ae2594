import { type Crossing, findClipping, flightRun, landingOf, posture, removeEmptyDrift, removeZero, takeoffOf, thresholdOf, touchdownOf } from "./flightOf.ts";
import * as formulas from "./formulas.ts";
import { Kinematics, restAt } from "./Kinematics.ts";
import { finalStand, landingForces, landingMotion, lowAfterLanding, stabilisation, velocityAtEnd } from "./landing.ts";
import { extremeForce, forceAt, smallestAt } from "./phaseMetrics.ts";
import { braking, lowestPoint, propulsion, type Push, takeoffAcceleration, takeoffVelocity, type Turn } from "./pushPhases.ts";
import { pinnedWindow } from "./restBefore.ts";
import type { Trial } from "./Trial.ts";
import { INTEGRAL, type Quantity, TIMES, WEIGHT } from "./workings.ts";
import { valueAt } from "../events/crossing.ts";
import { type EmptyRuns, findEmptyRuns, type Stretch } from "../events/findEmptyRuns.ts";
import { loadedNoise } from "../events/loadedNoise.ts";
import { findOnset } from "../events/findOnset.ts";
import { takeoffEdge } from "../events/flightEdges.ts";
import { findQuietStand, weigh, type Weighing } from "../events/quietStanding.ts";
import { integrate, type Motion, shifted } from "../motion/integrate.ts";
import { loadProfile } from "../trace/loadProfile.ts";
import { correctedForce, zeroReading, zeroStretch } from "../trace/zero.ts";
import { bodyWeightUncertainty } from "../uncertainty/bodyWeightUncertainty.ts";
import { BODY_WEIGHT, DROP_HEIGHT, GRAVITY, NOISE, POSTURE, START_VELOCITY } from "../uncertainty/sources.ts";

const INTEGRATED = TIMES | WEIGHT | INTEGRAL;
const SHORTEST_FLIGHT_SECONDS = 0.04;
/** A gap that is shorter belongs to a contact that was a double one. */
const LONGEST_GAP_SECONDS = 0.05;
const LONGEST_CONTACT_SECONDS = 2;
const IMPACT_SECONDS = 0.05;
/** A force must fall and rise again by this share of the impact peak for two peaks to be told apart. */
const PEAK_SHARE = 0.03;
const SPLIT_SECONDS = 0.2;
/** Real drops are on average 10 to 14 % below the box: McMahon et al. (2021). */
const BOX_SHARE = 0.12;
const LONG_LANDING_SECONDS = 1.5;
const LOADED_SHARE = 0.1;

type Route = "two plates" | "backward" | "flight" | "box";

interface Contact {
  readonly before: Stretch | undefined;
  readonly flight: Stretch;
  /** Gap within the contact, s. */
  readonly gap: number | undefined;
}

/** Drop jump: an empty plate, one contact, flight, landing, standing. */
export function analyseDropJump(trial: Trial): void {
  const { facts, work, rate } = trial;
  const empty = findEmptyRuns(trial.unfiltered);
  const contact = findContact(empty, trial);
  if (trial.protocol.dropHeight !== undefined) {
    facts.nominalDrop = trial.protocol.dropHeight;
    work.measured(formulas.nominalDropHeight, work.exact(trial.protocol.dropHeight));
  }
  if (contact === undefined) {
    facts.noFlight = true;
    findClipping(trial, undefined);
    return;
  }
  const { flight, before } = contact;
  const noise = loadedNoise(trial.unfiltered.force, empty.loaded);
  if (before !== undefined) removeEmptyDrift(trial, before, flight);
  emptyBefore(trial, contact);
  const reading = removeZero(trial, flight, noise) ?? (before === undefined ? undefined : removeZero(trial, before, noise));
  const threshold = thresholdOf(trial, reading);
  const stand = flight.end < trial.samples ? finalStand(trial, flight.end / rate, Math.max(1, trial.number("q17-quiet-look")), trial.adjust.bodyWeight) : undefined;
  const onBox = standOnBox(trial, before, threshold);
  weighStanding(trial, stand, onBox);
  const touchdown = before === undefined ? undefined : touchdownOf(trial, before, threshold, empty.loaded);
  const takeoff = takeoffOf(trial, flight, threshold, empty.loaded);
  if (takeoff === undefined) {
    facts.noFlight = true;
    return;
  }
  const landing = flight.end < trial.samples ? landingOf(trial, flight, threshold, empty.loaded) : undefined;
  trial.requireOrder("touchdown", "takeoff", "landing");
  if (landing === undefined) facts.noLanding = true;
  findClipping(trial, takeoff.time);
  times(trial, touchdown, takeoff, landing);
  if (touchdown !== undefined) contactForces(trial, touchdown, takeoff, threshold);
  if (landing !== undefined) landingForces(trial, landing.quantity);
  if (touchdown !== undefined && trial.weight !== undefined) integrated(trial, touchdown, takeoff, landing, stand, onBox);
  if (landing === undefined || trial.weight === undefined) return;
  stabilisation(trial, landing.quantity);
  facts.lowAfterLanding = lowAfterLanding(trial, landing.time);
  if (stand !== undefined) facts.finalShare = stand.mean / trial.weight.value;
}

/** The first contact between an empty plate and a flight; a flight alone where nothing empty comes before. */
function findContact(empty: EmptyRuns, trial: Trial): Contact | undefined {
  const { rate, samples } = trial;
  const longest = trial.number("q8-flight-longest") * rate;
  let before: Stretch | undefined;
  let gap: number | undefined;
  let late: Contact | undefined;
  for (const run of empty.runs) {
    const length = run.end - run.start;
    if (before !== undefined) {
      const contact = run.start - before.end;
      if (length < LONGEST_GAP_SECONDS * rate && contact < LONGEST_GAP_SECONDS * rate * 2) {
        gap = length / rate;
        continue;
      }
      const possible = length >= SHORTEST_FLIGHT_SECONDS * rate && contact <= LONGEST_CONTACT_SECONDS * rate;
      if (possible && length <= longest && run.end < samples) return { before, flight: run, gap };
      if (possible && late === undefined) late = { before, flight: run, gap };
    }
    if (length >= LONGEST_GAP_SECONDS * rate) {
      before = run;
      gap = undefined;
    }
  }
  if (late !== undefined) return late;
  const flight = flightRun(empty, trial);
  return flight === undefined ? undefined : { before: undefined, flight, gap: undefined };
}

function emptyBefore(trial: Trial, { before, flight, gap }: Contact): void {
  const { facts, rate } = trial;
  if (gap !== undefined) facts.doubleContact = gap;
  if (before === undefined) return;
  facts.emptyBefore = (before.end - before.start) / rate;
  const first = zeroStretch(before.start, before.end, rate);
  const second = zeroStretch(flight.start, flight.end, rate);
  if (first === undefined || second === undefined) return;
  const { force } = trial.unfiltered;
  facts.emptyDifference = zeroReading(force, first.start, first.end).mean - zeroReading(force, second.start, second.end).mean;
}

/** Body weight from a window that a person set, from the final stand, or from a plate under the box. */
function weighStanding(trial: Trial, stand: Weighing | undefined, onBox: OnBox | undefined): void {
  const given = trial.adjust.bodyWeight;
  const pinned = pinnedWindow(trial);
  if (stand !== undefined) trial.facts.finalStandSeconds = (stand.end - stand.start) / trial.rate;
  if (pinned !== undefined) {
    trial.facts.weighingByHand = true;
    trial.setWeight(weigh(trial.force, pinned.start, pinned.end, trial.rate), given);
  } else if (stand !== undefined || given !== undefined) trial.setWeight(stand, given);
  else if (onBox !== undefined) trial.setWeight(onBox.weighing, given);
  else {
    const reason = "nobody stands still after the landing, and no body weight was given";
    for (const id of ["bodyWeight", "bodyMass", "weighingSd", "bodyWeightUncertainty", "timeToStabilisation"]) trial.reasons.set(id, reason);
  }
}

/** Contact time, flight time and what follows from them. */
function times(trial: Trial, touchdown: Crossing | undefined, takeoff: Crossing, landing: Crossing | undefined): void {
  const { work, facts } = trial;
  if (touchdown !== undefined) {
    trial.phase("fall", Math.max(0, touchdown.time - (facts.emptyBefore ?? 0)), touchdown.time);
    trial.phase("contact", touchdown.time, takeoff.time);
    facts.contact = work.give(formulas.contactTime, takeoff.quantity, touchdown.quantity).value;
  }
  if (landing === undefined) return;
  trial.phase("flight", takeoff.time, landing.time);
  const flight = work.give(formulas.flightTime, landing.quantity, takeoff.quantity);
  facts.flight = flight.value;
  if (!(flight.value > 0)) return;
  const height = work.give(formulas.heightOfFlightWithPosture, flight, trial.gravity, posture(trial));
  const contact = work.metrics.get("contactTime");
  if (contact === undefined || !(contact.value > 0)) return;
  work.give(formulas.flightToContact, flight, contact);
  if (trial.word("rsi-basis") === "flight") work.give(formulas.rsiOfFlight, flight, contact);
  else if (trial.word("rsi-height") !== "take-off velocity") work.give(formulas.rsiOfHeight, height, contact);
}

/** Peaks of the contact, and whether the feet came down together. */
function contactForces(trial: Trial, touchdown: Crossing, takeoff: Crossing, threshold: number): void {
  const { facts, force, rate, work } = trial;
  const leaving = work.exact(takeoff.time);
  const peak = extremeForce(trial, formulas.peakForce, work.exact(touchdown.time), leaving, 0);
  if (peak !== undefined) trial.event("peakForce", peak.at / rate);
  const gap = gapAfter(trial, touchdown.time, threshold);
  if (gap !== undefined) facts.doubleContact = gap;
  const split = feetApart(trial, touchdown.time, threshold);
  if (split !== undefined) facts.split = split;
  const first = Math.ceil(touchdown.time * rate);
  const last = Math.min(force.length - 1, Math.floor(takeoff.time * rate));
  let at = first;
  for (let i = first; i < Math.min(last, first + IMPACT_SECONDS * rate); i++) if (force[i]! > force[at]!) at = i;
  const impact = force[at]!;
  if (at + 1 >= first + IMPACT_SECONDS * rate || impact - force[Math.min(last, at + Math.ceil(0.01 * rate))]! <= 0) {
    trial.reasons.set("impactPeakForce", "the force has no peak in the first 50 ms of the contact");
    trial.reasons.set("secondPeakForce", "the contact has one peak");
    return;
  }
  extremeForce(trial, formulas.impactPeakForce, work.exact(touchdown.time), work.exact(touchdown.time + IMPACT_SECONDS), TIMES);
  let valley = at;
  let low = at;
  let rise = 0;
  for (let i = at; i <= last; i++) {
    if (force[i]! < force[low]!) low = i;
    if (force[i]! - force[low]! > rise) {
      rise = force[i]! - force[low]!;
      valley = low;
    }
  }
  if (rise > PEAK_SHARE * impact) extremeForce(trial, formulas.secondPeakForce, work.exact(valley / rate), leaving, TIMES);
  else trial.reasons.set("secondPeakForce", "the contact has one peak");
}

/** Longest stretch below the threshold that begins within 50 ms of touchdown, s. */
function gapAfter(trial: Trial, touchdown: number, threshold: number): number | undefined {
  const { force, rate } = trial;
  const first = Math.ceil(touchdown * rate);
  const last = Math.min(force.length, first + Math.round(LONGEST_GAP_SECONDS * rate));
  let longest = 0;
  for (let i = first + 1; i < last; i++) {
    if (force[i]! >= threshold) continue;
    let end = i;
    while (end < force.length && force[end]! < threshold) end++;
    longest = Math.max(longest, end - i);
    i = end;
  }
  return longest === 0 ? undefined : longest / rate;
}

/** Time between the touchdowns of the two feet, s. */
function feetApart(trial: Trial, touchdown: number, threshold: number): number | undefined {
  const { left, right, rate } = trial;
  if (left === undefined || right === undefined) return undefined;
  const first = Math.max(0, Math.floor((touchdown - SPLIT_SECONDS) * rate));
  const last = Math.min(left.force.length, Math.ceil((touchdown + SPLIT_SECONDS) * rate));
  let atLeft = -1;
  let atRight = -1;
  for (let i = last - 1; i >= first; i--) {
    if (left.force[i]! - left.offset >= threshold) atLeft = i;
    if (right.force[i]! - right.offset >= threshold) atRight = i;
  }
  return atLeft < 0 || atRight < 0 ? undefined : Math.abs(atLeft - atRight) / rate;
}

/** Everything that needs velocity. */
function integrated(trial: Trial, touchdown: Crossing, takeoff: Crossing, landing: Crossing | undefined, stand: Weighing | undefined, onBox: OnBox | undefined): void {
  const { work, facts, rate, gravity } = trial;
  const weight = trial.weight!;
  const fallen = onBox === undefined ? undefined : leavingBox(trial, onBox);
  // Where it was weighed after the contact, be it in a window that a person set, the body was at rest.
  const rest = trial.weighing !== undefined && trial.weighing.start > takeoff.time * rate ? trial.weighing : undefined;
  const chosen = chooseRoute(trial, fallen !== undefined, rest !== undefined);
  if (chosen === undefined) return;
  facts.route = chosen;
  const first = Math.max(0, Math.floor(touchdown.time * rate));
  const end = chosen === "backward" ? rest!.end : Math.min(trial.samples, Math.ceil(((landing?.time ?? takeoff.time) + LONG_LANDING_SECONDS) * rate));
  const bare = integrate(trial.force, weight.value, gravity.value, first, end, rate, 0, 0, trial.take);
  const at = (time: number): number => valueAt(bare.velocity, time * rate - first);
  let anchorTime = touchdown.time;
  let anchor: Quantity;
  if (chosen === "backward") {
    anchorTime = (rest!.start + rest!.end - 1) / 2 / rate;
    anchor = restAt(trial);
    facts.endsBackward = true;
  } else if (chosen === "flight") {
    anchorTime = takeoff.time;
    const flightTime = work.metrics.get("flightTime")!;
    // A landing lower by d lengthens the flight by about d / v and the velocity taken from it by g d / (2 v).
    const v = Math.max(0.1, 0.5 * gravity.value * flightTime.value);
    const lower = (0.5 * gravity.value * Math.hypot(trial.number("landing-posture-mean"), trial.number("landing-posture-u"))) / v;
    const up = work.give(formulas.takeoffVelocityOfFlight, flightTime, gravity, work.quantity(0, 0, POSTURE, lower));
    anchor = { ...up, needs: INTEGRATED };
  } else if (chosen === "box") {
    const h = trial.protocol.dropHeight!;
    anchor = work.give(formulas.touchdownVelocityOfBox, work.quantity(h, INTEGRATED, DROP_HEIGHT, BOX_SHARE * h), gravity);
  } else {
    anchor = work.give(formulas.touchdownVelocityOfPlates, fallen!.velocity, gravity, touchdown.quantity, fallen!.time);
  }
  // Backward: at rest on average over the final stand, so that sway at its last sample does not enter.
  const v0 = chosen === "backward" ? -meanOver(bare, rest!) : anchor.value - at(anchorTime);
  const motion: Motion = shifted(bare, v0, 0);
  trial.anchor = { sample: first, velocity: v0, displacement: 0, restBefore: false };
  // A velocity that is known at a crossing and not at a time: were that later, the body would have moved on with its acceleration there.
  const atTime = (crossing: Crossing, acceleration: number): Quantity => work.linear(anchor.value, anchor.needs, anchor, 1, crossing.quantity, -acceleration);
  const fixed = chosen === "backward" ? anchor : chosen === "flight" ? atTime(takeoff, takeoffAcceleration(trial)) : atTime(touchdown, -gravity.value);
  const kinematics = new Kinematics(trial, motion, anchorTime, fixed);
  push(trial, kinematics, touchdown, takeoff, chosen, anchor, anchorTime);
  if (landing === undefined) return;
  landingMotion(trial, kinematics, landing.quantity);
  if (chosen === "backward") trial.reasons.set("endVelocity", "the velocity is taken backward from the final stand, where it is zero by construction");
  else if (stand !== undefined && facts.clipping === undefined) {
    velocityAtEnd(trial, kinematics, stand, touchdown.time, Math.max(0, kinematics.speed(takeoff.time)), takeoff.time - touchdown.time);
  }
}

/** Mean velocity over a stretch of samples. */
function meanOver(motion: Motion, stretch: Stretch): number {
  let sum = 0;
  for (let i = stretch.start; i < stretch.end; i++) sum += motion.velocity[i - motion.start]!;
  return sum / (stretch.end - stretch.start);
}

/** Heights, drop, phases and stiffness of the contact. */
function push(trial: Trial, kinematics: Kinematics, touchdown: Crossing, takeoff: Crossing, route: Route, anchor: Quantity, anchorTime: number): void {
  const { work, facts, rate, gravity } = trial;
  const weight = trial.weight!;
  let vDown = anchor;
  const bareDown = kinematics.velocity(touchdown.time);
  const atTouchdown = work.widened(bareDown, touchdown.quantity, -gravity.value);
  if (route === "backward") vDown = work.measured(formulas.touchdownVelocityBackward, atTouchdown, gravity, weight, touchdown.quantity, work.exact(anchorTime));
  else if (route === "flight") vDown = work.measured(formulas.touchdownVelocityOfFlight, atTouchdown, anchor, gravity, weight, touchdown.quantity, takeoff.quantity);
  const up = route === "flight" ? anchor : takeoffVelocity(trial, kinematics, takeoff);
  if (route !== "flight") work.measured(formulas.takeoffVelocityDrop, up, vDown, gravity, weight, touchdown.quantity, takeoff.quantity);
  if (!(up.value > 0) || !(vDown.value < 0)) {
    facts.noTakeoffVelocity = up.value;
    return;
  }
  if (route === "box") trial.reasons.set("measuredDropHeight", "the drop was not measured: the height of the box was taken for it");
  else {
    const drop = work.give(formulas.measuredDropHeight, vDown, gravity);
    if (route !== "flight") facts.measuredDrop = drop.value;
  }
  heights(trial, up, route);
  const first = kinematics.motion.start;
  const last = Math.floor(takeoff.time * rate) - first;
  const from = smallestAt(kinematics.motion.velocity, 0, (last + 1) / rate, rate);
  peakVelocity(trial, kinematics, takeoff);
  const low = lowestPoint(trial, kinematics, from, last);
  if (low === undefined) {
    facts.noLowest = true;
    return;
  }
  const displacement = kinematics.displacementAt(takeoff.quantity);
  const zLow = work.measured(formulas.lowestDisplacement, kinematics.displacement(low.instant.value), touchdown.quantity, low.instant);
  const zDown = kinematics.displacementAt(touchdown.quantity);
  const lowest: Turn = { instant: low.instant, velocity: low.velocity, displacement: zLow };
  const pushed: Push = { kinematics, takeoff, velocity: up, displacement };
  work.give(formulas.pushOffDistance, displacement, zLow);
  braking(trial, kinematics, { instant: touchdown.quantity, velocity: vDown, displacement: zDown }, lowest, formulas.brakingTimeDrop);
  propulsion(trial, pushed, lowest);
  const lowForce = forceAt(trial, formulas.forceAtZeroVelocity, low.instant);
  const peak = work.metrics.get("peakForce");
  if (peak === undefined) return;
  facts.peakOverLowest = peak.value / lowForce.value - 1;
  work.give(formulas.contactStiffness, trial.word("contact-stiffness-force") === "lowest point" ? lowForce : work.linear(peak.value, INTEGRATED, peak, 1), zLow, zDown);
}

function peakVelocity(trial: Trial, kinematics: Kinematics, takeoff: Crossing): void {
  const { velocity, start } = kinematics.motion;
  const last = Math.min(velocity.length - 1, Math.floor(takeoff.time * trial.rate) - start);
  let at = 0;
  for (let k = 1; k <= last; k++) if (velocity[k]! > velocity[at]!) at = k;
  const time = trial.event("peakVelocity", (start + at) / trial.rate);
  trial.work.measured(formulas.peakVelocity, kinematics.velocity(time), takeoff.quantity);
}

function heights(trial: Trial, up: Quantity, route: Route): void {
  const { work, facts } = trial;
  const byVelocity = work.give(formulas.heightOfVelocity, up, trial.gravity);
  facts.heightVelocity = byVelocity.value;
  const byFlight = work.metrics.get("jumpHeightFlightTime");
  if (route === "flight") trial.reasons.set("heightDifference", "both heights come from the flight time");
  else if (byFlight !== undefined) {
    const difference = work.give(formulas.heightDifference, byFlight, byVelocity).value;
    if (route !== "box") facts.heightDifference = difference;
  }
  const method = trial.word("height-method");
  const chosen = method === "flight time" ? byFlight : method === "above standing" ? undefined : byVelocity;
  if (chosen !== undefined) work.give(formulas.jumpHeight[method]!, chosen);
  else trial.reasons.set("jumpHeight", method === "flight time" ? "the landing is not in the record" : "a drop jump has no height above standing: it does not start in standing");
  const contact = work.metrics.get("contactTime");
  if (trial.word("rsi-basis") === "height" && trial.word("rsi-height") === "take-off velocity" && contact !== undefined) work.give(formulas.rsiOfHeight, byVelocity, contact);
}

/** The route to the velocity at touchdown: as asked where it can be had, else the best that can. */
function chooseRoute(trial: Trial, box: boolean, rest: boolean): Route | undefined {
  const asked = trial.word("drop-velocity");
  if (asked !== "automatic") trial.facts.routeAsked = asked;
  const can: Readonly<Record<Route, boolean>> = {
    "two plates": box,
    backward: rest,
    flight: trial.work.metrics.get("flightTime") !== undefined,
    box: trial.protocol.dropHeight !== undefined,
  };
  if (asked in can && can[asked as Route]) return asked as Route;
  return (["two plates", "backward", "flight"] as const).find((route) => can[route]);
}

/** The quiet stand on the box and the step off it, from the plate under it. */
interface OnBox {
  /** Force of the plate with its zero removed, N. */
  readonly force: Float64Array;
  readonly weighing: Weighing;
  readonly steadyUntil: number;
  /** Sample after which the plate is empty, and the time at which it is left, s. */
  readonly emptyFrom: number;
  readonly leave: number;
}

function standOnBox(trial: Trial, before: Stretch | undefined, threshold: number): OnBox | undefined {
  const { rate, boxPlate: plate } = trial;
  if (plate === undefined || before === undefined) return undefined;
  const limit = before.end;
  const recorded = trial.before(plate).force;
  const empty = findEmptyRuns(loadProfile([recorded], rate, trial.take));
  const run = [...empty.runs].reverse().find(({ start }) => start < limit);
  if (run === undefined) return undefined;
  const stretch = zeroStretch(run.start, run.end, rate);
  const zero = stretch === undefined || trial.word("zero-correction") === "none" ? 0 : zeroReading(recorded, stretch.start, stretch.end).mean;
  const force = zero === 0 ? plate.force : correctedForce(plate.force, zero, 0, 0, rate);
  const edge = takeoffEdge(force, run, threshold, LOADED_SHARE * empty.loaded, rate);
  const profile = loadProfile([force], rate, trial.take);
  const accept = (w: number): number => Math.max((trial.number("q1-sd-look") / 100) * w, trial.number("q1-sd-look-force"));
  const stand = findQuietStand(profile, { before: run.start, length: trial.number("weighing-length"), accept });
  if (edge === undefined || stand === undefined) return undefined;
  const window = pinnedWindow(trial, "boxWeighingStart", "boxWeighingEnd") ?? stand.window;
  const weighing = weigh(force, window.start, window.end, rate);
  return { force, weighing, steadyUntil: stand.steadyUntil, emptyFrom: run.start, leave: edge.time };
}

/** Velocity and time of leaving the box. */
function leavingBox(trial: Trial, { force, weighing, steadyUntil, emptyFrom, leave: found }: OnBox): { velocity: Quantity; time: Quantity } {
  const { work, rate, gravity } = trial;
  const g = gravity.value;
  const rule = { limit: Math.max(1, Math.min(5 * weighing.sd, 0.05 * weighing.mean)), duration: trial.number("onset-duration"), stepBack: 0 };
  const onset = findOnset(force, weighing.mean, steadyUntil, Math.min(weighing.end, steadyUntil), emptyFrom, rule, rate) ?? steadyUntil;
  // A window that a person set is where the body is at rest on average; else integration starts just before the movement.
  const pinned = trial.adjust.events.has("boxWeighingStart");
  const start = pinned ? weighing.start : Math.max(weighing.end, onset - Math.round(0.03 * rate));
  const leave = trial.event("stepOff", found);
  const motion = integrate(force, weighing.mean, g, start, Math.ceil(leave * rate) + 1, rate, 0, 0, trial.take);
  const v = valueAt(motion.velocity, leave * rate - start) - (pinned ? meanOver(motion, weighing) : 0);
  const samples = weighing.end - weighing.start;
  const seconds = leave - (pinned ? (weighing.start + weighing.end - 1) / 2 : start) / rate;
  const velocity = work.quantity(
    v, INTEGRATED,
    BODY_WEIGHT, (-(v + g * seconds) / weighing.mean) * bodyWeightUncertainty({ halfDifference: weighing.halfDifference, noise: weighing.noise, samples }),
    NOISE, (g / weighing.mean) * weighing.noise * Math.sqrt(seconds / rate),
    START_VELOCITY, (g * weighing.impulseSd) / weighing.mean,
    GRAVITY, v * trial.uGravity,
  );
  work.measured(formulas.leavingVelocity, velocity, gravity, work.exact(weighing.mean), work.exact(start / rate), work.exact(leave));
  return { velocity, time: work.exact(leave, TIMES) };
}
