import { type C3dAnalog, firstNumber } from "./c3dAnalog.ts";
import { broken, type C3dParameter, type C3dParameters } from "./c3dParameters.ts";

/** Channels of each kind of plate: 1 forces and centre of pressure, 2 forces and moments, 3 eight forces, 4 as 2 with a calibration matrix. */
const CHANNELS: Readonly<Record<number, number>> = { 1: 6, 2: 6, 3: 8, 4: 6 };
const MOST_PLATES = 32;

/** The force of one plate along the vertical of the laboratory. */
export interface C3dPlate {
  readonly number: number;
  readonly type: number;
  /** Force on the person, upward, in the unit of the plate (mostly N). */
  vertical(): Float64Array;
}

type Vector = readonly [number, number, number];

/**
 * Force platforms of TYPE-1 to TYPE-4: forces along the plate's axes, turned into the laboratory by its corners.
 *
 * The vertical is the axis of the laboratory nearest to the normal of the first plate. A plate without corners is taken to have its z axis
 * downward, as plates in the floor do. Channels are lowered by their mean over the frames of FORCE_PLATFORM:ZERO, where it names some.
 *
 * @param analog Analog channels.
 * @param parameters Parameters of the file.
 * @returns The plates; none where the file names none.
 * @throws {InputError} `damaged` if a plate names a channel that is not there.
 * @see The C3D file format, user guide (c3d.org), FORCE_PLATFORM group.
 */
export function c3dPlates(analog: C3dAnalog, parameters: C3dParameters): { plates: C3dPlate[]; warnings: string[] } {
  const warnings: string[] = [];
  const used = firstNumber(parameters, "FORCE_PLATFORM:USED", true) ?? 0;
  if (used > MOST_PLATES) throw broken(`there are said to be ${used} force plates`);
  const types = parameters.get("FORCE_PLATFORM:TYPE")?.numbers ?? [];
  const channel = parameters.get("FORCE_PLATFORM:CHANNEL");
  if (used === 0 || !channel) return { plates: [], warnings };
  const up = verticalAxis(parameters);
  const zero = zeroRange(analog, parameters);
  const plates: C3dPlate[] = [];
  for (let plate = 0; plate < used; plate++) {
    const type = types[plate] ?? 0;
    const count = CHANNELS[type];
    if (count === undefined) {
      warnings.push(`plate ${plate + 1} is of TYPE-${type}, which is not read`);
      continue;
    }
    const channels = plateChannels(channel, plate, count, analog.channels.length);
    const axes = plateAxes(parameters, plate);
    const weights = channelWeights(type, axes, up, type === 4 ? calibration(parameters, plate) : undefined);
    plates.push({ number: plate + 1, type, vertical: () => weightedSum(analog, channels, weights, zero) });
  }
  return { plates, warnings };
}

/** Indexes from zero of the channels of a plate. */
function plateChannels(parameter: C3dParameter, plate: number, count: number, there: number): number[] {
  const rows = parameter.dimensions[0] ?? 0;
  const channels = Array.from({ length: count }, (_, i) => (i < rows ? (parameter.unsigned[plate * rows + i] ?? 0) - 1 : -1));
  const missing = channels.find((index) => index < 0 || index >= there);
  if (missing !== undefined) throw broken(`plate ${plate + 1} names channel ${missing + 1}, and there are ${there}`);
  return channels;
}

/** What each channel adds to the vertical force. */
function channelWeights(type: number, axes: readonly [Vector, Vector, Vector], up: Vector, matrix: ((row: number, column: number) => number) | undefined): number[] {
  const [x, y, z] = axes.map((axis) => dot(axis, up));
  if (type === 3) return [x, x, y, y, z, z, z, z];
  if (!matrix) return [x, y, z, 0, 0, 0];
  return Array.from({ length: 6 }, (_, column) => x * matrix(0, column) + y * matrix(1, column) + z * matrix(2, column));
}

function calibration(parameters: C3dParameters, plate: number): (row: number, column: number) => number {
  const parameter = parameters.get("FORCE_PLATFORM:CAL_MATRIX");
  const rows = parameter?.dimensions[0] ?? 0;
  const columns = parameter?.dimensions[1] ?? 0;
  const first = plate * rows * columns;
  if (!parameter || rows < 6 || columns < 6 || first + rows * columns > parameter.numbers.length) {
    throw broken(`plate ${plate + 1} is of TYPE-4 and has no calibration matrix`);
  }
  return (row, column) => parameter.numbers[first + row + rows * column];
}

function weightedSum(analog: C3dAnalog, channels: readonly number[], weights: readonly number[], zero: readonly [number, number] | undefined): Float64Array {
  const sum = new Float64Array(analog.samples);
  channels.forEach((channel, k) => {
    const weight = weights[k];
    if (weight === 0) return;
    const values = analog.values(channel);
    let base = 0;
    if (zero) {
      for (let i = zero[0]; i < zero[1]; i++) base += values[i];
      base /= zero[1] - zero[0];
    }
    for (let i = 0; i < sum.length; i++) sum[i] += weight * (values[i] - base);
  });
  return sum;
}

/** Samples over which the plates are said to be empty; undefined where the file names none. */
function zeroRange(analog: C3dAnalog, parameters: C3dParameters): [number, number] | undefined {
  const frames = parameters.get("FORCE_PLATFORM:ZERO")?.numbers ?? [];
  const [first, last] = frames;
  if (!(first >= 1 && last >= first)) return undefined;
  const start = (first - 1) * analog.perFrame;
  const end = Math.min(analog.samples, last * analog.perFrame);
  return start < end ? [start, end] : undefined;
}

/** Unit vectors of the plate's x, y and z in the laboratory. Corners are numbered from the quadrant +x +y by way of -x +y. */
function plateAxes(parameters: C3dParameters, plate: number): [Vector, Vector, Vector] {
  const fallback: [Vector, Vector, Vector] = [
    [1, 0, 0],
    [0, -1, 0],
    [0, 0, -1],
  ];
  const numbers = parameters.get("FORCE_PLATFORM:CORNERS")?.numbers ?? [];
  const corner = (i: number): Vector => [0, 1, 2].map((axis) => numbers[plate * 12 + i * 3 + axis] ?? NaN) as unknown as Vector;
  const [a, b, c, d] = [corner(0), corner(1), corner(2), corner(3)];
  const x = unit(minus(plus(a, d), plus(b, c)));
  const towardY = minus(plus(a, b), plus(c, d));
  const z = x && unit(cross(x, towardY));
  if (!x || !z) return fallback;
  return [x, cross(z, x), z];
}

/** The axis of the laboratory along which the first plate that has corners faces. */
function verticalAxis(parameters: C3dParameters): Vector {
  const [, , z] = plateAxes(parameters, 0);
  const sizes = z.map(Math.abs);
  const axis = sizes.indexOf(Math.max(...sizes));
  return [0, 1, 2].map((i) => (i === axis ? 1 : 0)) as unknown as Vector;
}

function plus(a: Vector, b: Vector): Vector {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
}

function minus(a: Vector, b: Vector): Vector {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

function dot(a: Vector, b: Vector): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

function cross(a: Vector, b: Vector): Vector {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

function unit(a: Vector): Vector | undefined {
  const length = Math.hypot(...a);
  return length > 0 && Number.isFinite(length) ? [a[0] / length, a[1] / length, a[2] / length] : undefined;
}
