import { InputError } from "../errors.ts";
import type { DecimalMark, Delimiter, ImportRecipe } from "./ImportRecipe.ts";
import { isNumberText } from "./isNumberText.ts";
import { MAX_COLUMNS } from "./limits.ts";
import { textOf } from "./textBytes.ts";

/** How the lines of a text are cut into fields, and where its numbers begin. */
export interface TextLayout {
  readonly delimiter: Delimiter;
  readonly decimal: DecimalMark;
  /** Whether fields stand in quotation marks, within which the delimiter is text. */
  readonly quoted: boolean;
  /** Fields of a line of numbers. */
  readonly fields: number;
  /** Lines before the first line of numbers, as written. */
  readonly head: readonly string[];
  /** First byte of the first line of numbers. */
  readonly dataStart: number;
  readonly whyDelimiter: string;
  readonly whyDecimal: string;
  /** Whether another reading of the same lines is as good. */
  readonly sure: boolean;
}

export const DELIMITER_CHARACTERS: Readonly<Record<Delimiter, string>> = { comma: ",", semicolon: ";", tab: "\t", spaces: " ", pipe: "|" };
const DELIMITER_NAMES: Readonly<Record<Delimiter, string>> = { comma: "a comma", semicolon: "a semicolon", tab: "a tab", spaces: "spaces", pipe: "a vertical bar" };
/** In order of preference where lines read equally well. */
const ORDER: readonly Delimiter[] = ["tab", "semicolon", "pipe", "comma", "spaces"];
const MARKS: readonly DecimalMark[] = [".", ","];
const HEAD_LINES = 2000;
const HEAD_BYTES = 4 * 2 ** 20;
const LONGEST_LINE = 2 ** 20;
/** A shorter file is looked at from its start, a longer one in some places, each a part of its length. */
const SHORT_BYTES = 16_384;
const PLACES = [0.2, 0.4, 0.6, 0.8];
const LINES_OF_PLACE = 5;
/** Longer ones are left to those who read them one by one. */
const LONGEST_PLAIN_NUMBER = 40;
/** Lines that must follow the first line of numbers and be of its kind, fewer where the file ends. */
const FOLLOWERS = 5;

/**
 * Finds delimiter, decimal mark and head of a text of numbers, from lines spread over the whole file.
 *
 * @param bytes Text, UTF-8, no unit.
 * @param recipe What is known already; it is not questioned.
 * @returns The layout, no unit.
 * @throws {InputError} `not-recognised` if no delimiter cuts the lines into numbers.
 */
export function textLayout(bytes: Uint8Array, recipe: ImportRecipe = {}): TextLayout {
  const reading = plainReading(bytes, recipe) ?? readingOfLines(spreadLines(bytes), bytes, recipe);
  const { head, dataStart } = findHead(bytes, reading, recipe.headerLines);
  refuseDoubleComma(reading, head, bytes, dataStart);
  return {
    delimiter: reading.delimiter,
    decimal: reading.decimal,
    quoted: reading.quoted,
    fields: reading.fields,
    head,
    dataStart,
    sure: reading.sure,
    whyDelimiter: recipe.delimiter
      ? "as you said"
      : reading.fields === 1
        ? "every line holds one number"
        : `${DELIMITER_NAMES[reading.delimiter]} cuts every line into ${reading.fields} fields`,
    whyDecimal: recipe.decimal ? "as you said" : reading.decimal === "," ? "numbers hold a comma before their decimals" : "numbers hold a point before their decimals, or none",
  };
}

/** The fields of a line; quotation marks are taken off, and two of them within a field stand for one. */
export function splitLine(line: string, delimiter: Delimiter, quoted: boolean): string[] {
  if (delimiter === "spaces" && !quoted) {
    const text = line.trim();
    return text === "" ? [] : text.split(/[ \t]+/);
  }
  const mark = DELIMITER_CHARACTERS[delimiter];
  if (!quoted && !line.includes('"')) return line.split(mark).map((field) => field.trim());
  const fields: string[] = [];
  let field = "";
  let inside = false;
  for (let i = 0; i < line.length; i++) {
    const letter = line[i];
    if (letter === '"') {
      if (inside && line[i + 1] === '"') field += line[i++];
      else inside = !inside;
    } else if (letter === mark && !inside) {
      fields.push(field.trim());
      field = "";
    } else field += letter;
  }
  fields.push(field.trim());
  return delimiter === "spaces" ? fields.filter((text) => text !== "") : fields;
}

interface Reading {
  delimiter: Delimiter;
  decimal: DecimalMark;
  quoted: boolean;
  fields: number;
  /** Lines whose every field is a number or blank, of which at least one is a number. */
  wholeLines: number;
  /** Lines at least half of whose fields are numbers. */
  mostlyLines: number;
  /** Numbers in a usual line. */
  numbers: number;
  /** Texts in a usual line, rounded up. */
  texts: number;
  sure: boolean;
}

