/**
 * A slow, plain analysis of a jump, written from the method alone and sharing nothing with the product: the second opinion of the
 * differential tests. Force is read as a piecewise linear function of time; every integral is the exact one of that function.
 */

const G = 9.80665;

export interface PlainEvents {
  weighingStart: number;
  weighingEnd: number;
  onset: number;
  takeoff: number;
  landing: number;
}

/** Force between samples, N. */
export class PlainForce {
  constructor(
    readonly samples: readonly number[],
    readonly rate: number,
  ) {}

  get end(): number {
    return (this.samples.length - 1) / this.rate;
  }

  at(time: number): number {
    const x = Math.min(Math.max(time * this.rate, 0), this.samples.length - 1);
    const i = Math.min(Math.floor(x), this.samples.length - 2);
    return this.samples[i] + (x - i) * (this.samples[i + 1] - this.samples[i]);
  }

  /** The instants of the samples inside, with both ends. */
  instants(from: number, to: number): number[] {
    const times = [from];
    for (let i = Math.floor(from * this.rate) + 1; i / this.rate < to; i++) if (i / this.rate > from) times.push(i / this.rate);
    times.push(to);
    return times;
  }

  /** Integral of the force, N s. */
  impulse(from: number, to: number): number {
    const times = this.instants(from, to);
    let sum = 0;
    for (let k = 1; k < times.length; k++) sum += ((this.at(times[k]) + this.at(times[k - 1])) / 2) * (times[k] - times[k - 1]);
    return sum;
  }

  mean(from: number, to: number): number {
    return this.impulse(from, to) / (to - from);
  }

  greatest(from: number, to: number): number {
    return Math.max(...this.instants(from, to).map((time) => this.at(time)));
  }

