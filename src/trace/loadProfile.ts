import { InputError } from "../errors.ts";

/** Length of a block, s: long enough to average noise and ringing, short against every event. */
const BLOCK_SECONDS = 0.01;

/** What one pass over the samples leaves behind: the summed force, and its means in blocks of 10 ms. */
export interface LoadProfile {
  readonly rate: number;
  /** Sum of the summed plates, N. The plate itself where there is only one: never written to. */
  readonly force: Float64Array;
  /** Samples in a block. */
  readonly blockSize: number;
  /** Sum and sum of squares of the force in each full block, N and N^2. */
  readonly sums: Float64Array;
  readonly squares: Float64Array;
}

/**
 * Sums the plates and condenses the sum into blocks of 10 ms, in one pass.
 *
 * @param plates Force of each plate, N; equal lengths.
 * @param rate Sampling rate, Hz.
 * @returns The summed force and the block sums.
 * @throws {InputError} `wrong-shape` if a plate is missing, empty or of another length.
 * @throws {InputError} `not-a-number` if a value is not finite.
 */
export function loadProfile(plates: readonly Float64Array[], rate: number): LoadProfile {
  const first = plates[0];
  if (first === undefined || first.length < 2) throw new InputError("wrong-shape", "a trace requires at least two force values");
  if (plates.some((plate) => plate.length !== first.length)) {
    throw new InputError("wrong-shape", "a trace requires plates of the same length");
  }
  if (!(rate > 0) || !Number.isFinite(rate)) throw new InputError("out-of-range", "a trace requires a sampling rate above zero");
  const blockSize = Math.max(1, Math.round(rate * BLOCK_SECONDS));
  const blocks = Math.floor(first.length / blockSize);
  // One piece of memory for all of it: each of its own costs more than its filling.
  const memory = new ArrayBuffer(8 * (2 * blocks + (plates.length === 1 ? 0 : first.length)));
  const sums = new Float64Array(memory, 0, blocks);
  const squares = new Float64Array(memory, 8 * blocks, blocks);
  const total = plates.length === 1 ? first : new Float64Array(memory, 16 * blocks, first.length);
  if (plates.length > 2) sumInto(total, plates);
  if (plates.length === 2) twoPlates(first, plates[1]!, total, blockSize, sums, squares);
  else onePlate(total, blockSize, sums, squares);
  let check = 0;
  for (let b = 0; b < blocks; b++) check += squares[b]!;
  for (let i = blocks * blockSize; i < first.length; i++) check += total[i]!;
  if (!Number.isFinite(check)) throw new InputError("not-a-number", "a trace requires finite force values");
  return { rate, blockSize, sums, squares, force: total };
}

/**
 * The profile after a constant and a linear drift were taken off: `F - offset - slope (t - middle)`, N, N/s, s. Its blocks
 * are those of the profile before, changed in place.
 */
export function correctedProfile(profile: LoadProfile, force: Float64Array, offset: number, slope: number, middle: number): LoadProfile {
  const { blockSize, rate, sums, squares } = profile;
  for (let b = 0; b < sums.length; b++) {
    // Within a block of 10 ms a drift is a constant.
    const off = offset + slope * (((b + 0.5) * blockSize - 0.5) / rate - middle);
    const sum = sums[b]!;
    sums[b] = sum - off * blockSize;
    squares[b] = squares[b]! - 2 * off * sum + off * off * blockSize;
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

function twoPlates(left: Float64Array, right: Float64Array, force: Float64Array, blockSize: number, sums: Float64Array, squares: Float64Array): void {
  let i = 0;
  for (let b = 0; b < sums.length; b++) {
    let sum = 0;
    let square = 0;
    for (const end = i + blockSize; i < end; i++) {
      const f = left[i]! + right[i]!;
      force[i] = f;
      sum += f;
      square += f * f;
    }
    sums[b] = sum;
    squares[b] = square;
  }
  for (; i < force.length; i++) force[i] = left[i]! + right[i]!;
}

function sumInto(total: Float64Array, plates: readonly Float64Array[]): void {
  for (const plate of plates) for (let i = 0; i < total.length; i++) total[i] = total[i]! + plate[i]!;
}
