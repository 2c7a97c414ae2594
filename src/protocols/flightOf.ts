import type { Quantity } from "./workings.ts";
import { TIMES } from "./workings.ts";
import type { SideForce, Trial } from "./Trial.ts";
import * as formulas from "./formulas.ts";
import type { EmptyRuns, Stretch } from "../events/findEmptyRuns.ts";
import { type FlightEdge, landingEdge, takeoffEdge } from "../events/flightEdges.ts";
import { meanOf } from "../events/quietStanding.ts";
import type { Clipping } from "../quality/Facts.ts";
import { clippedSamples } from "../trace/clipping.ts";
import { zeroReading, zeroStretch, type ZeroReading } from "../trace/zero.ts";
import { LANDING, POSTURE, TAKEOFF, THRESHOLD, TOUCHDOWN, ZERO } from "../uncertainty/sources.ts";

/** Threshold of the residual of a ringing plate, as a multiple of the residual. */
const RESIDUAL_FACTOR = 1.2;
const LOADED_SHARE = 0.1;
/** Only a force well below zero can lie on the lower rail; an empty plate is flat as well. */
const RAIL_SHARE = 0.05;
/** One plate is above the sum where the other reads below zero: not by more than this leaves of it. */
const NEAR_SHARE = 0.9;
const NOISE_FREE = 1e-3;
/** A cut is not taken for higher than this, N: the setting of the threshold ends here too. */
const MOST_CUT = 100;
const LEAST_DRIFT_SECONDS = 0.3;
/** A drift is one when it is this many times its standard uncertainty. */
const DRIFT_DOUBTS = 4;

/** Reads the zero of the plates over an empty run and takes it off. */
export function removeZero(trial: Trial, run: Stretch, loadedNoise: () => number): ZeroReading | undefined {
  const { rate, facts, work } = trial;
  const { force } = trial.unfiltered;
  const stretch = zeroStretch(run.start, run.end, rate);
  if (stretch === undefined) return undefined;
  const reading = zeroReading(force, stretch.start, stretch.end);
  facts.residual = reading.peak;
  if (reading.peak === 0 && reading.mean === 0 && loadedNoise() > NOISE_FREE) {
    facts.zeroedUpstream = true;
    const cut = cutValue(force);
    if (cut !== undefined) facts.cutValue = cut;
    // Each plate was cut on its own: below the sum of the cuts a part of the force may be missing.
    const cuts = trial.unfilteredPlates.map((plate) => cutValue(plate.force) ?? 0);
    trial.cutLevel = Math.min(MOST_CUT, cuts.length * Math.max(...cuts));
    return reading;
  }
  facts.offset = reading.mean;
  trial.uZero = reading.sd / Math.sqrt(reading.samples);
  const middle = (stretch.start + stretch.end) / 2 / rate;
  if (trial.left !== undefined) facts.offsetLeft = readSide(trial.left, stretch, middle);
  if (trial.right !== undefined) facts.offsetRight = readSide(trial.right, stretch, middle);
  work.measured(formulas.flightOffset, work.quantity(reading.mean, 0, ZERO, trial.uZero), work.exact(stretch.start / rate), work.exact(stretch.end / rate));
  facts.offsetRemoved = trial.word("zero-correction") !== "none";
  if (!facts.offsetRemoved) {
    if (trial.left) trial.left.offset = 0;
    if (trial.right) trial.right.offset = 0;
    return reading;
  }
  if (reading.mean !== 0) trial.correct(reading.mean, 0, 0);
  return reading;
}

/** Reads the zero of one side over an empty stretch with its middle, s; returns it, N. */
function readSide(side: SideForce, stretch: Stretch, middle: number): number {
  side.offset = meanOf(side.unfiltered, stretch);
  side.middle = middle;
  return side.offset;
}

/**
 * Takes off a drift that two empty stretches show, each plate by its own: F - b (t - middle of the last stretch).
 *
 * @returns Whether there was one beyond the limit of Q4 and its own doubt.
 */
export function removeEmptyDrift(trial: Trial, first: Stretch, last: Stretch): boolean {
  const { rate, facts } = trial;
  const a = zeroStretch(first.start, first.end, rate);
  const b = zeroStretch(last.start, last.end, rate);
  if (a === undefined || b === undefined || trial.word("zero-correction") === "none") return false;
  const middle = (b.start + b.end) / 2 / rate;
  const apart = middle - (a.start + a.end) / 2 / rate;
  if (apart < LEAST_DRIFT_SECONDS) return false;
  const slopeOf = (force: Float64Array): { slope: number; u: number } => {
    const before = zeroReading(force, a.start, a.end);
    const after = zeroReading(force, b.start, b.end);
    return { slope: (after.mean - before.mean) / apart, u: Math.hypot(before.sd / Math.sqrt(before.samples), after.sd / Math.sqrt(after.samples)) / apart };
  };
  const { slope, u } = slopeOf(trial.unfiltered.force);
  facts.drift = slope;
  if (Math.abs(slope) <= Math.max(trial.number("q4-drift"), DRIFT_DOUBTS * u)) return false;
  for (const side of [trial.left, trial.right]) {
    if (side === undefined) continue;
    side.slope = slopeOf(side.unfiltered).slope;
    side.middle = middle;
  }
  trial.correct(0, slope, middle);
  facts.driftRemoved = true;
  return true;
}

