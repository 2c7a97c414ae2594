import { metricsOf } from "../src/catalogue/metrics.ts";
import { parseProtocol } from "../src/protocols/parseProtocol.ts";
import { type PrintedEntry, type PrintedTrial, printed } from "./entry.ts";
import type { Format, PieceWriter } from "./formats.ts";
import { parquetFile, type ParquetColumn } from "./parquetFile.ts";

/** Trials of one row group: enough to pack well, few enough to hold. */
const GROUP = 5000;

/** One column and where its values come from. */
interface Column extends ParquetColumn {
  readonly of: (entry: PrintedEntry) => unknown;
}

/**
 * Apache Parquet: one row a trial, the same columns for every run of a test. Row groups are given out as they fill.
 *
 * Beside version and units the metadata of the file holds `leapsheet.settings`, a JSON object.
 */
export function parquetFormat(protocol: string): Format<PrintedEntry> {
  return { pieceOf: printed, writer: () => parquetWriter(protocol) };
}

function parquetWriter(protocol: string): PieceWriter<PrintedEntry> {
  const columns = columnsOf(protocol);
  const file = parquetFile("trials", columns);
  let waiting: PrintedEntry[] = [];
  let settings: string | undefined;
  const group = (): Uint8Array => {
    const rows = waiting;
    waiting = [];
    return file.group(columns.map(({ of }) => rows.map(of)));
  };
  return {
    add(entry) {
      if (!("error" in entry)) settings ??= JSON.stringify(entry.settings);
      waiting.push(entry);
      return waiting.length < GROUP ? "" : group();
    },
    end() {
      const last = group();
      const foot = file.end(settings === undefined ? {} : { "leapsheet.settings": settings });
      const both = new Uint8Array(last.length + foot.length);
      both.set(last);
      both.set(foot, last.length);
      return both;
    },
  };
}

function columnsOf(protocol: string): Column[] {
  const metrics = metricsOf(parseProtocol(protocol).test).flatMap(({ id, unit, forms }) => [id, ...(forms.sides ? [`${id}Left`, `${id}Right`] : [])].map((name) => ({ name, unit })));
  const fact = (name: string, kind: ParquetColumn["kind"], of: (entry: PrintedTrial) => unknown, unit?: string): Column => ({
    name,
    kind,
    ...(unit !== undefined && { unit }),
    of: (entry) => ("error" in entry ? null : of(entry)),
  });
  return [
    { name: "file", kind: "text", of: (entry) => entry.file },
    fact("trial", "count", (entry) => entry.trial),
    fact("test", "text", (entry) => entry.test),
    fact("protocol", "text", (entry) => entry.protocol),
    fact("start", "number", (entry) => entry.start, "s"),
    fact("rate", "number", (entry) => entry.rate, "Hz"),
    fact("verdict", "text", (entry) => entry.verdict),
    fact("findings", "json", (entry) => entry.findings),
    fact("events", "json", (entry) => entry.events, "s"),
    fact("settingsDigest", "text", (entry) => entry.settingsDigest),
    fact("version", "text", (entry) => entry.version),
    { name: "error", kind: "text", of: (entry) => ("error" in entry ? entry.error : null) },
    ...metrics.flatMap(({ name, unit }): Column[] => [
      fact(name, "number", (entry) => entry.metrics[name]?.value ?? null, unit),
      fact(`${name}_u`, "number", (entry) => entry.metrics[name]?.u ?? null, unit),
    ]),
  ];
}
