import type { SyntheticOptions } from "./SyntheticOptions.ts";
import type { Trace } from "../trace/Trace.ts";
import { type Truth, jumpTruth } from "./jumpTruth.ts";
import type { PullModel } from "./pull.ts";
import type { Segment } from "./segments.ts";
import { syntheticTrace } from "./syntheticTrace.ts";

/** A synthetic trial: what a plate would have read, and the exact answers. */
export interface SyntheticTrial extends Truth {
  readonly trace: Trace;
  /** Segments of the motion; empty for the isometric pull. */
  readonly segments: readonly Segment[];
}

/**
 * A synthetic trial with exact answers: the force of a motion whose acceleration is a chain of polynomials, F = m (g + a).
 *
 * Equal options give equal samples. Truths are of the body, not of the readings: noise, offset, clipping and cuts do not change them;
 * times count from the first sample that is left.
 *
 * @param options Targets, shape, faults; see `SyntheticOptions` for units and defaults.
 * @returns The trace, N at the rate, with truths by metric id, event times in s, hops and segments.
 * @throws {InputError} `out-of-range` where no such motion or record exists.
 * @throws {InputError} `not-a-number` where an option is not finite.
 * @throws {InputError} `too-large` where the record would be too long to hold.
 * @throws {InputError} `wrong-shape` where hops do not match.
 */
export function syntheticTrial(options: SyntheticOptions): SyntheticTrial {
  const { trace, mass, gravity, motion, pull, leftShare, shift } = syntheticTrace(options);
  const made = pull ? pullTruth(options, pull, mass, gravity, leftShare("propulsion")) : jumpTruth(options, motion!, mass, gravity, ({ tag }) => leftShare(tag));
  const segments = motion?.segments ?? [];
  if (shift === 0) return { trace, ...made, segments };
  return {
    trace,
    truth: made.truth,
    events: Object.fromEntries(Object.entries(made.events).map(([name, time]) => [name, time - shift])),
    hops: made.hops.map((hop) => ({ ...hop, touchdown: hop.touchdown - shift, takeoff: hop.takeoff - shift })),
    segments: segments.map((segment) => ({ ...segment, start: segment.start - shift })),
  };
}

function pullTruth(options: SyntheticOptions, model: PullModel, mass: number, gravity: number, part: number): Truth {
  const bodyWeight = mass * gravity;
  const pretension = options.pull?.pretension ?? 18;
  const baseline = bodyWeight + pretension;
  const peak = baseline + model.rise(model.release - model.onset);
  const truth: Record<string, number> = {
    bodyWeight,
    bodyMass: mass,
    baselineForce: baseline,
    preTensionForce: pretension,
    peakForce: peak,
    peakForceLeft: part * peak,
    peakForceRight: (1 - part) * peak,
    rfd50to100: model.slope(0.05, 0.1),
    rfd100to200: model.slope(0.1, 0.2),
    maximumRfd: model.greatestSlope(0.02),
  };
  for (const milliseconds of [50, 90, 100, 150, 200, 250]) {
    const x = milliseconds / 1000;
    const force = baseline + model.rise(x);
    truth[`force${milliseconds}ms`] = force;
    truth[`force${milliseconds}msLeft`] = part * force;
    truth[`force${milliseconds}msRight`] = (1 - part) * force;
    if (milliseconds !== 90) truth[`rfd0to${milliseconds}`] = model.slope(0, x);
  }
  // Over body weight: the pretension counts.
  for (const milliseconds of [100, 200, 250]) truth[`impulse0to${milliseconds}`] = model.riseImpulse(milliseconds / 1000) + (pretension * milliseconds) / 1000;
  return { truth, events: { pullOnset: model.onset }, hops: [] };
}
