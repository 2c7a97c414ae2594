import { InputError } from "../errors.ts";
import { ownMemory, type Take } from "./memory.ts";
import { sumOf } from "./sumOf.ts";

/** Length of a block, s: long enough to average noise and ringing, short against every event. */
const BLOCK_SECONDS = 0.01;

/** What one pass over the samples leaves behind: the summed force, and its sums in blocks of 10 ms. */
export interface LoadProfile {
  readonly rate: number;
  /** Sum of the plates, N. The plate itself where there is only one: never written to. */
  readonly force: Float64Array;
  /** Samples in a block. */
  readonly blockSize: number;
  /** Sum and sum of squares of the force in each full block, N and N^2. */
  readonly sums: Float64Array;
  readonly squares: Float64Array;
}

/**
 * Sums one plate or two and condenses the sum into blocks of 10 ms, in one pass.
 *
 * @param plates Force of each plate, N; equal lengths.
 * @param rate Sampling rate, Hz.
 * @param take Memory for what is made; memory of its own where absent.
 * @returns The summed force and the block sums.
 * @throws {InputError} `wrong-shape` if a plate is missing, one too many, empty or of another length.
 * @throws {InputError} `not-a-number` if a value is not finite.
 */
export function loadProfile(plates: readonly Float64Array[], rate: number, take: Take = ownMemory): LoadProfile {
  const [first, second] = plates;
  if (first === undefined || first.length < 2) throw new InputError("wrong-shape", "a trace requires at least two force values");
  if (plates.length > 2) throw new InputError("wrong-shape", "a trace requires one plate or two that carry the person");
  if (second !== undefined && second.length !== first.length) {
    throw new InputError("wrong-shape", "a trace requires plates of the same length");
  }
  if (!(rate > 0) || !Number.isFinite(rate)) throw new InputError("out-of-range", "a trace requires a sampling rate above zero");
  const blockSize = Math.max(1, Math.round(rate * BLOCK_SECONDS));
  const blocks = Math.floor(first.length / blockSize);
  const sums = take(blocks);
  const squares = take(blocks);
  const force = second === undefined ? first : take(first.length);
  if (second === undefined) onePlate(first, blockSize, sums, squares);
  else twoPlates(first, second, force, blockSize, sums, squares);
  const check = sumOf(squares, 0, blocks) + sumOf(force, blocks * blockSize, force.length);
  if (!Number.isFinite(check)) throw new InputError("not-a-number", "a trace requires finite force values");
  return { rate, blockSize, sums, squares, force };
}

/**
 * The profile after a constant and a linear drift were taken off: `F - offset - slope (t - middle)`, N, N/s, s. Its blocks
 * are those of the profile before, changed in place.
 */
export function correctedProfile(profile: LoadProfile, force: Float64Array, offset: number, slope: number, middle: number): LoadProfile {
  const { blockSize, rate, sums, squares } = profile;
  // Within a block of 10 ms a drift is a constant.
  let off = offset + slope * ((0.5 * blockSize - 0.5) / rate - middle);
  const step = (slope * blockSize) / rate;
  for (let b = 0; b < sums.length; b++) {
    const sum = sums[b]!;
    const shift = off * blockSize;
    sums[b] = sum - shift;
    squares[b]! += off * (shift - 2 * sum);
    off += step;
  }
  return { rate, blockSize, force, sums, squares };
}

function onePlate(force: Float64Array, blockSize: number, sums: Float64Array, squares: Float64Array): void {
  let i = 0;
  for (let b = 0; b < sums.length; b++) {
    let sum = 0;
    let square = 0;
    for (const end = i + blockSize; i < end; i++) {
      const f = force[i]!;
      sum += f;
      square += f * f;
    }
    sums[b] = sum;
    squares[b] = square;
  }
}

/** Five samples at a time (a block of 10 ms holds 5, 10 or 20 at the usual rates): the pass over everything is the longest one of an analysis. */
function twoPlates(left: Float64Array, right: Float64Array, force: Float64Array, blockSize: number, sums: Float64Array, squares: Float64Array): void {
  let i = 0;
  for (let block = 0; block < sums.length; block++) {
    let sum = 0;
    let square = 0;
    const end = i + blockSize;
    for (; i + 4 < end; i += 5) {
      const a = left[i]! + right[i]!;
      const b = left[i + 1]! + right[i + 1]!;
      const c = left[i + 2]! + right[i + 2]!;
      const d = left[i + 3]! + right[i + 3]!;
      const e = left[i + 4]! + right[i + 4]!;
      force[i] = a;
      force[i + 1] = b;
      force[i + 2] = c;
      force[i + 3] = d;
      force[i + 4] = e;
      sum = sum + a + b + c + d + e;
      square = square + a * a + b * b + c * c + d * d + e * e;
    }
    for (; i < end; i++) {
      const f = left[i]! + right[i]!;
      force[i] = f;
      sum += f;
      square += f * f;
    }
    sums[block] = sum;
    squares[block] = square;
  }
  for (; i < force.length; i++) force[i] = left[i]! + right[i]!;
}
