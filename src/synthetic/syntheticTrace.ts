import type { SyntheticOptions } from "./SyntheticOptions.ts";
import type { Plate, PlateRole, Trace } from "../trace/Trace.ts";
import { STANDARD_GRAVITY } from "../constants.ts";
import { InputError } from "../errors.ts";
import { measured } from "./measured.ts";
import { type Motion, motionOf } from "./motions.ts";
import { type PullModel, RELEASE_TIME, pullOf } from "./pull.ts";
import { seededRandom } from "./seededRandom.ts";
import type { SegmentTag } from "./segments.ts";
import { type Sway, swayOf } from "./sway.ts";

/** A synthetic trace, and what it was made of: enough for `syntheticTrial` to give exact answers. */
export interface SyntheticTrace {
  readonly trace: Trace;
  /** Moving mass, kg. */
  readonly mass: number;
  /** m/s^2. */
  readonly gravity: number;
  /** Absent for the isometric pull. */
  readonly motion?: Motion;
  /** Present for the isometric pull alone. */
  readonly pull?: PullModel;
  /** Share of the force that the left foot carries, no unit. */
  readonly leftShare: (tag: SegmentTag) => number;
  /** What was cut off before the first sample, s. */
  readonly shift: number;
}

/** Longest record, samples of a plate: an absurd option must not fill the memory. */
const MOST_SAMPLES = 4_000_000;
/** Seconds over which sway fades in after the movement. */
const FADE = 0.3;
const STILL: Sway = { velocity: () => 0, acceleration: () => 0 };

/**
 * The force of a motion whose acceleration is a chain of polynomials, F = m (g + a), as plates would have read it.
 *
 * Equal options give equal samples. The exact answers are worked out by `syntheticTrial` only, so that who needs the samples alone need not load them.
 *
 * @param options Targets, shape, faults; see `SyntheticOptions` for units and defaults.
 * @returns The trace, N at the rate, and what it was made of.
 * @throws {InputError} `out-of-range` where no such motion or record exists.
 * @throws {InputError} `not-a-number` where an option is not finite.
 * @throws {InputError} `too-large` where the record would be too long to hold.
 * @throws {InputError} `wrong-shape` where hops do not match.
 */
export function syntheticTrace(options: SyntheticOptions): SyntheticTrace {
  const { mass = 75, load = 0, gravity = STANDARD_GRAVITY, rate = 1000, faults = {}, seed = 1 } = options;
  requireFiniteNumbers(options);
  for (const [what, value] of [["mass", mass], ["gravity", gravity], ["rate", rate]] as const) {
    if (!(value > 0)) throw new InputError("out-of-range", `a synthetic trial requires a ${what} above zero`);
  }
  for (const [what, value] of [["load", load], ["dip", options.dip ?? 0], ["noise", faults.noise ?? 0], ["sway", faults.sway ?? 0], ["step", faults.quantum ?? 0]] as const) {
    if (!(value >= 0)) throw new InputError("out-of-range", `a synthetic trial requires a ${what} of zero or more`);
  }
  const moving = mass + load;
  const random = seededRandom(seed);
  const sway = faults.sway === undefined ? STILL : swayOf(faults.sway / moving, random);
  const made = options.test === "IMTP" ? isometric(options, moving, gravity, rate, sway) : jump(options, moving, gravity, rate, sway);
  measured(made.plates, rate, faults, made.motion?.segments.find(({ tag }) => tag === "flight")?.start, random);
  const { motion, pull, leftShare } = made;
  return { ...cut(made.plates, rate, faults.cutStart ?? 0, faults.cutEnd ?? Infinity, faults.quantum ?? 0), mass: moving, gravity, motion, pull, leftShare };
}

/** Every number of the options, however deep, has to be one. */
function requireFiniteNumbers(options: object): void {
  for (const [key, value] of Object.entries(options)) {
    if (typeof value === "number") {
      if (!Number.isFinite(value)) throw new InputError("not-a-number", `a synthetic trial requires a finite number for ${key}`);
    } else if (typeof value === "object" && value !== null) requireFiniteNumbers(value as object);
  }
}

interface Made extends Pick<SyntheticTrace, "motion" | "pull" | "leftShare"> {
  readonly plates: readonly Plate[];
}

function jump(options: SyntheticOptions, mass: number, gravity: number, rate: number, sway: Sway): Made {
  const motion = motionOf(options, gravity, sway);
  const leftShare = leftShareOf(options);
  return { motion, leftShare, plates: sample(options, motion, mass, gravity, rate, sway, leftShare) };
}

