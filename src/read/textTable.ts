import { InputError } from "../errors.ts";
import { textHead } from "./textHead.ts";
import { MAX_SAMPLES } from "./limits.ts";
import { columnLabel, EXACT_DIGITS, type ColumnMemory, type NumberTable, type TableColumn, type WrittenDigits } from "./NumberTable.ts";
import { numberInBytes } from "./numberInBytes.ts";
import { isNumberText } from "./isNumberText.ts";
import { DELIMITER_CHARACTERS, lineEnd, splitLine, type TextLayout } from "./textLayout.ts";
import { textOf } from "./textBytes.ts";

const SAMPLE_ROWS = 120;
/** Columns that are sampled whether or not somebody asks. */
const FEW_COLUMNS = 4;
/** Lines and characters of a head that is kept. */
const SHORT_HEAD = 50;
const SHORT_LINE = 500;
const POWERS = Float64Array.from({ length: 10 }, (_, i) => Number(`1e${i}`));
/** Digits read at once, as bytes of a whole number of 32 bits: the first one lowest. */
const WORD = 4;
/** Bytes of the longest number that is read so, and of what is looked at behind it. */
const LONGEST_BY_WORDS = 3 * WORD + 2;
/** Turns "0" to "9" into 0 to 9, in each byte. */
const ZEROS = 0x30303030;
/** A byte is a digit, 0 to 9, where neither it nor it and six have one of these bits. */
const SIX = 0x06060606;
const NO_DIGIT = 0xf0f0f0f0 | 0;
/** By the number of decimals: how far the first four move so that zeros stand before fewer digits, */
const FRONT_SHIFT = Int32Array.of(0, 24, 16, 8, 0, 0, 0, 0, 0);
/** where the last four begin behind the mark, */
const BACK_AT = Int32Array.of(1, 1, 1, 1, 1, 2, 3, 4, 5);
/** which of them are not among the first four, */
const BACK_MASK = Int32Array.of(0, 0, 0, 0, 0, 0xff000000, 0xffff0000, 0xffffff00, -1);
/** and by how much the first four are worth more. */
const BACK_SCALE = Int32Array.of(1, 1, 1, 1, 1, 10, 100, 1000, 10_000);
/** Lines and bytes looked at after a faulty line to tell whether the table has ended. */
const LOOK_AHEAD = 2000;
const LOOK_AHEAD_BYTES = 4 * 2 ** 20;
/** Plain lines read in one call: the engine makes a function fast that is called often, and a loop that goes on for a whole file late. */
const STRETCH = 64;

/**
 * The columns of a delimited text; numbers are read only from the columns that are asked for.
 *
 * @param bytes Text, UTF-8, no unit.
 * @param layout Delimiter, decimal mark and head.
 * @param memory Where the columns are put; memory of their own where none is given.
 * @returns Table of numbers, in the units of the file.
 */
export function textTable(bytes: Uint8Array, layout: TextLayout, memory: ColumnMemory = OWN_MEMORY): NumberTable {
  const warnings: string[] = [];
  const { columns, head } = headOf(layout);
  const sample = sampleFields(bytes, layout);
  const written = new Map<number, WrittenDigits | undefined>();
  const decimal = layout.decimal.charCodeAt(0);
  const sampled = (index: number): Float64Array => {
    const values = new Float64Array(sample.rows);
    for (let row = 0; row < sample.rows; row++) {
      const value = numberInBytes(bytes, sample.starts[row * layout.fields + index], sample.ends[row * layout.fields + index], decimal);
      values[row] = Number.isFinite(value) ? value : NaN;
    }
    return values;
  };
  // Of a few columns all are asked for.
  const numbers: Float64Array[] = columns.length <= FEW_COLUMNS ? columns.map((_, index) => sampled(index)) : [];
  return {
    columns,
    head,
    sampleRows: sample.rows,
    warnings,
    sample: (index) => (numbers[index] ??= sampled(index)),
    decimals(index) {
      let most = 0;
      for (let row = 0; row < sample.rows; row++) {
        most = Math.max(most, decimalsOf(bytes, sample.starts[row * layout.fields + index], sample.ends[row * layout.fields + index], decimal));
      }
      return most;
    },
    values(indexes) {
      const reader = new ColumnReader(bytes, layout, columns, indexes, warnings, memory, likelyLines(bytes, layout, sample));
      const values = reader.read();
      indexes.forEach((index, slot) => written.set(index, reader.written(slot)));
      return values;
    },
    written: (index) => written.get(index),
    place: (row) => `line ${layout.head.length + row + 1}`,
  };
}

