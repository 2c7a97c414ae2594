import type { Test } from "../protocols/Protocol.ts";
import { DROP_METRICS } from "./dropMetrics.ts";
import { HOP_METRICS } from "./hopMetrics.ts";
import { ISOMETRIC_METRICS } from "./isometricMetrics.ts";
import { JUMP_METRICS } from "./jumpMetrics.ts";
import { LANDING_METRICS } from "./landingMetrics.ts";
import type { MetricDefinition } from "./MetricDefinition.ts";
import { WEIGHING_METRICS } from "./weighingMetrics.ts";

/** Every metric, in the order in which tables show them. */
export const METRICS: readonly MetricDefinition[] = [
  ...JUMP_METRICS,
  ...DROP_METRICS,
  ...HOP_METRICS,
  ...ISOMETRIC_METRICS,
  ...LANDING_METRICS,
  ...WEIGHING_METRICS,
];

const byId: ReadonlyMap<string, MetricDefinition> = new Map(METRICS.map((metric) => [metric.id, metric]));

/**
 * The catalogue entry of a metric.
 *
 * @param id Exact id of a plain metric (no side, no form), no unit.
 * @returns The entry in its SI unit, or `undefined` where there is none.
 */
export function metricById(id: string): MetricDefinition | undefined {
  return byId.get(id);
}

/**
 * The metrics that belong to a test, in the order of the catalogue.
 *
 * @param test Test, no unit.
 * @returns Entries in their SI units.
 */
export function metricsOf(test: Test): readonly MetricDefinition[] {
  return METRICS.filter((metric) => metric.tests.includes(test));
}
