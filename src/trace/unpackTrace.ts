import { InputError } from "../errors.ts";
import { crc32 } from "./crc32.ts";
import { ALPHABET, BLOCK, CELL_LIMIT, MAX_CELLS, PARAMETER_BITS, QUOTIENT_LIMIT, TIMES_MARK, TRACE_MARK } from "./packFormat.ts";
import { checkTimes } from "./packTimes.ts";
import { PLATE_ROLES, type Plate, type PlateRole, type TimesRecord, type Trace } from "./Trace.ts";

const ROLES: readonly string[] = PLATE_ROLES;
const HEAD = /^LEAPF1 (?:part=(\d)\/(\d) )?(.*?) ?crc=([0-9a-f]{8}) ([A-Za-z0-9+/]*)$/;
const FACTS =
  /^rate=([0-9.e+-]+) plates=([a-z,]+) samples=([1-9][0-9]{0,6}) step=([0-9.e-]+) (rounded|exact)(?: start=([0-9.e+-]+))?$/;
/** Value of each base64 letter; 64 for any other character. */
const SEXTETS = makeSextets();

/**
 * The trace (or the times from a mat or a video) that packed cells hold.
 *
 * A text that was changed in any one character, cells that are missing, swapped or of another trace, and a
 * head that claims more than the text holds are refused: never a wrong number.
 *
 * @param cells Texts of the cells in order; blank cells at the end do not count, no unit.
 * @returns The trace, N, or the record of times, s.
 * @throws {InputError} `not-recognised` if the cells hold no packed trace; `damaged` if they hold one that is not whole;
 *   `too-large` if there are more cells or characters than a packed trace can have.
 */
export function unpackTrace(cells: readonly string[]): Trace | TimesRecord {
  let count = cells.length;
  while (count > 0 && cells[count - 1] === "") count--;
  if (count === 0) throw new InputError("not-recognised", "a packed trace requires text in its first cell", "cell 1");
  if (count > MAX_CELLS) throw new InputError("too-large", "a packed trace requires at most four cells");
  for (let i = 0; i < count; i++) {
    if (cells[i].length > CELL_LIMIT) throw new InputError("too-large", "a packed trace requires cells of at most 32,767 characters", `cell ${i + 1}`);
  }
  if (cells[0].startsWith(`${TIMES_MARK} `) && count === 1) return parseTimes(cells[0]);
  return parseTrace(cells.slice(0, count));
}

function parseTrace(cells: readonly string[]): Trace {
  let facts = "";
  let word = "";
  let crc = 0;
  let letters = "";
  let parts = 1;
  for (let i = 0; i < cells.length; i++) {
    const where = `cell ${i + 1}`;
    if (!cells[i].startsWith(`${TRACE_MARK} `)) {
      if (i === 0) throw new InputError("not-recognised", "a packed trace requires a text that begins with LEAPF1", where);
      throw new InputError("damaged", `a packed trace requires all its cells in order, and cell ${i + 1} is not one of them`, where);
    }
    const match = HEAD.exec(cells[i]);
    if (!match) throw damaged(where);
    const [, part = "1", of = "1", rest, thisWord, payload] = match;
    if (i === 0) {
      parts = Number(of);
      word = thisWord;
      facts = rest;
    } else if (rest !== "") throw damaged(where);
    if (Number(part) !== i + 1) {
      throw new InputError("damaged", `a packed trace requires its cells in order, and part ${part} stands in cell ${i + 1}`, where);
    }
    if (thisWord !== word || Number(of) !== parts) {
      throw new InputError("damaged", "a packed trace requires the cells of one trace, undamaged, and this one differs from the first", where);
    }
    crc = crc32(cells[i].slice(0, cells[i].length - payload.length - " crc=01234567 ".length), crc);
    crc = crc32(payload, crc32(" ", crc));
    letters += payload;
  }
  if (cells.length !== parts) {
    throw new InputError("damaged", `a packed trace requires all its cells, and of ${parts} there are ${cells.length}`);
  }
  if (crc !== Number.parseInt(word, 16)) throw damaged("checksum");
  const found = FACTS.exec(facts);
  if (!found) throw damaged("head");
  return decode(found, letters);
}

