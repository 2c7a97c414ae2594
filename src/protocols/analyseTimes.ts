import type { Adjust } from "./Adjust.ts";
import type { Analysis, Finding } from "./Analysis.ts";
import * as formulas from "./formulas.ts";
import { NO_ADJUST } from "./parseAdjust.ts";
import type { Protocol } from "./Protocol.ts";
import { type Quantity, TIMES, Workings } from "./workings.ts";
import { metricsOf } from "../catalogue/metrics.ts";
import { flightTimeFromFramesUncertainty } from "../metrics/flightTimeFromFramesUncertainty.ts";
import { verdictOf } from "../quality/judge.ts";
import type { Settings } from "../settings/Settings.ts";
import { settingNumber, settingWord } from "../settings/settingValues.ts";
import type { TimesRecord } from "../trace/Trace.ts";
import { GRAVITY, LANDING, POSTURE, TOUCHDOWN } from "../uncertainty/sources.ts";
import { findingSentence } from "../wording/findingSentence.ts";

/** A mat tells times to a millisecond; what its switches add is not known and not in the budget. */
const MAT_SECONDS = 0.001;

/**
 * What follows from times alone: flight time, its height, contact time and reactive strength. The rest is missing with
 * its reason.
 *
 * @param times Flight and contact time of a mat or a video, s.
 * @param protocol What the athlete was asked to do.
 * @param settings Complete settings.
 * @param adjust This trial's own facts; events cannot be moved.
 * @returns The analysis, in SI units; its trace is empty.
 */
export function analyseTimes(times: TimesRecord, protocol: Protocol, settings: Settings, adjust: Adjust = NO_ADJUST): Analysis {
  const work = new Workings();
  const u = times.framesPerSecond === undefined ? MAT_SECONDS / Math.sqrt(6) : flightTimeFromFramesUncertainty(times.framesPerSecond);
  const g = settingNumber(settings, "gravity");
  const gravity = work.quantity(g, 0, GRAVITY, (g * settingNumber(settings, "gravity-u")) / 100);
  const { flight, contact } = times;
  if (flight !== undefined) {
    const flightTime = work.measured(formulas.flightTimeGiven, work.quantity(flight, TIMES, LANDING, u));
    const half = 0.5 * Math.hypot(settingNumber(settings, "landing-posture-mean"), settingNumber(settings, "landing-posture-u"));
    const height = work.give(formulas.heightOfFlightWithPosture, flightTime, gravity, work.quantity(0, 0, POSTURE, half));
    if (settingWord(settings, "height-method") === "flight time") work.give(formulas.jumpHeight["flight time"]!, height);
    if (contact !== undefined && contact > 0 && protocol.test === "DJ") {
      const contactTime = work.measured(formulas.contactTimeGiven, work.quantity(contact, TIMES, TOUCHDOWN, u));
      reactiveStrength(work, settings, flightTime, contactTime, height);
    }
  } else if (contact !== undefined && protocol.test === "DJ") work.measured(formulas.contactTimeGiven, work.quantity(contact, TIMES, TOUCHDOWN, u));
  if (protocol.test === "DJ" && protocol.dropHeight !== undefined) work.measured(formulas.nominalDropHeight, work.exact(protocol.dropHeight));
  const reason = findingSentence("times", {});
  const findings: readonly Finding[] = [{ rule: "times", action: "note", removes: ["B", "V", "L", "A"], message: reason, values: {} }];
  const missing = new Map(metricsOf(protocol.test).filter(({ id }) => !work.metrics.has(id)).map(({ id }) => [id, reason] as const));
  return {
    protocol,
    settings,
    adjust,
    trace: { rate: times.framesPerSecond ?? 0, plates: [], start: 0, step: 0, rounding: 0 },
    events: new Map(),
    phases: [],
    metrics: work.metrics,
    missing,
    findings,
    verdict: verdictOf(findings),
    hops: [],
    steps: work.steps(),
    timeSeries: () => ({ time: new Float64Array(0), force: new Float64Array(0) }),
  };
}

function reactiveStrength(work: Workings, settings: Settings, flight: Quantity, contact: Quantity, height: Quantity): void {
  work.give(formulas.flightToContact, flight, contact);
  if (settingWord(settings, "rsi-basis") === "flight") work.give(formulas.rsiOfFlight, flight, contact);
  else if (settingWord(settings, "rsi-height") !== "take-off velocity") work.give(formulas.rsiOfHeight, height, contact);
}
