import { citation } from "../catalogue/references.ts";
import type { ResolvedMetric } from "../catalogue/resolveMetricName.ts";
import { inLanguage } from "./inLanguage.ts";
import { type Language, textsOf } from "./textsOf.ts";

/** The parts of an explanation, for the pane; `explainMetric` joins them for a cell. */
export interface MetricExplanation {
  readonly name: string;
  readonly unit: string;
  readonly definition: string;
  /** What the forms in the name add: side, per kilogram, net, asymmetry. */
  readonly forms: readonly string[];
  readonly assumptions: readonly string[];
  readonly watchFor: readonly string[];
  readonly range?: string;
  readonly sources: readonly string[];
}

/**
 * What a metric is, in parts.
 *
 * @param metric Metric with its forms and unit.
 * @param language Language, no unit.
 * @returns The parts, in the unit of the metric; the range only for the plain form, to which it belongs.
 */
export function metricExplanation(metric: ResolvedMetric, language?: Language): MetricExplanation {
  const { explain } = textsOf(language);
  const { base, side, relative, net, asymmetry } = metric;
  const say = (text: string): string => inLanguage(text, language);
  const forms = [
    ...(side ? [side === "Left" ? explain.left : explain.right] : []),
    ...((side || asymmetry) && base.unit === "N s" ? [explain.sideImpulse] : []),
    ...(net ? [explain.net] : []),
    ...(relative ? [explain.relative] : []),
    ...(asymmetry ? [explain.asymmetry] : []),
  ];
  return {
    name: say(base.name),
    unit: metric.unit,
    definition: say(base.definition),
    forms,
    assumptions: base.assumptions.map(say),
    watchFor: base.watchFor.map(say),
    ...(base.range && !side && !net && !asymmetry ? { range: `${say(base.range.text)} (${say(citation(base.range.source))})` } : {}),
    sources: base.sources.map(citation),
  };
}

/**
 * What a metric is, as one text for a cell.
 *
 * @param metric Metric with its forms and unit.
 * @param language Language, no unit.
 * @returns Name, definition, forms, assumptions, what to watch for, usual size and sources, no unit.
 */
export function explainMetric(metric: ResolvedMetric, language?: Language): string {
  const { explain } = textsOf(language);
  const { name, unit, definition, forms, assumptions, watchFor, range, sources } = metricExplanation(metric, language);
  return [
    `${name}${unit ? ` (${unit})` : ""}: ${definition}`,
    ...forms,
    ...(assumptions.length ? [`${explain.assumes}: ${assumptions.join(" ")}`] : []),
    ...(watchFor.length ? [`${explain.watchFor}: ${watchFor.join(" ")}`] : []),
    ...(range ? [`${explain.range}: ${range}.`] : []),
    `${explain.sources}: ${sources.join("; ")}.`,
  ].join(" ");
}
