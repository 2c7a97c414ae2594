import { resolveMetricName } from "../../src/catalogue/resolveMetricName.ts";
import { asymmetryFormulaByName } from "../../src/metrics/asymmetry.ts";
import { formatProtocol } from "../../src/protocols/formatProtocol.ts";
import type { Combination } from "../../src/sessions/pairingReason.ts";
import type { Settings } from "../../src/settings/Settings.ts";
import { resultCautions } from "../../src/wording/cautions.ts";
import { inLanguage } from "../../src/wording/inLanguage.ts";
import { pageTextsOf } from "../../src/wording/pageTextsOf.ts";
import type { ReadingRole } from "../../src/wording/readings.ts";
import type { AthleteCombination } from "../decide/combineAthlete.ts";
import type { Followed } from "../decide/followAthlete.ts";
import type { DropResult, LoadResult } from "../decide/profilesOf.ts";
import type { AthleteReport, ReportReading } from "../decide/reportOf.ts";
import type { Session } from "../decide/sessions.ts";
import type { Sides } from "../decide/sidesOfAthlete.ts";
import type { Squad } from "../decide/squadOf.ts";
import type { Applied, CellInput, Edit, SheetHost } from "../host/SheetHost.ts";
import { shownUnit, SI } from "../pane/shownUnits.ts";
import { withUnits, type UnitChoice } from "../pane/withUnits.ts";
import { cellAddress, dateSerial } from "./addresses.ts";
import { MARK_COLUMN, refuseForeign, REPORT_MARK, type NumberColumns, type ReportNumbers } from "./reportNumbers.ts";
import { numberFormat } from "./sheets.ts";

/** A picture to stand on a report sheet. */
export interface ReportPicture {
  readonly dataUrl: string;
  readonly width: number;
  readonly height: number;
  readonly altText: string;
}

/** Words of a report sheet that belong to the pane's language. */
export interface ReportWords {
  title: string;
  made: string;
  /** What the uncertainties hold, and what they do not. */
  about: string;
  metricName(name: string): string;
  protocol(text: string): string;
  heading(reading: ReportReading): string;
  role(role: ReadingRole): string;
  verdict: string;
  unknown: string;
  fewer: string;
  doubtful(count: number): string;
  /** Heads of the tables below the readings. */
  readonly table: Readonly<Record<"low" | "high" | "log" | "left" | "right" | "bandLow" | "bandHigh" | "weighted" | "box" | "real" | "contact" | "height" | "index" | "gap" | "leastGap" | "load" | "pushOff" | "mass" | "force" | "velocity", string>>;
}

/** A page ready to be written, with the first row that is free for pictures. */
export interface ReportPage {
  readonly sheet: string;
  /** On a new sheet. */
  readonly edits: readonly Edit[];
  /** Over an older page of the same name, of which so many rows and columns are in use. */
  readonly over: (rows: number, columns: number) => readonly Edit[];
  readonly pictureRow?: number;
  readonly pictures?: readonly ReportPicture[];
}

const COLUMN = { date: 0, protocol: 1, quantity: 2, unit: 3, value: 4, u: 5, n: 6, error: 7, freedom: 8 } as const;
const WIDTH = Object.keys(COLUMN).length;
const WIDTHS = [92, 170, 440, 60, 80, 75, 60, 105, 90, 200];
/** Height of a row that nobody set, the lowest of the spreadsheets, px. */
const ROW = 20;
/** Where sentences stand, and how many letters of the sheet's font fit into a line of it. */
const SENTENCE = { column: COLUMN.quantity, letters: 60, line: 19 } as const;

/** Name of the sheet of an athlete: what a sheet's name may hold, no longer than it may be. */
export function reportSheetName(athlete: string): string {
  return `Report ${athlete.replace(/[\\/?*[\]:']/g, " ").trim()}`.slice(0, 31).trim();
}

/** Lines that a text takes in a column: words go over whole, and one that is longer than a line is broken. */
function linesOf(text: string, column: number): number {
  const most = Math.floor((WIDTHS[column]! / WIDTHS[SENTENCE.column]!) * SENTENCE.letters);
  let [lines, used] = [1, 0];
  for (const { length } of text.split(" ")) {
    if (used > 0 && used + 1 + length <= most) {
      used += 1 + length;
      continue;
    }
    if (used > 0) lines += 1;
    for (used = length; used > most; used -= most) lines += 1;
  }
  return lines;
}

/** A page as it grows: rows, looks, and where numbers stand. */
class Page {
  readonly rows: CellInput[][] = [];
  readonly formats: Edit[] = [];

  constructor(readonly sheet: string) {}

  /** Zero-based row that the next line will stand in. */
  get next(): number {
    return this.rows.length;
  }

