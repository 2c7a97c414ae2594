import * as formulas from "./formulas.ts";
import type { Kinematics } from "./Kinematics.ts";
import { extremeForce, riseQuantity, sideImpulses } from "./phaseMetrics.ts";
import type { Trial } from "./Trial.ts";
import { INTEGRAL, LANDING_GROUP, type Quantity, TIMES, WEIGHT } from "./workings.ts";
import { findQuietEnd, weigh, type Weighing } from "../events/quietStanding.ts";
import { sumOf } from "../trace/sumOf.ts";
import { NOISE, SAMPLING } from "../uncertainty/sources.ts";

const PEAK_SECONDS = 0.3;
const SETTLE_SECONDS = 0.5;
const QUIET_LEAST_SECONDS = 0.5;
const LOW_SEARCH_SECONDS = 2.5;
const MEAN_END_SECONDS = 0.5;
const SLOPE_SECONDS = 0.02;
/** The last of several noisy samples outside a band ends the way in: it lies about two noises from the force. */
const ENTRY_NOISES = 2;

/** Forces and times of the landing that need no integration. */
export function landingForces(trial: Trial, landing: Quantity): void {
  const { work, rate } = trial;
  const start = landing.value;
  const recorded = trial.duration - start;
  if (recorded < PEAK_SECONDS) {
    trial.facts.recordEnds = recorded;
    return;
  }
  const peak = extremeForce(trial, formulas.peakLandingForce, work.exact(start), work.exact(start + PEAK_SECONDS), LANDING_GROUP);
  if (peak === undefined) return;
  const time = work.give(
    formulas.timeToPeakLandingForce,
    work.exact(peak.at / rate, TIMES | LANDING_GROUP),
    landing,
  );
  if (trial.word("loading-rate-form") === "20 to 80 %") {
    const rise = rateBetween(trial.force, start, Math.floor(peak.at), rate);
    if (rise !== undefined) work.measured(formulas.landingLoadingRateSlope, riseQuantity(trial, rise, TIMES | LANDING_GROUP), peak.quantity);
  } else if (time.value > 0) work.give(formulas.landingLoadingRate, peak.quantity, time);
}

/** Slope between 20 and 80 % of the peak, N/s, and the time between them, s. */
function rateBetween(force: Float64Array, start: number, peakAt: number, rate: number): { rate: number; seconds: number; rivals: number } | undefined {
  const peak = force[peakAt]!;
  let low = Math.ceil(start * rate);
  while (low < peakAt && force[low]! < 0.2 * peak) low++;
  let high = low;
  while (high < peakAt && force[high]! < 0.8 * peak) high++;
  const seconds = (high - low) / rate;
  return high > low ? { rate: (force[high]! - force[low]!) / seconds, seconds, rivals: 1 } : undefined;
}

/** Velocity, depth and impulse of the landing: from touchdown to where the velocity is zero. */
export function landingMotion(trial: Trial, kinematics: Kinematics, landing: Quantity): void {
  const { work, rate } = trial;
  const { velocity, start } = kinematics.motion;
  const needs = LANDING_GROUP;
  const bare = kinematics.velocity(landing.value, needs);
  const atLanding = work.measured(formulas.landingVelocity, work.widened(bare, landing, -trial.gravity.value), landing);
  let k = Math.ceil(landing.value * rate - start);
  while (k < velocity.length && velocity[k]! < 0) k++;
  if (k >= velocity.length || atLanding.value >= 0) {
    trial.facts.recordEnds ??= trial.duration - landing.value;
    return;
  }
  const step = velocity[k]! - velocity[k - 1]!;
  const time = trial.event("landingLowest", (start + k - 1 - velocity[k - 1]! / step) / rate);
  const still = kinematics.velocityOf(0, time, needs);
  const lowest = kinematics.instant(time, still, step * rate);
  trial.phase("landing", landing.value, time);
  work.give(formulas.landingTime, lowest, landing);
  work.give(formulas.landingDepth, kinematics.displacement(time, needs), kinematics.displacementAt(landing, needs));
  work.give(formulas.landingImpulse.sum, trial.mass!, work.exact(0, needs), atLanding);
  sideImpulses(trial, formulas.landingImpulse, landing, lowest, TIMES | WEIGHT | INTEGRAL | needs);
}

/** Time from landing until the force stays within a band around body weight. */
export function stabilisation(trial: Trial, landing: Quantity): void {
  const { work, rate, force } = trial;
  const w = trial.weight!.value;
  const band = (trial.number("stabilisation-band") / 100) * w;
  const needed = Math.round(trial.number("stabilisation-length") * rate);
  const start = firstStretch(force, Math.ceil(landing.value * rate), needed, w - band, w + band);
  if (start === undefined) {
    trial.reasons.set("timeToStabilisation", "the force does not stay within the band around body weight for long enough before the record ends");
    return;
  }
  const time = trial.event("stabilised", start / rate);
  work.give(formulas.timeToStabilisation, entry(trial, start, time), landing);
}

/**
 * First sample from which the force stays within a band for so many samples. Each stretch is looked through from its end: its last sample
 * outside the band rules out every start up to there, and no sample is looked at twice.
 */
