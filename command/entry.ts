import type { Analysis } from "../src/protocols/Analysis.ts";
import { formatProtocol } from "../src/protocols/formatProtocol.ts";
import type { Trace } from "../src/trace/Trace.ts";

/** One metric as printed: SI unit, and the standard uncertainty where a budget exists. */
export interface EntryMetric {
  readonly value: number;
  readonly unit: string;
  readonly u: number | null;
}

/** One jump, series or pull found in a file: what `--format json` prints. */
export interface Entry {
  readonly file: string;
  /** Counts from one within the file. */
  readonly trial: number;
  readonly test: string;
  readonly protocol: string;
  /** Time in the file of the trial's own zero, s. */
  readonly start: number;
  /** Hz. */
  readonly rate: number;
  readonly verdict: string;
  /** s from the start of the file. */
  readonly events: Readonly<Record<string, number>>;
  readonly metrics: Readonly<Record<string, EntryMetric>>;
  readonly findings: readonly { readonly rule: string; readonly action: string; readonly message: string }[];
  readonly settings: Readonly<Record<string, string | number>>;
  readonly settingsDigest: string;
  readonly version: string;
  /** What the reader guessed or noticed about the file. */
  readonly notes: readonly string[];
}

/** A file that could not be read. */
export interface FailedEntry {
  readonly file: string;
  readonly error: string;
}

export type AnyEntry = Entry | FailedEntry;

/** An entry on its way to the output, with the trace it was made from where that is asked for. */
export type AnalysedEntry = AnyEntry & { readonly samples?: Trace };

/** The entry of one analysed trial. */
export function entryOf(file: string, trial: number, analysis: Analysis, version: string, notes: readonly string[]): Entry {
  const { trace, protocol, settings } = analysis;
  // Filled one by one: `Object.fromEntries` would first make an array of each of some eighty metrics.
  const metrics: Record<string, EntryMetric> = {};
  for (const [id, { value, unit, u }] of analysis.metrics) metrics[id] = { value, unit, u: u ?? null };
  return {
    file,
    trial,
    test: protocol.test,
    protocol: formatProtocol(protocol),
    start: trace.start,
    rate: trace.rate,
    verdict: analysis.verdict,
    events: Object.fromEntries([...analysis.events].map(([name, event]) => [name, event.time + trace.start])),
    metrics,
    findings: analysis.findings.map(({ rule, action, message }) => ({ rule, action, message })),
    settings: settings.values,
    settingsDigest: settings.digest,
    version,
    notes,
  };
}