  /** A line, higher where its text in the wide column needs it: other languages have longer names. */
  add(...cells: CellInput[]): number {
    const text = cells[SENTENCE.column];
    if (typeof text === "string" && linesOf(text, SENTENCE.column) > 1) this.fit([SENTENCE.column], cells);
    return this.rows.push(cells) - 1;
  }

  /** A title, or the heads of columns, as high as the longest of them needs. */
  head(...cells: CellInput[]): number {
    this.format({ row: this.next, column: 0, rows: 1, columns: Math.max(cells.length, 1) }, { bold: true, wrap: cells.length > 1 });
    if (cells.length > 1) this.fit(cells.map((_, column) => column), cells);
    return this.rows.push(cells) - 1;
  }

  /** A sentence in the wide column, as high as it needs to be. */
  sentence(label: string | number, text: string, cell: CellInput = text): number {
    this.fit([0, SENTENCE.column], [label, "", text]);
    return this.rows.push([label, "", cell]) - 1;
  }

  /** Lets the next row be as high as the texts of these columns need. */
  private fit(columns: readonly number[], cells: readonly CellInput[]): void {
    const lines = columns.map((column) => (typeof cells[column] === "string" ? linesOf(cells[column], column) : 1));
    columns.forEach((column, at) => {
      if (lines[at]! > 1) this.format({ row: this.next, column, rows: 1, columns: 1 }, { wrap: true });
    });
    this.formats.push({ kind: "rowHeight", sheet: this.sheet, row: this.next, count: 1, height: Math.max(...lines) * SENTENCE.line + 5 });
  }

  format(range: { row: number; column: number; rows: number; columns: number }, look: { bold?: boolean; wrap?: boolean; numberFormat?: string }): void {
    this.formats.push({ kind: "format", range: { sheet: this.sheet, ...range }, ...look });
  }

  /** The page on a new sheet. */
  edits(): Edit[] {
    return [{ kind: "addSheet", sheet: this.sheet, rows: Math.max(120, this.rows.length + 90), columns: WIDTH + 5 }, ...this.filled(0, 0)];
  }

  /** The page over an older one: cells that it does not fill become blank, looks go back to what is usual. */
  over(rows: number, columns: number): Edit[] {
    const plain: Edit[] = [
      { kind: "format", range: { sheet: this.sheet, row: 0, column: 0, rows: Math.max(rows, this.rows.length), columns: WIDTH + 1 }, bold: false, wrap: false, numberFormat: "General" },
      { kind: "rowHeight", sheet: this.sheet, row: 0, count: Math.max(rows, this.rows.length), height: ROW },
    ];
    return [...plain, ...this.filled(rows, columns)];
  }

  /** `rows` and `columns` at least are written. */
  private filled(rows: number, columns: number): Edit[] {
    const cells = Array.from({ length: Math.max(rows, this.rows.length) }, (_, row): CellInput[] =>
      Array.from({ length: Math.max(columns, WIDTH + 1) }, (__, column) => (row === 0 && column === MARK_COLUMN ? REPORT_MARK : (this.rows[row]?.[column] ?? (row < rows && column < columns ? "" : null)))),
    );
    return [{ kind: "cells", sheet: this.sheet, row: 0, column: 0, cells }, ...WIDTHS.map((width, column): Edit => ({ kind: "columns", sheet: this.sheet, column, count: 1, width })), ...this.formats];
  }
}

/** What the formulas of a page are written with. */
interface Maker {
  readonly page: Page;
  readonly athlete: string;
  readonly numbers: ReportNumbers;
  readonly settings: Settings;
  readonly words: ReportWords;
  readonly units: UnitChoice;
}

/**
 * The page of one athlete as a sheet. Every number is a formula over the sheets of numbers, which are formulas over Trials and plain values of
 * Record; every reading is a formula over the numbers above it, so whoever changes one sees the reading change.
 *
 * @param units Units of the numbers that tests combined are read from. @default SI
 * @returns Edits, and the first row that is free for pictures.
 */
export function athleteReportEdits(report: AthleteReport, numbers: ReportNumbers, settings: Settings, words: ReportWords, units: UnitChoice = SI): ReportPage {
  const page = new Page(reportSheetName(report.athlete));
  const make: Maker = { page, athlete: report.athlete, numbers, settings, words, units };
  page.head(words.title);
  page.add(words.made);
  page.add();
  page.head(...numbersHead(pageTextsOf().sheets.report.quantity));
  for (const { session, lines, doubtful } of report.sessions) {
    for (const { name, unit, result } of lines) sessionRow(make, session, name, unit, result.short);
    if (doubtful > 0) page.add("", "", words.doubtful(doubtful));
  }
  const followed = new Map<Followed, FollowRows>();
  for (const reading of report.readings) {
    page.add();
    page.head(words.heading(reading));
    const about = reading.protocols.map(words.protocol).join(" / ");
    page.sentence(dateSerial(reading.date), about);
    readingLines(make, reading, formulaOf(make, reading, followed));
  }
  page.add();
  for (const text of [words.about, ...resultCautions()]) page.sentence("", text);
  page.format({ row: 4, column: 0, rows: Math.max(1, page.next - 4), columns: 1 }, { numberFormat: "yyyy-mm-dd" });
  return { edits: page.edits(), over: (rows, columns) => page.over(rows, columns), pictureRow: page.next + 1, sheet: page.sheet };
}

