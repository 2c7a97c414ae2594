import { PlainForce, plainAt, plainMotion } from "./plainAnalysis.ts";
import { plainLanding } from "./plainTests.ts";
import type { Influence } from "../support/secondOpinion.ts";

/**
 * A drop jump whose every input can be moved, by each of the four ways to its velocity at touchdown (method 3.5). From the method alone, as
 * plain as the analyses beside it; with it goes what is known of each input.
 */
export interface PlainDropInputs {
  readonly sum: PlainForce;
  /** Forces of the sides, where two plates were used. */
  readonly sides: readonly PlainForce[];
  /** N. */
  readonly bodyWeight: number;
  readonly gravity: number;
  readonly touchdown: number;
  readonly takeoff: number;
  readonly landing: number;
  /** Added to the height by flight time, m: what a lower landing would take away. */
  readonly posture: number;
  /** Final stand, s: at rest on average for the way backward; else its last half second shows what velocity is left. */
  readonly stand?: readonly [start: number, end: number];
  readonly way:
    /** Velocity at the middle of the final stand, m/s. */
    | { readonly kind: "backward"; readonly atRest: number }
    /** Added to the velocity at take-off by flight time, m/s: what a lower landing would take away. */
    | { readonly kind: "flight"; readonly posture: number }
    | { readonly kind: "box"; readonly height: number }
    /** Velocity at the instant at which the box is left, for a gravity of 1 m/s^2: it is in proportion to that. */
    | { readonly kind: "two plates"; readonly leaving: number; readonly leave: number };
}

const SIDES = ["Left", "Right"];

/** Metrics by id, those of the sides too. */
export function plainDropJump(x: PlainDropInputs): Record<string, number> {
  const { sum, sides, bodyWeight, gravity, touchdown, takeoff, landing, way } = x;
  const mass = bodyWeight / gravity;
  const v0 = touchdownVelocity(x);
  const motion = plainMotion(sum, bodyWeight, touchdown, sum.end, v0, gravity);
  const v = (time: number): number => plainAt(motion, motion.velocity, time);
  const z = (time: number): number => plainAt(motion, motion.displacement, time);
  const samples = (from: number, to: number): number[] => motion.times.filter((time) => time >= from && time < to);
  const contact = takeoff - touchdown;
  const flight = landing - takeoff;
  const byFlight = (gravity * flight ** 2) / 8 + x.posture;
  const up = way.kind === "flight" ? (gravity * flight) / 2 + way.posture : v(takeoff);
  const height = up ** 2 / (2 * gravity);
  let low = 1;
  while (motion.velocity[low]! < 0) low++;
  const [before, after] = [motion.velocity[low - 1]!, motion.velocity[low]!];
  const lowest = motion.times[low - 1]! - (before * (motion.times[low]! - motion.times[low - 1]!)) / (after - before);
  const power = (time: number): number => sum.at(time) * v(time);
  const result: Record<string, number> = {
    bodyWeight,
    bodyMass: mass,
    contactTime: contact,
    flightTime: flight,
    jumpHeightFlightTime: byFlight,
    flightToContactRatio: flight / contact,
    rsi: byFlight / contact,
    touchdownVelocity: v0,
    takeoffVelocity: up,
    jumpHeight: height,
    jumpHeightTakeoffVelocity: height,
    peakVelocity: Math.max(...samples(touchdown, takeoff).map(v)),
    pushOffDistance: z(takeoff) - z(lowest),
    ...withSides("peakForce", (force) => force.greatest(touchdown, takeoff)),
    ...plainPeaks(sum, sides, touchdown, takeoff),
    ...withSides("forceAtZeroVelocity", (force) => force.at(lowest)),
    contactStiffness: sum.greatest(touchdown, takeoff) / Math.abs(z(lowest)),
    ...phase("Braking", touchdown, lowest, v0, 0),
    minimumPowerBraking: Math.min(...samples(touchdown, lowest).map(power)),
    ...phase("Propulsion", lowest, takeoff, 0, up),
    peakPower: Math.max(...samples(lowest, takeoff).map(power)),
    ...withSides("peakLandingForce", (force) => force.greatest(landing, landing + 0.3)),
    ...plainLanding(sum, bodyWeight, landing, motion),
  };
  const landed = landing + result.landingTime!;
  for (const [k, force] of sides.entries()) result[`landingImpulse${SIDES[k]}`] = force.impulse(landing, landed);
  if (way.kind !== "box") result.measuredDropHeight = v0 ** 2 / (2 * gravity);
  if (way.kind !== "flight") result.heightDifference = byFlight - height;
  if (way.kind !== "backward" && x.stand !== undefined) result.endVelocity = meanOver([Math.max(x.stand[0], x.stand[1] - 0.501), x.stand[1]], motion);
  return result;

  function withSides(id: string, of: (force: PlainForce) => number): Record<string, number> {
    return { [id]: of(sum), ...Object.fromEntries(sides.map((force, k) => [`${id}${SIDES[k]}`, of(force)])) };
  }

  function phase(name: string, from: number, to: number, v1: number, v2: number): Record<string, number> {
    const dz = z(to) - z(from);
    const impulse = `${name.toLowerCase()}Impulse`;
    return {
      [`${name.toLowerCase()}Time`]: to - from,
      [`${name.toLowerCase()}Displacement`]: dz,
      [`meanVelocity${name}`]: dz / (to - from),
      [`meanPower${name}`]: (mass * ((v2 ** 2 - v1 ** 2) / 2 + gravity * dz)) / (to - from),
      ...withSides(impulse, (force) => force.impulse(from, to)),
      [impulse]: mass * (v2 - v1),
      ...withSides(`meanForce${name}`, (force) => force.mean(from, to)),
      ...withSides(`peakForce${name}`, (force) => force.greatest(from, to)),
    };
  }
}

