import type { AnyEntry, Entry } from "./entry.ts";
import { FACTS, factsOf } from "./entryFacts.ts";
import { visible } from "./visible.ts";

/** Turns entries into the bytes or the text of a file piece by piece, so that a large folder is never held in memory. */
export interface EntryWriter {
  add(entry: AnyEntry): string | Uint8Array;
  end(): string | Uint8Array | Promise<Uint8Array>;
}

export interface TextWriter extends EntryWriter {
  add(entry: AnyEntry): string;
  end(): string;
}

/** The writer of a format that is text. */
export function entryWriter(format: "table" | "json" | "csv"): TextWriter {
  return format === "json" ? jsonWriter() : format === "csv" ? csvWriter() : tableWriter();
}

function jsonWriter(): TextWriter {
  let first = true;
  return {
    add(entry) {
      const text = `${first ? "[\n" : ",\n"}${JSON.stringify(entry)}`;
      first = false;
      return text;
    },
    end: () => (first ? "[]\n" : "\n]\n"),
  };
}

/** One row a trial. The columns are those of the first trial that could be read: trials of one run share a test, so also the columns; a metric another trial lacks is blank. */
function csvWriter(): TextWriter {
  let columns: string[] | undefined;
  const failed: string[] = [];
  return {
    add(entry) {
      if ("error" in entry) {
        failed.push(factsOf(entry).map(quoted).join(","));
        return "";
      }
      let head = "";
      if (!columns) {
        columns = columnsOf(entry);
        head = [...FACTS, ...columns.flatMap((id) => [id, `${id}_u`])].map(quoted).join(",") + "\n";
      }
      let row = head + factsOf(entry).map(quoted).join(",");
      for (const id of columns) {
        const metric = entry.metrics[id];
        row += `,${metric?.value ?? ""},${metric?.u ?? ""}`;
      }
      return `${row}\n`;
    },
    end: () => (failed.length === 0 ? "" : `${columns ? "" : `${FACTS.join(",")}\n`}${failed.join("\n")}\n`),
  };
}

function columnsOf(entry: Entry): string[] {
  return Object.keys(entry.metrics);
}

/** RFC 4180; text that a spreadsheet would take for a formula gets a leading apostrophe. */
function quoted(value: string | number): string {
  if (typeof value === "number") {
    return String(value);
  }
  const safe = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\n\r]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** What a person reads first at a terminal, per test. */
const HEADLINES: Readonly<Record<string, readonly [id: string, head: string, scale: number, digits: number][]>> = {
  CMJ: [["jumpHeight", "height cm", 100, 1], ["flightTime", "flight s", 1, 3], ["timeToTakeoff", "to take-off s", 1, 3], ["rsiModified", "RSI mod", 1, 2], ["peakForce", "peak N", 1, 0], ["peakPower", "peak W", 1, 0], ["bodyMass", "mass kg", 1, 1]],
  SJ: [["jumpHeight", "height cm", 100, 1], ["flightTime", "flight s", 1, 3], ["timeToTakeoff", "to take-off s", 1, 3], ["dipFraction", "dip", 1, 3], ["peakForce", "peak N", 1, 0], ["peakPower", "peak W", 1, 0], ["bodyMass", "mass kg", 1, 1]],
  DJ: [["jumpHeight", "height cm", 100, 1], ["flightTime", "flight s", 1, 3], ["contactTime", "contact s", 1, 3], ["rsi", "RSI", 1, 2], ["measuredDropHeight", "drop cm", 100, 1], ["peakForce", "peak N", 1, 0], ["bodyMass", "mass kg", 1, 1]],
  RH: [["hopCount", "hops", 1, 0], ["bestFiveRsi", "best five RSI", 1, 2], ["meanContactTime", "contact s", 1, 3], ["meanFlightTime", "flight s", 1, 3], ["hopStiffness", "stiffness kN/m", 0.001, 1]],
  IMTP: [["peakForce", "peak N", 1, 0], ["force100ms", "100 ms N", 1, 0], ["force200ms", "200 ms N", 1, 0], ["rfd0to200", "RFD 0-200 N/s", 1, 0], ["bodyMass", "mass kg", 1, 1]],
};

function tableWriter(): TextWriter {
  let head = "";
  return {
    add(entry) {
      if ("error" in entry) {
        return `${visible(entry.file)}\n    could not be read: ${visible(entry.error)}\n`;
      }
      const columns = HEADLINES[entry.test] ?? [];
      const line = ["verdict".padEnd(10), ...columns.map(([, name]) => name.padStart(14)), "  file"].join("");
      const values = columns.map(([id, , scale, digits]) => {
        const metric = entry.metrics[id];
        return (metric ? (metric.value * scale).toFixed(digits) : "-").padStart(14);
      });
      const text = `${head === line ? "" : `${line}\n`}${entry.verdict.padEnd(10)}${values.join("")}  ${visible(entry.file)} #${entry.trial}\n`;
      head = line;
      const said = entry.findings.filter(({ action }) => action === "look" || action === "leave out" || action === "corrected");
      return text + said.map(({ rule, action, message }) => `    ${rule} ${action}: ${visible(message)}\n`).join("");
    },
    end: () => "",
  };
}
