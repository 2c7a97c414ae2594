import { mergeRefTokens, parseA1Ref, stringifyA1Ref, tokenize } from "@borgar/fx";
import type { FileCell, FileSheet, FileTable, FileValue, WorkbookFile } from "../../src/workbook/WorkbookFile.ts";
import { reportSheetName } from "./report.ts";
import { MARK_COLUMN, REPORT_MARK } from "./reportNumbers.ts";

/** Which code stands for which name: kept by the person, and the only way back. */
export interface NameKey {
  readonly format: typeof FORMAT;
  readonly version: 1;
  readonly people: Readonly<Record<string, string>>;
  /** Recordings, whose file names often hold the names of people. */
  readonly files: Readonly<Record<string, string>>;
}

/** A workbook with codes in place of names. */
export interface CodedWorkbook {
  readonly file: WorkbookFile;
  readonly key: NameKey;
  /** Cells in which part of a name still stands, such as a first name in a note: for the person to look at. */
  readonly left: readonly { readonly sheet: string; readonly row: number; readonly column: number; readonly text: string }[];
}

const FORMAT = "leapsheet-name-key";
/** Heads of columns that name people, and recordings. */
const PEOPLE = ["athlete", "student"];
const FILES = ["file"];
/** Letters and digits that nobody confuses when reading them aloud. */
const ALPHABET = "23456789ABCDEFGHJKMNPQRSTUVWXYZ";
const CODE_LENGTH = 5;
/** Parts of a name shorter than this are not looked for: they are initials and particles. */
const LEAST_PART = 3;

/**
 * Replaces people and recordings by codes, for a copy that others may see: in the columns headed `athlete`, `student` and `file`, and
 * wherever else a name of two words or more stands, in sheet names and formulas too. Pictures are left out, since what they
 * show cannot be read.
 *
 * @param random From zero up to one; what cannot be guessed, for a copy that is given away.
 */
export function codeNames(file: WorkbookFile, random: () => number): CodedWorkbook {
  const taken = new Set<string>();
  const everything = JSON.stringify(file.sheets.map(({ name, cells }) => [name, cells.map(({ value, formula }) => [value, formula])])).toUpperCase();
  const code = (prefix: string): string => {
    for (;;) {
      const made = `${prefix}-${Array.from({ length: CODE_LENGTH }, () => ALPHABET[Math.floor(random() * ALPHABET.length)]).join("")}`;
      if (!taken.has(made) && !everything.includes(made)) {
        taken.add(made);
        return made;
      }
    }
  };
  const codes = (headings: readonly string[], prefix: string): Map<string, string> => {
    const found = new Map<string, string>();
    for (const name of headed(file, headings)) if (!found.has(name)) found.set(name, code(prefix));
    return found;
  };
  const people = codes(PEOPLE, "P");
  const files = codes(FILES, "F");
  const coded = replaced(file, new Map([...people, ...files]));
  const key: NameKey = { format: FORMAT, version: 1, people: turned(people), files: turned(files) };
  const parts = [...people.keys()].flatMap((name) => name.split(/[^\p{L}\p{N}]+/u)).filter((part) => part.length >= LEAST_PART);
  const part = parts.length === 0 ? undefined : wholeWords(parts);
  const left = coded.sheets.flatMap(({ name: sheet, cells }) =>
    cells.flatMap(({ row, column, value }) => (typeof value === "string" && part !== undefined && value.search(part) >= 0 ? [{ sheet, row, column, text: value.slice(0, 200) }] : [])),
  );
  return { file: { ...coded, sheets: coded.sheets.map(({ pictures: _, ...sheet }) => sheet) }, key, left };
}

/** Puts the names of a key back where its codes stand. */
export function namesAgain(file: WorkbookFile, key: NameKey): WorkbookFile {
  return replaced(file, new Map([...Object.entries(key.people), ...Object.entries(key.files)]));
}

/** A key as the text of a file. */
export function keyText(key: NameKey): string {
  return `${JSON.stringify(key, undefined, 1)}\n`;
}

/**
 * Reads the text of a key file.
 *
 * @throws {Error} A sentence for the person.
 */
export function readKeyText(text: string): NameKey {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    throw new Error("this file is not a key to names, or it is damaged; nothing was changed");
  }
  const key = value as Partial<NameKey> | null;
  if (key?.format !== FORMAT || key.version !== 1 || !isTable(key.people) || !isTable(key.files)) throw new Error("this file is not a key to names; nothing was changed");
  return { format: FORMAT, version: 1, people: { ...key.people }, files: { ...key.files } };
}

function isTable(value: unknown): value is Readonly<Record<string, string>> {
  return typeof value === "object" && value !== null && !Array.isArray(value) && Object.values(value).every((entry) => typeof entry === "string");
}

function turned(codes: ReadonlyMap<string, string>): Record<string, string> {
  return Object.fromEntries([...codes].map(([name, code]) => [code, name]));
}

