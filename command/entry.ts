import type { Analysis, MetricValue } from "../src/protocols/Analysis.ts";
import { formatProtocol } from "../src/protocols/formatProtocol.ts";
import type { Trace } from "../src/trace/Trace.ts";

/** One metric as printed: SI unit, and the standard uncertainty where a budget exists. */
export interface EntryMetric {
  readonly value: number;
  readonly unit: string;
  readonly u: number | null;
}

/** One jump, series or pull found in a file. */
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
  /** Their times count from `start`. */
  readonly events: Pick<Analysis["events"], "values">;
  readonly metrics: readonly Pick<MetricValue, "id" | "value" | "unit" | "u">[];
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

/** A trial as plain data: events and metrics by name. */
export interface PrintedTrial extends Omit<Entry, "metrics" | "events"> {
  /** s from the start of the file. */
  readonly events: Readonly<Record<string, number>>;
  readonly metrics: Readonly<Record<string, EntryMetric>>;
}

/** What `--format json` prints of an entry. */
export type PrintedEntry = FailedEntry | PrintedTrial;

/** An entry as plain data, which passes between threads. */
export function printed(entry: AnyEntry): PrintedEntry {
  if ("error" in entry) return entry;
  const metrics: Record<string, EntryMetric> = {};
  for (const { id, value, unit, u } of entry.metrics) metrics[id] = { value, unit, u: u ?? null };
  return { ...entry, events: Object.fromEntries([...entry.events.values()].map(({ name, time }) => [name, time + entry.start])), metrics };
}

/** An entry on its way to the output, with the trace it was made from where that is asked for. */
export interface AnalysedEntry {
  readonly entry: AnyEntry;
  readonly samples?: Trace;
}

/** The entry of one analysed trial. */
export function entryOf(file: string, trial: number, analysis: Analysis, version: string, notes: readonly string[]): Entry {
  const { trace, protocol, settings } = analysis;
  return {
    file,
    trial,
    test: protocol.test,
    protocol: formatProtocol(protocol),
    start: trace.start,
    rate: trace.rate,
    verdict: analysis.verdict,
    events: analysis.events,
    metrics: [...analysis.metrics.values()],
    findings: analysis.findings.map(({ rule, action, message }) => ({ rule, action, message })),
    settings: settings.values,
    settingsDigest: settings.digest,
    version,
    notes,
  };
}
