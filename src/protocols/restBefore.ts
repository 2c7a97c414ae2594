import type { EventName } from "./Analysis.ts";
import type { Trial } from "./Trial.ts";
import { findOnset, firstOutside, type OnsetRule } from "../events/findOnset.ts";
import { findQuietStand, type QuietStand, weigh, type Weighing } from "../events/quietStanding.ts";

const STEP_BACK_SECONDS = 0.03;
const CAP_SHARE = 0.05;
const SQUAT_BAND = 0.15;
/** A stand and a hold whose weights differ by more are not both rest. */
const SAME_WEIGHT_SHARE = 0.05;

/** Movement that is accepted while weighing, N, by rule Q1. */
function acceptance(trial: Trial, wider: number): (bodyWeight: number) => number {
  return (bodyWeight) => wider * Math.max((trial.number("q1-sd-look") / 100) * bodyWeight, trial.number("q1-sd-look-force"));
}

/** The quiet stand (or held squat) before a movement, and the weight taken from it. */
export interface Rest {
  readonly weighing: Weighing;
  /** Sample at which the movement has just begun or is about to. */
  readonly steadyUntil: number;
  /** Samples between which the onset may lie. */
  readonly from: number;
}

/**
 * Finds rest before the movement and weighs there.
 *
 * @param before Sample that rest must precede: take-off, or the end of the record.
 */
export function restBefore(trial: Trial, before: number): Rest | undefined {
  const { rate, adjust, facts } = trial;
  const wider = facts.stance === "unsteady" ? trial.number("q1-unsteady-factor") : 1;
  const accept = acceptance(trial, wider);
  const given = adjust.bodyWeight;
  const squat = trial.protocol.test === "SJ";
  const stand = findQuietStand(trial.profile, {
    before,
    length: trial.number("weighing-length"),
    accept,
    ...(squat ? { band: SQUAT_BAND } : {}),
    ...(given === undefined ? {} : { bodyWeight: given }),
  });
  const pinned = pinnedWindow(trial);
  if (pinned !== undefined) {
    facts.weighingByHand = true;
    const weighing = weigh(trial.force, pinned.start, pinned.end, rate);
    trial.setWeight(weighing, given);
    if (trial.weight === undefined) return withoutStand(trial, given);
    return { weighing, steadyUntil: Math.max(pinned.end, stand?.steadyUntil ?? pinned.end), from: pinned.end };
  }
  if (stand === undefined) return withoutStand(trial, given);
  const seconds = (stand.window.end - stand.window.start) / rate;
  const least = given === undefined ? trial.number("q1-shortest") : trial.number("q1-shortest-given");
  if (seconds < least - 1 / rate) {
    facts.quietSeconds = seconds;
    return squat ? shortHold(trial, stand, given) : withoutStand(trial, given);
  }
  const hold = weigh(trial.force, stand.window.start, stand.window.end, rate);
  if (squat) {
    facts.holdSeconds = (stand.steadyUntil - stand.window.start) / rate;
    facts.holdSway = hold.sway;
  }
  trial.setWeight(squat ? steadier(trial, stand.window.start, hold) : hold, given);
  if (trial.weight === undefined) return withoutStand(trial, given);
  trial.setStartDoubt(hold);
  return { weighing: hold, steadyUntil: stand.steadyUntil, from: stand.window.end };
}

/** A squat that was not held long enough to weigh or to start from rest: weight from standing, where that was recorded. */
function shortHold(trial: Trial, stand: QuietStand, given: number | undefined): Rest | undefined {
  const { facts, rate } = trial;
  const standing = standingBefore(trial, stand.window.start, given);
  if (standing === undefined) return withoutStand(trial, given);
  trial.setWeight(standing, given);
  const hold = weigh(trial.force, stand.window.start, stand.window.end, rate);
  trial.setStartDoubt(hold);
  facts.holdSeconds = Math.min((stand.steadyUntil - stand.window.start) / rate, trial.number("q12-hold") / 2);
  facts.holdSway = hold.sway;
  return { weighing: standing, steadyUntil: stand.steadyUntil, from: stand.window.end };
}