/** Texts below every head cell of these names, as far down as the sheet goes, on pages of a report down to the first gap; capitals do not matter. */
function headed(file: WorkbookFile, headings: readonly string[]): readonly string[] {
  const found = new Map<string, string>();
  for (const { cells } of file.sheets) {
    const report = cells.some(({ row, column, value }) => row === 0 && column === MARK_COLUMN && value === REPORT_MARK);
    for (const head of cells.filter(({ value }) => headings.includes(plain(value)))) {
      const end = report ? gapBelow(head, cells) : Infinity;
      for (const { row, column, value } of cells) {
        if (column !== head.column || row <= head.row || row >= end || typeof value !== "string") continue;
        const name = value.trim();
        if (name !== "" && !headings.includes(name.toLowerCase()) && !found.has(name.toLowerCase())) found.set(name.toLowerCase(), name);
      }
    }
  }
  return [...found.values()];
}

/** The first row below a cell in which its column is blank. */
function gapBelow(head: FileCell, cells: readonly FileCell[]): number {
  const filled = new Set(cells.filter(({ column, value }) => column === head.column && plain(value) !== "").map(({ row }) => row));
  let row = head.row + 1;
  while (filled.has(row)) row += 1;
  return row;
}

/** Every place of a workbook with words replaced: whole cells, and words of several parts within texts. */
function replaced(file: WorkbookFile, words: ReadonlyMap<string, string>): WorkbookFile {
  if (words.size === 0) return file;
  const lower = new Map([...words].map(([from, to]) => [from.toLowerCase(), to]));
  const whole = (text: string): string | undefined => lower.get(text.trim().toLowerCase());
  const long = [...words.keys()].filter((word) => /[^\p{L}]/u.test(word));
  const within = long.length === 0 ? undefined : wholeWords(long);
  const inText = (text: string): string => (within === undefined ? text : text.replace(within, (found) => lower.get(found.toLowerCase()) ?? found));
  const sheetNames = new Map<string, string>();
  for (const { name } of file.sheets) {
    const entry = [...words].find(([from]) => reportSheetName(from) === name);
    const next = entry ? reportSheetName(entry[1]) : (whole(name) ?? inText(name));
    if (next !== name) sheetNames.set(name, next.slice(0, 31));
  }
  const inFormula = (formula: string): string =>
    mergeRefTokens(tokenize(formula))
      .map(({ type, value }) => {
        if (type === "string") {
          const text = value.slice(1, -1).replaceAll('""', '"');
          return `"${(whole(text) ?? inText(text)).replaceAll('"', '""')}"`;
        }
        if (sheetNames.size === 0 || !value.includes("!")) return value;
        const reference = parseA1Ref(value) as { context?: string[] } | undefined;
        const sheet = sheetNames.get(reference?.context?.[0] ?? "");
        return sheet === undefined ? value : stringifyA1Ref({ ...reference, context: [sheet] } as never);
      })
      .join("");
  const cell = (given: FileCell, named: boolean): FileCell => {
    const { value, formula } = given;
    const text = typeof value === "string" ? ((named || long.some((word) => word.toLowerCase() === value.trim().toLowerCase()) ? whole(value) : undefined) ?? inText(value)) : value;
    return { ...given, value: text, ...(formula === undefined ? {} : { formula: inFormula(formula) }) };
  };
  const table = (given: FileTable): FileTable => ({ ...given, columns: given.columns.map(inText) });
  const sheet = (given: FileSheet): FileSheet => {
    const named = new Set(given.cells.filter(({ value }) => [...PEOPLE, ...FILES].includes(plain(value))).map(({ column }) => column));
    return {
      ...given,
      name: sheetNames.get(given.name) ?? given.name,
      cells: given.cells.map((each) => cell(each, named.has(each.column))),
      ...(given.tables === undefined ? {} : { tables: given.tables.map(table) }),
      ...(given.charts === undefined ? {} : { charts: given.charts.map((chart) => ({ ...chart, title: inText(chart.title), series: chart.series.map((series) => ({ ...series, name: inText(series.name) })) })) }),
    };
  };
  return { sheets: file.sheets.map(sheet), names: file.names.map(({ name, refersTo }) => ({ name, refersTo: inFormula(`=${refersTo}`).slice(1) })) };
}

/** Any of these words, not within a longer one; the longest first. */
function wholeWords(words: readonly string[]): RegExp {
  const escaped = [...words].sort((a, b) => b.length - a.length).map((word) => word.replace(/[.*+?^${}()|[\]\\]/g, "\\$&"));
  return new RegExp(`(?<![\\p{L}\\p{N}])(?:${escaped.join("|")})(?![\\p{L}\\p{N}])`, "giu");
}

function plain(value: FileValue): string {
  return typeof value === "string" ? value.trim().toLowerCase() : "";
}
