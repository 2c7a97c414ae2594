import { PlainForce, plainMotion } from "./plainAnalysis.ts";
import { plainLanding, plainSteepest } from "./plainTests.ts";
import type { Influence } from "../support/secondOpinion.ts";

/**
 * A countermovement or squat jump whose every input can be moved: forces without their zero, body weight, gravity, the velocity at the start, and
 * the instants. From the method alone, as plain as the analyses beside it; with it goes what is known of each input.
 */
export interface PlainInputs {
  readonly test: "CMJ" | "SJ";
  readonly sum: PlainForce;
  /** Forces of the sides, where two plates were used. */
  readonly sides: readonly PlainForce[];
  /** Of what is moved, N. */
  readonly bodyWeight: number;
  readonly gravity: number;
  /** kg. */
  readonly load: number;
  /** Where integration starts, s, and the velocity there, m/s. */
  readonly rest: number;
  readonly startVelocity: number;
  readonly onset: number;
  /** Where the velocity is least, s (CMJ). */
  readonly turn: number;
  /** Instant near the lowest point around which the force counts as straight over two samples, s (CMJ): it bends where it is largest. */
  readonly low: number;
  /** The sum as it is read, where that differs from the force that moves the body. */
  readonly readings?: PlainForce;
  readonly takeoff: number;
  readonly landing: number;
  /** Added to the height by flight time, m: what a lower landing would take away. */
  readonly posture: number;
  /** Window of the steepest rise before take-off, s. */
  readonly window: number;
}

const SIDES = ["Left", "Right"];