/** Smallest force that was left, N. */
function cutValue(force: Float64Array): number | undefined {
  let least = Infinity;
  for (let i = 0; i < force.length; i++) {
    const f = Math.abs(force[i]!);
    if (f > 0 && f < least) least = f;
  }
  return Number.isFinite(least) ? least : undefined;
}

/** Threshold of take-off and landing in newtons, by the setting and what the empty plate does. */
export function thresholdOf(trial: Trial, reading: ZeroReading | undefined): number {
  const { facts } = trial;
  const asked = trial.settings.values["take-off-threshold"];
  const least = Math.max(1, trial.trace.step, trial.trace.rounding);
  if (facts.zeroedUpstream === true || reading === undefined) {
    const base = typeof asked === "number" ? asked : 20;
    facts.thresholdAsked = base;
    return (facts.threshold = Math.max(base, facts.cutValue ?? 0));
  }
  if (asked === "5 SD") return (facts.threshold = facts.thresholdAsked = Math.max(least, 5 * reading.sd));
  if (asked === "peak residual") return (facts.threshold = facts.thresholdAsked = Math.max(least, reading.peak));
  facts.thresholdAsked = typeof asked === "number" ? asked : 20;
  const residual = facts.offsetRemoved === false ? reading.peak + reading.mean : reading.peak;
  return (facts.threshold = Math.max(facts.thresholdAsked, RESIDUAL_FACTOR * residual));
}

/** A crossing of the threshold with what is known of its time. */
export interface Crossing {
  readonly quantity: Quantity;
  readonly time: number;
}

/** Take-off of an empty run, as an event. */
export function takeoffOf(trial: Trial, run: Stretch, threshold: number, loaded: number): Crossing | undefined {
  const edge = takeoffEdge(trial.force, run, threshold, LOADED_SHARE * loaded, trial.rate);
  const byHand = trial.adjust.events.get("takeoff");
  if (edge === undefined && byHand === undefined) return undefined;
  if (edge !== undefined && edge.bridged > 0) trial.facts.bridged = (trial.facts.bridged ?? 0) + edge.bridged;
  return crossingOf(trial, "takeoff", edge, threshold, TAKEOFF);
}

/** Landing of an empty run, as an event. */
export function landingOf(trial: Trial, run: Stretch, threshold: number, loaded: number): Crossing | undefined {
  const edge = landingEdge(trial.force, run, threshold, LOADED_SHARE * loaded, trial.rate);
  const byHand = trial.adjust.events.get("landing");
  if (edge === undefined && byHand === undefined) return undefined;
  if (edge !== undefined && edge.bridged > 0) trial.facts.bridged = (trial.facts.bridged ?? 0) + edge.bridged;
  return crossingOf(trial, "landing", edge, threshold, LANDING);
}

/** Touchdown of a drop jump: the end of the empty run before the contact. */
export function touchdownOf(trial: Trial, run: Stretch, threshold: number, loaded: number): Crossing | undefined {
  const edge = landingEdge(trial.force, run, threshold, LOADED_SHARE * loaded, trial.rate);
  if (edge === undefined && !trial.adjust.events.has("touchdown")) return undefined;
  return crossingOf(trial, "touchdown", edge, threshold, TOUCHDOWN);
}

function crossingOf(trial: Trial, name: "takeoff" | "landing" | "touchdown", edge: FlightEdge | undefined, threshold: number, source: number): Crossing {
  const time = trial.event(name, edge?.time ?? 0);
  const doubt = edgeDoubt(trial, edge, threshold);
  const toward = name === "takeoff" ? doubt.threshold : -doubt.threshold;
  return { time, quantity: trial.work.quantity(time, TIMES, source, doubt.instant, THRESHOLD, toward) };
}

/** What is not known of an edge: where between the crossing and zero force it lies, and its noise and sampling; s. */
export interface EdgeDoubt {
  /** Shared by all edges of a trial: the threshold is early at take-off and late at landing. */
  readonly threshold: number;
  readonly instant: number;
}

