import { InputError } from "../errors.ts";
import { crc32 } from "./crc32.ts";
import { liesOnGrid, stepsPerNewton } from "./forceStep.ts";
import { ALPHABET, BLOCK, CELL_LIMIT, LARGEST_COUNT, MAX_CELLS, PARAMETER_BITS, QUOTIENT_LIMIT, TRACE_MARK } from "./packFormat.ts";
import { quietStandardDeviation } from "./quietStandardDeviation.ts";
import type { Trace } from "./Trace.ts";
import { LARGEST_FORCE } from "./units.ts";

/** Steps to which forces may be rounded, as steps in one newton: 0.01, 0.02, 0.05, 0.1, 0.2, 0.25 and 0.5 N. */
const ROUNDED_STEPS = [100, 50, 20, 10, 5, 4, 2] as const;
const CODES = Uint8Array.from(ALPHABET, (letter) => letter.charCodeAt(0));

/**
 * A trace as the text of one to four cells: a readable head, then first differences of each plate, Rice-coded in
 * blocks of 64 and written as base64.
 *
 * The step is the source's own where its text fits one cell. Otherwise it is the finest of 0.01 to 0.5 N whose text
 * fits one cell, or else the four cells, and which is not above a quarter of the standard deviation of quiet
 * standing on each plate; 0.01 N is always allowed. Noise of standard deviation s and a step q take about
 * log2(s / q) + 2.5 bits a sample.
 *
 * @param trace Trace to pack, forces in N.
 * @returns Texts of the cells in order, no unit; each at most 32,767 characters.
 * @throws {InputError} `not-a-number` if a force or the rate is not finite; `wrong-shape` if there is no plate, no sample, or
 *   plates of unequal length; `out-of-range` if a force is above 10,000,000 N; `too-large` if four cells do not hold it.
 * @see Rice and Plaunt (1971) adaptive variable-length coding; RFC 9639, section 9.2.5 (the same residual code).
 */
export function packTrace(trace: Trace): string[] {
  checkTrace(trace);
  const own = ownSteps(trace);
  if (own > 0) {
    const cells = pack(trace, own, trace.rounding > 0, 1);
    if (cells) return cells;
  }
  const coarsest = coarsestStep(trace);
  const allowed = ROUNDED_STEPS.filter((steps) => steps === ROUNDED_STEPS[0] || 1 / steps <= coarsest);
  for (const limit of [1, MAX_CELLS]) {
    // A source coarser than a step gains nothing from it: its own step comes first.
    for (const steps of own > 0 && limit > 1 ? [own, ...allowed.filter((s) => s < own)] : allowed) {
      const cells = pack(trace, steps, steps !== own || trace.rounding > 0, limit);
      if (cells) return cells;
    }
  }
  throw new InputError("too-large", "packing a trace requires that it fits four cells: cut the recording to the trial first");
}

function checkTrace(trace: Trace): void {
  const samples = trace.plates[0]?.force.length ?? 0;
  if (samples === 0) throw new InputError("wrong-shape", "packing a trace requires at least one plate with at least one sample");
  if (!(trace.rate > 0 && Number.isFinite(trace.rate))) throw new InputError("not-a-number", "packing a trace requires a sampling rate above zero");
  if (!Number.isFinite(trace.start)) throw new InputError("not-a-number", "packing a trace requires a finite start time");
  for (const { role, force } of trace.plates) {
    if (force.length !== samples) throw new InputError("wrong-shape", "packing a trace requires plates of equal length");
    for (let i = 0; i < samples; i++) {
      if (Math.abs(force[i]) <= LARGEST_FORCE) continue;
      const where = `sample ${i + 1} of plate ${role}`;
      if (Number.isFinite(force[i])) throw new InputError("out-of-range", "packing a trace requires forces below 10,000,000 N", where);
      throw new InputError("not-a-number", "packing a trace requires a finite force in every sample", where);
    }
  }
}

/** The grid the values lie on; for values once rounded, the grid they were rounded to. */
function ownSteps(trace: Trace): number {
  const rounded = trace.rounding > 0 ? Math.round(1 / trace.rounding) : 0;
  return rounded > 0 && liesOnGrid(trace.plates, rounded) ? rounded : stepsPerNewton(trace.plates);
}

/** A quarter of the smallest quiet-standing standard deviation of the plates, N. */
function coarsestStep(trace: Trace): number {
  let step = Infinity;
  for (const { force } of trace.plates) step = Math.min(step, quietStandardDeviation(force, trace.rate) / 4);
  return step;
}

function pack(trace: Trace, steps: number, rounded: boolean, cellLimit: number): string[] | undefined {
  const samples = trace.plates[0].force.length;
  const head =
    `rate=${trace.rate} plates=${trace.plates.map((plate) => plate.role).join(",")} samples=${samples} ` +
    `step=${1 / steps} ${rounded ? "rounded" : "exact"}${trace.start === 0 ? "" : ` start=${trace.start}`}`;
  const letters = encode(trace, steps, cellLimit * CELL_LIMIT);
  if (!letters) return undefined;
  if (TRACE_MARK.length + 1 + head.length + SEAL_LENGTH + letters.length <= CELL_LIMIT) {
    return seal([`${TRACE_MARK} ${head}`], [lettersToText(letters)]);
  }
  if (cellLimit === 1) return undefined;

  const parts = partsFor(head.length, letters.length);
  if (parts > cellLimit) return undefined;
  const heads: string[] = [];
  const payloads: string[] = [];
  let from = 0;
  for (let part = 1; part <= parts; part++) {
    const text = `${TRACE_MARK} part=${part}/${parts}${part === 1 ? ` ${head}` : ""}`;
    const room = CELL_LIMIT - text.length - SEAL_LENGTH;
    heads.push(text);
    payloads.push(lettersToText(letters.subarray(from, from + room)));
    from += room;
  }
  return seal(heads, payloads);
}