function decode([, rateText, roles, samplesText, stepText, kind, startText]: RegExpExecArray, letters: string): Trace {
  const rate = Number(rateText);
  const samples = Number(samplesText);
  const steps = Math.round(1 / Number(stepText));
  const start = startText === undefined ? 0 : Number(startText);
  const names = roles.split(",");
  const known = names.length <= 4 && names.every((name) => ROLES.includes(name)) && new Set(names).size === names.length;
  if (!known || !(rate > 0 && rate < Infinity) || !(steps >= 1 && steps <= 1e6) || !Number.isFinite(start)) throw damaged("head");
  // One bit a sample is the least: a head that claims more than that is not believed, and nothing is allocated for it.
  if (samples * names.length > letters.length * 6) throw damaged("head");

  const reader = new SextetReader(letters);
  const step = 1 / steps;
  const plates: Plate[] = names.map((role) => ({ role: role as PlateRole, force: decodePlate(reader, samples, steps) }));
  reader.end();
  return { rate, plates, start, step, rounding: kind === "rounded" ? step : 0 };
}

function decodePlate(reader: SextetReader, samples: number, steps: number): Float64Array {
  const force = new Float64Array(samples);
  let value = (reader.read(16) << 16) | reader.read(16);
  force[0] = value / steps;
  for (let from = 1; from < samples; from += BLOCK) {
    const parameter = reader.read(PARAMETER_BITS);
    const end = Math.min(samples, from + BLOCK);
    for (let i = from; i < end; i++) {
      const folded = reader.readRice(parameter);
      value = (value + ((folded >>> 1) ^ -(folded & 1))) | 0;
      force[i] = value / steps;
    }
  }
  return force;
}

/** Reads bits, highest first, from base64 letters already known to be of the alphabet. */
class SextetReader {
  private next = 0;
  /** Bits not yet used, at the top of a 32-bit word. */
  private word = 0;
  private have = 0;

  constructor(private readonly letters: string) {}

  /** At most 24 bits. */
  read(bits: number): number {
    if (bits === 0) return 0;
    this.fill(bits);
    const value = this.word >>> (32 - bits);
    this.word <<= bits;
    this.have -= bits;
    return value;
  }

  readRice(parameter: number): number {
    if (this.have < QUOTIENT_LIMIT) this.refill();
    const quotient = Math.clz32(this.word);
    if (quotient >= QUOTIENT_LIMIT || quotient >= this.have) throw damaged("samples");
    this.word <<= quotient + 1;
    this.have -= quotient + 1;
    if (parameter <= 16) return ((quotient << parameter) | this.read(parameter)) >>> 0;
    const high = this.read(parameter - 16);
    return ((quotient << parameter) | (high << 16) | this.read(16)) >>> 0;
  }

  /** Refuses letters that were not needed. */
  end(): void {
    if (this.word !== 0 || this.have >= 6 || this.next !== this.letters.length) throw damaged("samples");
  }

  private fill(bits: number): void {
    if (this.have < bits) this.refill();
    if (this.have < bits) throw damaged("samples");
  }

  private refill(): void {
    while (this.have <= 26 && this.next < this.letters.length) {
      this.word |= SEXTETS[this.letters.charCodeAt(this.next++)] << (26 - this.have);
      this.have += 6;
    }
  }
}

function parseTimes(text: string): TimesRecord {
  const fields = new Map<string, string>();
  for (const word of text.trim().split(/ +/).slice(1)) {
    const [name, value] = word.split("=", 2);
    if (value === undefined || !["flight", "contact", "source", "framesPerSecond"].includes(name) || fields.has(name)) {
      throw new InputError("not-recognised", "a record of times requires words such as flight=0.512 contact=0.210 source=mat", word.slice(0, 40));
    }
    fields.set(name, value);
  }
  const source = fields.get("source");
  if (source !== "mat" && source !== "video") {
    throw new InputError("not-recognised", "a record of times requires source=mat or source=video", "source");
  }
  const record: TimesRecord = {
    source,
    ...optionalNumber(fields, "flight"),
    ...optionalNumber(fields, "contact"),
    ...optionalNumber(fields, "framesPerSecond"),
  };
  checkTimes(record);
  return record;
}

function optionalNumber<K extends string>(fields: ReadonlyMap<string, string>, name: K): { [P in K]?: number } {
  const text = fields.get(name);
  if (text === undefined) return {};
  const value = /^[0-9.]+$/.test(text) ? Number(text) : NaN;
  return { [name]: value } as { [P in K]?: number };
}

function damaged(where: string): InputError {
  return new InputError("damaged", "a packed trace requires its text unchanged, and this one was damaged: bring the trial in again", where);
}

function makeSextets(): Uint8Array {
  const table = new Uint8Array(128).fill(64);
  for (let i = 0; i < 64; i++) table[ALPHABET.charCodeAt(i)] = i;
  return table;
}