/** A part of a reading, `word` for its verdict, as a formula. */
type PartFormula = (what: string) => CellInput;

/** The verdict and the parts of a reading, each a formula. */
function readingLines({ page, words }: Maker, { reading }: ReportReading, formula: PartFormula): void {
  page.sentence(words.verdict, reading.verdictWord, formula("word"));
  for (const role of new Set(reading.parts.map((part) => part.role))) {
    page.sentence(words.role(role), reading.parts.filter((part) => part.role === role).map((part) => part.text).join(" "), formula(role));
  }
}

/** Writes what a reading rests on, and gives its formula. */
function formulaOf(make: Maker, reading: ReportReading, followed: Map<Followed, FollowRows>): PartFormula {
  switch (reading.kind) {
    case "combination":
      return combinationFormula(make, reading.of);
    case "sides":
      return sidesFormula(make, reading.of);
    case "baseline":
    case "change": {
      const rows = followed.get(reading.of) ?? followRows(make, reading.of);
      followed.set(reading.of, rows);
      return reading.kind === "baseline" ? baselineFormula(make, reading.of, rows) : changeFormula(make, reading.of, rows);
    }
    case "drop":
      return dropFormula(make, reading.of);
    case "load":
      return loadFormula(make, reading.of);
  }
}

/** Heads of a table of session values, by `COLUMN`. */
function numbersHead(third: string): readonly string[] {
  const { report } = pageTextsOf().sheets;
  return [report.date, report.protocol, third, report.unit, report.value, report.u, report.n, report.error, report.freedom];
}

// ── Numbers of sessions ────────────────────────────────────────────────────────────────────────────────────────────────

/** Trials of one athlete, day and protocol that count and have a number in every one of these columns. */
function ownTrials(columns: NumberColumns, who: string, date: string, protocol: string, names: readonly string[]): string {
  return `(${columns.key}=${who}&" "&${date}&" "&${protocol})${names.map((name) => `*ISNUMBER(${columns.column(name)})`).join("")}`;
}

function quoted(text: string): string {
  return `"${text.replaceAll('"', '""')}"`;
}

/** How the trials of a session make one number, as arguments. */
function ruleOf(name: string, settings: Settings): { readonly rule: "mean" | "best"; readonly arguments: string } {
  const { better } = resolveMetricName(name).base;
  const rule = settings.values["session-value"] === "best" && better !== "neither" ? "best" : "mean";
  return { rule, arguments: `"${rule}",${Number(settings.values["session-trials"])},"${better === "lower" ? "lower" : "higher"}"` };
}

/** A number of a session as a formula over the trials; `row` holds its date and protocol. */
function sessionFormula(columns: NumberColumns, who: string, row: number, name: string, settings: Settings, what: string): string {
  const mine = ownTrials(columns, who, cellAddress(row, COLUMN.date), cellAddress(row, COLUMN.protocol), [name]);
  return `LEAP.SESSION_VALUE(FILTER(${columns.column(name)},${mine}),,${ruleOf(name, settings).arguments},"${what}")`;
}

/** Value, uncertainty, n, typical error and its degrees of freedom. */
function numberCells(numbers: ReportNumbers, who: string, row: number, protocolText: string, name: string, settings: Settings): CellInput[] {
  const session = (what: string): string => sessionFormula(numbers.trials, who, row, name, settings, what);
  const squad = numbers.withinDay(protocolText, name);
  const [n, te, df] = [COLUMN.n, COLUMN.error, COLUMN.freedom].map((column) => cellAddress(row, column));
  const shared = ruleOf(name, settings).rule === "mean" ? `${te}/SQRT(${n})` : te;
  return [
    { formula: `=IFERROR(${session("value")},"")` },
    { formula: `=IF(N(${df})>N(${n})-1,IFERROR(${shared},""),IFERROR(${session("u")},""))` },
    { formula: `=IFERROR(${session("count")},"")` },
    { formula: `=${squad.error}` },
    { formula: `=${squad.freedom}` },
  ];
}

