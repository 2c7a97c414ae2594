import type { PushOffShape, SyntheticHops, SyntheticOptions } from "./SyntheticOptions.ts";
import type { Sway } from "./sway.ts";
import { InputError } from "../errors.ts";
import { SegmentChain, extremeAcceleration, type Segment } from "./segments.ts";

/** A whole trial as segments; the first is quiet (or the hold, the box, the fall) and the last quiet standing. */
export interface Motion {
  readonly segments: readonly Segment[];
  /** End of the record, s. */
  readonly end: number;
}

const CMJ: PushOffShape = {
  unweightingTime: 0.3,
  brakingTime: 0.18,
  propulsionTime: 0.235,
  releaseTime: 0.03,
  downwardVelocity: 1.3,
  lowestAcceleration: 13,
  peakVelocity: 2.72,
  takeoffVelocity: 2.6,
};
const CMJ_SWING: PushOffShape = { ...CMJ, unweightingTime: 0.48, propulsionTime: 0.25, lowestAcceleration: 14, peakVelocity: 2.98, takeoffVelocity: 2.86 };
const CMJ_SINGLE: PushOffShape = {
  unweightingTime: 0.28,
  brakingTime: 0.2,
  propulsionTime: 0.27,
  releaseTime: 0.03,
  downwardVelocity: 0.85,
  lowestAcceleration: 7,
  peakVelocity: 1.83,
  takeoffVelocity: 1.71,
};
/** Parts of the unweighting time of an arm swing: up, back to rest, down. */
const SWING_PARTS = [0.16 / 0.48, 0.1 / 0.48, 0.22 / 0.48] as const;
const SWING_RISE = 0.1;
const SWING_ACCELERATION = -3;

/** A 10/5 series: a first jump and ten hops, the tenth with a long contact. */
const TEN_HOPS: SyntheticHops = {
  takeoffVelocities: [2.75, 2.3, 2.42, 2.5, 2.56, 2.6, 2.62, 2.58, 2.55, 2.52, 2.47],
  contactTimes: [0.222, 0.208, 0.198, 0.193, 0.19, 0.188, 0.191, 0.194, 0.198, 0.262],
  lower: [0, 0, 0, 0, 0.02, 0, 0, 0, 0, 0, 0],
};

/**
 * The motion of a jump test as a chain of segments.
 *
 * @param options Targets and shape; heights and depths in m, times in s.
 * @param gravity m/s^2.
 * @param sway What the athlete does in the quiet stand: the movement starts from its velocity and acceleration.
 * @returns Segments from time zero to the end of the record.
 * @throws {InputError} `out-of-range` where no such motion exists.
 */
export function motionOf(options: SyntheticOptions, gravity: number, sway: Sway): Motion {
  const chain =
    options.test === "CMJ"
      ? countermovementJump(options, gravity, sway)
      : options.test === "SJ"
        ? squatJump(options, gravity, sway)
        : options.test === "DJ"
          ? dropJump(options, gravity, sway)
          : hops(options, gravity, sway);
  land(chain, gravity, options.standingAbove ?? (options.test === "SJ" ? 0.3 : 0));
  const quietAfter = options.quietAfter ?? (options.test === "DJ" ? 2.2 : options.test === "RH" ? 2 : 1.6);
  chain.add("after", quietAfter, 0, 0);
  const loaded = chain.segments.filter((segment) => segment.tag !== "flight" && segment.tag !== "fall");
  if (extremeAcceleration(loaded, -1).value < -gravity - 1e-9) {
    throw new InputError("out-of-range", "a synthetic trial requires a motion whose force stays above zero while the feet are on the ground");
  }
  return { segments: chain.segments, end: chain.time };
}

