import { PlainForce, plainAt, plainMotion, type PlainMotion } from "./plainAnalysis.ts";

/**
 * The other tests, as slowly and plainly as the countermovement jump beside it, from the method alone: squat jump, drop jump by the stand
 * after the landing, repeated hops, isometric pull, and what follows a landing. Nothing is shared with the product.
 */

const G = 9.80665;

/** Net impulse over a stretch, N s. */
function netImpulse(force: PlainForce, bodyWeight: number, from: number, to: number): number {
  return force.impulse(from, to) - bodyWeight * (to - from);
}

function valueAt(motion: PlainMotion, column: readonly number[], time: number): number {
  return plainAt(motion, column, time);
}

/** The first instant after `after` at which the velocity has come up to zero. */
function restingAfter({ times, velocity }: PlainMotion, after: number): number {
  let k = 1;
  while (times[k]! <= after || velocity[k]! < 0) k++;
  return times[k - 1]! - (velocity[k - 1]! * (times[k]! - times[k - 1]!)) / (velocity[k]! - velocity[k - 1]!);
}

/** Greatest rise of the force over a window, divided by it, between two instants; windows begin at samples. */
export function plainSteepest(force: PlainForce, from: number, to: number, window: number): number {
  let most = -Infinity;
  for (let i = Math.ceil(from * force.rate); i / force.rate + window <= to + 1e-9; i++) most = Math.max(most, (force.at(i / force.rate + window) - force.at(i / force.rate)) / window);
  return most;
}

/** What follows the landing: peak and its time, and, where the velocity is known, how the body is stopped. */
export function plainLanding(force: PlainForce, bodyWeight: number, landing: number, motion: PlainMotion | undefined): Record<string, number> {
  const within = force.instants(landing, Math.min(landing + 0.3, force.end));
  const forces = within.map((time) => force.at(time));
  const peak = Math.max(...forces);
  const peakTime = within[forces.indexOf(peak)]!;
  const times: Record<string, number> = { peakLandingForce: peak, timeToPeakLandingForce: peakTime - landing, landingLoadingRate: peak / (peakTime - landing) };
  // The first instant from which the force stays within 5 % of body weight for a second.
  const { samples, rate } = force;
  let since = Math.ceil(landing * rate);
  for (let i = since; i < samples.length && i - since < rate; i++) if (Math.abs(samples[i]! - bodyWeight) > 0.05 * bodyWeight) since = i + 1;
  if (samples.length - since >= rate) times.timeToStabilisation = since / rate - landing;
  if (motion === undefined) return times;
  const velocity = valueAt(motion, motion.velocity, landing);
  const lowest = restingAfter(motion, landing);
  return {
    ...times,
    landingVelocity: velocity,
    landingTime: lowest - landing,
    landingDepth: valueAt(motion, motion.displacement, lowest) - valueAt(motion, motion.displacement, landing),
    landingImpulse: netImpulse(force, bodyWeight, landing, lowest),
  };
}

/** Gross impulse and force of one side over a stretch, by the name of the phase. */
export function plainSide(plate: PlainForce, phase: string, from: number, to: number): Record<string, number> {
  return { [`meanForce${phase}`]: plate.mean(from, to), [`${phase.toLowerCase()}Impulse`]: plate.impulse(from, to), [`peakForce${phase}`]: plate.greatest(from, to) };
}

/** Metrics of a squat jump: integration begins where the hold ends, times where the push begins. */
export function plainSquat(force: PlainForce, bodyWeight: number, events: { holdEnd: number; onset: number; takeoff: number; landing: number }): Record<string, number> {
  const { holdEnd, onset, takeoff, landing } = events;
  const mass = bodyWeight / G;
  const motion = plainMotion(force, bodyWeight, holdEnd, force.end);
  const push = plainMotion(force, bodyWeight, holdEnd, takeoff);
  const v = push.velocity.at(-1)!;
  const z = push.displacement.at(-1)!;
  const z0 = plainAt(push, push.displacement, onset);
  const v0 = plainAt(push, push.velocity, onset);
  const lowest = Math.min(...push.displacement);
  const flight = landing - takeoff;
  const height = v ** 2 / (2 * G);
  const time = takeoff - onset;
  return {
    takeoffVelocity: v,
    takeoffDisplacement: z,
    flightTime: flight,
    jumpHeightTakeoffVelocity: height,
    jumpHeightFlightTime: (G * flight ** 2) / 8,
    timeToTakeoff: time,
    rsiModified: height / time,
    flightTimeToTakeoffTimeRatio: flight / time,
    peakVelocity: Math.max(...push.velocity),
    pushOffDistance: z - lowest,
    propulsionTime: time,
    propulsionDisplacement: z - z0,
    meanVelocityPropulsion: (z - z0) / time,
    propulsionImpulse: netImpulse(force, bodyWeight, onset, takeoff),
    meanForcePropulsion: force.mean(onset, takeoff),
    meanPowerPropulsion: (mass * ((v ** 2 - v0 ** 2) / 2 + G * (z - z0))) / time,
    peakForce: force.greatest(onset, takeoff),
    peakForcePropulsion: force.greatest(onset, takeoff),
    peakPower: Math.max(...push.times.map((at, k) => (at >= onset ? force.at(at) * push.velocity[k]! : -Infinity))),
    ...plainLanding(force, bodyWeight, landing, motion),
  };
}