/** Characters of ` crc=01234567 `. */
const SEAL_LENGTH = 14;

function partsFor(headLength: number, letters: number): number {
  const plain = `${TRACE_MARK} part=1/9`.length + SEAL_LENGTH;
  return Math.ceil((letters + headLength + 1) / (CELL_LIMIT - plain));
}

/** Every part carries the checksum of all parts, so that a missing, foreign or damaged one is told. */
function seal(heads: readonly string[], payloads: readonly string[]): string[] {
  let crc = 0;
  for (let i = 0; i < heads.length; i++) crc = crc32(`${heads[i]} ${payloads[i]}`, crc);
  const word = crc.toString(16).padStart(8, "0");
  return heads.map((head, i) => `${head} crc=${word} ${payloads[i]}`);
}

/** Base64 letters of the Rice code, as character codes; undefined where they would be more than `limit`. */
function encode(trace: Trace, steps: number, limit: number): Uint8Array | undefined {
  const writer = new SextetWriter(limit);
  const folded = new Uint32Array(BLOCK);
  for (const { force } of trace.plates) {
    let before = Math.round(force[0] * steps);
    if (Math.abs(before) > LARGEST_COUNT) return undefined;
    writer.write(before >>> 16, 16);
    writer.write(before & 0xffff, 16);
    for (let from = 1; from < force.length; from += BLOCK) {
      const count = Math.min(BLOCK, force.length - from);
      let sum = 0;
      let largest = 0;
      for (let i = 0; i < count; i++) {
        const value = Math.round(force[from + i] * steps);
        if (value > LARGEST_COUNT || value < -LARGEST_COUNT) return undefined;
        const difference = value - before;
        before = value;
        const fold = ((difference << 1) ^ (difference >> 31)) >>> 0;
        folded[i] = fold;
        sum += fold;
        if (fold > largest) largest = fold;
      }
      const parameter = riceParameter(folded, count, sum, largest);
      writer.write(parameter, PARAMETER_BITS);
      for (let i = 0; i < count; i++) writer.writeRice(folded[i], parameter);
      if (writer.full) return undefined;
    }
  }
  return writer.end();
}

/** Best of three parameters near log2 of the mean, raised until every quotient is below the limit. */
function riceParameter(folded: Uint32Array, count: number, sum: number, largest: number): number {
  const guess = Math.max(0, 31 - Math.clz32(sum / count));
  let best = guess;
  let fewest = Infinity;
  for (let parameter = Math.max(0, guess - 1); parameter <= Math.min(31, guess + 1); parameter++) {
    let bits = count * (parameter + 1);
    for (let i = 0; i < count; i++) bits += folded[i] >>> parameter;
    if (bits < fewest) {
      fewest = bits;
      best = parameter;
    }
  }
  while (largest >>> best >= QUOTIENT_LIMIT) best++;
  return best;
}

/** Writes bits, highest first, as base64 letters into a buffer of bounded size. */
class SextetWriter {
  full = false;
  private letters = new Uint8Array(4096);
  private length = 0;
  private pending = 0;
  private pendingBits = 0;

  constructor(private readonly limit: number) {}

  /** `bits` is at most 24; `value` has no bit above them. */
  write(value: number, bits: number): void {
    let pending = (this.pending << bits) | value;
    let have = this.pendingBits + bits;
    while (have >= 6) {
      have -= 6;
      this.letters[this.length++] = CODES[(pending >>> have) & 63];
    }
    pending &= (1 << have) - 1;
    this.pending = pending;
    this.pendingBits = have;
    if (this.length > this.letters.length - 16) this.grow();
  }

  writeRice(value: number, parameter: number): void {
    const quotientBits = (value >>> parameter) + 1;
    if (quotientBits + parameter <= 24) {
      this.write((1 << parameter) | (value & ((1 << parameter) - 1)), quotientBits + parameter);
      return;
    }
    this.write(1, quotientBits);
    if (parameter > 16) {
      this.write((value >>> 16) & ((1 << (parameter - 16)) - 1), parameter - 16);
      this.write(value & 0xffff, 16);
    } else {
      this.write(value & ((1 << parameter) - 1), parameter);
    }
  }

  end(): Uint8Array {
    if (this.pendingBits > 0) this.write(0, 6 - this.pendingBits);
    return this.letters.subarray(0, this.length);
  }

  private grow(): void {
    this.full = this.length > this.limit;
    const larger = new Uint8Array(this.letters.length * 2);
    larger.set(this.letters);
    this.letters = larger;
  }
}

function lettersToText(letters: Uint8Array): string {
  let text = "";
  for (let from = 0; from < letters.length; from += 8192) {
    text += String.fromCharCode.apply(null, letters.subarray(from, from + 8192) as unknown as number[]);
  }
  return text;
}