/** A line with a number of a session and all that must be said beside it. */
function sessionRow({ page, athlete, numbers, settings, words }: Maker, session: Session, name: string, unit: string, short = false): number {
  const row = page.next;
  formatNumbers(page, row, 1, name);
  return page.add(dateSerial(session.date), session.protocolText, words.metricName(name), unit, ...numberCells(numbers, quoted(athlete), row, session.protocolText, name, settings), note(cellAddress(row, COLUMN.u), words.unknown, short ? words.fewer : ""));
}

/** How values, uncertainties and typical errors of some rows look. */
function formatNumbers(page: Page, row: number, rows: number, name: string): void {
  page.format({ row, column: COLUMN.value, rows, columns: 1 }, { numberFormat: numberFormat(name) });
  for (const column of [COLUMN.u, COLUMN.error]) page.format({ row, column, rows, columns: 1 }, { numberFormat: numberFormat(name, "uncertainties") });
}

/** What must be said beside a number: that its uncertainty is not known, that it has fewer trials than the others. */
function note(u: string, unknown: string, fewer: string): CellInput {
  return { formula: `=IF(${u}="",${quoted(fewer === "" ? unknown : `${unknown}; ${fewer}`)},${quoted(fewer)})` };
}

/** Degrees of freedom of the uncertainty in a row: those of the typical error where it was used. */
function freedom(row: number): string {
  return `MAX(N(${cellAddress(row, COLUMN.freedom)}),N(${cellAddress(row, COLUMN.n)})-1)`;
}

// ── Tests combined ─────────────────────────────────────────────────────────────────────────────────────────────────────

const RATIOS: Readonly<Record<Combination, { readonly kind: string; readonly percentage: boolean; readonly cuts?: readonly [string, string] }>> = {
  eccentricUtilisation: { kind: "EUR", percentage: false, cuts: ["eur-low", "eur-high"] },
  prestretchAugmentation: { kind: "PRESTRETCH_AUGMENTATION", percentage: true, cuts: ["eur-low", "eur-high"] },
  dynamicStrength: { kind: "DSI", percentage: false, cuts: ["dsi-low", "dsi-high"] },
  armSwing: { kind: "ARM_SWING", percentage: true },
  bilateral: { kind: "BILATERAL_INDEX", percentage: true },
};

/** The parts first, then the ratio and its limits, each a line; then the reading of them. */
function combinationFormula(make: Maker, { kind, name, unit: si, results, combined }: AthleteCombination): PartFormula {
  const { page, settings, words, units } = make;
  const { kind: id, percentage, cuts } = RATIOS[kind];
  const { unit } = shownUnit(si, units);
  const rows = results.map((result) => sessionRow(make, result.session, withUnits([name], units)[0]!, unit, result.short));
  const net = combined?.basis === "net" ? bodyWeightRow(make, results[0]!.session) : undefined;
  const cell = (row: number, column: number): string => cellAddress(row, column);
  const value = rows.map((row) => cell(row, COLUMN.value));
  const u = rows.map((row) => cell(row, COLUMN.u));
  const n = rows.map((row) => cell(row, COLUMN.n));
  // The text of like trials names the instrument too, which is no part of a protocol.
  const protocols = rows.map((row, at) => (results[at]!.session.instrument === "plate" ? cell(row, COLUMN.protocol) : quoted(formatProtocol(results[at]!.session.protocol))));
  const weight = net === undefined ? "" : cell(net, COLUMN.value);
  const off = weight === "" ? "" : `-${weight}`;
  const level = Number(settings.values["ratio-level"]) / 100;
  const method = String(settings.values["ratio-interval"]);
  const df = `MIN(${rows.map(freedom).join(",")})`;
  const limits = kind === "bilateral" ? `${value[0]},${u[0]},${value[1]}+${value[2]},SQRT(${u[1]}^2+${u[2]}^2)` : `${value[0]}${off},${u[0]},${value[1]}${off},${u[1]}`;
  const limit = (at: 1 | 2): string => {
    const ratio = `INDEX(LEAP.RATIO_INTERVAL(${limits},,${level},"${method}",${df}),1,${at})`;
    return `=IFERROR(${percentage ? `100*(${ratio}-1)` : ratio},"")`;
  };
  const ratio = kind === "dynamicStrength" ? `${value.join(",")},${weight},${protocols.join(",")}` : `${value.join(",")},${protocols.join(",")}`;
  const first = page.next;
  page.format({ row: first, column: COLUMN.value, rows: 3, columns: 1 }, { numberFormat: percentage ? "0.0" : "0.000" });
  const shown = percentage ? "%" : "";
  page.add("", "", words.heading({ kind: "combination", about: `${kind} ${name} ${combined?.basis ?? ""}`.trim() } as ReportReading), shown, { formula: `=IFERROR(LEAP.${id}(${ratio}),"")` });
  page.add("", "", words.table.low, shown, { formula: limit(1) });
  page.add("", "", words.table.high, shown, { formula: limit(2) });
  const printed = `${quoted(name)},${quoted(unit)}`;
  if (kind === "bilateral") return (what) => ({ formula: `=LEAP.READ_BILATERAL(${value.join(",")},${u.join(",")},${printed},"${what}",${protocols.join(",")},${level},${df},${n.join(",")},"${method}")` });
  const cut = cuts === undefined ? "" : `{${cuts.map((each) => String(settings.values[each])).join(",")}}`;
  return (what) => ({ formula: `=LEAP.READ_RATIO("${id}",${value.join(",")},${u.join(",")},${protocols.join(",")},${weight},${printed},"${what}",${cut},${level},${df},${n.join(",")},"${method}")` });
}

