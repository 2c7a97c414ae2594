import type { CallRecord } from "../../functions/runtime/callRecord.ts";

/** Text ids of `LEAP.METRIC` that are no metrics. */
const TEXT_IDS: ReadonlySet<string> = new Set(["verdict", "findings", "version", "settingsdigest"]);

/** Closed forms that compute a metric of the catalogue from numbers in cells. */
const METRIC_OF_FUNCTION: Readonly<Record<string, string>> = {
  HEIGHT_FLIGHT: "jumpHeightFlightTime",
  HEIGHT_VELOCITY: "jumpHeightTakeoffVelocity",
  FLIGHT_TIME: "flightTime",
  FLIGHT_TIME_FRAMES: "flightTime",
  TAKEOFF_VELOCITY: "takeoffVelocity",
  RSI: "rsi",
  RSI_MODIFIED: "rsiModified",
  HOP_POWER: "hopPowerFromTimes",
  HOP_STIFFNESS: "hopStiffness",
};

/**
 * Which metrics a call reads, and which of them a cell of its spill shows.
 *
 * @param row Rows of the cell below the anchor of the spill.
 * @param column Columns of the cell to the right of the anchor.
 */
export function metricNamesOf(record: CallRecord, row: number, column: number): { readonly names: readonly string[]; readonly chosen: number } {
  if (record.name === "METRIC" || record.name === "STEPS") {
    const table = tableOf(record.args[2]);
    const width = table[0]?.length ?? 0;
    const at = record.name === "STEPS" ? 0 : table.length === 1 ? column : width === 1 ? row : row * width + column;
    const all = table.flat().map((name) => (typeof name === "string" ? name.trim() : ""));
    const names = all.filter((name) => name !== "" && !TEXT_IDS.has(name.toLowerCase()));
    const here = all[at] ?? "";
    return { names, chosen: names.indexOf(here) };
  }
  if (record.name === "ANALYSE") {
    const table = tableOf(record.result);
    const names = table.slice(1).map((line) => String(line[0] ?? ""));
    return { names, chosen: Math.max(row - 1, 0) < names.length ? Math.max(row - 1, 0) : -1 };
  }
  const metric = METRIC_OF_FUNCTION[record.name];
  return metric === undefined ? { names: [], chosen: -1 } : { names: [metric], chosen: 0 };
}

/** Whether a name asks `LEAP.METRIC` for a text, such as the verdict. */
export function isTextId(name: string): boolean {
  return TEXT_IDS.has(name.trim().toLowerCase());
}

/** A value, a row, or a table of values (cut ones give their first row) as rows. */
function tableOf(value: unknown): readonly (readonly unknown[])[] {
  if (typeof value === "object" && value !== null && "cut" in value) {
    const first = (value as { readonly firstRow?: readonly unknown[] }).firstRow;
    return first === undefined ? [] : [first];
  }
  if (!Array.isArray(value)) return [[value]];
  return value.length > 0 && Array.isArray(value[0]) ? (value as unknown[][]) : [value];
}
