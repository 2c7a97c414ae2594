import { findClipping } from "./flightOf.ts";
import * as formulas from "./formulas.ts";
import { extremeForce, riseQuantity, sideAtInstant, sideImpulseQuantity, steepestRise } from "./phaseMetrics.ts";
import { pinnedWindow } from "./restBefore.ts";
import type { Trial } from "./Trial.ts";
import { type Quantity, SIDES, TIMES, WEIGHT } from "./workings.ts";
import { valueAt } from "../events/crossing.ts";
import { findPulls, type Pull } from "../events/findPulls.ts";
import { firstOutside } from "../events/findOnset.ts";
import { findQuietStand, meanOf, weigh, type Weighing } from "../events/quietStanding.ts";
import { impulse } from "../motion/integrate.ts";
import { BODY_WEIGHT, GAIN, NOISE, ONSET, ROUNDING, ZERO } from "../uncertainty/sources.ts";
import { bodyWeightUncertainty } from "../uncertainty/bodyWeightUncertainty.ts";

const CAP_SHARE = 0.05;
/** Straps tremble more than a stand: the force is steady within this share of itself. */
const BAND = 0.1;
const SHIFT_SECONDS = 0.01;
const LONGEST_LATENESS = 0.05;
const END_SECONDS = 0.05;

/** Isometric mid-thigh pull: a quiet baseline with straps taut, the strongest pull, forces and rates from its onset. */
export function analysePull(trial: Trial): void {
  const { facts, work, rate, force } = trial;
  const pulls = findPulls(trial.profile);
  findClipping(trial, Infinity);
  for (const id of ["weighingSd", "bodyWeightUncertainty"]) trial.reasons.set(id, "a pull is not weighed: its quiet baseline holds the tension of the straps");
  if (trial.adjust.bodyWeight !== undefined) trial.setWeight(undefined, trial.adjust.bodyWeight);
  if (pulls.length === 0) {
    facts.noPull = true;
    return;
  }
  facts.pulls = pulls.length;
  const pull = pulls.reduce((best, next) => (next.peak > best.peak ? next : best));
  const baseline = baselineOf(trial, pull);
  const onset = baseline === undefined && !trial.adjust.events.has("pullOnset") ? undefined : onsetOf(trial, baseline, pull);
  const start = onset?.value ?? pull.start / rate;
  const peak = extremeForce(trial, formulas.peakPull, work.exact(start), work.exact(pull.end / rate), 0);
  if (peak === undefined) return;
  const peakTime = trial.event("peakForce", peak.at / rate);
  facts.peakAtEnd = peak.at >= force.length - Math.max(2, END_SECONDS * rate);
  if (onset === undefined) {
    facts.noQuietStand = true;
    const reason = "there is no quiet baseline before the pull, so its start is not known";
    for (const { formula } of formulas.rfdBetween) trial.reasons.set(formula.gives, reason);
    for (const { sum } of [...formulas.forceAfter.values(), ...formulas.impulseAfter.values()]) trial.reasons.set(sum.gives, reason);
    for (const id of ["timeToPeakForce", "maximumRfd", "baselineForce"]) trial.reasons.set(id, reason);
    return;
  }
  trial.phase("pull", start, pull.end / rate);
  work.give(formulas.timeToPeakForce, work.exact(peakTime, TIMES), onset);
  const window = trial.number("isometric-rfd-window");
  const rise = steepestRise(force, start, peakTime - window + 1 / rate, window, rate, trial.noise);
  if (rise !== undefined) {
    work.measured(formulas.maximumRfdPull, riseQuantity(trial, rise, TIMES), work.exact(window), work.exact(start), work.exact(peakTime));
  }
  timeLocked(trial, onset, pull);
}

