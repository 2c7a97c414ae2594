import type { Motion } from "./motions.ts";
import type { SyntheticOptions } from "./SyntheticOptions.ts";
import type { EventName } from "../protocols/Analysis.ts";
import type { Test } from "../protocols/Protocol.ts";
import { hopPower } from "../metrics/hopPower.ts";
import { jumpHeightFromFlightTime } from "../metrics/jumpHeightFromFlightTime.ts";
import { jumpHeightFromTakeoffVelocity } from "../metrics/jumpHeightFromTakeoffVelocity.ts";
import { extremePower } from "./extremePower.ts";
import { type Segment, accelerationAt, extremeAcceleration } from "./segments.ts";

/** Exact answers of a synthetic trial: metrics by id, event times by name, hops. */
export interface Truth {
  readonly truth: Record<string, number>;
  readonly events: Partial<Record<EventName, number>>;
  readonly hops: readonly HopTruth[];
}

export interface HopTruth {
  readonly touchdown: number;
  readonly takeoff: number;
  readonly contactTime: number;
  readonly flightTime: number;
  readonly height: number;
  readonly rsi: number;
  readonly peakForce: number;
  /** Peak force over the downward displacement, N/m. */
  readonly stiffness: number;
}

interface Body {
  readonly mass: number;
  readonly gravity: number;
  readonly share: (segment: Segment) => number;
}

/**
 * The exact answers of a jump, by algebra on its segments: no integration, no sampling.
 *
 * @param options What the trial was made of.
 * @param motion Its segments.
 * @param mass Moving mass, kg.
 * @param gravity m/s^2.
 * @param share Left share of the force by segment, no unit.
 * @returns Metrics in the units of the catalogue, events in s.
 */
export function jumpTruth(options: SyntheticOptions, motion: Motion, mass: number, gravity: number, share: (segment: Segment) => number): Truth {
  const body: Body = { mass, gravity, share };
  const truth: Record<string, number> = { bodyWeight: mass * gravity, bodyMass: mass - (options.load ?? 0) };
  const events: Partial<Record<EventName, number>> = {};
  const { segments } = motion;
  if (options.test === "RH") return { truth, events, hops: hopTruth(segments, body, truth, events) };
  const flightAt = segments.findIndex((segment) => segment.tag === "flight");
  const flight = segments[flightAt];
  const push = segments.slice(0, flightAt).filter((segment) => segment.tag !== "quiet" && segment.tag !== "box" && segment.tag !== "fall");
  const start = push[0].start;
  const takeoff = flight.start;
  flightTruth(flight, gravity, truth);
  truth.jumpHeight = truth.jumpHeightTakeoffVelocity;
  Object.assign(events, { takeoff, landing: takeoff + flight.duration });
  if (options.test === "DJ") {
    events.touchdown = start;
    contactTruth(push, flight, body, truth, events);
  } else {
    Object.assign(events, { onset: start });
    truth.takeoffDisplacement = flight.z0;
    // A squat jump does not start from standing: its rise above standing is unknown to the plate.
    if (options.test === "CMJ") truth.jumpHeightAboveStanding = truth.jumpHeightTakeoffVelocity + flight.z0;
    truth.timeToTakeoff = takeoff - start;
    truth.rsiModified = truth.jumpHeightTakeoffVelocity / truth.timeToTakeoff;
    truth.flightTimeToTakeoffTimeRatio = truth.flightTime / truth.timeToTakeoff;
    pushTruth(options.test, push, flight, body, truth, events);
  }
  landingTruth(segments.slice(flightAt + 1), body, truth, events);
  return { truth, events, hops: [] };
}

function flightTruth(flight: Segment, gravity: number, truth: Record<string, number>): void {
  truth.flightTime = flight.duration;
  truth.takeoffVelocity = flight.v0;
  truth.jumpHeightTakeoffVelocity = jumpHeightFromTakeoffVelocity(flight.v0, gravity);
  truth.jumpHeightFlightTime = jumpHeightFromFlightTime(flight.duration, gravity);
  truth.heightDifference = truth.jumpHeightFlightTime - truth.jumpHeightTakeoffVelocity;
}