/** Metrics of a drop jump whose velocity comes backward from a stand after the landing: at rest on the average over the stand. */
export function plainDrop(force: PlainForce, bodyWeight: number, events: { touchdown: number; takeoff: number; landing: number; standStart: number; standEnd: number }): Record<string, number> {
  const { touchdown, takeoff, landing, standStart, standEnd } = events;
  const mass = bodyWeight / G;
  const rough = plainMotion(force, bodyWeight, touchdown, standEnd);
  const resting = rough.velocity.filter((_, k) => rough.times[k]! >= standStart);
  const v0 = -resting.reduce((sum, value) => sum + value, 0) / resting.length;
  const whole = plainMotion(force, bodyWeight, touchdown, standEnd, v0);
  const motion = plainMotion(force, bodyWeight, touchdown, takeoff, v0);
  const v = motion.velocity.at(-1)!;
  const z = motion.displacement.at(-1)!;
  const lowest = restingAfter(whole, touchdown);
  const depth = plainAt(motion, motion.displacement, lowest);
  const contact = takeoff - touchdown;
  const flight = landing - takeoff;
  const braking = lowest - touchdown;
  const propulsion = takeoff - lowest;
  const power = motion.times.map((time, k) => force.at(time) * motion.velocity[k]!);
  const peak = force.greatest(touchdown, takeoff);
  const heightOfFlight = (G * flight ** 2) / 8;
  return {
    contactTime: contact,
    flightTime: flight,
    jumpHeightFlightTime: heightOfFlight,
    flightToContactRatio: flight / contact,
    rsi: heightOfFlight / contact,
    touchdownVelocity: v0,
    measuredDropHeight: v0 ** 2 / (2 * G),
    takeoffVelocity: v,
    jumpHeightTakeoffVelocity: v ** 2 / (2 * G),
    peakVelocity: Math.max(...motion.velocity),
    pushOffDistance: z - depth,
    brakingTime: braking,
    brakingDisplacement: depth,
    meanVelocityBraking: depth / braking,
    meanPowerBraking: (mass * (-(v0 ** 2) / 2 + G * depth)) / braking,
    brakingImpulse: netImpulse(force, bodyWeight, touchdown, lowest),
    meanForceBraking: force.mean(touchdown, lowest),
    peakForceBraking: force.greatest(touchdown, lowest),
    minimumPowerBraking: Math.min(...power),
    propulsionTime: propulsion,
    propulsionDisplacement: z - depth,
    meanVelocityPropulsion: (z - depth) / propulsion,
    meanPowerPropulsion: (mass * (v ** 2 / 2 + G * (z - depth))) / propulsion,
    propulsionImpulse: netImpulse(force, bodyWeight, lowest, takeoff),
    meanForcePropulsion: force.mean(lowest, takeoff),
    peakForcePropulsion: force.greatest(lowest, takeoff),
    peakPower: Math.max(...power),
    forceAtZeroVelocity: force.at(lowest),
    peakForce: peak,
    contactStiffness: peak / Math.abs(depth),
    ...plainLanding(force, bodyWeight, landing, whole),
  };
}

