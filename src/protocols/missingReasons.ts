import type { Finding } from "./Analysis.ts";
import type { Test } from "./Protocol.ts";
import { GROUP_BITS } from "./workings.ts";
import { metricsOf } from "../catalogue/metrics.ts";

/**
 * Why each metric of the test that is not there is missing.
 *
 * @param test The test. @param metrics What the analysis gave. @param reasons Why a metric could not be had, by id, where the analysis knows.
 * @param findings What the rules found. @param removed Metrics that a rule took out, with the bits of the groups.
 * @returns One sentence by metric id.
 */
export function missingReasons(
  test: Test,
  metrics: Pick<ReadonlyMap<string, unknown>, "has">,
  reasons: ReadonlyMap<string, string>,
  findings: readonly Finding[],
  removed: ReadonlyMap<string, number> | undefined,
): ReadonlyMap<string, string> {
  const missing = new Map<string, string>();
  for (const metric of metricsOf(test)) {
    if (metrics.has(metric.id)) continue;
    const bits = removed?.get(metric.id) ?? metric.needs.reduce((sum, group) => sum | GROUP_BITS[group], 0);
    const finding = findings.find(({ removes }) => removes.some((group) => (GROUP_BITS[group] & bits) !== 0));
    missing.set(metric.id, finding?.message ?? reasons.get(metric.id) ?? ruleReason(metric.id, findings) ?? ownReason(findings));
  }
  return missing;
}

/** The rule that looks at what a metric measures, and could not. */
const RULE_OF: Readonly<Record<string, string>> = {
  flightOffset: "Q3",
  driftRate: "Q4",
  endVelocity: "Q10",
  heightDifference: "Q9",
  measuredDropHeight: "Q15",
  nominalDropHeight: "Q15",
  preTensionForce: "Q19",
  bodyWeight: "Q19",
  bodyMass: "Q19",
  weighingSd: "bodyWeightGiven",
  bodyWeightUncertainty: "bodyWeightGiven",
};

function ruleReason(id: string, findings: readonly Finding[]): string | undefined {
  return findings.find(({ rule }) => rule === RULE_OF[id])?.message;
}

/** Findings that explain what is missing without removing a group. */
function ownReason(findings: readonly Finding[]): string {
  const telling = findings.find(({ rule, action }) => action !== "not checked" && TELLING.has(rule));
  return telling?.message ?? "the trace does not hold what this metric is taken from";
}

const TELLING = new Set(["Q8", "noLanding", "noLowest", "noOnset", "recordEndsEarly", "Q5", "Q7", "Q13", "noPull", "Q18"]);
