/**
 * The algorithm that gave the reference results of the published vectors, written from its description: fixed weighing window, plain
 * 20 N crossings, forward onset search. Test code: it shares nothing with the product, and the product does not aim to be it.
 */

const G = 9.80665;
const THRESHOLD = 20;

export interface JumpReference {
  BW: number;
  SD_bw: number;
  mass: number;
  t_onset: number;
  t_takeoff: number;
  t_landing: number;
  flight_time: number;
  v_takeoff: number;
  z_takeoff: number;
  h_tov: number;
  h_ft: number;
  h_tov_plus_z: number;
  time_to_takeoff: number;
  RSImod_tov: number;
  v_min: number;
  t_minv: number;
  t_low: number;
  depth: number;
  F_at_zero_v: number;
  F_peak_prop: number;
  P_peak: number;
  v_peak: number;
  F_peak_landing: number;
  v_end_mean_last_0p5s: number;
  F_min_before_push_frac_bw: number;
}

/** First and one-past-last sample of the longest stretch below the threshold. */
function longestEmpty(force: Float64Array, threshold = THRESHOLD): [number, number] {
  let best: [number, number] = [0, 0];
  let start = -1;
  for (let i = 0; i <= force.length; i++) {
    const below = i < force.length && force[i] < threshold;
    if (below && start < 0) start = i;
    if (!below && start >= 0) {
      if (i - start > best[1] - best[0]) best = [start, i];
      start = -1;
    }
  }
  return best;
}

/** Linear crossing of the threshold between samples i - 1 and i, s. */
function crossing(force: Float64Array, i: number, rate: number): number {
  return (i - 1 + (THRESHOLD - force[i - 1]) / (force[i] - force[i - 1])) / rate;
}

function meanOf(force: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += force[i];
  return sum / (to - from);
}

function deviationOf(force: Float64Array, from: number, to: number): number {
  const mean = meanOf(force, from, to);
  let sum = 0;
  for (let i = from; i < to; i++) sum += (force[i] - mean) ** 2;
  return Math.sqrt(sum / (to - from - 1));
}

/** Value at a time between samples, linear. */
function at(values: Float64Array, time: number, rate: number): number {
  const i = Math.min(Math.floor(time * rate), values.length - 2);
  return values[i] + (values[i + 1] - values[i]) * (time * rate - i);
}

/** First sample at or after a time; times a rounding error below a sample count as on it. */
function sampleAt(time: number, rate: number): number {
  return Math.ceil(time * rate - 1e-6);
}

function cumulative(values: Float64Array, from: number, rate: number): Float64Array {
  const sum = new Float64Array(values.length);
  for (let i = from + 1; i < values.length; i++) sum[i] = sum[i - 1] + (values[i] + values[i - 1]) / 2 / rate;
  return sum;
}

/** Countermovement or squat jump of a sum of plates, or of the loaded one. */
export function referenceJump(force: Float64Array, rate: number, kind: "cmj" | "sj"): JumpReference {
  const [empty, loaded] = longestEmpty(force);
  const takeoff = crossing(force, empty, rate);
  const landing = crossing(force, loaded, rate);
  const from = sampleAt(0.3, rate);
  const to = sampleAt(1.3, rate);
  const BW = meanOf(force, from, to);
  const SD = deviationOf(force, from, to);
  const mass = BW / G;
  const limit = Math.max(5 * SD, 1);
  let exit = to;
  while (Math.abs(force[exit] - BW) <= limit) exit++;
  const onset = exit / rate - 0.03;
  const start = sampleAt(onset, rate);
  const acceleration = force.map((value) => (value - BW) / mass);
  const velocity = cumulative(acceleration, start, rate);
  const displacement = cumulative(velocity, start, rate);
  const last = empty - 1;
  let minimum = start;
  for (let i = start; i <= last; i++) if (velocity[i] < velocity[minimum]) minimum = i;
  let low = minimum;
  while (velocity[low] < 0) low++;
  const lowTime = low === minimum ? low / rate : (low - 1 - velocity[low - 1] / (velocity[low] - velocity[low - 1])) / rate;
  let peakForce = 0;
  let peakPower = 0;
  let peakVelocity = 0;
  const pushFrom = kind === "cmj" ? sampleAt(lowTime, rate) : start;
  for (let i = pushFrom; i <= last; i++) {
    peakForce = Math.max(peakForce, force[i]);
    peakPower = Math.max(peakPower, force[i] * velocity[i]);
    peakVelocity = Math.max(peakVelocity, velocity[i]);
  }
  let peakLanding = 0;
  for (let i = loaded; i / rate <= landing + 0.3; i++) peakLanding = Math.max(peakLanding, force[i]);
  let least = Infinity;
  for (let i = start; i / rate < takeoff - 0.1; i++) least = Math.min(least, force[i]);
  const v = at(velocity, takeoff, rate);
  const z = at(displacement, takeoff, rate);
  const flight = landing - takeoff;
  const end = velocity.length;
  return {
    BW,
    SD_bw: SD,
    mass,
    t_onset: onset,
    t_takeoff: takeoff,
    t_landing: landing,
    flight_time: flight,
    v_takeoff: v,
    z_takeoff: z,
    h_tov: v ** 2 / (2 * G),
    h_ft: (G * flight ** 2) / 8,
    h_tov_plus_z: v ** 2 / (2 * G) + z,
    time_to_takeoff: takeoff - onset,
    RSImod_tov: v ** 2 / (2 * G) / (takeoff - onset),
    v_min: velocity[minimum],
    t_minv: minimum / rate,
    t_low: lowTime,
    depth: at(displacement, lowTime, rate),
    F_at_zero_v: at(force, lowTime, rate),
    F_peak_prop: peakForce,
    P_peak: peakPower,
    v_peak: peakVelocity,
    F_peak_landing: peakLanding,
    v_end_mean_last_0p5s: meanOf(velocity, end - 1 - sampleAt(0.5, rate), end),
    F_min_before_push_frac_bw: least / BW,
  };
}