/** The true edge lies between the crossing and where the force would be zero; sampling and noise come on top. */
export function edgeDoubt(trial: Trial, edge: FlightEdge | undefined, threshold: number): EdgeDoubt {
  const sampling = 1 / (trial.rate * Math.sqrt(12));
  if (edge === undefined || edge.slope === 0) return { threshold: 0, instant: sampling };
  const noise = trial.noise / edge.slope;
  const cut = trial.facts.zeroedUpstream === true && edge.loadedSlope > 0;
  const slope = cut ? Math.min(edge.slope, edge.loadedSlope) : edge.slope;
  return { threshold: Math.max(threshold, trial.cutLevel) / slope / Math.sqrt(3), instant: Math.sqrt(sampling * sampling + noise * noise) };
}

/** Looks for a force that was cut off at the end of the range, and says which part it spoils. */
export function findClipping(trial: Trial, takeoff: number | undefined): void {
  const { sums, blockSize } = trial.unfiltered;
  const quantum = Math.max(trial.trace.step, trial.trace.rounding);
  const range = trial.number("q5-range");
  let least = Infinity;
  let most = -Infinity;
  let top = 0;
  for (let b = 0; b < sums.length; b++) {
    const sum = sums[b]!;
    if (sum < least) least = sum;
    if (sum > most) {
      most = sum;
      top = b;
    }
  }
  const tops = topsOf(trial, top);
  const found: Clipping[] = [];
  for (let k = 0; k < tops.length; k++) {
    const { force, role } = trial.unfilteredPlates[k]!;
    const largestAt = tops[k]!;
    // Only a force that reads far below zero for 10 ms can lie on its lower rail.
    const low = least < -RAIL_SHARE * Math.max(0, force[largestAt]!) * blockSize;
    for (const at of low ? [largestAt, bottomOf(force)] : [largestAt]) {
      const level = force[at]!;
      const flat = clippedSamples(force, at, quantum, trial.number("q5-samples"), trial.number("q5-entry"));
      if (flat === 0 && !(range > 0 && Math.abs(level) >= 0.995 * range)) continue;
      const part: "push" | "landing" = takeoff === undefined || at / trial.rate < takeoff ? "push" : "landing";
      found.push(role === "total" ? { force: level, part } : { plate: role, force: level, part });
    }
  }
  if (found.length > 0) trial.facts.clipping = found;
}

/**
 * Samples at which the plates first read their largest values. A block of the sum in which no sample comes near what each plate reads in the
 * largest block needs no look: none lies farther from the mean than the root of the summed squares of all distances, and a plate is not far
 * above the sum. With the sum S and the sum of squares Q of n samples: d = n near - S, and d^2 against n^2 (Q - S^2 / n) = n (n Q - S^2).
 */
function topsOf(trial: Trial, topBlock: number): readonly number[] {
  const { sums, squares, blockSize } = trial.unfiltered;
  const plates = trial.unfilteredPlates;
  const tops = plates.map(({ force }) => largestFrom(force, topBlock * blockSize, (topBlock + 1) * blockSize, topBlock * blockSize));
  const near = NEAR_SHARE * Math.min(...plates.map(({ force }, k) => force[tops[k]!]!));
  tops.fill(0);
  for (let b = 0; b < sums.length; b++) {
    const sum = sums[b]!;
    const below = near * blockSize - sum;
    if (below > 0 && below * below > blockSize * (blockSize * squares[b]! - sum * sum)) continue;
    for (let k = 0; k < plates.length; k++) tops[k] = largestFrom(plates[k]!.force, b * blockSize, (b + 1) * blockSize, tops[k]!);
  }
  return tops;
}

/** The first largest sample of a stretch, if it is above that at `at`; else `at`. */
function largestFrom(force: Float64Array, start: number, end: number, at: number): number {
  let largest = force[at]!;
  for (let i = start; i < end; i++) {
    const f = force[i]!;
    if (f > largest) {
      largest = f;
      at = i;
    }
  }
  return at;
}

function bottomOf(force: Float64Array): number {
  let at = 0;
  for (let i = 1; i < force.length; i++) if (force[i]! < force[at]!) at = i;
  return at;
}

/** The empty run that is the flight of a standing jump: the longest plausible one that follows a load. */
export function flightRun(empty: EmptyRuns, trial: Trial): Stretch | undefined {
  const longest = trial.number("q8-flight-longest") * trial.rate;
  const shortest = 0.04 * trial.rate;
  const n = trial.samples;
  let best: Stretch | undefined;
  let fallback: Stretch | undefined;
  for (const run of empty.runs) {
    if (run.start === 0) continue;
    const length = run.end - run.start;
    if (run.end < n && length >= shortest && length <= longest) {
      if (best === undefined || length > best.end - best.start) best = run;
    } else if (fallback === undefined && length >= shortest) fallback = run;
  }
  return best ?? fallback;
}

/** What a lower landing does to a height by flight time: nothing to its value, half of the posture to its uncertainty. */
export function posture(trial: Trial): Quantity {
  const mean = trial.number("landing-posture-mean");
  const u = trial.number("landing-posture-u");
  return trial.work.quantity(0, 0, POSTURE, 0.5 * Math.sqrt(mean * mean + u * u));
}