function pushTruth(test: Test, push: readonly Segment[], flight: Segment, body: Body, truth: Record<string, number>, events: Partial<Record<EventName, number>>): void {
  const { mass, gravity } = body;
  const propulsion = push.filter((segment) => segment.tag === "propulsion");
  const braking = push.filter((segment) => segment.tag === "braking");
  const unweighting = push.filter((segment) => segment.tag === "unweighting");
  const low = propulsion[0];
  const peak = propulsion[propulsion.length - 1];
  truth.peakVelocity = peak.v0;
  events.peakVelocity = peak.start;
  events.lowest = low.start;
  truth.pushOffDistance = flight.z0 - low.z0;
  truth.peakForce = mass * (gravity + extremeAcceleration(push, 1).value);
  phaseTruth("Propulsion", propulsion, body, truth);
  const greatest = extremePower(propulsion, 1, gravity);
  truth.peakPower = mass * greatest.value;
  if (test === "SJ") {
    const dip = push.filter((segment) => segment.tag === "dip");
    truth.dipFraction = dip.length === 0 ? 0 : -extremeAcceleration(dip, -1).value / gravity;
    return;
  }
  const least = extremeAcceleration([...unweighting, ...braking], -1);
  truth.minimumForce = mass * (gravity + least.value);
  events.minimumForce = least.time;
  truth.minimumVelocity = braking[0].v0;
  events.minimumVelocity = braking[0].start;
  truth.countermovementDepth = low.z0;
  truth.forceAtZeroVelocity = mass * (gravity + low.a0);
  phaseTruth("Unweighting", unweighting, body, truth);
  phaseTruth("Braking", braking, body, truth);
  truth.minimumPowerBraking = mass * extremePower(braking, -1, gravity).value;
  truth.brakingRfd = (mass * (low.a0 - braking[0].a0)) / truth.brakingTime;
  truth.countermovementStiffness = (truth.forceAtZeroVelocity - mass * gravity) / Math.abs(low.z0);
}

function contactTruth(contact: readonly Segment[], flight: Segment, body: Body, truth: Record<string, number>, events: Partial<Record<EventName, number>>): void {
  const { mass, gravity } = body;
  const braking = contact.filter((segment) => segment.tag === "braking");
  const propulsion = contact.filter((segment) => segment.tag === "propulsion");
  const touchdown = contact[0];
  const low = propulsion[0];
  truth.contactTime = flight.start - touchdown.start;
  truth.touchdownVelocity = touchdown.v0;
  truth.measuredDropHeight = jumpHeightFromTakeoffVelocity(-touchdown.v0, gravity);
  truth.rsi = truth.jumpHeightFlightTime / truth.contactTime;
  truth.flightToContactRatio = truth.flightTime / truth.contactTime;
  events.lowest = low.start;
  truth.peakVelocity = propulsion[propulsion.length - 1].v0;
  truth.pushOffDistance = flight.z0 - low.z0;
  truth.peakForce = mass * (gravity + extremeAcceleration(contact, 1).value);
  truth.forceAtZeroVelocity = mass * (gravity + low.a0);
  truth.contactStiffness = truth.peakForce / (touchdown.z0 - low.z0);
  phaseTruth("Braking", braking, body, truth);
  phaseTruth("Propulsion", propulsion, body, truth);
  truth.peakPower = mass * extremePower(propulsion, 1, gravity).value;
  truth.minimumPowerBraking = mass * extremePower(braking, -1, gravity).value;
}

/** Time, displacement, mean velocity, impulse, mean and peak force, mean power of a phase, and the sides. */
function phaseTruth(name: "Unweighting" | "Braking" | "Propulsion", phase: readonly Segment[], body: Body, truth: Record<string, number>): void {
  const { mass, gravity, share } = body;
  const first = phase[0];
  const last = phase[phase.length - 1];
  const time = last.start + last.duration - first.start;
  const lower = name.toLowerCase();
  const force = mass * (gravity + (last.v1 - first.v0) / time);
  truth[`${lower}Time`] = time;
  truth[`${lower}Impulse`] = mass * (last.v1 - first.v0);
  truth[`meanForce${name}`] = force;
  const left = share(first);
  if (phase.every((segment) => share(segment) === left)) {
    truth[`meanForce${name}Left`] = left * force;
    truth[`meanForce${name}Right`] = (1 - left) * force;
    truth[`${lower}ImpulseLeft`] = left * force * time;
    truth[`${lower}ImpulseRight`] = (1 - left) * force * time;
  }
  if (name === "Unweighting") return;
  const peak = mass * (gravity + extremeAcceleration(phase, 1).value);
  truth[`peakForce${name}`] = peak;
  truth[`peakForce${name}Left`] = left * peak;
  truth[`peakForce${name}Right`] = (1 - left) * peak;
  truth[`${lower}Displacement`] = last.z1 - first.z0;
  truth[`meanVelocity${name}`] = (last.z1 - first.z0) / time;
  // Work over time: half the change of the squared velocity plus g times the rise.
  truth[`meanPower${name}`] = (mass * ((last.v1 ** 2 - first.v0 ** 2) / 2 + gravity * (last.z1 - first.z0))) / time;
}