/** Decimals a number is written with; an exponent moves them. */
function decimalsOf(bytes: Uint8Array, start: number, end: number, decimal: number): number {
  let mark = -1;
  for (let i = start; i < end; i++) {
    if (bytes[i] === decimal) mark = i;
    if ((bytes[i] | 32) !== 101) continue;
    const exponent = Number(textOf(bytes, i + 1, Math.min(end, i + 8))) || 0;
    return Math.max(0, (mark < 0 ? 0 : i - mark - 1) - exponent);
  }
  while (end > start && (bytes[end - 1] === 32 || bytes[end - 1] === 34)) end--;
  return mark < 0 ? 0 : end - mark - 1;
}

interface Head {
  readonly layout: TextLayout;
  readonly columns: readonly TableColumn[];
  readonly head: readonly string[];
}

/** The head that was read last, where it is short: the files of a folder mostly have the same. */
let lastHead: Head | undefined;

/** Columns and lines of a head; the very same ones as those of the text before, if that had an equal head. */
function headOf(layout: TextLayout): Head {
  if (lastHead !== undefined && isLike(lastHead.layout, layout)) return lastHead;
  const read = { layout, columns: textHead(layout), head: layout.head };
  if (layout.head.length <= SHORT_HEAD && layout.head.every((line) => line.length <= SHORT_LINE)) lastHead = read;
  return read;
}

function isLike(a: TextLayout, b: TextLayout): boolean {
  return a.fields === b.fields && a.delimiter === b.delimiter && a.decimal === b.decimal && a.quoted === b.quoted && a.head.length === b.head.length && a.head.every((line, i) => line === b.head[i]);
}

const OWN_MEMORY: ColumnMemory = { column: (length) => new Float64Array(length) };

/** Where the fields of the sampled lines stand; row by row, as many as a line has fields. */
interface Sample {
  readonly rows: number;
  /** Lines looked at, and their bytes with the ends of lines. */
  readonly lines: number;
  readonly bytes: number;
  readonly starts: Int32Array;
  readonly ends: Int32Array;
}

/** Up to 120 lines with all their fields, spread evenly over the file by bytes. */
function sampleFields(bytes: Uint8Array, layout: TextLayout): Sample {
  const { fields } = layout;
  const starts = new Int32Array(SAMPLE_ROWS * fields);
  const ends = new Int32Array(SAMPLE_ROWS * fields);
  const length = bytes.length - layout.dataStart;
  let rows = 0;
  let next = layout.dataStart;
  let lines = 0;
  let seen = 0;
  for (let n = 0; n < SAMPLE_ROWS && next < bytes.length; n++) {
    const wanted = layout.dataStart + Math.floor((n * length) / SAMPLE_ROWS);
    if (wanted > next) next = lineEnd(bytes, wanted - 1) + 1;
    const end = lineEnd(bytes, next);
    if (cutFields(bytes, next, end, layout, starts, ends, rows * fields)) rows++;
    lines++;
    seen += end + 1 - next;
    next = end + 1;
  }
  return { rows, lines, bytes: seen, starts, ends };
}

/** Notes where the fields of a line begin and end; false where it has too few. */
function cutFields(bytes: Uint8Array, start: number, end: number, layout: TextLayout, starts: Int32Array, ends: Int32Array, offset: number): boolean {
  const delimiter = DELIMITER_CHARACTERS[layout.delimiter].charCodeAt(0);
  const spaces = layout.delimiter === "spaces";
  const { fields, quoted } = layout;
  let at = start;
  for (let field = 0; field < fields; field++) {
    if (spaces) while (at < end && (bytes[at] === 32 || bytes[at] === 9)) at++;
    if (field > 0 && at > end) return false;
    starts[offset + field] = at;
    let inside = false;
    for (; at < end; at++) {
      if (quoted && bytes[at] === 34) inside = !inside;
      if (!inside && (bytes[at] === delimiter || (spaces && bytes[at] === 9))) break;
    }
    if (spaces && at === starts[offset + field]) return false;
    ends[offset + field] = bytes[at - 1] === 13 && at > starts[offset + field] ? at - 1 : at;
    at++;
  }
  return true;
}

/** One pass over the bytes for the wanted columns. */
class ColumnReader {
  private out: Float64Array[];
  /** Which output a field goes to, or -1. */
  private readonly slots: Int32Array;
  private readonly last: number;
  private readonly decimal: number;
  private readonly delimiter: number;
  private rows = 0;
  private line: number;
  /** The bytes for reading four at once. */
  private readonly words: DataView;
  /** Decimals of the last number of a column, of which the next one has likely as many; zero where that does not pay. */
  private readonly usual: Int32Array;
  /** Most digits yet in each column. */
  private readonly wholeDigits: Int32Array;
  private readonly decimals: Int32Array;
  private allPlain = true;
  private shortRows = 0;
  private firstShort = 0;

