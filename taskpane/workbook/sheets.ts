import { resolveMetricName } from "../../src/catalogue/resolveMetricName.ts";
import { SETTINGS } from "../../src/settings/definitions.ts";
import { inLanguage } from "../../src/wording/inLanguage.ts";
import { pageTextsOf } from "../../src/wording/pageTextsOf.ts";
import { packTrace } from "../../src/trace/packTrace.ts";
import { packTimes } from "../../src/trace/packTimes.ts";
import type { CellInput, Edit, RangeRef } from "../host/SheetHost.ts";
import { usualDecimals } from "../pane/format.ts";
import { cellAddress, dateSerial, fixedRange, sheetPrefix } from "./addresses.ts";
import type { PlannedTrial, TrialDraft } from "./WorkbookModel.ts";

/** Columns of the Trials table, left to right; the traces stand last so that they can be hidden. */
export const TRIAL_COLUMNS = [
  "athlete", "date", "test", "arms", "limb", "drop height", "load", "mass", "protocol", "adjust", "keep", "reason",
  "file", "start in file", "hash", "rate", "trace 1", "trace 2", "trace 3", "trace 4",
] as const;
export type TrialColumn = (typeof TRIAL_COLUMNS)[number];
export const TRACE_COLUMNS = 4;

/** Room for names of metrics on three lines, in pixels. */
export const HEAD_HEIGHT = 58;

/** Columns of Results before the spilled metrics. */
export const RESULT_LEAD = ["athlete", "date", "protocol", "use"] as const;

/** What Results shows until the person chooses otherwise. The verdict stands first: `use` reads it. */
export const DEFAULT_RESULT_NAMES = [
  "verdict", "jumpHeight cm", "jumpHeightFlightTime cm", "takeoffVelocity", "timeToTakeoff", "rsiModified", "peakForceRelative",
  "meanForcePropulsionRelative", "meanForcePropulsionAsymmetry", "peakPowerRelative", "contactTime", "rsi", "measuredDropHeight cm",
  "bodyMass", "findings",
] as const;

export const ATHLETE_COLUMNS = ["athlete", "mass", "stature", "squad", "note"] as const;

export const SHEET = { athletes: "Athletes", trials: "Trials", results: "Results", settings: "Settings" } as const;
export const NAME = { settings: "LeapSettings", results: "LeapResults" } as const;

/** One row of the Trials table, in the order of `TRIAL_COLUMNS`. `row` is the zero-based sheet row it will stand in: the protocol formula reads its own row. */
export function trialCells(draft: TrialDraft, row: number, place?: TrialsPlace): CellInput[] {
  const { trace } = draft;
  const packed = draft.packed ?? ("plates" in trace ? packTrace(trace) : [packTimes(trace)]);
  const traces = Array.from({ length: TRACE_COLUMNS }, (_, index) => packed[index] ?? "");
  return [...askedCells(draft, row, place), draft.adjust ?? "", "", "", draft.file, draft.startInFile, draft.hash, "plates" in trace ? trace.rate : "", ...traces];
}

/** One row of the Trials table that waits for its trace. */
export function plannedCells(planned: PlannedTrial, row: number, place?: TrialsPlace): CellInput[] {
  const asked = askedCells(planned, row, place);
  return [...asked, ...Array.from({ length: TRIAL_COLUMNS.length - asked.length }, () => "")];
}

/** What the athlete was asked to do: the columns from `athlete` to `protocol`. */
function askedCells({ athlete, date, protocol, mass }: PlannedTrial, row: number, place?: TrialsPlace): CellInput[] {
  const own = (column: TrialColumn) => cellAddress(row, place?.column[column] ?? TRIAL_COLUMNS.indexOf(column));
  return [
    athlete,
    dateSerial(date),
    protocol.test,
    protocol.arms ?? "",
    protocol.limb ?? "",
    protocol.dropHeight ?? "",
    protocol.load ?? "",
    mass ?? "",
    { formula: `=LEAP.PROTOCOL(${own("test")},${own("arms")},${own("limb")},${own("drop height")},${own("load")})` },
  ];
}

/** Where the columns of the Trials table stand now: people move and insert columns. */
export interface TrialsPlace {
  readonly sheet: string;
  /** Zero-based sheet column by column name. */
  readonly column: Readonly<Record<TrialColumn, number>>;
}