/** Mean over propulsion and peak landing force of one plate, N, with the events of the sum. */
export function referenceSide(plate: Float64Array, rate: number, sum: JumpReference): { meanPropulsion: number; peakLanding: number } {
  const from = sampleAt(sum.t_low, rate);
  const to = Math.floor(sum.t_takeoff * rate + 1e-6) + 1;
  let peakLanding = 0;
  for (let i = sampleAt(sum.t_landing, rate); i / rate <= sum.t_landing + 0.3; i++) peakLanding = Math.max(peakLanding, plate[i]);
  return { meanPropulsion: meanOf(plate, from, to), peakLanding };
}

/** Offset of the sum in flight and drift of the quiet stands, taken off; the flight is found at 40 N, above the offset. */
export function referenceZero(force: Float64Array, rate: number, detrend: boolean): { force: Float64Array; offset: number; drift: number } {
  const [empty, loaded] = longestEmpty(force, 40);
  const inside = sampleAt(0.03, rate);
  const from = empty - 1 + inside;
  const to = loaded - inside;
  const offset = meanOf(force, from, to);
  const middle = (from + to - 1) / 2 / rate;
  const end = force.length;
  const before = [sampleAt(0.3, rate), sampleAt(1.3, rate)];
  const after = [end - 1 - sampleAt(1, rate), end];
  const apart = (after[0] + after[1] - before[0] - before[1]) / 2 / rate;
  const drift = detrend ? (meanOf(force, after[0], after[1]) - meanOf(force, before[0], before[1])) / apart : 0;
  return { force: force.map((value, i) => value - offset - drift * (i / rate - middle)), offset, drift };
}

export interface DropReference {
  BW: number;
  t_touchdown: number;
  t_takeoff: number;
  t_landing: number;
  contact_time: number;
  flight_time: number;
  v_touchdown: number;
  drop_height: number;
  v_takeoff: number;
  h_tov: number;
  h_ft: number;
  RSI_ft: number;
  RSI_tov: number;
  RSI_ratio: number;
  F_peak_contact: number;
  t_low: number;
  dz_down: number;
  k_vert: number;
}

/** How the velocity at touchdown is had. */
export type DropRoute = { kind: "backward" } | { kind: "flight" } | { kind: "box"; height: number } | { kind: "plates"; box: Float64Array };