/** The quiet second before the pull. */
function baselineOf(trial: Trial, pull: Pull): Weighing | undefined {
  const { facts, work, rate } = trial;
  const pinned = pinnedWindow(trial);
  const stand = findQuietStand(trial.profile, {
    before: pull.start,
    from: pull.after,
    length: trial.number("weighing-length"),
    band: BAND,
    accept: (w) => trial.number("q1-unsteady-factor") * Math.max((trial.number("q1-sd-look") / 100) * w, trial.number("q1-sd-look-force")),
  });
  const window = pinned ?? stand?.window;
  if (window === undefined || (pinned === undefined && window.end - window.start < trial.number("q1-shortest") * rate)) return undefined;
  const baseline = weigh(trial.force, window.start, window.end, rate);
  trial.noise = baseline.noise;
  facts.weighingSeconds = (window.end - window.start) / rate;
  if (pinned !== undefined) facts.weighingByHand = true;
  facts.baseline = baseline.mean;
  facts.baselineSway = baseline.sway;
  trial.event("weighingStart", window.start / rate);
  trial.event("weighingEnd", window.end / rate);
  trial.phase("weighing", window.start / rate, window.end / rate);
  const samples = window.end - window.start;
  const u = bodyWeightUncertainty({ halfDifference: baseline.halfDifference, noise: baseline.noise, samples });
  const from = work.exact(window.start / rate);
  const to = work.exact(window.end / rate);
  const force = work.measured(
    formulas.baselineForce.sum,
    work.quantity(baseline.mean, 0, BODY_WEIGHT, u, ZERO, -trial.uZero, GAIN, baseline.mean * trial.uGain, ROUNDING, trial.uRounding),
    from,
    to,
  );
  const { left, right } = trial;
  if (left !== undefined && right !== undefined) {
    const sideOf = (side: Float64Array): Quantity => trial.forceQuantity(meanOf(side, window), SIDES, samples);
    const ofLeft = work.measured(formulas.baselineForce.left, sideOf(left.force), from, to);
    const ofRight = work.measured(formulas.baselineForce.right, sideOf(right.force), from, to);
    facts.leftShare = ofLeft.value / (ofLeft.value + ofRight.value);
  }
  if (trial.weight !== undefined) facts.pretension = work.give(formulas.preTensionForce, force, trial.weight).value;
  return baseline;
}

/** Start of the pull: where the force last rises above the baseline by the limit, or a person's. */
function onsetOf(trial: Trial, baseline: Weighing | undefined, pull: Pull): Quantity {
  const { force, rate, facts } = trial;
  let time = 0;
  if (baseline !== undefined) {
    const rule = trial.word("isometric-onset-rule");
    const least = Math.max(1, trial.trace.step, trial.trace.rounding);
    const weight = trial.weight?.value ?? baseline.mean;
    const fiveSd = Math.max(least, 5 * baseline.sd);
    const limit = rule === "2.5 % BW" ? 0.025 * weight : rule === "fixed force" ? trial.number("onset-force") : Math.min(fiveSd, Math.max(least, CAP_SHARE * weight));
    if (rule === "5 SD") {
      facts.onsetLimit = fiveSd;
      facts.onsetLimitUsed = limit;
    }
    const needed = Math.max(1, Math.round(trial.number("onset-duration") * rate));
    const level = baseline.mean + limit;
    const first = trial.word("onset-search") === "forward" ? firstOutside(force, baseline.mean, baseline.end, pull.start, limit, needed) : undefined;
    const at = first ?? lastRise(force, level, pull.start, baseline.end, needed);
    time = at / rate;
    const dip = dipBefore(force, baseline.end, at);
    if (baseline.mean - dip > Math.max(trial.number("q19-dip") * baseline.sd, least)) facts.pullDip = baseline.mean - dip;
  }
  const onset = trial.event("pullOnset", time);
  return trial.work.quantity(onset, TIMES, ONSET, baseline === undefined ? SHIFT_SECONDS : lateness(force, onset, baseline.mean, rate));
}

/**
 * How late a threshold finds the start of a smooth rise, s: a force that begins as k t^2 has F(t + d) / F(t) = (1 + d / t)^2.
 */
function lateness(force: Float64Array, onset: number, baseline: number, rate: number): number {
  const at = valueAt(force, onset * rate) - baseline;
  const later = valueAt(force, (onset + SHIFT_SECONDS) * rate) - baseline;
  const growth = at > 0 ? Math.sqrt(later / at) - 1 : 0;
  return Math.hypot(1 / rate, growth > 0 ? Math.min(LONGEST_LATENESS, SHIFT_SECONDS / growth) : LONGEST_LATENESS);
}