/** Method 3.5, A to D. */
function touchdownVelocity({ sum, bodyWeight, gravity, touchdown, takeoff, landing, way, stand }: PlainDropInputs): number {
  if (way.kind === "box") return -Math.sqrt(2 * gravity * way.height);
  if (way.kind === "two plates") return gravity * (way.leaving - (touchdown - way.leave));
  if (way.kind === "flight") return (gravity * (landing - takeoff)) / 2 + way.posture - (gravity / bodyWeight) * (sum.impulse(touchdown, takeoff) - bodyWeight * (takeoff - touchdown));
  return way.atRest - meanOver(stand!, plainMotion(sum, bodyWeight, touchdown, sum.end, 0, gravity));
}

/** Mean of the velocity over the samples of a stretch, m/s. */
function meanOver([start, end]: readonly [number, number], { times, velocity }: { readonly times: readonly number[]; readonly velocity: readonly number[] }): number {
  const inside = velocity.filter((_, k) => times[k]! >= start - 1e-9 && times[k]! < end - 1e-9);
  return inside.reduce((total, value) => total + value, 0) / inside.length;
}

/**
 * Impact and second peak (method 2.7): the largest sample of the first 50 ms where the force is lower 10 ms after it; then the largest after the valley
 * from which the force rises most, if it does so by 3 % of the impact.
 */
function plainPeaks(sum: PlainForce, sides: readonly PlainForce[], touchdown: number, takeoff: number): Record<string, number> {
  const samples = sum.instants(touchdown, takeoff).slice(1, -1);
  const early = samples.filter((time) => time < samples[0]! + 0.05 - 1e-9);
  const impact = early.reduce((best, time) => (sum.at(time) > sum.at(best) ? time : best));
  if (impact === early.at(-1) || sum.at(impact + 0.01) >= sum.at(impact)) return {};
  const named = (id: string, from: number, to: number): Record<string, number> => Object.fromEntries([sum, ...sides].map((force, k) => [`${id}${["", ...SIDES][k]}`, force.greatest(from, to)]));
  const later = samples.filter((time) => time >= impact);
  const riseFrom = (time: number): number => sum.greatest(time, samples.at(-1)!) - sum.at(time);
  const valley = later.reduce((best, time) => (riseFrom(time) > riseFrom(best) ? time : best));
  return {
    ...named("impactPeakForce", touchdown, touchdown + 0.05),
    ...(riseFrom(valley) > 0.03 * sum.at(impact) ? named("secondPeakForce", valley, takeoff) : {}),
  };
}

/**
 * Velocity at the instant at which the plate under a box is left, m/s: integrated from 30 ms before the force leaves the quiet stand by five SD (method
 * 2.3 a, never before the end of the window it was weighed in); or, for a window that a person set, from its beginning, at rest on average over it. For
 * a gravity of 1 m/s^2.
 *
 * @param heavier Added to the weight on the box, N.
 */
export function plainLeaving(box: PlainForce, window: readonly [start: number, end: number], leave: number, byHand: boolean, heavier = 0): number {
  const { samples, rate } = box;
  const [first, last] = window.map((time) => Math.round(time * rate)) as [number, number];
  const standing = samples.slice(first, last);
  const weight = standing.reduce((sum, f) => sum + f, 0) / standing.length + heavier;
  const limit = Math.max(1, Math.min(0.05 * weight, 5 * Math.sqrt(standing.reduce((sum, f) => sum + (f - weight) ** 2, 0) / (standing.length - 1))));
  if (byHand) {
    const motion = plainMotion(box, weight, first / rate, leave, 0, 1);
    return motion.velocity.at(-1)! - meanOver(window, motion);
  }
  // Corrections E1: the last instant up to which the force had stayed within 5 % for 0.25 s; from there back to ten samples in a row within the limit, or,
  // where it is still within, on to the first of ten outside.
  const within = (from: number, to: number, most: number): boolean => samples.slice(from, to).every((f) => Math.abs(f - weight) <= most);
  let onset = Math.floor(leave * rate);
  while (!within(onset - Math.round(0.25 * rate), onset, 0.05 * weight)) onset--;
  if (within(onset - 10, onset, limit)) while (!samples.slice(onset, onset + 10).every((f) => Math.abs(f - weight) > limit)) onset++;
  else while (!within(onset - 10, onset, limit)) onset--;
  const start = Math.max(last, onset - Math.round(0.03 * rate)) / rate;
  return plainMotion(box, weight, start, leave, 0, 1).velocity.at(-1)!;
}