  least(from: number, to: number): number {
    return Math.min(...this.instants(from, to).map((time) => this.at(time)));
  }
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function deviationOf(values: readonly number[]): number {
  const mean = meanOf(values);
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
}

/** Runs of samples below a level, gaps of up to 10 ms bridged. */
function runsBelow(samples: readonly number[], level: number, rate: number): [number, number][] {
  const runs: [number, number][] = [];
  samples.forEach((value, i) => {
    if (value >= level) return;
    const last = runs[runs.length - 1];
    if (last !== undefined && i - last[1] <= 0.01 * rate) last[1] = i + 1;
    else runs.push([i, i + 1]);
  });
  return runs;
}

/** The sum with its zero taken from flight, and the flight, as sample numbers. */
export function plainZero(raw: readonly number[], rate: number): { force: PlainForce; flight: [number, number] } {
  const width = Math.round(0.1 * rate);
  let level = Infinity;
  for (let i = 0; i + width <= raw.length; i += Math.max(1, Math.floor(width / 10))) level = Math.min(level, meanOf(raw.slice(i, i + width)));
  const median = [...raw].sort((a, b) => a - b)[Math.floor(raw.length / 2)];
  const flights = runsBelow(raw, level + Math.max(40, 0.05 * median), rate).filter(([a, b]) => a > 0 && b < raw.length && (b - a) / rate >= 0.1 && (b - a) / rate <= 1);
  const flight = flights.sort((a, b) => b[1] - b[0] - (a[1] - a[0]))[0];
  const inside = Math.round(0.03 * rate);
  const offset = meanOf(raw.slice(flight[0] + inside, flight[1] - inside));
  return { force: new PlainForce(raw.map((value) => value - offset), rate), flight };
}

/** Take-off and landing: from mid-flight out to a loaded stretch, then back to the last crossing of the threshold. */
export function plainFlight(force: PlainForce, flight: readonly [number, number], bodyWeight: number): { takeoff: number; landing: number } {
  const { samples, rate } = force;
  const middle = Math.floor((flight[0] + flight[1]) / 2);
  const quarter = Math.floor((flight[1] - flight[0]) / 4);
  const residual = Math.max(...samples.slice(middle - quarter, middle + quarter).map(Math.abs));
  const threshold = Math.max(20, 1.2 * residual);
  const lasting = Math.ceil(0.01 * rate);
  const edge = (step: 1 | -1): number => {
    let i = middle;
    const loaded = (at: number): boolean => {
      for (let k = 0; k < lasting; k++) if (!(samples[at + step * k] >= 0.1 * bodyWeight)) return false;
      return true;
    };
    while (!loaded(i)) i += step;
    while (samples[i - step] >= threshold) i -= step;
    // Between i (at or above) and its neighbour inside the flight (below).
    return (i - step * ((samples[i] - threshold) / (samples[i] - samples[i - step]))) / rate;
  };
  return { takeoff: edge(-1), landing: edge(1) };
}

/** Weighing window and onset of a jump from standing or a hold, never reaching into the movement. */
export function plainWeighing(force: PlainForce, takeoff: number): { bodyWeight: number; deviation: number; weighingStart: number; weighingEnd: number; onset: number } {
  const { samples, rate } = force;
  const last = Math.floor(takeoff * rate);
  const width = Math.round(rate);
  let best = Infinity;
  let provisional = 0;
  for (let i = 0; i + width <= last; i += 5) {
    const window = samples.slice(i, i + width);
    const deviation = deviationOf(window);
    if (deviation < best) {
      best = deviation;
      provisional = meanOf(window);
    }
  }
  // 20 ms moving mean, so that noise does not break the quiet run.
  const half = Math.round(0.01 * rate);
  const smooth = samples.slice(0, last).map((_, i) => meanOf(samples.slice(Math.max(0, i - half), i + half + 1)));
  const quiet = Math.round(0.25 * rate);
  let run = 0;
  let exit = 0;
  for (let i = 0; i < last; i++) {
    run = Math.abs(smooth[i] - provisional) <= 0.05 * provisional ? run + 1 : 0;
    if (run >= quiet) exit = i;
  }
  const end = Math.max(width, exit - Math.round(0.15 * rate));
  const window = samples.slice(end - width, end);
  const bodyWeight = meanOf(window);
  const deviation = deviationOf(window);
  // Backward from the movement to where the force had stayed inside 5 SD.
  const limit = Math.min(Math.max(5 * deviation, 1), 0.05 * bodyWeight);
  let onset = exit;
  while (onset > end && Math.abs(samples[onset] - bodyWeight) > limit) onset--;
  while (onset < last && Math.abs(samples[onset + 1] - bodyWeight) <= limit) onset++;
  return { bodyWeight, deviation, weighingStart: (end - width) / rate, weighingEnd: end / rate, onset: (onset + 1) / rate - 0.03 };
}

/** Velocity and displacement at the instants of a piecewise linear force, from rest at `from`. */
export interface PlainMotion {
  readonly times: readonly number[];
  readonly velocity: readonly number[];
  readonly displacement: readonly number[];
}

export function plainMotion(force: PlainForce, bodyWeight: number, from: number, to: number, startVelocity = 0, gravity = G): PlainMotion {
  const mass = bodyWeight / gravity;
  const times = force.instants(from, to);
  const velocity = [startVelocity];
  const displacement = [0];
  for (let k = 1; k < times.length; k++) {
    const step = times[k] - times[k - 1];
    const a0 = (force.at(times[k - 1]) - bodyWeight) / mass;
    const a1 = (force.at(times[k]) - bodyWeight) / mass;
    velocity.push(velocity[k - 1] + ((a0 + a1) / 2) * step);
    // Exact for an acceleration that is linear over the step.
    displacement.push(displacement[k - 1] + velocity[k - 1] * step + (a0 / 3 + a1 / 6) * step ** 2);
  }
  return { times, velocity, displacement };
}

/** Value of a column at a time between instants. */
export function plainAt(motion: PlainMotion, column: readonly number[], time: number): number {
  const { times } = motion;
  let k = 1;
  while (k < times.length - 1 && times[k] < time) k++;
  return column[k - 1] + ((column[k] - column[k - 1]) * (time - times[k - 1])) / (times[k] - times[k - 1]);
}

/** Metrics of a countermovement jump from its body weight and events, by id, SI units. */
export function plainCountermovement(force: PlainForce, bodyWeight: number, events: Pick<PlainEvents, "onset" | "takeoff" | "landing">): Record<string, number> {
  const { onset, takeoff, landing } = events;
  const mass = bodyWeight / G;
  const motion = plainMotion(force, bodyWeight, onset, takeoff);
  const { times, velocity, displacement } = motion;
  const fastest = velocity.indexOf(Math.min(...velocity));
  const minimumTime = times[fastest];
  let low = fastest;
  while (velocity[low] < 0) low++;
  const lowest = times[low - 1] - (velocity[low - 1] * (times[low] - times[low - 1])) / (velocity[low] - velocity[low - 1]);
  const depth = plainAt(motion, displacement, lowest);
  const v = velocity[velocity.length - 1];
  const z = displacement[displacement.length - 1];
  const flight = landing - takeoff;
  const power = times.map((time, k) => force.at(time) * velocity[k]);
  const propulsion = times.map((time, k) => (time >= lowest ? power[k] : -Infinity));
  const braking = times.map((time, k) => (time >= minimumTime && time <= lowest ? power[k] : Infinity));
  const height = v ** 2 / (2 * G);
  const atLowest = force.at(lowest);
  return {
    takeoffVelocity: v,
    takeoffDisplacement: z,
    flightTime: flight,
    jumpHeightTakeoffVelocity: height,
    jumpHeightFlightTime: (G * flight ** 2) / 8,
    jumpHeightAboveStanding: height + z,
    heightDifference: (G * flight ** 2) / 8 - height,
    timeToTakeoff: takeoff - onset,
    rsiModified: height / (takeoff - onset),
    flightTimeToTakeoffTimeRatio: flight / (takeoff - onset),
    peakVelocity: Math.max(...velocity),
    minimumVelocity: velocity[fastest],
    countermovementDepth: depth,
    pushOffDistance: z - depth,
    unweightingTime: minimumTime - onset,
    brakingTime: lowest - minimumTime,
    propulsionTime: takeoff - lowest,
    minimumForce: force.least(onset, lowest),
    peakForce: force.greatest(onset, takeoff),
    peakForceBraking: force.greatest(minimumTime, lowest),
    peakForcePropulsion: force.greatest(lowest, takeoff),
    forceAtZeroVelocity: atLowest,
    meanForceUnweighting: force.mean(onset, minimumTime),
    meanForceBraking: force.mean(minimumTime, lowest),
    meanForcePropulsion: force.mean(lowest, takeoff),
    unweightingImpulse: force.impulse(onset, minimumTime) - bodyWeight * (minimumTime - onset),
    brakingImpulse: force.impulse(minimumTime, lowest) - bodyWeight * (lowest - minimumTime),
    propulsionImpulse: force.impulse(lowest, takeoff) - bodyWeight * (takeoff - lowest),
    meanVelocityPropulsion: (z - depth) / (takeoff - lowest),
    propulsionDisplacement: z - depth,
    peakPower: Math.max(...propulsion),
    minimumPowerBraking: Math.min(...braking),
    // Work over time.
    meanPowerPropulsion: (mass * (v ** 2 / 2 + G * (z - depth))) / (takeoff - lowest),
    brakingRfd: (atLowest - force.at(minimumTime)) / (lowest - minimumTime),
    countermovementStiffness: (atLowest - bodyWeight) / Math.abs(depth),
    peakLandingForce: force.greatest(landing, Math.min(landing + 0.3, force.end)),
  };
}

/** The whole of it: zero, flight, weighing, onset, metrics. */
export function plainJump(raw: readonly number[], rate: number): { bodyWeight: number; events: PlainEvents; metrics: Record<string, number>; force: PlainForce } {
  const { force, flight } = plainZero(raw, rate);
  const rough = plainFlight(force, flight, Math.max(...force.samples) / 3);
  const { bodyWeight, weighingStart, weighingEnd, onset } = plainWeighing(force, rough.takeoff);
  const { takeoff, landing } = plainFlight(force, flight, bodyWeight);
  const events = { weighingStart, weighingEnd, onset, takeoff, landing };
  return { bodyWeight, events, metrics: plainCountermovement(force, bodyWeight, events), force };
}