/** Body weight of a session, to be taken off both forces. */
function bodyWeightRow({ page, athlete, numbers, settings, words }: Maker, session: Session): number {
  const row = page.next;
  page.format({ row, column: COLUMN.value, rows: 1, columns: 1 }, { numberFormat: "0.0" });
  return page.add(dateSerial(session.date), session.protocolText, words.metricName("bodyWeight"), "N", { formula: `=IFERROR(${sessionFormula(numbers.trials, quoted(athlete), row, "bodyWeight", settings, "value")},"")` });
}

// ── Left and right ─────────────────────────────────────────────────────────────────────────────────────────────────────

const SIDE = { percentage: 4, log: 5, n: 6, left: 7, right: 8 } as const;

/** A line for each session: means of both sides, the percentage by its formula, and the log ratio that tells the side. */
function sidesFormula({ page, athlete, numbers, settings, words }: Maker, all: readonly Sides[]): PartFormula {
  const { design, name, unit, formula: formulaName } = all[all.length - 1]!;
  const formula = asymmetryFormulaByName(formulaName).id;
  const { trials } = numbers;
  const single = design === "singleLeg";
  const [left, right] = single ? [name, name] : [`${name}Left`, `${name}Right`];
  const { report } = pageTextsOf().sheets;
  page.head(report.date, report.protocol, words.metricName(name), report.unit, inLanguage(formulaName), words.table.log, report.n, words.table.left, words.table.right);
  const first = page.next;
  const sides = all.map(({ date, protocols }) => {
    const row = page.next;
    const above = (side: string): string => `(IFERROR(${trials.column(side)},0)>0)`;
    const mine = (protocol: string): string => ownTrials(trials, quoted(athlete), cellAddress(row, COLUMN.date), protocol, []);
    const own = cellAddress(row, COLUMN.protocol);
    const both = `${mine(own)}*${above(left)}*${above(right)}`;
    const ranges = single
      ? [`FILTER(${trials.column(left)},${mine(own)}*ISNUMBER(${trials.column(left)}))`, `FILTER(${trials.column(right)},${mine(quoted(protocols[1]!))}*ISNUMBER(${trials.column(right)}))`]
      : [`FILTER(${trials.column(left)},${both})`, `FILTER(${trials.column(right)},${both})`];
    const [leftMean, rightMean] = [cellAddress(row, SIDE.left), cellAddress(row, SIDE.right)];
    page.add(
      dateSerial(date), protocols[0]!, protocols.length > 1 ? words.protocol(protocols[1]!) : "", "%",
      { formula: `=IFERROR(LEAP.ASYMMETRY(${leftMean},${rightMean},"${formula}"),"")` },
      { formula: `=IFERROR(LEAP.ASYMMETRY(${leftMean},${rightMean},"logRatio"),"")` },
      { formula: `=IFERROR(ROWS(${ranges[0]}),"")` },
      { formula: `=IFERROR(AVERAGE(${ranges[0]}),"")` },
      { formula: `=IFERROR(AVERAGE(${ranges[1]}),"")` },
    );
    return { row, ranges };
  });
  const last = sides[sides.length - 1]!;
  page.format({ row: first, column: SIDE.percentage, rows: sides.length, columns: 2 }, { numberFormat: "0.0" });
  page.format({ row: first, column: SIDE.left, rows: sides.length, columns: 2 }, { numberFormat: numberFormat(name) });
  const earlier = sides.length > 1 ? `${cellAddress(first, SIDE.log)}:${cellAddress(last.row - 1, SIDE.log)}` : "";
  const rule = settings.values["asymmetry-verdict"];
  return (what) => ({ formula: `=LEAP.READ_ASYMMETRY(${last.ranges.join(",")},"${design}","${formula}",${quoted(name)},${quoted(unit)},"${what}",${earlier},"${rule}")` });
}