function countermovementJump(options: SyntheticOptions, gravity: number, sway: Sway): SegmentChain {
  const swing = options.arms === "swing";
  const single = options.limb === "left" || options.limb === "right";
  const shape = shapeFor(options, swing ? CMJ_SWING : single ? CMJ_SINGLE : CMJ, gravity);
  const before = options.quietBefore ?? 1.7337;
  const build = (downwardVelocity: number): SegmentChain => {
    const chain = stand(before, sway);
    if (swing) {
      const [up, rest, down] = SWING_PARTS.map((part) => part * shape.unweightingTime);
      chain.add("unweighting", up, SWING_RISE, 0).add("unweighting", rest, 0, SWING_ACCELERATION).add("unweighting", down, -downwardVelocity, 0);
    } else {
      chain.add("unweighting", shape.unweightingTime, -downwardVelocity, 0);
    }
    return chain.add("braking", shape.brakingTime, 0, shape.lowestAcceleration);
  };
  // Depth is linear in the downward velocity: two points give the line.
  let downwardVelocity = shape.downwardVelocity;
  if (options.depth !== undefined) {
    const atOne = build(1).displacement;
    const atTwo = build(2).displacement;
    downwardVelocity = 1 + (-Math.abs(options.depth) - atOne) / (atTwo - atOne);
  }
  // Below a third, the acceleration would first fall again in braking, and the least velocity would not be where braking begins.
  if (downwardVelocity / shape.brakingTime < shape.lowestAcceleration / 3) {
    throw new InputError("out-of-range", "a synthetic jump requires a deeper countermovement for this time to take-off and height");
  }
  return build(downwardVelocity)
    .add("propulsion", shape.propulsionTime, shape.peakVelocity, 0)
    .add("propulsion", shape.releaseTime, shape.takeoffVelocity, -gravity)
    .fly(gravity, options.landingLower ?? 0);
}

/** The default shape with the targets put in: times in proportion, accelerations as velocity over time. */
function shapeFor(options: SyntheticOptions, base: PushOffShape, gravity: number): PushOffShape {
  const takeoffVelocity = options.height === undefined ? base.takeoffVelocity : Math.sqrt(2 * gravity * positive(options.height, "height"));
  const peakVelocity = takeoffVelocity + (base.peakVelocity - base.takeoffVelocity);
  const baseTime = base.unweightingTime + base.brakingTime + base.propulsionTime;
  const scale = options.timeToTakeoff === undefined ? 1 : (options.timeToTakeoff - base.releaseTime) / baseTime;
  if (!(scale > 0.2 && scale < 5)) throw new InputError("out-of-range", "a synthetic jump requires a time to take-off between 0.2 and 3 s");
  return {
    unweightingTime: base.unweightingTime * scale,
    brakingTime: base.brakingTime * scale,
    propulsionTime: base.propulsionTime * scale,
    releaseTime: base.releaseTime,
    downwardVelocity: base.downwardVelocity,
    lowestAcceleration: (base.lowestAcceleration * peakVelocity) / base.peakVelocity / scale,
    peakVelocity,
    takeoffVelocity,
    ...options.shape,
  };
}

function squatJump(options: SyntheticOptions, gravity: number, sway: Sway): SegmentChain {
  const takeoffVelocity = options.shape?.takeoffVelocity ?? (options.height === undefined ? 2.35 : Math.sqrt(2 * gravity * positive(options.height, "height")));
  const peakVelocity = options.shape?.peakVelocity ?? takeoffVelocity + 0.1;
  const release = 0.028;
  const dip = options.dip ?? 0;
  const dipTime = dip > 0 ? 0.14 : 0;
  const scale = options.timeToTakeoff === undefined ? 1 : (options.timeToTakeoff - release - dipTime) / 0.29;
  if (!(scale > 0.3 && scale < 5)) throw new InputError("out-of-range", "a synthetic squat jump requires a time to take-off between 0.15 and 1.4 s");
  const strength = peakVelocity / 2.45;
  const chain = stand(options.quietBefore ?? 2.0173, sway);
  if (dip > 0) chain.add("dip", 0.08, (-dip * gravity * 0.08) / 1.5, 0).add("dip", 0.06, 0, 50 * dip);
  return chain
    .add("propulsion", 0.14 * scale, 1.1 * strength, (14 * strength) / scale)
    .add("propulsion", 0.15 * scale, peakVelocity, 0)
    .add("propulsion", release, takeoffVelocity, -gravity)
    .fly(gravity, options.landingLower ?? 0);
}

