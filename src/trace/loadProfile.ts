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
  /** Largest value of each plate and where it first occurs; smallest likewise. */
  readonly extremes: readonly PlateExtremes[];
}

export interface PlateExtremes {
  readonly largestAt: number;
  readonly smallestAt: number;
}

/**
 * Sums the plates and condenses the sum into blocks of 10 ms, in one pass.
 *
 * @param plates Force of each plate, N; equal lengths.
 * @param rate Sampling rate, Hz.
 * @returns The summed force, the block sums and the extremes of each plate.
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
  const sums = new Float64Array(blocks);
  const squares = new Float64Array(blocks);
  const profile =
    plates.length === 1
      ? onePlate(first, blockSize, sums, squares)
      : plates.length === 2
        ? twoPlates(first, plates[1]!, blockSize, sums, squares)
        : onePlate(sumOf(plates), blockSize, sums, squares);
  let check = 0;
  for (let b = 0; b < blocks; b++) check += squares[b]!;
  for (let i = blocks * blockSize; i < first.length; i++) check += profile.force[i]!;
  if (!Number.isFinite(check)) throw new InputError("not-a-number", "a trace requires finite force values");
  return { rate, blockSize, sums, squares, force: profile.force, extremes: profile.extremes };
}

/**
 * The profile after a constant and a linear drift were taken off: `F - offset - slope (t - middle)`, N, N/s, s. Its blocks
 * are those of the profile before, changed in place.
 */
export function correctedProfile(profile: LoadProfile, force: Float64Array, offset: number, slope: number, middle: number): LoadProfile {
  const { blockSize, rate, sums, squares, extremes } = profile;
  for (let b = 0; b < sums.length; b++) {
    // Within a block of 10 ms a drift is a constant.
    const off = offset + slope * (((b + 0.5) * blockSize - 0.5) / rate - middle);
    const sum = sums[b]!;
    sums[b] = sum - off * blockSize;
    squares[b] = squares[b]! - 2 * off * sum + off * off * blockSize;
  }
  return { rate, blockSize, force, sums, squares, extremes };
}

function onePlate(force: Float64Array, blockSize: number, sums: Float64Array, squares: Float64Array) {
  let largest = -Infinity;
  let smallest = Infinity;
  let largestAt = 0;
  let smallestAt = 0;
  let i = 0;
  for (let b = 0; b < sums.length; b++) {
    let sum = 0;
    let square = 0;
    for (const end = i + blockSize; i < end; i++) {
      const f = force[i]!;
      if (f > largest) {
        largest = f;
        largestAt = i;
      }
      if (f < smallest) {
        smallest = f;
        smallestAt = i;
      }
      sum += f;
      square += f * f;
    }
    sums[b] = sum;
    squares[b] = square;
  }
  return { force, extremes: [{ largestAt, smallestAt }] };
}

function twoPlates(left: Float64Array, right: Float64Array, blockSize: number, sums: Float64Array, squares: Float64Array) {
  const n = left.length;
  const force = new Float64Array(n);
  let largestLeft = -Infinity;
  let smallestLeft = Infinity;
  let largestRight = -Infinity;
  let smallestRight = Infinity;
  let largestLeftAt = 0;
  let smallestLeftAt = 0;
  let largestRightAt = 0;
  let smallestRightAt = 0;
  let i = 0;
  for (let b = 0; b < sums.length; b++) {
    let sum = 0;
    let square = 0;
    for (const end = i + blockSize; i < end; i++) {
      const l = left[i]!;
      const r = right[i]!;
      const f = l + r;
      force[i] = f;
      if (l > largestLeft) {
        largestLeft = l;
        largestLeftAt = i;
      }
      if (l < smallestLeft) {
        smallestLeft = l;
        smallestLeftAt = i;
      }
      if (r > largestRight) {
        largestRight = r;
        largestRightAt = i;
      }
      if (r < smallestRight) {
        smallestRight = r;
        smallestRightAt = i;
      }
      sum += f;
      square += f * f;
    }
    sums[b] = sum;
    squares[b] = square;
  }
  for (; i < n; i++) force[i] = left[i]! + right[i]!;
  return {
    force,
    extremes: [
      { largestAt: largestLeftAt, smallestAt: smallestLeftAt },
      { largestAt: largestRightAt, smallestAt: smallestRightAt },
    ],
  };
}

function sumOf(plates: readonly Float64Array[]): Float64Array {
  const total = new Float64Array(plates[0]!.length);
  for (const plate of plates) for (let i = 0; i < total.length; i++) total[i] = total[i]! + plate[i]!;
  return total;
}
