import { requireAboveZero, requireAllFinite } from "../guards.ts";
import type { Finding } from "../protocols/Analysis.ts";
import { mean } from "../statistics/moments.ts";

/** A finding about trials of a session; its sentence is made by the wording from rule and values. */
export interface SessionFinding extends Omit<Finding, "message"> {
  /** Position of the trial it is about; absent for the whole session. */
  readonly trial?: number;
}

/**
 * Q20: the two highest peaks of isometric pulls differ by more than a limit, which asks for another pull.
 *
 * @param peaks Peak forces of the valid pulls, N.
 * @param limit Largest difference between the two, N. Comfort et al. (2019), from memory.
 * @returns The finding, `not checked` with fewer than two pulls, or undefined where the peaks agree.
 */
export function isometricSpread(peaks: readonly number[], limit: number = 250): SessionFinding | undefined {
  requireAllFinite("spread of isometric peaks", peaks);
  requireAboveZero("spread of isometric peaks", "a limit", limit);
  if (peaks.length < 2) return { rule: "Q20", action: "not checked", removes: [], values: { case: "notChecked", trials: peaks.length } };
  const [highest, next] = [...peaks].sort((a, b) => b - a);
  const difference = highest - next;
  if (difference <= limit) return undefined;
  return { rule: "Q20", action: "look", removes: [], values: { difference, limit, trials: peaks.length } };
}

/**
 * Q25: trials farther than a number of typical errors from the mean of this person's other trials.
 *
 * The trial itself is left out of the mean it stands against. The farthest is named first and set aside
 * before the rest is looked at, so that one odd trial does not make the good ones look odd. It asks for
 * a look at effort and never leaves a trial out: that would choose trials by their outcome. Common practice.
 *
 * @param values Valid trials of one session, in the unit of the metric.
 * @param typicalError Typical error of one trial, same unit; more than zero.
 * @param multiple Distance in typical errors, no unit.
 * @returns One finding for each such trial, the farthest first; `not checked` for the session with fewer than three trials.
 */
export function trialsFarFromSession(values: readonly number[], typicalError: number, multiple: number = 3): SessionFinding[] {
  requireAllFinite("distance from the session", values);
  requireAboveZero("distance from the session", "a typical error", typicalError);
  requireAboveZero("distance from the session", "a multiple", multiple);
  if (values.length < 3) return [{ rule: "Q25", action: "not checked", removes: [], values: { case: "notChecked", trials: values.length } }];
  const findings: SessionFinding[] = [];
  let rest = values.map((_, trial) => trial);
  while (rest.length >= 3) {
    let farthest: { trial: number; others: number; distance: number } | undefined;
    for (const trial of rest) {
      const others = mean(rest.filter((other) => other !== trial).map((other) => values[other]));
      const distance = (values[trial] - others) / typicalError;
      if (farthest === undefined || Math.abs(distance) > Math.abs(farthest.distance)) farthest = { trial, others, distance };
    }
    const { trial, others, distance } = farthest!;
    if (Math.abs(distance) <= multiple) break;
    findings.push({ rule: "Q25", action: "look", removes: [], trial, values: { value: values[trial], others, distance, multiple } });
    rest = rest.filter((other) => other !== trial);
  }
  return findings;
}