function dropJump(options: SyntheticOptions, gravity: number, sway: Sway): SegmentChain {
  const touchdown = -Math.sqrt(2 * gravity * positive(options.drop ?? 0.26, "drop"));
  const takeoffVelocity = options.shape?.takeoffVelocity ?? (options.height === undefined ? 2.42 : Math.sqrt(2 * gravity * positive(options.height, "height")));
  const peakVelocity = options.shape?.peakVelocity ?? takeoffVelocity + 0.08;
  const release = 0.02;
  const scale = options.contactTime === undefined ? 1 : (options.contactTime - release) / 0.19;
  if (!(scale > 0.3 && scale < 5)) throw new InputError("out-of-range", "a synthetic drop jump requires a contact time between 0.08 and 0.9 s");
  // Centre of mass 5 cm above standing at touchdown: on the toes.
  const onToes = 0.05;
  let chain: SegmentChain;
  if (options.boxLeaveVelocity === undefined) {
    const fall = -touchdown / gravity;
    const start = options.quietBefore ?? 0.6137;
    chain = new SegmentChain(start, 0, -gravity, onToes + touchdown ** 2 / (2 * gravity));
    chain.add("fall", fall, touchdown, -gravity);
  } else {
    const leave = -Math.abs(options.boxLeaveVelocity);
    if (!(leave > touchdown)) throw new InputError("out-of-range", "a synthetic drop jump requires a drop above what the velocity on leaving the box already is");
    const box = stand(options.quietBefore ?? 1.5231, sway, "box").add("box", 0.3, leave, -gravity);
    chain = new SegmentChain(box.time, leave, -gravity, onToes + (touchdown ** 2 - leave ** 2) / (2 * gravity));
    chain.segments.push(...box.segments);
    chain.add("fall", (leave - touchdown) / gravity, touchdown, -gravity);
  }
  const peak = 40 / scale;
  const first = 0.03 * scale;
  return chain
    .add("braking", first, touchdown + (first * (peak - gravity)) / 2, peak)
    .add("braking", 0.075 * scale, 0, (30 * peakVelocity) / 2.5 / scale)
    .add("propulsion", 0.085 * scale, peakVelocity, 0)
    .add("propulsion", release, takeoffVelocity, -gravity)
    .fly(gravity, options.landingLower ?? 0.02);
}

function hops(options: SyntheticOptions, gravity: number, sway: Sway): SegmentChain {
  const series = options.hops ?? TEN_HOPS;
  const { takeoffVelocities, contactTimes, lower = [] } = series;
  if (takeoffVelocities.length !== contactTimes.length + 1) {
    throw new InputError("wrong-shape", "a synthetic series of hops requires one more take-off velocity than contact times");
  }
  const chain = stand(options.quietBefore ?? 1.5119, sway)
    .add("unweighting", 0.28, -1, 0)
    .add("braking", 0.15, 0, 11)
    .add("propulsion", 0.22, takeoffVelocities[0] + 0.1, 0)
    .add("propulsion", 0.025, takeoffVelocities[0], -gravity)
    .fly(gravity, lower[0] ?? 0);
  for (const [index, contactTime] of contactTimes.entries()) {
    const down = -chain.velocity;
    const up = takeoffVelocities[index + 1];
    const peak = -gravity + 1.5 * ((down + up) / contactTime + gravity);
    chain
      .add("braking", (contactTime * down) / (down + up), 0, peak)
      .add("propulsion", (contactTime * up) / (down + up), up, -gravity)
      .fly(gravity, lower[index + 1] ?? 0);
  }
  return chain;
}

/** Landing in three stretches to rest, then a rise in two whose velocity is solved so that the stand is reached. */
function land(chain: SegmentChain, gravity: number, standing: number): void {
  const hardness = -chain.velocity / 2.6;
  const peak = 38 * hardness;
  const afterPeak = chain.velocity + (0.045 * (peak - gravity)) / 2;
  chain
    .add("landing", 0.045, afterPeak, peak)
    .add("landing", 0.05, 0.61 * afterPeak, 6 * hardness)
    .add("landing", 0.25, 0, 5 * hardness);
  const rise = (standing - chain.displacement - (0.25 ** 2 * 5 * hardness) / 12) / 0.35;
  chain.add("recovery", 0.25, rise, 0).add("recovery", 0.45, 0, 0);
}

function stand(duration: number, sway: Sway, tag: "quiet" | "box" = "quiet"): SegmentChain {
  const chain = new SegmentChain(0, 0, 0, 0).add(tag, positive(duration, "quiet stand"), 0, 0);
  chain.velocity = sway.velocity(duration);
  chain.acceleration = sway.acceleration(duration);
  return chain;
}

function positive(value: number, what: string): number {
  if (!(value > 0 && Number.isFinite(value))) throw new InputError("out-of-range", `a synthetic trial requires a ${what} above zero`);
  return value;
}
