import { InputError } from "../errors.ts";

/**
 * What a body does during a stretch of a synthetic trial. The tag decides which plate carries the force and which share of it is left.
 */
export type SegmentTag = "box" | "quiet" | "dip" | "unweighting" | "braking" | "propulsion" | "fall" | "flight" | "landing" | "recovery" | "after";

/**
 * A stretch in which acceleration is a second-degree polynomial of s = (t - start) / duration:
 * a = a0 + A s + B s^2, so that velocity, displacement and force are known exactly at every instant.
 */
export interface Segment {
  readonly tag: SegmentTag;
  /** s. */
  readonly start: number;
  /** s. */
  readonly duration: number;
  /** m/s at both ends. */
  readonly v0: number;
  readonly v1: number;
  /** m/s^2 at both ends. */
  readonly a0: number;
  readonly a1: number;
  /** m at both ends. */
  readonly z0: number;
  readonly z1: number;
  /** Coefficients of s and s^2, m/s^2. */
  readonly A: number;
  readonly B: number;
}

/** Builds a chain of segments whose acceleration, velocity and displacement are continuous. */
export class SegmentChain {
  readonly segments: Segment[] = [];
  constructor(
    public time: number,
    public velocity: number,
    public acceleration: number,
    public displacement: number,
  ) {}

  /** Adds a stretch of `duration` s that ends with velocity `v1` and acceleration `a1`. */
  add(tag: SegmentTag, duration: number, v1: number, a1: number): this {
    const { velocity: v0, acceleration: a0, displacement: z0, time: start } = this;
    const change = a1 - a0;
    const mean = (v1 - v0) / duration - a0;
    const segment: Segment = {
      tag,
      start,
      duration,
      v0,
      v1,
      a0,
      a1,
      z0,
      z1: z0 + (duration * (v0 + v1)) / 2 + (duration * duration * (a0 - a1)) / 12,
      A: 6 * mean - 2 * change,
      B: 3 * change - 6 * mean,
    };
    this.segments.push(segment);
    this.time = start + duration;
    this.velocity = v1;
    this.acceleration = a1;
    this.displacement = segment.z1;
    return this;
  }

  /** Adds free flight until the centre of mass is `lower` m below where it took off. */
  fly(gravity: number, lower: number, tag: "flight" | "fall" = "flight"): this {
    const square = this.velocity ** 2 + 2 * gravity * lower;
    if (!(square > 0)) throw new InputError("out-of-range", "a synthetic trial requires a landing that the flight can reach");
    const landing = -Math.sqrt(square);
    this.acceleration = -gravity;
    return this.add(tag, (this.velocity - landing) / gravity, landing, -gravity);
  }
}

/** Acceleration at s in [0, 1] of a segment, m/s^2. */
export function accelerationAt(segment: Segment, s: number): number {
  return segment.a0 + s * (segment.A + s * segment.B);
}

/** Velocity at s in [0, 1] of a segment, m/s. */
export function velocityAt(segment: Segment, s: number): number {
  return segment.v0 + segment.duration * s * (segment.a0 + s * (segment.A / 2 + (s * segment.B) / 3));
}

/** Displacement at s in [0, 1] of a segment, m. */
export function displacementAt(segment: Segment, s: number): number {
  const { duration, z0, v0, a0, A, B } = segment;
  return z0 + duration * v0 * s + duration * duration * s * s * (a0 / 2 + s * (A / 6 + (s * B) / 12));
}

/** An extreme value and when it occurs, s. */
export interface Extreme {
  readonly value: number;
  readonly time: number;
}

/** Greatest (`sign` 1) or least (`sign` -1) acceleration over a chain of segments, m/s^2, exactly. */
export function extremeAcceleration(segments: readonly Segment[], sign: 1 | -1): Extreme {
  return extreme(segments, sign, accelerationAt, (segment) => {
    const s = segment.B === 0 ? -1 : -segment.A / (2 * segment.B);
    return s > 0 && s < 1 ? [0, s, 1] : [0, 1];
  });
}

/** Greatest or least value over a chain of segments, from the places of each where it may lie. */
export function extreme(
  segments: readonly Segment[],
  sign: 1 | -1,
  value: (segment: Segment, s: number) => number,
  candidates: (segment: Segment) => readonly number[],
): Extreme {
  let best: Extreme = { value: -sign * Infinity, time: NaN };
  for (const segment of segments) {
    for (const s of candidates(segment)) {
      const found = value(segment, s);
      if (sign * found > sign * best.value) best = { value: found, time: segment.start + s * segment.duration };
    }
  }
  return best;
}