/**
 * The reading of a longer file in whose spread lines stands nothing but plain numbers and one delimiter, three fields or more: what
 * `readingOfLines` gives for it too, without a text of any line.
 */
function plainReading(bytes: Uint8Array, recipe: ImportRecipe): Reading | undefined {
  if (recipe.delimiter || recipe.decimal || bytes.length < SHORT_BYTES) return undefined;
  let found: PlainDelimiter | undefined;
  let fields = 0;
  let lines = 0;
  for (const place of PLACES) {
    let at = lineEnd(bytes, Math.floor(place * bytes.length)) + 1;
    for (let n = 0; n < LINES_OF_PLACE && at < bytes.length; n++) {
      const end = lineEnd(bytes, at);
      if (end - at > LONGEST_LINE) return undefined;
      found ??= firstDelimiter(bytes, at, end);
      if (found === undefined) return undefined;
      const count = plainFields(bytes, at, end, found.code);
      if (count < 3 || count > MAX_COLUMNS || (lines > 0 && count !== fields)) return undefined;
      fields = count;
      lines++;
      at = end + 1;
    }
  }
  if (found === undefined) return undefined;
  return { delimiter: found.delimiter, decimal: ".", quoted: false, fields, wholeLines: lines, mostlyLines: lines, numbers: fields, texts: 0, sure: true };
}

interface PlainDelimiter {
  readonly delimiter: Delimiter;
  readonly code: number;
}

/** Those that are no blank: blanks may also stand beside another one. */
const PLAIN_DELIMITERS: readonly PlainDelimiter[] = (["comma", "semicolon", "tab", "pipe"] as const).map((delimiter) => ({ delimiter, code: DELIMITER_CHARACTERS[delimiter].charCodeAt(0) }));