/** Where Results stands: the range of its quantities' names, and the columns before them, which people move and insert between. */
export interface ResultsHead {
  readonly head: RangeRef;
  /** Zero-based sheet column by name. */
  readonly lead: Readonly<Record<(typeof RESULT_LEAD)[number], number>>;
}

/** Rows of Results that are written, or computed afresh, at once: the host calculates between blocks. */
export const RESULT_BLOCK = 60;

/** Column from which `resultCells` writes. */
export function firstResultColumn({ head, lead }: ResultsHead): number {
  return Math.min(head.column, ...Object.values(lead));
}

/** One row of Results, from `firstResultColumn` on: the trial's own cells by reference, then one call for all metrics of the head. Columns a person added are left alone. */
export function resultCells(place: TrialsPlace, trialRow: number, resultRow: number, results: ResultsHead): CellInput[] {
  const trials = sheetPrefix(place.sheet);
  const cell = (column: TrialColumn) => `${trials}${cellAddress(trialRow, place.column[column], { column: true })}`;
  const traces = `${cell("trace 1")}:${cellAddress(trialRow, place.column["trace 4"], { column: true })}`;
  const verdict = cellAddress(resultRow, results.head.column, { column: true });
  const adjust = `IF(${cell("mass")}>0,"mass="&${cell("mass")}&"; ","")&${cell("adjust")}`;
  const keep = `LOWER(TRIM(${cell("keep")}))`;
  const first = firstResultColumn(results);
  const cells: CellInput[] = Array.from({ length: results.head.column - first + 1 }, () => null);
  cells[results.lead.athlete - first] = { formula: `=${cell("athlete")}&""` };
  cells[results.lead.date - first] = { formula: `=${cell("date")}` };
  cells[results.lead.protocol - first] = { formula: `=${cell("protocol")}&""` };
  // Only the two words count; anything else that a person typed follows the verdict, as in the pane.
  cells[results.lead.use - first] = { formula: `=IF(${keep}="keep","keep",IF(${keep}="leave out","leave out",IF(ISERROR(${verdict}),"leave out",IF(${verdict}="leave out","leave out","keep"))))` };
  cells[results.head.column - first] = { formula: `=LEAP.METRIC(${traces},${cell("protocol")},${fixedRange(results.head)},${NAME.settings},${adjust})` };
  return cells;
}

/** The Settings sheet: id and value are what formulas read (`LeapSettings`) and by their heads it is found again; the rest explains. */
export function settingsEdits(): Edit[] {
  const texts = pageTextsOf().sheets.settings;
  const head = ["setting", "value", texts.unit, texts.meaning, texts.allowed, texts.default, texts.source];
  const rows: CellInput[][] = SETTINGS.map((setting) => [
    setting.id,
    setting.default,
    inLanguage(setting.unit ?? ""),
    `${inLanguage(setting.label)}. ${inLanguage(setting.description)}`,
    [setting.range ? inLanguage(`${setting.range[0]} to ${setting.range[1]}`) : "", ...(setting.options ?? [])].filter(Boolean).join(", "),
    setting.default,
    inLanguage(setting.source),
  ]);
  const sheet = SHEET.settings;
  return [
    { kind: "addSheet", sheet, rows: Math.max(120, rows.length + 20), columns: 12 },
    { kind: "cells", sheet, row: 0, column: 0, cells: [head, ...rows] },
    { kind: "format", range: { sheet, row: 0, column: 0, rows: 1, columns: head.length }, bold: true },
    { kind: "freezeRows", sheet, rows: 1 },
    { kind: "columns", sheet, column: 0, count: 1, width: 200 },
    { kind: "columns", sheet, column: 1, count: 1, width: 150 },
    { kind: "columns", sheet, column: 2, count: 1, width: 60 },
    { kind: "columns", sheet, column: 3, count: 1, width: 480 },
    { kind: "columns", sheet, column: 4, count: 3, width: 180 },
    { kind: "definedName", name: NAME.settings, range: { sheet, row: 1, column: 0, rows: rows.length, columns: 2 } },
  ];
}

/** An empty Athletes table. */
export function athletesEdits(rows: readonly (readonly CellInput[])[] = []): Edit[] {
  const sheet = SHEET.athletes;
  return [
    { kind: "addSheet", sheet, rows: 200, columns: 12 },
    { kind: "table", name: "Athletes", sheet, row: 0, column: 0, columns: [...ATHLETE_COLUMNS], rows: rows.length > 0 ? rows : [["", "", "", "", ""]] },
    { kind: "freezeRows", sheet, rows: 1 },
    { kind: "columns", sheet, column: 0, count: 1, width: 160 },
    { kind: "columns", sheet, column: 4, count: 1, width: 260 },
  ];
}

