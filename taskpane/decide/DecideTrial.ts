import { resolveMetricName } from "../../src/catalogue/resolveMetricName.ts";
import type { Verdict } from "../../src/protocols/Analysis.ts";
import { parseProtocol } from "../../src/protocols/parseProtocol.ts";
import type { Protocol } from "../../src/protocols/Protocol.ts";
import { readMetric } from "../../src/protocols/readMetric.ts";
import { INSTRUMENTS, instrumentOf, type Instrument } from "../../src/sessions/likeText.ts";
import type { AnalysedTrial } from "../pane/analyseTrial.ts";
import type { RecordRow } from "../workbook/record.ts";
import { recordedAs, type RecordedColumn } from "../workbook/recordedAs.ts";

/** A trial as decisions see it, live or recorded. */
export interface DecideTrial {
  readonly key: string;
  readonly athlete: string;
  /** ISO date; blank where unknown. */
  readonly date: string;
  readonly protocol: Protocol;
  /** What measured it; absent: force plates. */
  readonly instrument?: Instrument;
  /** Protocol text as the sheet has it. */
  readonly stated: string;
  readonly verdict: Verdict;
  readonly use: "keep" | "leave out";
  /** True where the recording asks for a look and nobody has decided. */
  readonly doubtful: boolean;
  /** Why it is left out. */
  readonly reason: string;
  /** Metric by name, in the unit that the name says; nothing where the trial cannot give it. */
  value(name: string): number | undefined;
}

/** Trials of the sheet as they are now; those that cannot be read have nothing to decide on. */
export function liveTrials(trials: readonly AnalysedTrial[]): readonly DecideTrial[] {
  return trials.flatMap(({ row, analysis, verdict, use, doubtful }): DecideTrial[] => {
    if (analysis === undefined) return [];
    return [
      {
        key: row.key,
        athlete: row.athlete,
        date: row.date,
        protocol: analysis.protocol,
        instrument: instrumentOf(row.packed[0] ?? ""),
        stated: row.protocol,
        verdict,
        use,
        doubtful,
        reason: row.reason !== "" ? row.reason : (analysis.findings.find((finding) => finding.action === "leave out")?.message ?? ""),
        value(name) {
          try {
            const metric = resolveMetricName(name);
            return readMetric(analysis, metric).value * metric.factor;
          } catch {
            return undefined;
          }
        },
      },
    ];
  });
}

/** Trials of the Record sheet, as they were recorded. */
export function recordedTrials(rows: readonly RecordRow[]): readonly DecideTrial[] {
  const columns = new Set(rows.flatMap((row) => [...row.values.keys()]));
  const known = new Map<string, readonly RecordedColumn[]>();
  const columnsOf = (name: string): readonly RecordedColumn[] => {
    if (!known.has(name)) known.set(name, recordedAs(name, columns));
    return known.get(name)!;
  };
  return rows.flatMap((row): DecideTrial[] => {
    const protocol = protocolOf(row.protocol);
    if (protocol === undefined) return [];
    const use = row.use === "leave out" ? "leave out" : "keep";
    const verdict = row.verdict === "leave out" || row.verdict === "look" ? row.verdict : "keep";
    return [
      {
        key: row.key,
        athlete: row.athlete,
        date: row.date,
        protocol,
        instrument: INSTRUMENTS.find((each) => each === row.instrument) ?? "plate",
        stated: row.protocol,
        verdict,
        use,
        doubtful: use === "keep" && verdict !== "keep",
        reason: "",
        value(name) {
          const found = columnsOf(name).find(({ column }) => row.values.has(column));
          return found && row.values.get(found.column)!.value * found.factor;
        },
      },
    ];
  });
}

function protocolOf(text: string): Protocol | undefined {
  try {
    return parseProtocol(text);
  } catch {
    return undefined;
  }
}
