import { readMetric } from "../../src/protocols/readMetric.ts";
import { resolveMetricName, type ResolvedMetric } from "../../src/catalogue/resolveMetricName.ts";
import type { Analysis, MetricValue, Step } from "../../src/protocols/Analysis.ts";
import { inLanguage } from "../../src/wording/inLanguage.ts";
import { collectSteps } from "./collectSteps.ts";

/** A metric of one analysis, with everything that explains it. */
export interface MetricExplanation {
  readonly metric: ResolvedMetric;
  /** In the unit that the name asks for. Absent where the trace cannot give it. */
  readonly value?: MetricValue;
  /** Why there is no value. */
  readonly missing?: string;
  /** What the value stands on, in order; the last step gives it, but for a unit or a form. */
  readonly steps: readonly Step[];
}

/**
 * Explains a metric of an analysis.
 *
 * @param name As a formula names it, with side, form and unit.
 * @throws {InputError} `unknown-name` for a name that is none.
 */
export function explainMetric(analysis: Analysis, name: string): MetricExplanation {
  const metric = resolveMetricName(name);
  let value: MetricValue | undefined;
  let missing: string | undefined;
  try {
    value = inUnit(readMetric(analysis, metric), metric);
  } catch (thrown) {
    missing = inLanguage(thrown instanceof Error ? thrown.message : String(thrown));
  }
  return { metric, value, missing, steps: missing === undefined ? collectSteps(analysis.steps, partsOf(metric)) : [] };
}

/** A value in the unit that the name asks for, its uncertainty and budget with it. */
function inUnit({ id, value, u, budget }: MetricValue, { unit, factor }: ResolvedMetric): MetricValue {
  return {
    id,
    unit,
    value: value * factor,
    ...(u === undefined ? {} : { u: u * factor }),
    ...(budget === undefined ? {} : { budget: budget.map((part) => ({ ...part, u: part.u * factor })) }),
  };
}

/** Recorded values that a form is made of. */
function partsOf(metric: ResolvedMetric): readonly string[] {
  const { base, side, relative, net, asymmetry } = metric;
  if (asymmetry) return [`${base.id}Left`, `${base.id}Right`];
  const one = `${base.id}${side ?? ""}`;
  return [...(net ? ["bodyWeight"] : []), ...(relative ? ["bodyMass"] : []), one];
}
