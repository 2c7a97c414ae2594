import type { MetricGroup } from "../protocols/Analysis.ts";
import type { Test } from "../protocols/Protocol.ts";

/** What a metric is: the one place that says so. The analysis computes it; everything else reads this. Its formula stands in `metricFormula.ts`. */
export interface MetricDefinition {
  /** camelCase id, part of the contract. */
  readonly id: string;
  /** Name in plain words of the trade, for instance "Jump height (take-off velocity)". */
  readonly name: string;
  /** SI unit as printed: "m", "s", "m/s", "N", "N s", "N/s", "W", "N/m", "kg", "%", "" (no unit). */
  readonly unit: string;
  readonly tests: readonly Test[];
  /** Groups it needs: a finding that removes one of these removes the metric. */
  readonly needs: readonly MetricGroup[];
  /** One or two sentences; names the start and end events of a stretch of time. */
  readonly definition: string;
  readonly assumptions: readonly string[];
  readonly watchFor: readonly string[];
  /** Order of magnitude in healthy trained adults; only with its source or "common practice". */
  readonly range?: { readonly text: string; readonly source: string };
  /** Keys of `references`. */
  readonly sources: readonly string[];
  /** Which forms exist beside the plain one. */
  readonly forms: { readonly sides?: boolean; readonly relative?: boolean; readonly net?: boolean; readonly asymmetry?: boolean };
  /** Whether more is better, for T scores and readings; "neither" where it depends. */
  readonly better: "higher" | "lower" | "neither";
}