/** Flights of a series, from mid-flight out to a loaded stretch and back to the last crossing of the threshold. */
export function plainFlights(force: PlainForce, bodyWeight: number, threshold: number): { takeoff: number; landing: number }[] {
  const { samples, rate } = force;
  const flights: { takeoff: number; landing: number }[] = [];
  for (let i = 1; i < samples.length; i++) {
    if (samples[i]! >= threshold || samples[i - 1]! < threshold) continue;
    let end = i;
    while (end < samples.length && samples[end]! < 0.1 * bodyWeight) end++;
    if (end === samples.length || (end - i) / rate <= 0.05) continue;
    const edge = (from: number, step: 1 | -1): number => {
      let at = from;
      while (samples[at]! < 0.1 * bodyWeight) at += step;
      while (samples[at - step]! >= threshold) at -= step;
      return (at - step * ((samples[at]! - threshold) / (samples[at]! - samples[at - step]!))) / rate;
    };
    const middle = Math.floor((i + end) / 2);
    flights.push({ takeoff: edge(middle, -1), landing: edge(middle, 1) });
    i = end;
  }
  return flights;
}

export interface PlainHop {
  readonly contactTime: number;
  readonly flightTime: number;
  readonly rsi: number;
  readonly stiffness: number;
}

/** The hops between flights: each contact with the flight after it; the velocity at touchdown from the flight before. */
export function plainHops(force: PlainForce, bodyWeight: number, flights: readonly { takeoff: number; landing: number }[]): { hops: PlainHop[]; metrics: Record<string, number> } {
  const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
  const hops = flights.slice(1).map((flight, index): PlainHop => {
    const before = flights[index]!;
    const contactTime = flight.takeoff - before.landing;
    const flightTime = flight.landing - flight.takeoff;
    const motion = plainMotion(force, bodyWeight, before.landing, flight.takeoff, (-G * (before.landing - before.takeoff)) / 2);
    const deepest = Math.min(...motion.displacement);
    return { contactTime, flightTime, rsi: (G * flightTime ** 2) / 8 / contactTime, stiffness: force.greatest(before.landing, flight.takeoff) / Math.abs(deepest) };
  });
  const best = hops.slice(0, 10).sort((a, b) => b.rsi - a.rsi).slice(0, 5);
  const total = flights.at(-1)!.landing - flights[0]!.landing;
  const flying = hops.reduce((sum, hop) => sum + hop.flightTime, 0);
  return {
    hops,
    metrics: {
      hopCount: hops.length,
      bestFiveRsi: mean(best.map(({ rsi }) => rsi)),
      lastFiveRsi: mean(hops.slice(-5).map(({ rsi }) => rsi)),
      meanHopRsi: mean(hops.map(({ rsi }) => rsi)),
      meanContactTime: mean(best.map(({ contactTime }) => contactTime)),
      meanFlightTime: mean(best.map(({ flightTime }) => flightTime)),
      meanHopHeight: mean(best.map(({ flightTime }) => (G * flightTime ** 2) / 8)),
      hopStiffness: mean(best.map(({ stiffness }) => stiffness)),
      // Bosco, Luhtanen & Komi (1983), from memory.
      hopPowerFromTimes: (G ** 2 * flying * total) / (4 * hops.length * (total - flying)),
    },
  };
}

/** Metrics of an isometric pull on its own baseline; `bodyWeight` from elsewhere. */
export function plainPull(force: PlainForce, onset: number, weighing: readonly [number, number], bodyWeight: number): Record<string, number> {
  const window = force.samples.slice(Math.round(weighing[0] * force.rate), Math.round(weighing[1] * force.rate));
  const baseline = window.reduce((sum, value) => sum + value, 0) / window.length;
  const rate = (from: number, to: number): number => (force.at(onset + to) - force.at(onset + from)) / (to - from);
  const peak = force.greatest(onset, force.end);
  const peakTime = force.instants(onset, force.end).find((time) => force.at(time) === peak)!;
  return {
    baselineForce: baseline,
    preTensionForce: baseline - bodyWeight,
    peakForce: peak,
    timeToPeakForce: peakTime - onset,
    ...Object.fromEntries([50, 90, 100, 150, 200, 250].map((ms) => [`force${ms}ms`, force.at(onset + ms / 1000)])),
    ...Object.fromEntries([50, 100, 150, 200, 250].map((ms) => [`rfd0to${ms}`, rate(0, ms / 1000)])),
    rfd50to100: rate(0.05, 0.1),
    rfd100to200: rate(0.1, 0.2),
    ...Object.fromEntries([100, 200, 250].map((ms) => [`impulse0to${ms}`, netImpulse(force, bodyWeight, onset, onset + ms / 1000)])),
    maximumRfd: plainSteepest(force, onset, peakTime, 0.02),
  };
}