function leftShareOf(options: SyntheticOptions): (tag: SegmentTag) => number {
  const { limb, leftShare = 0.5 } = options;
  for (const share of typeof leftShare === "number" ? [leftShare] : Object.values(leftShare)) {
    if (!(share >= 0 && share <= 1)) throw new InputError("out-of-range", "a synthetic trial requires a left share from 0 to 1");
  }
  if (limb === "left") return () => 1;
  if (limb === "right") return () => 0;
  if (typeof leftShare === "number") return () => leftShare;
  return (tag) => leftShare[tag] ?? 0.5;
}

function sample(options: SyntheticOptions, motion: Motion, mass: number, gravity: number, rate: number, sway: Sway, share: (tag: SegmentTag) => number): Plate[] {
  const count = samplesIn(motion.end, rate);
  const total = new Float64Array(count);
  const left = new Float64Array(count);
  const box = new Float64Array(count);
  const landed = options.faults?.landingOnPlate ?? 1;
  for (const segment of motion.segments) {
    const { tag, start, duration, a0, A, B } = segment;
    if (tag === "fall" || tag === "flight") continue;
    const isLast = segment === motion.segments[motion.segments.length - 1];
    const first = Math.max(0, Math.ceil(start * rate - 1e-9));
    const end = isLast ? count : Math.min(count, Math.ceil((start + duration) * rate - 1e-9));
    const still = tag === "quiet" || (tag === "box" && segment === motion.segments[0]);
    const standing = tag === "after";
    const felt = tag === "landing" || tag === "recovery" || standing ? landed : 1;
    const part = share(tag);
    const force = tag === "box" ? box : total;
    for (let i = first; i < end; i++) {
      const time = i / rate;
      const s = (time - start) / duration;
      let acceleration = a0 + s * (A + s * B);
      if (still) acceleration += sway.acceleration(time);
      else if (standing) acceleration += fadedIn(sway, time - start, time);
      force[i] = felt * mass * (gravity + acceleration);
      if (force === total) left[i] = part * force[i];
    }
  }
  return platesFrom(options, total, left, motion.segments[0].tag === "box" ? box : undefined);
}

/** Acceleration of sway whose velocity grows from zero over `FADE` s, so that the body stays continuous. */
function fadedIn(sway: Sway, since: number, time: number): number {
  if (since >= FADE) return sway.acceleration(time);
  const s = since / FADE;
  const envelope = s * s * (3 - 2 * s);
  return envelope * sway.acceleration(time) + ((6 * s * (1 - s)) / FADE) * sway.velocity(time);
}

function platesFrom(options: SyntheticOptions, total: Float64Array, left: Float64Array, box: Float64Array | undefined): Plate[] {
  const plates: Plate[] = [];
  const add = (role: PlateRole, force: Float64Array): void => {
    plates.push({ role, force });
  };
  if (options.plates === "total") {
    add("total", total);
  } else {
    const right = new Float64Array(total.length);
    for (let i = 0; i < total.length; i++) right[i] = total[i] - left[i];
    add("left", left);
    add("right", right);
  }
  if (box !== undefined) add("box", box);
  return plates;
}

function isometric(options: SyntheticOptions, mass: number, gravity: number, rate: number, sway: Sway): Made {
  const onset = options.quietBefore ?? 1.8041;
  const pull = pullOf(mass * gravity, onset, options.pull);
  const count = samplesIn(pull.release + RELEASE_TIME + (options.quietAfter ?? 1.8), rate);
  const total = new Float64Array(count);
  const left = new Float64Array(count);
  const leftShare = leftShareOf(options);
  const part = leftShare("propulsion");
  for (let i = 0; i < count; i++) {
    const time = i / rate;
    total[i] = pull.force(time) + mass * sway.acceleration(time);
    left[i] = part * total[i];
  }
  return { pull, leftShare, plates: platesFrom(options, total, left, undefined) };
}

function samplesIn(end: number, rate: number): number {
  if (!(end * rate < MOST_SAMPLES)) throw new InputError("too-large", `a synthetic trial requires fewer than ${MOST_SAMPLES} samples`);
  return Math.floor(end * rate + 1e-9) + 1;
}

function cut(plates: readonly Plate[], rate: number, from: number, to: number, step: number): Pick<SyntheticTrace, "trace" | "shift"> {
  const first = Math.round(from * rate);
  const length = plates[0].force.length;
  const last = Math.min(length, Math.round(to * rate));
  if (!(first >= 0 && last - first >= 2)) throw new InputError("out-of-range", "a synthetic trial requires a cut that leaves at least two samples");
  const kept = first === 0 && last === length ? plates : plates.map(({ role, force }) => ({ role, force: force.slice(first, last) }));
  return { trace: { rate, plates: kept, start: 0, step, rounding: 0 }, shift: first / rate };
}
