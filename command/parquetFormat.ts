import { ByteWriter, ParquetWriter } from "hyparquet-writer";
import type { SchemaElement } from "hyparquet";
import { metricsOf } from "../src/catalogue/metrics.ts";
import { parseProtocol } from "../src/protocols/parseProtocol.ts";
import { VERSION } from "../src/version.ts";
import type { AnyEntry } from "./entry.ts";
import type { EntryWriter } from "./formats.ts";

/** Trials of one row group: enough to pack well, few enough to hold. */
const GROUP = 5000;

type Kind = "text" | "json" | "number" | "count";

/** One column: what is in it and where its values come from. */
interface Column {
  readonly name: string;
  readonly kind: Kind;
  readonly unit?: string;
  readonly of: (entry: AnyEntry) => unknown;
}

/**
 * Apache Parquet: one row a trial, the same columns for every run of a test. Row groups are given out as they fill.
 *
 * The metadata of the file holds `leapsheet.version`, `leapsheet.units` (JSON: unit by column) and `leapsheet.settings` (JSON).
 */
export function parquetWriter(protocol: string): EntryWriter {
  const columns = columnsOf(protocol);
  const bytes = new ByteWriter();
  const metadata = [
    { key: "leapsheet.version", value: VERSION },
    { key: "leapsheet.units", value: JSON.stringify(Object.fromEntries(columns.flatMap(({ name, unit }) => (unit === undefined ? [] : [[name, unit]])))) },
  ];
  const file = new ParquetWriter({ writer: bytes, schema: schemaOf(columns), kvMetadata: metadata, createdBy: `Leapsheet ${VERSION}` });
  let waiting: AnyEntry[] = [];
  let settings: string | undefined;

  const group = () => {
    if (waiting.length === 0) return;
    void file.write({ columnData: columns.map(({ name, of }) => ({ name, data: waiting.map(of) })), rowGroupSize: GROUP });
    waiting = [];
  };
  /** What was written since the last time. */
  const given = (): Uint8Array => {
    const piece = bytes.getBytes().slice();
    bytes.index = 0;
    return piece;
  };
  return {
    add(entry) {
      if (!("error" in entry)) settings ??= JSON.stringify(entry.settings);
      waiting.push(entry);
      if (waiting.length < GROUP) return "";
      group();
      return given();
    },
    end() {
      group();
      if (settings !== undefined) metadata.push({ key: "leapsheet.settings", value: settings });
      void file.finish();
      return given();
    },
  };
}

function schemaOf(columns: readonly Column[]): SchemaElement[] {
  const types: Readonly<Record<Kind, Partial<SchemaElement>>> = {
    text: { type: "BYTE_ARRAY", converted_type: "UTF8", logical_type: { type: "STRING" } },
    json: { type: "BYTE_ARRAY", converted_type: "JSON", logical_type: { type: "JSON" } },
    number: { type: "DOUBLE" },
    count: { type: "INT32" },
  };
  return [
    { name: "trials", num_children: columns.length },
    ...columns.map(({ name, kind }): SchemaElement => ({ name, ...types[kind], repetition_type: "OPTIONAL" })),
  ];
}

function columnsOf(protocol: string): Column[] {
  const metrics = metricsOf(parseProtocol(protocol).test).flatMap(({ id, unit, forms }) => [id, ...(forms.sides ? [`${id}Left`, `${id}Right`] : [])].map((name) => ({ name, unit })));
  const fact = <Key extends string>(name: Key, kind: Kind, of: (entry: Exclude<AnyEntry, { error: string }>) => unknown, unit?: string): Column => ({
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
      { name, kind: "number", unit, of: (entry) => ("error" in entry ? null : (entry.metrics[name]?.value ?? null)) },
      { name: `${name}_u`, kind: "number", unit, of: (entry) => ("error" in entry ? null : (entry.metrics[name]?.u ?? null)) },
    ]),
  ];
}
