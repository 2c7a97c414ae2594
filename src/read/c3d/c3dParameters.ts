import { InputError } from "../../errors.ts";
import { C3dNumbers, type Processor } from "./c3dNumbers.ts";

/** One parameter: numbers or texts, and its dimensions. */
export interface C3dParameter {
  readonly dimensions: readonly number[];
  readonly numbers: readonly number[];
  /** Whole numbers read without sign, for counts above 32,767; equal to `numbers` for reals. */
  readonly unsigned: readonly number[];
  readonly texts: readonly string[];
}

/** Parameters by `GROUP:NAME` in capitals. */
export type C3dParameters = ReadonlyMap<string, C3dParameter>;

export const C3D_BLOCK = 512;
const MOST_PARAMETERS = 20_000;
const MOST_VALUES = 1_000_000;
const PROCESSORS: Readonly<Record<number, Processor>> = { 84: "intel", 85: "dec", 86: "sgi" };

/** Whether bytes begin as a C3D file does: a pointer to the parameters, then the key 80. */
export function isC3d(bytes: Uint8Array): boolean {
  return bytes.length >= C3D_BLOCK && bytes[1] === 0x50 && bytes[0] >= 2 && bytes[0] < 128;
}

/**
 * Reads the parameter section of a C3D file.
 *
 * @param bytes Content of the file, no unit.
 * @returns The parameters, and the numbers of the file in the way its processor writes them.
 * @throws {InputError} `damaged` if the section is not in the file or a parameter runs over its end.
 * @see The C3D file format, user guide (c3d.org), parameter section.
 */
export function c3dParameters(bytes: Uint8Array): { parameters: C3dParameters; numbers: C3dNumbers } {
  const start = (bytes[0] - 1) * C3D_BLOCK;
  if (start + 4 > bytes.length) throw broken("its parameters are not in the file");
  const processor = PROCESSORS[bytes[start + 3]];
  if (processor === undefined) throw broken(`it names the processor ${bytes[start + 3]}, which no C3D file has`);
  const numbers = new C3dNumbers(bytes, processor);
  const groups = new Map<number, string>();
  const found: { group: number; name: string; parameter: C3dParameter }[] = [];
  let at = start + 4;
  let values = 0;
  for (let count = 0; ; count++) {
    if (count > MOST_PARAMETERS) throw broken("it has more parameters than any recording needs");
    if (at + 2 > bytes.length) break;
    const nameLength = Math.abs((bytes[at] << 24) >> 24);
    if (nameLength === 0) break;
    const group = (bytes[at + 1] << 24) >> 24;
    const next = at + 2 + nameLength;
    if (next + 3 > bytes.length) throw broken("a parameter runs over the end of the file");
    const name = latin(bytes, at + 2, next).trim().toUpperCase();
    const offset = numbers.uint16(next);
    if (group < 0) groups.set(-group, name);
    else {
      const parameter = readParameter(numbers, next + 2, name);
      values += parameter.numbers.length + parameter.texts.length;
      if (values > MOST_VALUES) throw broken("its parameters hold more values than any recording needs");
      found.push({ group, name, parameter });
    }
    if (offset === 0) break;
    at = next + offset;
  }
  const parameters = new Map<string, C3dParameter>();
  for (const { group, name, parameter } of found) {
    const key = `${groups.get(group) ?? group}:${name}`;
    if (!parameters.has(key)) parameters.set(key, parameter);
  }
  return { parameters, numbers };
}

function readParameter(numbers: C3dNumbers, at: number, name: string): C3dParameter {
  const { bytes } = numbers;
  const type = (bytes[at] << 24) >> 24;
  const rank = bytes[at + 1];
  if (rank > 7) throw broken(`its parameter ${name.slice(0, 40)} has ${rank} dimensions`);
  const dimensions = Array.from(bytes.subarray(at + 2, at + 2 + rank));
  const count = dimensions.reduce((product, size) => product * size, 1);
  const size = Math.abs(type);
  const data = at + 2 + rank;
  if (![-1, 1, 2, 4].includes(type)) throw broken(`its parameter ${name.slice(0, 40)} is of the unknown type ${type}`);
  if (data + count * size > bytes.length) throw broken(`its parameter ${name.slice(0, 40)} runs over the end of the file`);
  if (type === -1) {
    const width = dimensions[0] ?? 1;
    const texts = Array.from({ length: width === 0 ? 0 : count / width }, (_, i) => latin(bytes, data + i * width, data + (i + 1) * width).replace(/[\0 ]+$/, "").trimStart());
    return { dimensions, texts, numbers: [], unsigned: [] };
  }
  const read = (value: (place: number) => number) => Array.from({ length: count }, (_, i) => value(data + i * size));
  if (type === 4) {
    const reals = read((place) => numbers.real(place));
    return { dimensions, texts: [], numbers: reals, unsigned: reals };
  }
  if (type === 2) return { dimensions, texts: [], numbers: read((place) => numbers.int16(place)), unsigned: read((place) => numbers.uint16(place)) };
  return { dimensions, texts: [], numbers: read((place) => (bytes[place] << 24) >> 24), unsigned: read((place) => bytes[place]) };
}

function latin(bytes: Uint8Array, from: number, end: number): string {
  return String.fromCharCode(...bytes.subarray(from, end));
}

/** A C3D file that contradicts itself. */
export function broken(what: string): InputError {
  return new InputError("damaged", `reading a C3D file requires a whole one, and in this one ${what}`);
}