/** A quiet stand that ends before a sample, still enough to weigh. */
function standingBefore(trial: Trial, before: number, bodyWeight: number | undefined): Weighing | undefined {
  const accept = acceptance(trial, 1);
  const length = trial.number("weighing-length");
  const standing = findQuietStand(trial.profile, { before, length, accept, ...(bodyWeight === undefined ? {} : { bodyWeight }) });
  if (standing === undefined) return undefined;
  const { start, end } = standing.window;
  if (end - start < trial.number("q1-shortest") * trial.rate) return undefined;
  const weighing = weigh(trial.force, start, end, trial.rate);
  return weighing.sway <= accept(weighing.mean) ? weighing : undefined;
}

function withoutStand(trial: Trial, given: number | undefined): undefined {
  trial.facts.noQuietStand = true;
  if (given !== undefined) {
    trial.facts.noRest = true;
    trial.setWeight(undefined, given);
  }
  return undefined;
}

/** A window that a person set by moving its ends. */
export function pinnedWindow(trial: Trial, from: EventName = "weighingStart", to: EventName = "weighingEnd"): { start: number; end: number } | undefined {
  const start = trial.adjust.events.get(from);
  const end = trial.adjust.events.get(to);
  if (start === undefined || end === undefined) return undefined;
  const first = Math.max(0, Math.ceil(start * trial.rate - 1e-6));
  const last = Math.min(trial.samples, Math.ceil(end * trial.rate - 1e-6));
  return last - first >= 2 ? { start: first, end: last } : undefined;
}

/** Standing before a trembling squat weighs better than the squat, where it was recorded. */
function steadier(trial: Trial, before: number, hold: Weighing): Weighing {
  if (hold.sway <= acceptance(trial, 1)(hold.mean)) return hold;
  const standing = standingBefore(trial, before, undefined);
  return standing !== undefined && Math.abs(standing.mean / hold.mean - 1) < SAME_WEIGHT_SHARE ? standing : hold;
}

/** The onset rule of the settings, in newtons and seconds, for this trial's weight and noise. */
export function onsetRuleOf(trial: Trial, setting: string, { sd }: Weighing): OnsetRule {
  const w = trial.weight!.value;
  const rule = trial.word(setting);
  const least = Math.max(1, trial.trace.step, trial.trace.rounding);
  const fiveSd = 5 * sd;
  const capped = Math.max(least, Math.min(fiveSd, CAP_SHARE * w));
  const duration = trial.number("onset-duration");
  if (rule === "2.5 % BW") return { limit: Math.max(least, 0.025 * w), duration, stepBack: 0 };
  if (rule === "fixed force") return { limit: trial.number("onset-force"), duration, stepBack: 0 };
  trial.facts.onsetLimit = Math.max(least, fiveSd);
  trial.facts.onsetLimitUsed = capped;
  if (rule === "backward 1 SD") return { limit: capped, duration, stepBack: 0, inner: Math.max(least, capped / 5) };
  return { limit: capped, duration, stepBack: rule === "5 SD minus 30 ms" ? STEP_BACK_SECONDS : 0 };
}

/** First sample of the movement by a rule, before the step back. */
export function onsetSample(trial: Trial, rest: Rest, rule: OnsetRule, end: number): number | undefined {
  const w = trial.weight!.value;
  if (trial.word("onset-search") === "forward") {
    const needed = Math.max(1, Math.round(rule.duration * trial.rate));
    return firstOutside(trial.force, w, rest.from, end, rule.limit, needed);
  }
  return findOnset(trial.force, w, rest.steadyUntil, Math.min(rest.from, rest.steadyUntil), end, rule, trial.rate);
}