  constructor(
    private readonly bytes: Uint8Array,
    private readonly layout: TextLayout,
    private readonly columns: readonly TableColumn[],
    indexes: readonly number[],
    private readonly warnings: string[],
    private readonly memory: ColumnMemory,
    private capacity: number,
  ) {
    this.slots = new Int32Array(layout.fields).fill(-1);
    indexes.forEach((index, slot) => (this.slots[index] = slot));
    this.last = Math.max(...indexes);
    this.decimal = layout.decimal.charCodeAt(0);
    this.delimiter = DELIMITER_CHARACTERS[layout.delimiter].charCodeAt(0);
    this.line = layout.head.length + 1;
    this.out = indexes.map(() => memory.column(capacity));
    this.words = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
    this.usual = new Int32Array(indexes.length);
    this.wholeDigits = new Int32Array(indexes.length).fill(WORD);
    this.decimals = new Int32Array(indexes.length);
  }

  /** Most digits of the numbers of a column, after `read`; undefined where some line had to be read in the slow way. */
  written(slot: number): WrittenDigits | undefined {
    return this.allPlain ? { whole: this.wholeDigits[slot], decimals: this.decimals[slot] } : undefined;
  }

  read(): Float64Array[] {
    const { bytes } = this;
    let at = this.layout.dataStart;
    while (at < bytes.length) {
      if (!this.layout.quoted) at = this.readPlainLines(at);
      if (at >= bytes.length) break;
      if (this.rows === this.capacity) this.makeRoom();
      this.allPlain = false;
      const next = this.readLine(at);
      if (next < 0) break;
      at = next;
      this.line++;
      if (this.rows > MAX_SAMPLES) throw new InputError("too-large", "reading requires at most 10,000,000 samples", `line ${this.line}`);
    }
    if (this.shortRows > 0) {
      this.warnings.push(`${this.shortRows} ${this.shortRows === 1 ? "line has" : "lines have"} fewer columns than the others, the first is line ${this.firstShort}; the columns that are used are whole`);
    }
    if (this.rows === 0) throw new InputError("not-recognised", "reading requires lines of numbers in the chosen columns", `line ${this.line}`);
    return this.out.map((values) => values.subarray(0, this.rows));
  }

  /** More rows than the length of the lines let expect. */
  private makeRoom(): void {
    this.capacity = Math.min(Math.ceil(1.5 * this.capacity) + 64, MAX_SAMPLES + 1);
    this.out = this.out.map((values) => {
      const longer = this.memory.column(this.capacity);
      longer.set(values);
      return longer;
    });
  }

  /**
   * Reads lines as long as they are what most lines are: the usual number of fields, and in the wanted ones a number of at most
   * nine digits before and nine after the decimal mark, with nothing around it. Gives the start of the first line that is not.
   */
  private readPlainLines(start: number): number {
    const most = Math.min(this.capacity, MAX_SAMPLES);
    let at = start;
    for (let before = -1; this.rows > before && this.rows < most; ) {
      before = this.rows;
      at = this.readStretch(at, Math.min(before + STRETCH, most));
    }
    return at;
  }