/** Metrics by id: of a squat jump those of the push, of a countermovement jump those of its phases too; the sides of all. */
export function plainStandingJump(x: PlainInputs): Record<string, number> {
  const { test, sum, sides, bodyWeight, gravity, rest, onset, takeoff, landing, readings = sum } = x;
  const mass = bodyWeight / gravity;
  const motion = plainMotion(sum, bodyWeight, rest, Math.min(sum.end, landing + 1.5), x.startVelocity, gravity);
  // Between two instants the acceleration is a straight line.
  const a = (time: number): number => (sum.at(time) - bodyWeight) / mass;
  const before = (time: number): number => {
    let k = Math.min(motion.times.length - 1, Math.max(0, Math.floor((time - rest) * sum.rate) + 1));
    while (k > 0 && motion.times[k]! > time) k--;
    return k;
  };
  const v = (time: number): number => {
    const k = before(time);
    const t = motion.times[k]!;
    return motion.velocity[k]! + ((a(t) + a(time)) / 2) * (time - t);
  };
  const z = (time: number): number => {
    const k = before(time);
    const t = motion.times[k]!;
    return motion.displacement[k]! + motion.velocity[k]! * (time - t) + (a(t) / 3 + a(time) / 6) * (time - t) ** 2;
  };
  const samples = (from: number, to: number): number[] => motion.times.filter((time) => time >= from - 1e-9 && time < to);
  const time = takeoff - onset;
  const flight = landing - takeoff;
  const height = v(takeoff) ** 2 / (2 * gravity);
  const byFlight = (gravity * flight ** 2) / 8 + x.posture;
  const peak = readings.greatest(onset, takeoff);
  const peakTime = sum.instants(onset, takeoff).find((at) => readings.at(at) === peak)!;
  const result: Record<string, number> = {
    bodyWeight,
    bodyMass: mass - x.load,
    flightTime: flight,
    takeoffVelocity: v(takeoff),
    takeoffDisplacement: z(takeoff),
    jumpHeight: height,
    jumpHeightTakeoffVelocity: height,
    jumpHeightFlightTime: byFlight,
    heightDifference: byFlight - height,
    timeToTakeoff: time,
    rsiModified: height / time,
    flightTimeToTakeoffTimeRatio: flight / time,
    peakVelocity: Math.max(...samples(onset, takeoff).map(v)),
    maximumRfd: plainSteepest(readings, onset, peakTime, x.window),
    ...withSides("peakForce", (force) => force.greatest(onset, takeoff)),
    ...withSides("peakLandingForce", (force) => force.greatest(landing, landing + 0.3)),
    ...plainLanding(sum, bodyWeight, landing, motion),
  };
  result.peakLandingForce = readings.greatest(landing, landing + 0.3);
  result.landingLoadingRate = result.peakLandingForce / result.timeToPeakLandingForce!;
  const landed = landing + result.landingTime!;
  for (const [k, force] of sides.entries()) result[`landingImpulse${SIDES[k]}`] = force.impulse(landing, landed);

  if (test === "SJ") {
    const lowest = Math.min(...samples(rest, takeoff).map(z));
    const until = Math.max(onset, rest + 1 / sum.rate);
    Object.assign(result, {
      pushOffDistance: z(takeoff) - lowest,
      dipFraction: Math.max(0, bodyWeight - Math.min(...samples(rest, until).map((at) => sum.at(at)))) / bodyWeight,
      ...phase("Propulsion", onset, takeoff),
      peakPower: Math.max(...samples(onset, takeoff).map((at) => readings.at(at) * v(at))),
    });
    return result;
  }

  let low = before(x.turn) + 1;
  while (motion.velocity[low]! < 0) low++;
  const [falling, rising] = [motion.velocity[low - 1]!, motion.velocity[low]!];
  const lowest = motion.times[low - 1]! - (falling * (motion.times[low]! - motion.times[low - 1]!)) / (rising - falling);
  const depth = z(lowest);
  const atLowest = (force: PlainForce): number =>
    force.at(x.low) + ((force.at(x.low + 1 / force.rate) - force.at(x.low - 1 / force.rate)) / 2) * force.rate * (lowest - x.low);
  return Object.assign(result, {
    jumpHeightAboveStanding: height + z(takeoff),
    minimumVelocity: v(x.turn),
    countermovementDepth: depth,
    pushOffDistance: z(takeoff) - depth,
    ...withSides("minimumForce", (force) => force.least(onset, lowest)),
    ...withSides("forceAtZeroVelocity", atLowest),
    unweightingTime: x.turn - onset,
    ...forces("Unweighting", onset, x.turn, 0, v(x.turn)),
    ...phase("Braking", x.turn, lowest, 0),
    ...withSides("peakForceBraking", (force) => Math.max(...force.instants(x.turn, lowest).slice(0, -1).map((at) => force.at(at)), atLowest(force))),
    minimumPowerBraking: Math.min(...samples(x.turn, lowest).map((at) => readings.at(at) * v(at))),
    // The least velocity moves with body weight and stays at it.
    brakingRfd: (atLowest(readings) - readings.at(x.turn)) / (lowest - x.turn),
    countermovementStiffness: (atLowest(readings) - bodyWeight) / Math.abs(depth),
    ...phase("Propulsion", lowest, takeoff),
    ...withSides("peakForcePropulsion", (force) => Math.max(...force.instants(lowest, takeoff).slice(1).map((at) => force.at(at)), atLowest(force))),
    peakPower: Math.max(...samples(lowest, takeoff).map((at) => readings.at(at) * v(at))),
  });

  function withSides(id: string, of: (force: PlainForce) => number): Record<string, number> {
    return { [id]: of(readings), ...Object.fromEntries(sides.map((force, k) => [`${id}${SIDES[k]}`, of(force)])) };
  }

  /** Impulses and mean forces; the net impulse of the sum is the change of momentum. */
  function forces(name: string, from: number, to: number, v1 = v(from), v2 = v(to)): Record<string, number> {
    const impulse = `${name.toLowerCase()}Impulse`;
    return {
      ...withSides(impulse, (force) => force.impulse(from, to)),
      [impulse]: mass * (v2 - v1),
      ...withSides(`meanForce${name}`, (force) => force.mean(from, to)),
    };
  }

  /** What braking and propulsion have in common. */
  function phase(name: string, from: number, to: number, v2 = v(to)): Record<string, number> {
    // At the lowest point the velocity is zero by definition.
    const v1 = test === "CMJ" && name === "Propulsion" ? 0 : v(from);
    const dz = z(to) - z(from);
    return {
      [`${name.toLowerCase()}Time`]: to - from,
      [`${name.toLowerCase()}Displacement`]: dz,
      [`meanVelocity${name}`]: dz / (to - from),
      [`meanPower${name}`]: (mass * ((v2 ** 2 - v1 ** 2) / 2 + gravity * dz)) / (to - from),
      ...forces(name, from, to, v1, v2),
      ...withSides(`peakForce${name}`, (force) => force.greatest(from, to)),
    };
  }
}