// ── Over time ──────────────────────────────────────────────────────────────────────────────────────────────────────────

interface FollowRows {
  /** Row of each session, oldest first. */
  readonly rows: readonly number[];
  /** Earlier sessions of like protocol, as a range of values. */
  readonly history: (at: number) => string;
  readonly error: string;
  readonly freedom: string;
  readonly worthwhile: string;
}

const FOLLOW = { value: 4, low: 5, n: 6, high: 7, weighted: 8 } as const;

/** A line for each recorded session with the band from the sessions before it. */
function followRows({ page, athlete, numbers, settings, words }: Maker, followed: Followed): FollowRows {
  const { name, unit, points, last } = followed;
  const inError = settings.values["baseline-band"] === "typical error";
  const { report } = pageTextsOf().sheets;
  page.head(report.date, report.protocol, report.quantity, report.unit, report.value, words.table.bandLow, report.n, words.table.bandHigh, words.table.weighted);
  const first = page.next;
  const history = (at: number): string => {
    const upTo = (column: number): string => `${cellAddress(first, column)}:${cellAddress(first + at - 1, column)}`;
    return `FILTER(${upTo(FOLLOW.value)},(${upTo(COLUMN.protocol)}=${cellAddress(first + at, COLUMN.protocol)})*ISNUMBER(${upTo(FOLLOW.value)}))`;
  };
  const rows = points.map(({ date, protocolText }, at) => {
    const row = page.next;
    const squad = numbers.betweenDays(protocolText, name, protocolText === points[points.length - 1]!.protocolText ? last : undefined);
    const band = (what: string): CellInput => (at === 0 ? "" : { formula: `=IFERROR(LEAP.BASELINE(${history(at)},${cellAddress(row, FOLLOW.value)},${inError ? `${squad.error},${squad.freedom}` : ","},${Number(settings.values["baseline-sessions"])},,"${what}"),"")` });
    const session = (what: string): CellInput => ({ formula: `=IFERROR(${sessionFormula(numbers.recorded, quoted(athlete), row, name, settings, what)},"")` });
    return page.add(dateSerial(date), protocolText, words.metricName(name), unit, session("value"), band("low"), session("count"), band("high"), at === 0 ? "" : { formula: `=IFERROR(LEAP.EWMA(${history(at)},${Number(settings.values["ewma-weight"])}),"")` });
  });
  page.format({ row: first, column: FOLLOW.value, rows: rows.length, columns: 2 }, { numberFormat: numberFormat(name) });
  page.format({ row: first, column: FOLLOW.high, rows: rows.length, columns: 2 }, { numberFormat: numberFormat(name) });
  return { rows, history, ...numbers.betweenDays(points[points.length - 1]!.protocolText, name, last) };
}

function baselineFormula({ settings, words }: Maker, { name, unit }: Followed, { rows, history, error, freedom: df }: FollowRows): PartFormula {
  const at = rows.length - 1;
  const squad = settings.values["baseline-band"] === "typical error" ? `${error},${df}` : ",";
  return (what) => ({ formula: `=LEAP.READ_BASELINE(${history(at)},${cellAddress(rows[at]!, FOLLOW.value)},${squad},${Number(settings.values["baseline-sessions"])},,${quoted(words.metricName(name))},${quoted(unit)},"${what}")` });
}

function changeFormula({ settings, words }: Maker, { name, unit, points }: Followed, { rows, error, freedom: df, worthwhile }: FollowRows): PartFormula {
  const at = points.length - 1;
  let before = at - 1;
  while (before > 0 && points[before]!.protocolText !== points[at]!.protocolText) before -= 1;
  const { better } = resolveMetricName(name).base;
  const value = (point: number): string => cellAddress(rows[point]!, FOLLOW.value);
  return (what) => ({
    formula: `=LEAP.READ_CHANGE(${value(before)},${value(at)},${error},${worthwhile},${df},${Number(settings.values["change-level"]) / 100},${quoted(words.metricName(name))},${quoted(unit)},"${better}","${what}","${settings.values["change-display"] === "probability" ? "probability" : "interval"}")`,
  });
}

// ── Profiles ───────────────────────────────────────────────────────────────────────────────────────────────────────────

const DROP = { box: 2, real: 3, index: 4, contact: 5, n: 6, height: 7, gap: 8, leastGap: 9 } as const;