/** What is known of the inputs: standard uncertainties in the units of the inputs. */
export interface PlainDropDoubts {
  readonly bodyWeight: number;
  /** Of the weight on the box, N, with what a newton of it does to the velocity there: two weighings of a person, whose doubts are taken for one. */
  readonly onBox?: { readonly u: number; readonly perNewton: number };
  readonly zero: number;
  readonly startVelocity: number;
  readonly touchdown: number;
  readonly takeoff: number;
  readonly landing: number;
  /** Of the height of the body at the landing, m. */
  readonly posture: number;
  /** Relative. */
  readonly gravity: number;
  readonly gain: number;
  /** Of the height of the box, m. */
  readonly dropHeight: number;
  /** Threshold over the slope at each edge, over the root of three, s. */
  readonly thresholds: { readonly touchdown: number; readonly takeoff: number; readonly landing: number };
}

/** The influences on a drop jump that move its inputs; noise, sampling and rounding belong to single samples and are not among them. */
export function plainDropInfluences(base: PlainDropInputs, doubts: PlainDropDoubts): Influence<PlainDropInputs>[] {
  const mapped = (force: PlainForce, change: (f: number) => number): PlainForce => new PlainForce(force.samples.map(change), force.rate);
  const forces = (x: PlainDropInputs, change: (f: number) => number): PlainDropInputs => ({ ...x, sum: mapped(x.sum, change), sides: x.sides.map((force) => mapped(force, change)), bodyWeight: change(x.bodyWeight) });
  // By algebra: a landing lower by d lengthens a flight that began with v by d / v, near enough, and takes g d / (2 v) off the velocity by it.
  const speed = (base.gravity * (base.landing - base.takeoff)) / 2;
  const lower = (x: PlainDropInputs, by: number): PlainDropInputs => ({ ...x, posture: x.posture + by / 2, way: x.way.kind === "flight" ? { ...x.way, posture: x.way.posture + (base.gravity * by) / (2 * speed) } : x.way });
  const started = ({ way }: PlainDropInputs, by: number): PlainDropInputs["way"] => (way.kind === "backward" ? { ...way, atRest: way.atRest + by } : way.kind === "two plates" ? { ...way, leaving: way.leaving + by / base.gravity } : way);
  return [
    { source: "bodyWeight", u: doubts.bodyWeight, step: 0.05, moved: (x, by) => ({ ...x, bodyWeight: x.bodyWeight + by }) },
    { source: "bodyWeight", u: doubts.onBox?.u ?? 0, step: 0.05, moved: (x, by) => ({ ...x, way: started(x, by * doubts.onBox!.perNewton) }) },
    { source: "zero", u: doubts.zero, step: 0.05, moved: (x, by) => forces(x, (f) => f - by) },
    { source: "gain", u: doubts.gain, step: 1e-4, moved: (x, by) => forces(x, (f) => f * (1 + by)) },
    { source: "startVelocity", u: doubts.startVelocity, step: 1e-4, moved: (x, by) => ({ ...x, way: started(x, by) }) },
    { source: "touchdown", u: doubts.touchdown, step: 1e-6, moved: (x, by) => ({ ...x, touchdown: x.touchdown + by }) },
    { source: "takeoff", u: doubts.takeoff, step: 1e-6, moved: (x, by) => ({ ...x, takeoff: x.takeoff + by }) },
    { source: "landing", u: doubts.landing, step: 1e-6, moved: (x, by) => ({ ...x, landing: x.landing + by }) },
    { source: "posture", u: doubts.posture, step: 1e-3, moved: lower },
    { source: "gravity", u: doubts.gravity, step: 1e-4, moved: (x, by) => ({ ...x, gravity: x.gravity * (1 + by) }) },
    { source: "dropHeight", u: doubts.dropHeight, step: 1e-4, moved: (x, by) => ({ ...x, way: x.way.kind === "box" ? { ...x.way, height: x.way.height + by } : x.way }) },
    // Early at take-off, late at touchdown and landing: one influence on all.
    {
      source: "threshold", u: 1, step: 1e-3,
      moved: (x, by) => ({ ...x, touchdown: x.touchdown - by * doubts.thresholds.touchdown, takeoff: x.takeoff + by * doubts.thresholds.takeoff, landing: x.landing - by * doubts.thresholds.landing }),
    },
  ];
}