function landingTruth(after: readonly Segment[], body: Body, truth: Record<string, number>, events: Partial<Record<EventName, number>>): void {
  const { mass, gravity, share } = body;
  const landing = after.filter((segment) => segment.tag === "landing");
  const first = landing[0];
  const last = landing[landing.length - 1];
  const peak = extremeAcceleration(landing, 1);
  truth.landingVelocity = first.v0;
  truth.peakLandingForce = mass * (gravity + peak.value);
  truth.peakLandingForceLeft = share(first) * truth.peakLandingForce;
  truth.peakLandingForceRight = (1 - share(first)) * truth.peakLandingForce;
  truth.timeToPeakLandingForce = peak.time - first.start;
  truth.landingLoadingRate = truth.peakLandingForce / truth.timeToPeakLandingForce;
  truth.landingImpulse = mass * -first.v0;
  truth.landingTime = last.start + last.duration - first.start;
  truth.landingDepth = last.z1 - first.z0;
  events.landingLowest = last.start + last.duration;
  const stabilised = firstQuietRun(after, 0.05 * gravity, 1);
  if (stabilised !== undefined) {
    truth.timeToStabilisation = stabilised - first.start;
    events.stabilised = stabilised;
  }
}

/** Start of the first run of `length` s in which the acceleration stays inside plus or minus `band`, exactly. */
function firstQuietRun(segments: readonly Segment[], band: number, length: number): number | undefined {
  let start: number | undefined;
  for (const segment of segments) {
    const cuts = [0, ...[band, -band].flatMap((level) => crossings(segment, level)).sort((a, b) => a - b), 1];
    for (let i = 1; i < cuts.length; i++) {
      if (cuts[i] === cuts[i - 1]) continue;
      const inside = Math.abs(accelerationAt(segment, (cuts[i - 1] + cuts[i]) / 2)) <= band;
      if (!inside) start = undefined;
      else if (start === undefined) start = segment.start + cuts[i - 1] * segment.duration;
      if (start !== undefined && segment.start + cuts[i] * segment.duration - start >= length) return start;
    }
  }
  return undefined;
}

/** Where the acceleration of a segment equals a level: roots of a quadratic in (0, 1). */
function crossings(segment: Segment, level: number): number[] {
  const { A, B } = segment;
  const c = segment.a0 - level;
  if (B === 0) return A === 0 ? [] : [-c / A].filter((s) => s > 0 && s < 1);
  const discriminant = A * A - 4 * B * c;
  if (discriminant < 0) return [];
  const root = Math.sqrt(discriminant);
  return [(-A - root) / (2 * B), (-A + root) / (2 * B)].filter((s) => s > 0 && s < 1);
}

function hopTruth(segments: readonly Segment[], body: Body, truth: Record<string, number>, events: Partial<Record<EventName, number>>): HopTruth[] {
  const { mass, gravity } = body;
  const flights = segments.filter((segment) => segment.tag === "flight");
  const hops: HopTruth[] = [];
  for (let k = 1; k < flights.length; k++) {
    const before = flights[k - 1];
    const after = flights[k];
    const touchdown = before.start + before.duration;
    const contact = segments.filter((segment) => segment.start >= touchdown - 1e-12 && segment.start < after.start - 1e-12);
    const low = contact.find((segment) => segment.tag === "propulsion")!;
    const contactTime = after.start - touchdown;
    const flightTime = after.duration;
    const height = jumpHeightFromFlightTime(flightTime, gravity);
    const peakForce = mass * (gravity + extremeAcceleration(contact, 1).value);
    hops.push({ touchdown, takeoff: after.start, contactTime, flightTime, height, rsi: height / contactTime, peakForce, stiffness: peakForce / (contact[0].z0 - low.z0) });
  }
  const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
  const counted = hops.slice(0, 10);
  truth.hopCount = hops.length;
  truth.meanHopRsi = mean(counted.map((hop) => hop.rsi));
  truth.meanContactTime = mean(counted.map((hop) => hop.contactTime));
  truth.meanFlightTime = mean(counted.map((hop) => hop.flightTime));
  truth.meanHopHeight = mean(counted.map((hop) => hop.height));
  if (counted.length >= 5) {
    truth.bestFiveRsi = mean(counted.map((hop) => hop.rsi).sort((a, b) => b - a).slice(0, 5));
    truth.lastFiveRsi = mean(counted.slice(-5).map((hop) => hop.rsi));
  }
  truth.hopStiffness = mean(counted.map((hop) => hop.stiffness));
  const last = counted[counted.length - 1];
  const total = last.takeoff + last.flightTime - counted[0].touchdown;
  truth.hopPowerFromTimes = hopPower(total, counted.reduce((sum, hop) => sum + hop.flightTime, 0), counted.length, gravity);
  events.takeoff = flights[0].start;
  events.touchdown = hops[0].touchdown;
  events.landing = last.takeoff + last.flightTime;
  return hops;
}