function firstDelimiter(bytes: Uint8Array, start: number, end: number): PlainDelimiter | undefined {
  for (let at = start; at < end; at++) {
    const byte = bytes[at];
    if (byte >= 48 && byte <= 57) continue;
    const found = PLAIN_DELIMITERS.find(({ code }) => code === byte);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** Fields of a line each of which is digits, perhaps with a minus before and a point and more digits behind; zero where one is anything else. */
function plainFields(bytes: Uint8Array, start: number, end: number, delimiter: number): number {
  let at = start;
  for (let fields = 1; ; fields++) {
    const field = at;
    if (bytes[at] === 45) at++;
    let digits = at;
    while (at < end && bytes[at] >= 48 && bytes[at] <= 57) at++;
    if (at === digits) return 0;
    if (at < end && bytes[at] === 46) {
      digits = ++at;
      while (at < end && bytes[at] >= 48 && bytes[at] <= 57) at++;
      if (at === digits) return 0;
    }
    if (at - field > LONGEST_PLAIN_NUMBER) return 0;
    if (at === end || (at === end - 1 && bytes[at] === 13)) return fields;
    if (bytes[at] !== delimiter) return 0;
    at++;
  }
}

function readingOfLines(lines: readonly string[], bytes: Uint8Array, recipe: ImportRecipe): Reading {
  return settleSingleColumn(lines, bestReading(lines, recipe), bytes, recipe);
}

/** Up to 60 lines of a short file; of a longer one lines from four places in it. */
function spreadLines(bytes: Uint8Array): string[] {
  const lines: string[] = [];
  const places = bytes.length < SHORT_BYTES ? [0] : PLACES;
  for (const place of places) {
    let at = Math.floor(place * bytes.length);
    if (place > 0) at = lineEnd(bytes, at) + 1;
    for (let n = 0; n < (place > 0 ? LINES_OF_PLACE : 4000) && at < bytes.length; n++) {
      const end = lineEnd(bytes, at);
      if (end - at <= LONGEST_LINE) {
        const line = textOf(bytes, at, end).replace(/\r/g, "");
        if (line.trim() !== "") lines.push(line);
      }
      at = end + 1;
    }
  }
  if (places.length > 1 || lines.length <= 60) return lines;
  // The second half of a short file is the surest to hold numbers.
  const half = lines.slice(Math.floor(lines.length / 2));
  return half.filter((_, i) => i % Math.ceil(half.length / 60) === 0);
}

/** Position of the next line feed, or of a carriage return that is not followed by one; the end of the text where there is none. */
export function lineEnd(bytes: Uint8Array, from: number): number {
  for (let i = from; i < bytes.length; i++) {
    if (bytes[i] === 10) return i;
    if (bytes[i] === 13 && bytes[i + 1] !== 10) return i;
  }
  return bytes.length;
}

function bestReading(lines: readonly string[], recipe: ImportRecipe): Reading {
  let best: Reading | undefined;
  let second: Reading | undefined;
  const quotes = lines.some((line) => line.includes('"'));
  const cutting = ORDER.filter((delimiter) => lines.some((line) => cuts(line, delimiter)));
  // Those that cut nothing all read the same, so one of them speaks for all.
  const uncut = ORDER.find((delimiter) => !cutting.includes(delimiter));
  for (const delimiter of recipe.delimiter ? [recipe.delimiter] : ORDER.filter((one) => one === uncut || cutting.includes(one))) {
    for (const decimal of recipe.decimal ? [recipe.decimal] : MARKS) {
      if (delimiter === "comma" && decimal === "," && !quotes && recipe.decimal === undefined) continue;
      if (decimal === "," && !lines.some((line) => line.includes(","))) continue;
      const reading = tryReading(lines, delimiter, decimal, quotes);
      if (reading && (!best || isBetter(reading, best))) {
        second = best;
        best = reading;
      } else if (reading && (!second || isBetter(reading, second))) second = reading;
    }
  }
  if (!best || best.mostlyLines === 0) {
    const delimiter = recipe.delimiter;
    if (delimiter) throw new InputError("not-recognised", `reading with ${DELIMITER_NAMES[delimiter]} between fields requires lines of numbers, and it finds none: choose another delimiter`);
    throw new InputError("not-recognised", "reading requires lines of numbers with a comma, semicolon, tab, vertical bar or spaces between them, and this file has none");
  }
  if (best.fields > MAX_COLUMNS) throw new InputError("too-large", `reading requires at most ${MAX_COLUMNS} columns`);
  // Blanks beside tabs are padding; another reading that cuts the same fields is the same.
  const rival = second && second.fields > 1 && second.fields !== best.fields && !(best.delimiter === "tab" && second.delimiter === "spaces");
  return { ...best, sure: !rival || isBetter({ ...best, fields: 2 }, { ...second!, fields: 2 }) };
}

function cuts(line: string, delimiter: Delimiter): boolean {
  return line.includes(DELIMITER_CHARACTERS[delimiter]) || (delimiter === "spaces" && line.includes("\t"));
}

function tryReading(lines: readonly string[], delimiter: Delimiter, decimal: DecimalMark, quoted: boolean): Reading | undefined {
  const counts = new Map<number, { numbers: number; texts: number; whole: number; mostly: number }>();
  for (const line of lines) {
    const fields = splitLine(line, delimiter, quoted);
    let numbers = 0;
    let blanks = 0;
    for (const field of fields) {
      if (field === "") blanks++;
      else if (isNumberText(field, decimal)) numbers++;
    }
    const count = counts.get(fields.length) ?? { numbers: 0, texts: 0, whole: 0, mostly: 0 };
    if (numbers > 0 && numbers + blanks === fields.length) count.whole++;
    if (numbers > 0 && 2 * numbers >= fields.length - blanks) {
      count.mostly++;
      count.numbers += numbers;
      count.texts += fields.length - blanks - numbers;
    }
    counts.set(fields.length, count);
  }
  let best: Reading | undefined;
  for (const [fields, count] of counts) {
    const reading = { delimiter, decimal, quoted, fields, wholeLines: count.whole, mostlyLines: count.mostly, numbers: count.numbers / Math.max(1, count.mostly), texts: Math.ceil(count.texts / Math.max(1, count.mostly) - 0.2), sure: true };
    if (!best || reading.mostlyLines > best.mostlyLines) best = reading;
  }
  return best;
}

/** More lines of nothing but numbers, then more of mostly numbers; of equals one that cuts rather than one that does not. */
function isBetter(a: Reading, b: Reading): boolean {
  const aScore = a.wholeLines + 0.5 * a.mostlyLines;
  const bScore = b.wholeLines + 0.5 * b.mostlyLines;
  if (a.fields > 1 !== b.fields > 1) {
    const cut = a.fields > 1 ? aScore : bScore;
    const uncut = a.fields > 1 ? bScore : aScore;
    const cutWins = cut > 0.7 * uncut;
    return a.fields > 1 ? cutWins : !cutWins;
  }
  return aScore > bScore;
}

/** `620,5` on every line is one column with a decimal comma, or two columns of whole numbers: looks at what the numbers do. */
function settleSingleColumn(lines: readonly string[], reading: Reading, bytes: Uint8Array, recipe: ImportRecipe): Reading {
  if (recipe.delimiter || recipe.decimal || reading.delimiter !== "comma" || reading.fields !== 2 || reading.quoted) return reading;
  const pairs = lines.map((line) => /^\s*([-+]?\d+),(\d+)\s*$/.exec(line)).filter((match) => match !== null);
  if (pairs.length < lines.length * 0.9 || pairs.length < 3) return reading;
  const firstLine = textOf(bytes, 0, Math.min(lineEnd(bytes, 0), 1000));
  if (firstLine.includes(",") && /[a-z]/i.test(firstLine)) return reading;
  const steps = pairs.slice(1).map((match, i) => Number(match[1]) - Number(pairs[i][1]));
  if (steps.every((step) => step > 0)) return reading;
  const zeroLed = pairs.some((match) => match[2].length > 1 && match[2].startsWith("0"));
  const equalLength = pairs.every((match) => match[2].length === pairs[0][2].length);
  if (!zeroLed && !equalLength) return { ...reading, sure: false };
  return { ...reading, decimal: ",", fields: 1, delimiter: "semicolon", sure: zeroLed };
}

/** The first lines of numbers, at most 50. */
function firstLines(bytes: Uint8Array, dataStart: number): string[] {
  const lines: string[] = [];
  for (let at = dataStart; at < bytes.length && lines.length < 50; ) {
    const end = lineEnd(bytes, at);
    lines.push(textOf(bytes, at, Math.min(end, at + 10_000)));
    at = end + 1;
  }
  return lines;
}

/** `0,01,345,2` is time and force with decimal commas, cut by commas too: told by half as many names, or by decimals such as `01`. */
function refuseDoubleComma(reading: Reading, head: readonly string[], bytes: Uint8Array, dataStart: number): void {
  if (reading.delimiter !== "comma" || reading.quoted || reading.fields < 4 || reading.fields % 2 !== 0) return;
  const names = head.at(-1) ?? "";
  const count = /[a-z]/i.test(names) ? splitLine(names, "comma", false).length : 0;
  const looksCut = () => {
    const lines = firstLines(bytes, dataStart);
    return !lines.some((line) => line.includes(".")) && lines.some((line) => splitLine(line, "comma", false).some((field, i) => i % 2 === 1 && /^0\d/.test(field)));
  };
  if (count * 2 !== reading.fields && !(count === 0 && looksCut())) return;
  throw new InputError(
    "not-recognised",
    "reading decimal commas requires another delimiter than the comma: export this file with semicolons or tabs between the numbers",
    `line ${head.length + 1}`,
  );
}

function findHead(bytes: Uint8Array, reading: Reading, known: number | undefined): { head: string[]; dataStart: number } {
  const head: string[] = [];
  const code = DELIMITER_CHARACTERS[reading.delimiter].charCodeAt(0);
  const mayBePlain = reading.decimal === "." && !reading.quoted;
  const isData = (start: number, end: number) => (mayBePlain && plainFields(bytes, start, end, code) === reading.fields) || isDataLine(lineOf(bytes, start, end), reading);
  const limit = known ?? HEAD_LINES;
  let at = 0;
  while (head.length < limit && at < bytes.length && at < HEAD_BYTES) {
    const end = lineEnd(bytes, at);
    if (known === undefined && isData(at, end) && followersAreData(bytes, end + 1, isData)) return { head, dataStart: at };
    head.push(lineOf(bytes, at, end));
    at = end + 1;
  }
  if (known !== undefined && at < bytes.length) return { head, dataStart: at };
  throw new InputError(
    "not-recognised",
    known === undefined ? `reading requires lines of numbers within the first ${HEAD_LINES} lines` : `reading requires lines of numbers after the ${known} header lines`,
  );
}

function lineOf(bytes: Uint8Array, start: number, end: number): string {
  return textOf(bytes, start, Math.min(end, start + LONGEST_LINE)).replace(/\r/g, "");
}

/**
 * A line with the usual number of fields and not many fewer numbers than usual. Where something else stands in place of a
 * number, it may still be a line of numbers with a fault, if most are there.
 */
function isDataLine(line: string, reading: Reading): boolean {
  const fields = splitLine(line, reading.delimiter, reading.quoted);
  if (fields.length !== reading.fields) return false;
  let numbers = 0;
  let blanks = 0;
  for (const field of fields) {
    if (field === "") blanks++;
    else if (isNumberText(field, reading.decimal)) numbers++;
  }
  const faults = fields.length - blanks - numbers > reading.texts;
  return numbers > 0 && (faults ? 4 * numbers >= 3 * reading.numbers : 2 * numbers >= reading.numbers);
}

/** Most of the next lines: one faulty line must not push the head down. */
function followersAreData(bytes: Uint8Array, from: number, isData: (start: number, end: number) => boolean): boolean {
  let at = from;
  let seen = 0;
  let data = 0;
  while (seen < FOLLOWERS && at < bytes.length) {
    const end = lineEnd(bytes, at);
    const holds = isData(at, end);
    if (holds || lineOf(bytes, at, end).trim() !== "") {
      seen++;
      if (holds) data++;
    }
    at = end + 1;
  }
  return 2 * data >= seen;
}