/** Drop jump of a landing plate that is empty at first. */
export function referenceDrop(force: Float64Array, rate: number, route: DropRoute): DropReference & { t_leave?: number; v_leave?: number } {
  let touch = 1;
  while (!(force[touch] >= THRESHOLD)) touch++;
  let leave = touch;
  while (!(force[leave] < THRESHOLD)) leave++;
  let land = leave;
  while (!(force[land] >= THRESHOLD)) land++;
  const touchdown = crossing(force, touch, rate);
  const takeoff = crossing(force, leave, rate);
  const landing = crossing(force, land, rate);
  const end = force.length;
  const BW = meanOf(force, end - 1 - sampleAt(0.8, rate), end);
  const mass = BW / G;
  const flight = landing - takeoff;
  const acceleration = force.map((value) => (value - BW) / mass);
  const raw = cumulative(acceleration, 0, rate);
  const last = meanOf(raw, end - 1 - sampleAt(0.8, rate), end);
  const gained = at(raw, takeoff, rate) - at(raw, touchdown, rate);
  let tLeave: number | undefined;
  let vLeave: number | undefined;
  let v: number;
  if (route.kind === "backward") v = at(raw, touchdown, rate) - last;
  else if (route.kind === "flight") v = (G * flight) / 2 - gained;
  else if (route.kind === "box") v = -Math.sqrt(2 * G * route.height);
  else {
    const boxWeight = meanOf(route.box, sampleAt(0.2, rate), sampleAt(1.2, rate));
    const boxVelocity = cumulative(route.box.map((value) => ((value - boxWeight) / boxWeight) * G), sampleAt(0.2, rate), rate);
    let off = sampleAt(1.2, rate);
    while (!(route.box[off] < THRESHOLD)) off++;
    tLeave = crossing(route.box, off, rate);
    // Velocity is zero on average over the window in which the box was weighed.
    vLeave = at(boxVelocity, tLeave, rate) - meanOf(boxVelocity, sampleAt(0.2, rate), sampleAt(1.2, rate));
    v = vLeave - G * (touchdown - tLeave);
  }
  const velocity = raw.map((value) => value - at(raw, touchdown, rate) + v);
  let low = touch;
  while (velocity[low] < 0) low++;
  const lowTime = (low - 1 - velocity[low - 1] / (velocity[low] - velocity[low - 1])) / rate;
  const displacement = cumulative(velocity, touch - 1, rate);
  let peak = 0;
  for (let i = touch; i < leave; i++) peak = Math.max(peak, force[i]);
  const down = at(displacement, lowTime, rate) - at(displacement, touchdown, rate);
  const vTakeoff = v + gained;
  const contact = takeoff - touchdown;
  const hFlight = (G * flight ** 2) / 8;
  const hVelocity = vTakeoff ** 2 / (2 * G);
  return {
    BW,
    t_touchdown: touchdown,
    t_takeoff: takeoff,
    t_landing: landing,
    contact_time: contact,
    flight_time: flight,
    v_touchdown: v,
    drop_height: v ** 2 / (2 * G),
    v_takeoff: vTakeoff,
    h_tov: hVelocity,
    h_ft: hFlight,
    RSI_ft: hFlight / contact,
    RSI_tov: hVelocity / contact,
    RSI_ratio: flight / contact,
    F_peak_contact: peak,
    t_low: lowTime,
    dz_down: down,
    k_vert: peak / Math.abs(down),
    ...(tLeave === undefined ? {} : { t_leave: tLeave, v_leave: vLeave }),
  };
}

export interface HopReference {
  tc: number;
  tf: number;
  h_ft: number;
  RSI: number;
  k_dalleau: number;
  F_peak: number;
}

/** Repeated hops: contacts between empty runs of more than 50 samples; the flight after each contact counts. */
export function referenceHops(force: Float64Array, rate: number): { hops: HopReference[]; RSI_best5_mean: number } {
  const flights: { start: number; end: number; from: number; to: number }[] = [];
  let start = -1;
  for (let i = 0; i < force.length; i++) {
    if (force[i] < THRESHOLD && start < 0) start = i;
    if (force[i] >= THRESHOLD && start >= 0) {
      if (i - start > 50) flights.push({ start: crossing(force, start, rate), end: crossing(force, i, rate), from: start, to: i });
      start = -1;
    }
  }
  const from = sampleAt(0.3, rate);
  const mass = meanOf(force, from, sampleAt(1.3, rate)) / G;
  const hops = flights.slice(1).map((after, k) => {
    const before = flights[k];
    const tc = after.start - before.end;
    const tf = after.end - after.start;
    const h = (G * tf ** 2) / 8;
    let peak = 0;
    for (let i = before.to; i < after.from; i++) peak = Math.max(peak, force[i]);
    // Sine model of Dalleau et al. (2004).
    const k2 = (mass * Math.PI * (tf + tc)) / (tc ** 2 * ((tf + tc) / Math.PI - tc / 4));
    return { tc, tf, h_ft: h, RSI: h / tc, k_dalleau: k2, F_peak: peak };
  });
  const best = hops.map((hop) => hop.RSI).sort((a, b) => b - a).slice(0, 5);
  return { hops, RSI_best5_mean: best.reduce((sum, value) => sum + value, 0) / best.length };
}

/** Isometric pull: baseline 0.5 to 1.5 s, onset the first sample above it by 5 SD or 1 N, no step back. */
export function referencePull(force: Float64Array, rate: number): Record<string, number> {
  const from = sampleAt(0.5, rate);
  const to = sampleAt(1.5, rate);
  const baseline = meanOf(force, from, to);
  const limit = Math.max(5 * deviationOf(force, from, to), 1);
  let exit = to;
  while (!(force[exit] > baseline + limit)) exit++;
  const onset = exit / rate;
  const result: Record<string, number> = { baseline, t_onset_threshold: onset, F_peak_gross: Math.max(...force) };
  for (const milliseconds of [50, 90, 100, 150, 200, 250]) result[`F_${milliseconds}_gross`] = at(force, onset + milliseconds / 1000, rate);
  for (const milliseconds of [50, 100, 150, 200, 250]) {
    result[`RFD_0_${milliseconds}`] = (result[`F_${milliseconds}_gross`] - at(force, onset, rate)) / (milliseconds / 1000);
  }
  return result;
}