/** A line for each drop height. */
function dropFormula({ page, athlete, numbers, settings, words }: Maker, { sessions }: DropResult): PartFormula {
  const { table } = words;
  const { report } = pageTextsOf().sheets;
  page.head(report.date, report.protocol, table.box, table.real, table.index, table.contact, report.n, table.height, table.gap, table.leastGap);
  const first = page.next;
  const last = first + sessions.length - 1;
  const range = (column: number): string => `${cellAddress(first, column)}:${cellAddress(last, column)}`;
  const squad = numbers.overDropHeights(sessions[0]!.instrument);
  const limit = Number(settings.values["fast-contact-limit"]);
  const measured = settings.values["drop-height-basis"] === "measured";
  const shared = `${range(DROP.box)},${range(DROP.index)},${range(DROP.contact)},${squad.error},${range(DROP.n)},${range(DROP.height)},${limit}`;
  sessions.forEach((session, at) => {
    const row = page.next;
    const value = (name: string, what = "value"): CellInput => ({ formula: `=IFERROR(${sessionFormula(numbers.trials, quoted(athlete), row, name, settings, what)},"")` });
    const gap = (column: number): CellInput => ({ formula: `=IFERROR(INDEX(LEAP.DROP_PROFILE(${shared},,${squad.freedom}),${at + 2},${column}),"")` });
    page.add(dateSerial(session.date), session.protocolText, session.protocol.dropHeight!, measured ? value("measuredDropHeight") : "", value("rsi"), value("contactTime"), value("rsi", "count"), value("jumpHeight"), gap(7), gap(8));
  });
  page.format({ row: first, column: DROP.box, rows: sessions.length, columns: 1 }, { numberFormat: "0.00" });
  page.format({ row: first, column: DROP.real, rows: sessions.length, columns: 3 }, { numberFormat: "0.000" });
  page.format({ row: first, column: DROP.height, rows: sessions.length, columns: 3 }, { numberFormat: "0.000" });
  return (what) => ({ formula: `=LEAP.READ_DROP_PROFILE(${shared},"${what}",${squad.freedom},${range(DROP.real)})` });
}

const LOAD = { load: 2, height: 4, pushOff: 5, n: 6, mass: 7, force: 8, velocity: 9 } as const;

/** A line for each load. */
function loadFormula({ page, athlete, numbers, settings, words }: Maker, { sessions }: LoadResult): PartFormula {
  const { table } = words;
  const { report } = pageTextsOf().sheets;
  page.head(report.date, report.protocol, table.load, "", table.height, table.pushOff, report.n, table.mass, table.force, table.velocity);
  const first = page.next;
  const last = first + sessions.length - 1;
  const range = (column: number): string => `${cellAddress(first, column)}:${cellAddress(last, column)}`;
  const gravity = Number(settings.values["gravity"]);
  const g = Number.isFinite(gravity) ? String(gravity) : "";
  const shared = `${range(LOAD.load)},${range(LOAD.height)},AVERAGE(${range(LOAD.mass)}),AVERAGE(${range(LOAD.pushOff)})`;
  sessions.forEach((session, at) => {
    const row = page.next;
    const value = (name: string, what = "value"): CellInput => ({ formula: `=IFERROR(${sessionFormula(numbers.trials, quoted(athlete), row, name, settings, what)},"")` });
    const point = (column: number): CellInput => ({ formula: `=IFERROR(INDEX(LEAP.LOAD_PROFILE(${shared},"points",,${g}),${at + 2},${column}),"")` });
    page.add(dateSerial(session.date), session.protocolText, session.protocol.load ?? 0, "", value("jumpHeight"), value("pushOffDistance"), value("jumpHeight", "count"), value("bodyMass"), point(3), point(4));
  });
  page.format({ row: first, column: LOAD.load, rows: sessions.length, columns: 1 }, { numberFormat: "0.0" });
  page.format({ row: first, column: LOAD.height, rows: sessions.length, columns: 2 }, { numberFormat: "0.000" });
  page.format({ row: first, column: LOAD.mass, rows: sessions.length, columns: 2 }, { numberFormat: "0.0" });
  page.format({ row: first, column: LOAD.velocity, rows: sessions.length, columns: 1 }, { numberFormat: "0.00" });
  return (what) => ({ formula: `=LEAP.READ_LOAD_PROFILE(${shared},"${what}",,${g})` });
}

// ── The squad ──────────────────────────────────────────────────────────────────────────────────────────────────────────