/** Sample after the last run of `needed` samples at or below the level. */
function lastRise(force: Float64Array, level: number, from: number, start: number, needed: number): number {
  let count = 0;
  for (let i = from; i >= start; i--) {
    count = force[i]! <= level ? count + 1 : 0;
    if (count === needed) return i + needed;
  }
  return start;
}

function dipBefore(force: Float64Array, start: number, end: number): number {
  let least = Infinity;
  for (let i = start; i < end; i++) if (force[i]! < least) least = force[i]!;
  return least;
}

/** Forces, rates and impulses at given times after the onset. */
function timeLocked(trial: Trial, onset: Quantity, pull: Pull): void {
  const { work, rate, force } = trial;
  const last = Math.min(force.length - 1, pull.end) / rate;
  const back = Math.max(1, work.part(onset, ONSET) * rate);
  const at = (ms: number, count = 1): Quantity | undefined => {
    const time = onset.value + ms / 1000;
    if (time > last) return undefined;
    const position = time * rate;
    // The onset is late rather than early, and the force bends: the slope is that of the stretch before.
    const slope = (valueAt(force, position) - valueAt(force, position - back)) * (rate / back);
    return work.widened(trial.forceQuantity(valueAt(force, position), TIMES, count), onset, slope);
  };
  // The noise of two samples does not cancel in their difference, unlike everything else that they share.
  const noise = work.quantity(0, 0, NOISE, Math.SQRT2 * trial.noise);
  work.measured(formulas.forceAtOnset, at(0)!, onset);
  for (const [ms, formula] of formulas.forceAfter) {
    const value = at(ms);
    if (value === undefined) {
      trial.reasons.set(formula.sum.gives, `the pull ends less than ${ms} ms after its start`);
      continue;
    }
    work.measured(formula.sum, value, onset);
    const position = (onset.value + ms / 1000) * rate;
    for (const [side, sideFormula] of [[trial.left, formula.left], [trial.right, formula.right]] as const) {
      if (side !== undefined) work.measured(sideFormula, sideAtInstant(trial, side, { ...onset, value: position / rate }, back), onset);
    }
  }
  for (const { from, to, formula } of formulas.rfdBetween) {
    const first = at(from, Infinity);
    const second = at(to, Infinity);
    if (first !== undefined && second !== undefined) work.give(formula, second, first, work.exact((to - from) / 1000), noise);
    else trial.reasons.set(formula.gives, `the pull ends less than ${to} ms after its start`);
  }
  impulses(trial, onset, last);
}

function impulses(trial: Trial, onset: Quantity, last: number): void {
  const { work, rate, force } = trial;
  const overBaseline = trial.word("isometric-impulse-baseline") === "baseline";
  const base = overBaseline ? work.metrics.get("baselineForce") : trial.weight;
  for (const [ms, formula] of formulas.impulseAfter) {
    const seconds = ms / 1000;
    const end = onset.value + seconds;
    if (end > last) {
      trial.reasons.set(formula.sum.gives, `the pull ends less than ${ms} ms after its start`);
      continue;
    }
    if (base === undefined) trial.reasons.set(formula.sum.gives, "body weight was not weighed without the bar: give it, or take the impulse above the baseline");
    else {
      const gross = trial.forceQuantity(impulse(force, onset.value, end, rate) / seconds, TIMES | WEIGHT, seconds * rate);
      const slope = (valueAt(force, end * rate) - valueAt(force, onset.value * rate)) / seconds;
      const needs = TIMES | (overBaseline ? 0 : WEIGHT);
      work.measured(formula.sum, work.linear((gross.value - base.value) * seconds, needs, gross, seconds, onset, slope * seconds, base, -seconds), onset);
    }
    for (const [side, sideFormula] of [[trial.left, formula.left], [trial.right, formula.right]] as const) {
      if (side === undefined) continue;
      work.measured(sideFormula, sideImpulseQuantity(trial, side, onset, { ...onset, value: end }, TIMES | SIDES), onset);
    }
  }
}