/** What is known of the inputs: standard uncertainties in the units of the inputs, slopes of the force at the edges in N/s. */
export interface PlainDoubts {
  readonly bodyWeight: number;
  readonly zero: number;
  readonly startVelocity: number;
  readonly onset: number;
  readonly takeoff: number;
  readonly landing: number;
  readonly posture: number;
  /** Relative. */
  readonly gravity: number;
  readonly gain: number;
  /** False where body weight is not from the plates: their gain moves the readings alone then. */
  readonly weighed: boolean;
  /** Threshold over the slope at each edge, over the root of three, s: the true edge lies between the crossing and zero force. */
  readonly thresholdTakeoff: number;
  readonly thresholdLanding: number;
}

/** The influences on a standing jump that move its inputs; noise, sampling and rounding belong to single samples and are not among them. */
export function plainInfluences(base: PlainInputs, doubts: PlainDoubts): Influence<PlainInputs>[] {
  const scaled = (force: PlainForce, by: number): PlainForce => new PlainForce(force.samples.map((f) => f * (1 + by)), force.rate);
  const raised = (force: PlainForce, by: number): PlainForce => new PlainForce(force.samples.map((f) => f + by), force.rate);
  // The velocity is least where the force comes back to body weight.
  const slope = ((base.sum.at(base.turn + 1 / base.sum.rate) - base.sum.at(base.turn - 1 / base.sum.rate)) * base.sum.rate) / 2;
  // What the gain would do to the motion is in the doubt of a weight by hand.
  const louder = (x: PlainInputs, by: number): PlainInputs => {
    const sides = x.sides.map((force) => scaled(force, by));
    if (doubts.weighed) return { ...x, sum: scaled(x.sum, by), sides, bodyWeight: x.bodyWeight * (1 + by) };
    return { ...x, readings: scaled(x.sum, by), sides, turn: x.turn - (by * x.bodyWeight) / slope };
  };
  return [
    { source: "bodyWeight", u: doubts.bodyWeight, step: 0.05, moved: (x, by) => ({ ...x, bodyWeight: x.bodyWeight + by, turn: x.turn + by / slope }) },
    { source: "zero", u: doubts.zero, step: 0.05, moved: (x, by) => ({ ...x, sum: raised(x.sum, -by), sides: x.sides.map((force) => raised(force, -by)), bodyWeight: x.bodyWeight - by }) },
    { source: "startVelocity", u: doubts.startVelocity, step: 1e-4, moved: (x, by) => ({ ...x, startVelocity: x.startVelocity + by }) },
    { source: "onset", u: doubts.onset, step: 1e-5, moved: (x, by) => ({ ...x, onset: x.onset + by }) },
    { source: "takeoff", u: doubts.takeoff, step: 1e-6, moved: (x, by) => ({ ...x, takeoff: x.takeoff + by }) },
    { source: "landing", u: doubts.landing, step: 1e-6, moved: (x, by) => ({ ...x, landing: x.landing + by }) },
    { source: "posture", u: doubts.posture, step: 1e-3, moved: (x, by) => ({ ...x, posture: x.posture + by }) },
    { source: "gravity", u: doubts.gravity, step: 1e-4, moved: (x, by) => ({ ...x, gravity: x.gravity * (1 + by) }) },
    { source: "gain", u: doubts.gain, step: 1e-4, moved: louder },
    // Early at take-off, late at landing: one influence on both.
    { source: "threshold", u: 1, step: 1e-3, moved: (x, by) => ({ ...x, takeoff: x.takeoff + by * doubts.thresholdTakeoff, landing: x.landing - by * doubts.thresholdLanding }) },
  ];
}