/** The page of the squad: one block for each protocol, values and places as formulas. */
export function squadReportEdits(squads: readonly Squad[], numbers: ReportNumbers, settings: Settings, words: Pick<ReportWords, "title" | "made" | "about" | "metricName" | "protocol">): ReportPage {
  const page = new Page("Report squad");
  page.head(words.title);
  page.add(words.made);
  for (const { name, results, protocolText, unit } of squads) {
    if (results.size === 0) continue;
    page.add();
    page.head(`${words.metricName(name)}${unit === "" ? "" : `, ${unit}`}: n = ${results.size}`);
    page.sentence("", words.protocol(protocolText));
    // Names of people are found below this head where codes take their place: it is the same in every language.
    page.head(...numbersHead("athlete"));
    const first = page.next;
    for (const [athlete, result] of results) {
      const row = page.next;
      page.add(dateSerial(result.session.date), protocolText, athlete, unit, ...numberCells(numbers, cellAddress(row, COLUMN.quantity), row, protocolText, name, settings));
    }
    const range = (column: number): string => `${cellAddress(first, column)}:${cellAddress(first + results.size - 1, column)}`;
    formatNumbers(page, first, results.size, name);
    page.format({ row: first, column: 0, rows: results.size, columns: 1 }, { numberFormat: "yyyy-mm-dd" });
    const { better } = resolveMetricName(name).base;
    const { trials } = numbers;
    const mine = `(${trials.kept}=${cellAddress(first, COLUMN.protocol)})*ISNUMBER(${trials.column(name)})`;
    const rule = ruleOf(name, settings);
    const between = `LEAP.TYPICAL_ERROR_TRIALS(FILTER(${trials.athlete},${mine}),FILTER(${trials.date},${mine}),FILTER(${trials.column(name)},${mine}),"between days",,"${rule.rule}",${Number(settings.values["session-trials"])},,"${better === "lower" ? "lower" : "higher"}")`;
    // Names end at a gap: codes take the place of what stands below their head.
    page.add();
    // Without two sessions of two people the error within a day stands in, by the fewest trials behind a value; it is too small.
    page.add("", "", pageTextsOf().sheets.report.betweenDays, unit, { formula: `=IFERROR(${between},"")` });
    const within = page.add("", "", pageTextsOf().sheets.report.forPlaces, unit, { formula: `=IF(N(${cellAddress(page.next - 1, COLUMN.value)})>0,${cellAddress(page.next - 1, COLUMN.value)},IFERROR(${cellAddress(first, COLUMN.error)}/SQRT(MIN(${range(COLUMN.n)})),""))` });
    page.format({ row: within - 1, column: COLUMN.value, rows: 2, columns: 1 }, { numberFormat: numberFormat(name, "uncertainties") });
    page.add();
    if (results.size > 1) {
      // What is spilled: a head, values with T scores, then n, mean, standard deviation and margin below the values.
      const [spilledAt, after] = [page.next + 1, page.next + 1 + results.size];
      const looks = [[spilledAt, results.size, 0, numberFormat(name)], [spilledAt, results.size, 1, "0.0"], [after, 1, 0, "0"], [after + 1, 1, 0, numberFormat(name)], [after + 2, 2, 0, numberFormat(name, "uncertainties")]] as const;
      for (const [row, rows, right, look] of looks) page.format({ row, column: COLUMN.quantity + 1 + right, rows, columns: 1 }, { numberFormat: look });
      page.add("", "", { formula: `=IFERROR(LEAP.SQUAD_TABLE(${range(COLUMN.quantity)},${range(COLUMN.value)},${better === "neither" ? "" : cellAddress(within, COLUMN.value)},"${better === "lower" ? "lower" : "higher"}"),"")` });
      for (let spilled = 0; spilled < results.size + 5; spilled++) page.add();
    }
  }
  page.add();
  for (const text of [words.about, ...resultCautions()]) page.sentence("", text);
  return { edits: page.edits(), over: (rows, columns) => page.over(rows, columns), pictureRow: page.next + 1, sheet: page.sheet };
}

/**
 * Writes report sheets anew in one step, each with its pictures; undoing it brings the old ones back. A sheet of the same name
 * that is no report is left alone.
 */
export async function writeReports(host: SheetHost, pages: readonly ReportPage[], numbers: readonly Edit[] = []): Promise<Applied> {
  const old = await refuseForeign(host, pages.map(({ sheet }) => sheet));
  const label = pages.length === 1 ? pages[0]!.sheet : `${pages.length} report sheets`;
  const edits = [...numbers];
  for (const page of pages) {
    const before = old.find((name) => name.toLowerCase() === page.sheet.toLowerCase());
    const used = before === undefined ? undefined : await host.usedRange(before);
    // Written over, not deleted: what other sheets read of it stays, and what stood there can be put back.
    edits.push(...(used === undefined ? page.edits : page.over(used.row + used.rows, used.column + used.columns)));
  }
  // After the cells: where a picture ends depends on the widths and heights that they are given.
  for (const sheet of old) edits.push({ kind: "takePictures", of: "report", sheet });
  for (const { sheet, pictureRow = 0, pictures = [] } of pages) {
    let row = pictureRow;
    for (const picture of pictures) {
      edits.push({ kind: "picture", of: "report", ...picture, sheet, row, column: 0 });
      row += Math.ceil(picture.height / ROW) + 1;
    }
  }
  return host.apply(edits, { label });
}