/** The Trials table with its first rows, each in the order of `TRIAL_COLUMNS`. */
export function trialsEdits(rows: readonly (readonly CellInput[])[]): Edit[] {
  const sheet = SHEET.trials;
  const columns = TRIAL_COLUMNS.length;
  const at = (name: TrialColumn) => TRIAL_COLUMNS.indexOf(name);
  return [
    { kind: "addSheet", sheet, rows: Math.max(200, rows.length + 100), columns: columns + 4 },
    { kind: "table", name: "Trials", sheet, row: 0, column: 0, columns: [...TRIAL_COLUMNS], rows },
    { kind: "freezeRows", sheet, rows: 1 },
    { kind: "columns", sheet, column: at("athlete"), count: 1, width: 150 },
    { kind: "columns", sheet, column: at("protocol"), count: 1, width: 170 },
    { kind: "columns", sheet, column: at("reason"), count: 1, width: 160 },
    { kind: "columns", sheet, column: at("file"), count: 1, width: 200 },
    { kind: "columns", sheet, column: at("trace 1"), count: TRACE_COLUMNS, hidden: true },
    { kind: "format", range: { sheet, row: 1, column: at("date"), rows: Math.max(200, rows.length), columns: 1 }, numberFormat: "yyyy-mm-dd" },
  ];
}

/** The head of Results, with the defined name that finds it again. */
export function resultsEdits(names: readonly string[]): Edit[] {
  const sheet = SHEET.results;
  const lead = RESULT_LEAD.length;
  return [
    { kind: "addSheet", sheet, rows: 400, columns: lead + names.length + 30 },
    { kind: "cells", sheet, row: 0, column: 0, cells: [[...RESULT_LEAD, ...names]] },
    { kind: "format", range: { sheet, row: 0, column: 0, rows: 1, columns: lead + names.length }, bold: true, wrap: true },
    { kind: "rowHeight", sheet, row: 0, count: 1, height: HEAD_HEIGHT },
    { kind: "freezeRows", sheet, rows: 1 },
    { kind: "columns", sheet, column: 0, count: 1, width: 150 },
    { kind: "columns", sheet, column: 2, count: 1, width: 170 },
    { kind: "format", range: { sheet, row: 1, column: 1, rows: 399, columns: 1 }, numberFormat: "yyyy-mm-dd" },
    ...resultFormats(sheet, names),
    { kind: "definedName", name: NAME.results, range: { sheet, row: 0, column: lead, rows: 1, columns: names.length } },
  ];
}

/** Number formats and widths of the metric columns: places a coach reads at a glance; the cell keeps full precision. */
export function resultFormats(sheet: string, names: readonly string[], from: number = RESULT_LEAD.length): Edit[] {
  return names.flatMap((name, index): Edit[] => {
    const column = from + index;
    const text = name === "verdict" || name === "findings";
    const width: Edit = { kind: "columns", sheet, column, count: 1, width: name === "findings" ? 420 : text ? 80 : 110 };
    if (text) {
      return [width];
    }
    return [width, { kind: "format", range: { sheet, row: 1, column, rows: 399, columns: 1 }, numberFormat: numberFormat(name) }];
  });
}

/** Quantities that are much smaller than others in their unit, or whole numbers: decimal places in that unit. */
const UNLIKE_OTHERS: Readonly<Record<string, number>> = { weighingSd: 1, bodyWeightUncertainty: 2, flightOffset: 1, driftRate: 2, hopCount: 0 };

/** Decimal places a coach reads at a glance, by the unit of a metric; undefined for a text, or a name that is none. */
function decimalsOf(name: string): number | undefined {
  try {
    const { base, unit } = resolveMetricName(name);
    return (unit === base.unit ? UNLIKE_OTHERS[base.id] : undefined) ?? usualDecimals(unit);
  } catch {
    return undefined;
  }
}

/** Number format of a metric's values, or of their uncertainties: these have one more place, since that of a steady quantity would look like none. */
export function numberFormat(name: string, of: "values" | "uncertainties" = "values"): string {
  const decimals = decimalsOf(name);
  return decimals === undefined ? "General" : (0).toFixed(decimals + (of === "values" ? 0 : 1));
}
