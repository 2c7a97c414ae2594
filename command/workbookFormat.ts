import { citation } from "../src/catalogue/references.ts";
import { resolveMetricName } from "../src/catalogue/resolveMetricName.ts";
import { InputError } from "../src/errors.ts";
import { VERSION } from "../src/version.ts";
import { cautions, resultCautions } from "../src/wording/cautions.ts";
import type { FileCell, FileSheet, FileValue } from "../src/workbook/WorkbookFile.ts";
import { writeWorkbook } from "../src/workbook/writeWorkbook.ts";
import { type PrintedEntry, type PrintedTrial, printed } from "./entry.ts";
import { FACTS, factsOf } from "./entryFacts.ts";
import type { Format, PieceWriter } from "./formats.ts";

/** A sheet has 1,048,576 rows; the reader of ours stops at five million cells, and a trial takes some two hundred. */
const MOST_ENTRIES = 20_000;

/** A workbook of plain values: one row a trial, its events and findings, what each column means, and the settings. It is held in memory until its end. */
export const workbookFormat: Format<PrintedEntry> = { pieceOf: printed, writer: workbookWriter };

function workbookWriter(): PieceWriter<PrintedEntry> {
  const entries: PrintedEntry[] = [];
  return {
    add(entry) {
      if (entries.length >= MOST_ENTRIES) throw new InputError("too-large", `--format xlsx requires at most ${MOST_ENTRIES} trials: use --format parquet or csv`);
      entries.push(entry);
      return "";
    },
    end: () => writeWorkbook({ names: [], sheets: sheetsOf(entries) }, { formulas: "values" }),
  };
}

function sheetsOf(entries: readonly PrintedEntry[]): FileSheet[] {
  const read = entries.filter((entry): entry is PrintedTrial => !("error" in entry));
  const ids = [...new Set(read.flatMap((entry) => Object.keys(entry.metrics)))];
  const units = new Map(read.flatMap((entry) => Object.entries(entry.metrics).map(([id, { unit }]) => [id, unit] as const)));
  const results = entries.map((entry): FileValue[] => [
    ...factsOf(entry),
    ...ids.flatMap((id) => {
      const metric = "error" in entry ? undefined : entry.metrics[id];
      return [metric?.value ?? null, metric?.u ?? null];
    }),
  ]);
  const events = read.flatMap((entry) => Object.entries(entry.events).map(([name, time]): FileValue[] => [entry.file, entry.trial, name, time]));
  const findings = read.flatMap((entry) => entry.findings.map(({ rule, action, message }): FileValue[] => [entry.file, entry.trial, rule, action, message]));
  const metrics = ids.map((id): FileValue[] => {
    const { base, side } = resolveMetricName(id);
    return [id, side ? `${base.name}, ${side.toLowerCase()}` : base.name, units.get(id) ?? "", base.definition, base.sources.map(citation).join("; ")];
  });
  const settings = Object.entries(read[0]?.settings ?? {}).map(([id, value]): FileValue[] => [id, value]);
  return [
    table("Results", [...FACTS, ...ids.flatMap((id) => [id, `${id}_u`])], results, { file: 220, protocol: 170, findings: 300, error: 200 }),
    table("Events", ["file", "trial", "event", "time, s"], events, { file: 220 }),
    table("Findings", ["file", "trial", "rule", "action", "message"], findings, { file: 220, message: 560 }),
    table("Metrics", ["id", "name", "unit", "definition", "sources"], metrics, { id: 220, name: 260, definition: 560, sources: 260 }),
    table("Settings", ["setting", "value"], settings, { setting: 220, value: 160 }),
    notes(read[0]),
  ];
}

function table(name: string, heads: readonly string[], rows: readonly (readonly FileValue[])[], widths: Readonly<Record<string, number>>): FileSheet {
  const cells: FileCell[] = heads.map((value, column) => ({ row: 0, column, value, bold: true }));
  rows.forEach((row, index) => row.forEach((value, column) => value !== null && value !== "" && cells.push({ row: index + 1, column, value: shortened(value) })));
  return {
    name,
    cells,
    columns: heads.map((head, column) => ({ column, width: widths[head] ?? 96 })),
    frozenRows: 1,
    ...(rows.length > 0 && { tables: [{ name, range: { row: 0, column: 0, rows: rows.length + 1, columns: heads.length }, columns: heads }] }),
  };
}

/** A cell holds 32,767 characters; a list of findings of a bad file may be longer. */
function shortened(value: FileValue): FileValue {
  return typeof value === "string" && value.length > 32_000 ? `${value.slice(0, 32_000)} …` : value;
}

function notes(entry: PrintedTrial | undefined): FileSheet {
  const lines = [
    `Written by Leapsheet ${VERSION}. Plain values; nothing here is computed.`,
    "Values are in SI units; the sheet Metrics names them. A column ending in _u is the standard uncertainty (JCGM 100) where a budget exists.",
    "Event times count from the start of the file, in seconds.",
    ...(entry ? [`Settings digest ${entry.settingsDigest}.`] : []),
    ...resultCautions(),
    ...cautions(entry?.test as Parameters<typeof cautions>[0]),
  ];
  return { name: "Notes", cells: lines.map((value, row) => ({ row, column: 0, value, wrap: true })), columns: [{ column: 0, width: 720 }] };
}