function firstStretch(force: Float64Array, from: number, needed: number, low: number, high: number): number | undefined {
  let start = from;
  let seen = from;
  for (let end = start + needed; end <= force.length; end = start + needed) {
    let i = end - 1;
    while (i >= seen && force[i]! >= low && force[i]! <= high) i--;
    if (i < seen) return start;
    start = i + 1;
    seen = end;
  }
  return undefined;
}

/** Instant at which the force enters a band for good, found at a sample: as sharp as its slope against the noise. */
function entry(trial: Trial, sample: number, time: number): Quantity {
  const { work, rate, force } = trial;
  const reach = Math.max(1, Math.round(SLOPE_SECONDS * rate));
  const [from, to] = [Math.max(0, sample - reach), Math.min(force.length - 1, sample + reach)];
  const slope = (Math.abs(force[to]! - force[from]!) * rate) / (to - from);
  const instant = slope > 0 ? Math.min(SLOPE_SECONDS, (ENTRY_NOISES * trial.noise) / slope) : SLOPE_SECONDS;
  return work.quantity(time, TIMES | WEIGHT | LANDING_GROUP, SAMPLING, 1 / (rate * Math.sqrt(12)), NOISE, instant);
}

/** The quiet stand at the end of the record: its last second where that is quiet, else the quietest, else shorter ones. */
export function finalStand(trial: Trial, landing: number, length: number, reference: number | undefined): Weighing | undefined {
  const { profile, rate, force } = trial;
  const from = Math.round((landing + SETTLE_SECONDS) * rate);
  const least = Math.min(length, Math.max(QUIET_LEAST_SECONDS, trial.number("q17-quiet")));
  for (const seconds of [length, (length + least) / 2, least]) {
    const samples = Math.round(seconds * rate);
    if (samples < 2 || force.length - from < samples) continue;
    const atEnd = weigh(force, force.length - samples, force.length, rate);
    if (isQuiet(trial, atEnd, reference)) return atEnd;
    const stretch = findQuietEnd(profile, from, seconds, seconds, 0.5 * (reference ?? atEnd.mean));
    const stillest = stretch === undefined ? undefined : weigh(force, stretch.start, stretch.end, rate);
    if (stillest !== undefined && isQuiet(trial, stillest, reference)) return stillest;
  }
  return undefined;
}

function isQuiet(trial: Trial, stand: Weighing, reference: number | undefined): boolean {
  const w = reference ?? stand.mean;
  if (!(stand.mean > 0.5 * w) || stand.mean < 20) return false;
  const wider = trial.facts.stance === "unsteady" && trial.protocol.test !== "SJ" ? trial.number("q1-unsteady-factor") : 1;
  const sway = wider * Math.max((trial.number("q17-sd") / 100) * w, trial.number("q1-sd-remove-force"));
  const halves = wider * Math.max((trial.number("q17-drift") / 100) * w, trial.number("q1-drift-force"));
  return stand.sway <= sway && Math.abs(stand.halfDifference) <= halves;
}

/** Velocity left at the final stand, and what it would mean as an error of body weight since `from`, s. */
export function velocityAtEnd(trial: Trial, kinematics: Kinematics, stand: Weighing, from: number, takeoffVelocity: number, takeoffSeconds: number): void {
  const { work, rate, force } = trial;
  const w = trial.weight!.value;
  const g = trial.gravity.value;
  const { motion } = kinematics;
  const length = Math.min(stand.end - stand.start, Math.round(MEAN_END_SECONDS * rate) + 1);
  const first = stand.end - length;
  let i = motion.start + motion.velocity.length - 1;
  let v = motion.velocity[motion.velocity.length - 1]!;
  if (i > first) {
    i = first;
    v = motion.velocity[first - motion.start]!;
  } else if (i < first) {
    const sum = sumOf(force, i, first + 1) - 0.5 * (force[i]! + force[first]!);
    v += (g / w) * (sum / rate) - (g * (first - i)) / rate;
  }
  const perForce = (0.5 * g) / (w * rate);
  const perSample = g / rate;
  let total = v;
  for (let k = first + 1; k < stand.end; k++) {
    v += perForce * (force[k]! + force[k - 1]!) - perSample;
    total += v;
  }
  const mean = total / length;
  const time = (stand.end - length / 2) / rate;
  work.measured(formulas.endVelocity, kinematics.velocityOf(mean, time), work.exact(first / rate), work.exact(stand.end / rate));
  trial.facts.endVelocity = mean;
  const error = (mean * w) / (g * (time - from));
  trial.facts.endVelocityHeight = (error * (takeoffVelocity / g) * (takeoffVelocity + g * takeoffSeconds)) / w;
}

/** Longest time after landing during which less than a share of body weight is on the plates, s. */
export function lowAfterLanding(trial: Trial, landing: number): number {
  const { sums, blockSize } = trial.profile;
  const limit = trial.number("q24-share") * trial.weight!.value * blockSize;
  const last = Math.min(sums.length, Math.floor(((landing + LOW_SEARCH_SECONDS) * trial.rate) / blockSize));
  let longest = 0;
  let count = 0;
  for (let b = Math.ceil((landing * trial.rate) / blockSize); b < last; b++) {
    count = sums[b]! < limit ? count + 1 : 0;
    if (count > longest) longest = count;
  }
  return (longest * blockSize) / trial.rate;
}
