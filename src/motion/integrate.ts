import { ownMemory, type Take } from "../trace/memory.ts";
import { sumOf } from "../trace/sumOf.ts";

/** Velocity and displacement of the centre of mass over a stretch of samples. */
export interface Motion {
  /** Index of the first sample. */
  readonly start: number;
  readonly rate: number;
  /** m/s, one value per sample from `start`. */
  readonly velocity: Float64Array;
  /** m, one value per sample from `start`. */
  readonly displacement: Float64Array;
}

/**
 * Integrates the force twice by trapezoids: `v = g (integral of F dt / W - t)`, `z = integral of v dt`.
 *
 * @param force Force of the sum, N.
 * @param weight Weight of what is moved, N.
 * @param gravity Gravity, m/s^2.
 * @param start First sample. @param end Sample after the last.
 * @param rate Sampling rate, Hz.
 * @param velocityAtStart m/s. @param displacementAtStart m.
 * @param take Memory for the result; memory of its own where absent.
 * @param restFrom Sample from which the motion may end: at the first one there that does not move downward.
 * @returns Velocity in m/s and displacement in m.
 * @see Owen et al. (2014): trapezoids and Simpson's rule agree at 1000 Hz.
 */
export function integrate(
  force: Float64Array,
  weight: number,
  gravity: number,
  start: number,
  end: number,
  rate: number,
  velocityAtStart = 0,
  displacementAtStart = 0,
  take: Take = ownMemory,
  restFrom = Infinity,
): Motion {
  const n = Math.max(0, end - start);
  const velocity = take(n);
  const displacement = take(n);
  if (n === 0) return { start, rate, velocity, displacement };
  const half = 0.5 / rate;
  const byForce = (gravity / weight) * half;
  const byGravity = 2 * gravity * half;
  let v = velocityAtStart;
  let z = displacementAtStart;
  let f = force[start]!;
  velocity[0] = v;
  displacement[0] = z;
  // Four samples at a time as long as it cannot end: the engine looks up each list anew in every turn of a loop.
  const mayEnd = restFrom - start;
  const sure = Math.max(0, Math.min(n, Math.floor(mayEnd)));
  let k = 1;
  for (; k + 3 < sure; k += 4) {
    const f1 = force[start + k]!;
    const f2 = force[start + k + 1]!;
    const f3 = force[start + k + 2]!;
    const f4 = force[start + k + 3]!;
    const v1 = v + ((f + f1) * byForce - byGravity);
    const v2 = v1 + ((f1 + f2) * byForce - byGravity);
    const v3 = v2 + ((f2 + f3) * byForce - byGravity);
    const v4 = v3 + ((f3 + f4) * byForce - byGravity);
    const z1 = z + (v + v1) * half;
    const z2 = z1 + (v1 + v2) * half;
    const z3 = z2 + (v2 + v3) * half;
    const z4 = z3 + (v3 + v4) * half;
    velocity[k] = v1;
    velocity[k + 1] = v2;
    velocity[k + 2] = v3;
    velocity[k + 3] = v4;
    displacement[k] = z1;
    displacement[k + 1] = z2;
    displacement[k + 2] = z3;
    displacement[k + 3] = z4;
    f = f4;
    v = v4;
    z = z4;
  }
  for (; k < n; k++) {
    const f1 = force[start + k]!;
    const v1 = v + ((f + f1) * byForce - byGravity);
    z += (v + v1) * half;
    f = f1;
    v = v1;
    velocity[k] = v;
    displacement[k] = z;
    if (k >= mayEnd && v >= 0) return { start, rate, velocity: velocity.subarray(0, k + 1), displacement: displacement.subarray(0, k + 1) };
  }
  return { start, rate, velocity, displacement };
}

/** The same motion with another velocity and displacement at its first sample. */
export function shifted(motion: Motion, velocity: number, displacement: number): Motion {
  const n = motion.velocity.length;
  const v = new Float64Array(n);
  const z = new Float64Array(n);
  const dv = velocity - motion.velocity[0]!;
  const z0 = motion.displacement[0]!;
  const step = dv / motion.rate;
  for (let k = 0; k < n; k++) {
    v[k] = motion.velocity[k]! + dv;
    z[k] = motion.displacement[k]! - z0 + displacement + step * k;
  }
  return { start: motion.start, rate: motion.rate, velocity: v, displacement: z };
}

/**
 * Integral of the force from one time to another by trapezoids, with straight lines to both ends.
 *
 * @param force Force, N. @param start s. @param end s. @param rate Hz.
 * @returns Impulse, N s.
 */
export function impulse(force: Float64Array, start: number, end: number, rate: number): number {
  if (end <= start) return 0;
  const from = start * rate;
  const to = end * rate;
  const first = Math.ceil(from - 1e-9);
  const last = Math.floor(to + 1e-9);
  if (first > last) {
    const i = Math.floor(from);
    const slope = force[i + 1]! - force[i]!;
    return ((force[i]! + slope * (0.5 * (from + to) - i)) * (to - from)) / rate;
  }
  let sum = sumOf(force, first + 1, last);
  if (last > first) sum += 0.5 * (force[first]! + force[last]!);
  const lead = first - from;
  if (lead > 1e-9) {
    const f = force[first]! + (force[first - 1]! - force[first]!) * lead;
    sum += 0.5 * (f + force[first]!) * lead;
  }
  const tail = to - last;
  if (tail > 1e-9 && last + 1 < force.length) {
    const f = force[last]! + (force[last + 1]! - force[last]!) * tail;
    sum += 0.5 * (f + force[last]!) * tail;
  }
  return sum / rate;
}