  private readStretch(start: number, most: number): number {
    const { bytes, words, delimiter, decimal, slots, out, last, usual } = this;
    const { fields } = this.layout;
    const length = bytes.length;
    const safe = length - LONGEST_BY_WORDS;
    const mark = decimal ^ 48;
    const final = fields - 1;
    let { rows } = this;
    let lineStart = start;
    lines: for (let at = start; at < length && rows < most; lineStart = at) {
      for (let field = 0; field < fields; field++) {
        const slot = field <= last ? slots[field] : -1;
        if (slot < 0) {
          let byte = bytes[at];
          while (byte !== delimiter && byte !== 10 && byte !== 13 && at < length) byte = bytes[++at];
        } else {
          const decimals = usual[slot];
          let next = at;
          if (decimals > 0 && at < safe) {
            // One to four digits, the mark, and as many decimals as in the line before: three times four bytes.
            const first = words.getInt32(at, true) ^ ZEROS;
            let digits = first;
            let whole = 0;
            let point = at + 4;
            if (((first >> 8) & 255) === mark) {
              digits = whole = first & 255;
              point = at + 1;
            } else if (((first >> 16) & 255) === mark) {
              digits = first & 0xffff;
              whole = (Math.imul(first & 255, 10) + (digits >> 8)) | 0;
              point = at + 2;
            } else if (first >>> 24 === mark) {
              digits = first & 0xffffff;
              whole = (Math.imul(first & 255, 100) + Math.imul((first >> 8) & 255, 10) + (digits >> 16)) | 0;
              point = at + 3;
            } else if (bytes[point] === decimal) whole = fourDigits(first);
            else digits = NO_DIGIT;
            const front = (words.getInt32(point + 1, true) ^ ZEROS) << FRONT_SHIFT[decimals];
            const back = (words.getInt32(point + BACK_AT[decimals], true) ^ ZEROS) & BACK_MASK[decimals];
            const after = bytes[point + decimals + 1];
            if (((digits | (digits + SIX) | front | (front + SIX) | back | (back + SIX)) & NO_DIGIT) === 0 && (after === delimiter || after === 10 || after === 13)) {
              const scale = POWERS[decimals];
              const part = (Math.imul(fourDigits(front), BACK_SCALE[decimals]) + fourDigits(back)) | 0;
              out[slot][rows] = (whole * scale + part) / scale;
              next = point + decimals + 1;
              if (after === delimiter && field < final) {
                at = next + 1;
                continue;
              }
            }
          }
          if (next === at) next = this.readPlainNumber(at, slot, rows);
          if (next < 0) break lines;
          at = next;
        }
        if (field < final) {
          if (bytes[at] !== delimiter) break lines;
          at++;
        }
      }
      if (bytes[at] === 13 && bytes[at + 1] === 10) at++;
      if (at < length && bytes[at] !== 10) break lines;
      at++;
      rows++;
    }
    this.line += rows - this.rows;
    this.rows = rows;
    return lineStart;
  }

  /** Reads a number of at most nine digits before and nine after the mark, with nothing around it; gives the byte after it, or -1 where there stands something else. */
  private readPlainNumber(start: number, slot: number, row: number): number {
    const { bytes, decimal } = this;
    let at = start;
    const negative = bytes[at] === 45;
    if (negative) at++;
    // Whole numbers of 32 bits are the fastest there are; nine digits always fit one.
    const first = at;
    let whole = 0;
    let digit = bytes[at] - 48;
    while (digit >= 0 && digit <= 9) {
      whole = (whole * 10 + digit) | 0;
      digit = bytes[++at] - 48;
    }
    const wholeDigits = at - first;
    if (wholeDigits === 0 || wholeDigits > 9) return -1;
    let value = whole;
    let decimals = 0;
    if (bytes[at] === decimal) {
      const mark = at;
      let part = 0;
      digit = bytes[++at] - 48;
      while (digit >= 0 && digit <= 9) {
        part = (part * 10 + digit) | 0;
        digit = bytes[++at] - 48;
      }
      decimals = at - mark - 1;
      if (decimals === 0 || decimals > 9 || wholeDigits + decimals > EXACT_DIGITS) return -1;
      value = (whole * POWERS[decimals] + part) / POWERS[decimals];
    }
    this.usual[slot] = decimals > 2 * WORD ? 0 : decimals;
    if (wholeDigits > this.wholeDigits[slot]) this.wholeDigits[slot] = wholeDigits;
    if (decimals > this.decimals[slot]) this.decimals[slot] = decimals;
    this.out[slot][row] = negative ? -value : value;
    return at;
  }

  /** Reads one line into the next row; gives the start of the line after it, or -1 where the table ends. */
  private readLine(start: number): number {
    const { bytes, delimiter, slots } = this;
    const length = bytes.length;
    const spaces = this.layout.delimiter === "spaces";
    const quoted = this.layout.quoted;
    const fields = this.layout.fields;
    let field = 0;
    let at = start;
    let found = 0;
    let bad = -1;
    let badStart = 0;
    let badEnd = 0;
    for (;;) {
      if (spaces) while (at < length && (bytes[at] === 32 || bytes[at] === 9)) at++;
      const from = at;
      let byte = 10;
      let inside = false;
      for (; at < length; at++) {
        byte = bytes[at];
        if (byte <= 13 && (byte === 10 || byte === 13)) break;
        if (quoted && byte === 34) inside = !inside;
        if ((byte === delimiter || (spaces && byte === 9)) && !inside) break;
      }
      const atEnd = at >= length || byte === 10 || byte === 13;
      if (spaces && atEnd && from === at) break;
      if (field < fields) {
        const slot = slots[field];
        if (slot >= 0) {
          const value = numberInBytes(bytes, from, at, this.decimal);
          if (value - value === 0) {
            this.out[slot][this.rows] = value;
            found++;
          } else if (bad < 0) {
            bad = field;
            badStart = from;
            badEnd = at;
          }
        }
      } else if (from < at && !isBlank(bytes, from, at)) {
        return this.endOrFault(start, () => this.raggedError(start));
      }
      field++;
      if (atEnd) break;
      at++;
    }
    let next = at + 1;
    if (bytes[at] === 13 && bytes[at + 1] === 10) next++;
    if (found === this.out.length) {
      if (field < fields) {
        if (this.shortRows++ === 0) this.firstShort = this.line;
      }
      this.rows++;
      return next;
    }
    if (field <= 1 && isBlank(bytes, start, at)) return this.afterBlank(next);
    if (bad < 0) return this.endOrFault(start, () => this.raggedError(start));
    return this.endOrFault(start, () => this.numberError(bad, badStart, badEnd));
  }

