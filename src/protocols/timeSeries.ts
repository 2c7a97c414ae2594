import type { TimeSeries } from "./Analysis.ts";
import type { SideForce, Trial } from "./Trial.ts";
import { integrate, type Motion } from "../motion/integrate.ts";

/**
 * The trial over time, made on demand: force with its zero removed and, where it could be integrated, velocity,
 * displacement and power. Before the start of integration the body is at rest.
 *
 * @param trial The trial after analysis.
 * @returns Columns of equal length: s, N, m/s, m, W.
 */
export function timeSeriesOf(trial: Trial): TimeSeries {
  const { rate, samples, force } = trial;
  const time = new Float64Array(samples);
  for (let i = 0; i < samples; i++) time[i] = i / rate;
  const sides = {
    ...(trial.left === undefined ? {} : { left: sideForce(trial.left, rate) }),
    ...(trial.right === undefined ? {} : { right: sideForce(trial.right, rate) }),
  };
  const anchor = trial.anchor;
  if (anchor === undefined || trial.weight === undefined) return { time, force, ...sides };
  const { velocity, displacement } = around(trial, anchor);
  const power = new Float64Array(samples);
  for (let i = 0; i < samples; i++) power[i] = force[i]! * velocity[i]!;
  return { time, force, ...sides, velocity, displacement, power };
}

function sideForce(side: SideForce, rate: number): Float64Array {
  const corrected = new Float64Array(side.force.length);
  for (let i = 0; i < corrected.length; i++) corrected[i] = side.force[i]! - side.offset - side.slope * (i / rate - side.middle);
  return corrected;
}

/** Motion over the whole record from an anchor at which velocity and displacement are known. */
function around(trial: Trial, anchor: { sample: number; velocity: number; displacement: number; restBefore: boolean }): Motion {
  const { force, gravity, rate, samples } = trial;
  const weight = trial.weight!.value;
  const velocity = new Float64Array(samples);
  const displacement = new Float64Array(samples);
  const after = integrate(force, weight, gravity.value, anchor.sample, samples, rate, anchor.velocity, anchor.displacement);
  velocity.set(after.velocity, anchor.sample);
  displacement.set(after.displacement, anchor.sample);
  if (anchor.restBefore) return { start: 0, rate, velocity, displacement };
  let v = anchor.velocity;
  let z = anchor.displacement;
  for (let i = anchor.sample - 1; i >= 0; i--) {
    const before = v - (gravity.value * ((0.5 * (force[i]! + force[i + 1]!)) / weight - 1)) / rate;
    z -= (0.5 * (v + before)) / rate;
    v = before;
    velocity[i] = v;
    displacement[i] = z;
  }
  return { start: 0, rate, velocity, displacement };
}