  /** Blank lines are skipped where numbers go on after them. Gives the line of numbers; `read` counts one line, the others are counted here. */
  private afterBlank(next: number): number {
    const { bytes } = this;
    let at = next;
    for (let lines = 0; at < bytes.length; lines++) {
      const end = lineEnd(bytes, at);
      if (!isBlank(bytes, at, end)) {
        if (this.isDataLine(at, end)) {
          this.line += lines;
          return at;
        }
        this.warnings.push(`the table ends at line ${this.line}; the text after it was not read`);
        return -1;
      }
      at = end + 1;
    }
    return -1;
  }

  /** A faulty line after which no line of numbers follows is the foot of the table; else it is a fault. */
  private endOrFault(start: number, fault: () => InputError): number {
    const { bytes } = this;
    let at = lineEnd(bytes, start) + 1;
    const limit = Math.min(bytes.length, at + LOOK_AHEAD_BYTES);
    if (at >= bytes.length) {
      this.warnings.push(`the last line, line ${this.line}, is not whole and was not read`);
      if (this.rows === 0) throw fault();
      return -1;
    }
    for (let n = 0; n < LOOK_AHEAD && at < limit; n++) {
      const end = lineEnd(bytes, at);
      if (this.isDataLine(at, end)) throw fault();
      at = end + 1;
    }
    if (this.rows === 0) throw fault();
    this.warnings.push(`the table ends before line ${this.line}; the text after it was not read`);
    return -1;
  }

  /** Whether a line holds the usual number of fields, and a number where the first wanted column is. */
  private isDataLine(start: number, end: number): boolean {
    if (end - start > 2 ** 20) return false;
    const fields = splitLine(textOf(this.bytes, start, end).replace(/\r/g, ""), this.layout.delimiter, this.layout.quoted);
    if (fields.length < this.last + 1 || fields.length > this.layout.fields + 1) return false;
    for (let i = 0; i < this.slots.length; i++) {
      if (this.slots[i] >= 0) return isNumberText(fields[i] ?? "", this.layout.decimal);
    }
    return false;
  }

  private raggedError(start: number): InputError {
    const end = Math.min(lineEnd(this.bytes, start), start + 2 ** 16);
    const count = splitLine(textOf(this.bytes, start, end).replace(/\r/g, ""), this.layout.delimiter, this.layout.quoted).length;
    return new InputError("wrong-shape", `reading line ${this.line} requires ${this.layout.fields} columns like the others, and it has ${count}`, `line ${this.line}`);
  }

  private numberError(field: number, start: number, end: number): InputError {
    const text = textOf(this.bytes, start, Math.min(end, start + 30)).trim();
    const name = columnLabel(this.columns[field]);
    const what = text === "" ? "it is blank" : `there stands “${text}”`;
    return new InputError("not-a-number", `reading line ${this.line} requires a number in column ${field + 1} (${name}), and ${what}`, `line ${this.line}, column ${field + 1}`);
  }
}

/** The number of four digits, two by two and then both pairs. */
function fourDigits(digits: number): number {
  const pairs = (Math.imul(digits, 10) + (digits >>> 8)) & 0x00ff00ff;
  return (Math.imul(pairs, 100) + (pairs >>> 16)) & 0xffff;
}

function isBlank(bytes: Uint8Array, start: number, end: number): boolean {
  for (let i = start; i < end; i++) if (bytes[i] > 32) return false;
  return true;
}

/** Lines of numbers that are likely, a few more rather than fewer, from the length of those in the sample. */
function likelyLines(bytes: Uint8Array, layout: TextLayout, sample: Sample): number {
  return Math.min(Math.ceil((1.02 * sample.lines * (bytes.length - layout.dataStart)) / Math.max(1, sample.bytes)) + 16, MAX_SAMPLES + 1);
}
