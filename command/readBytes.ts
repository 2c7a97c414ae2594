import { closeSync, fstatSync, openSync, readFileSync, readSync } from "node:fs";
import { InputError } from "../src/errors.ts";
import { checkRecordingSize } from "../src/read/limits.ts";

/** Larger files get memory of their own, bytes. */
const LARGEST_SHARED = 2 ** 22;

let shared = new Uint8Array(2 ** 18);

/**
 * The bytes of a file, in memory that the next call uses again: a folder of recordings then needs the memory of one. Whoever keeps them
 * beyond the next call copies them.
 *
 * @throws {InputError} `not-recognised` if there is no such file, and for a size that no recording has.
 */
export function readBytes(file: string): Uint8Array {
  const handle = opened(file);
  try {
    const { size } = fstatSync(handle);
    checkRecordingSize(size, file);
    if (size > LARGEST_SHARED) return new Uint8Array(readFileSync(handle));
    if (size > shared.length) shared = new Uint8Array(Math.min(LARGEST_SHARED, 2 * size));
    let length = 0;
    while (length < size) {
      const read = readSync(handle, shared, length, size - length, null);
      if (read === 0) break;
      length += read;
    }
    return shared.subarray(0, length);
  } finally {
    closeSync(handle);
  }
}

function opened(file: string): number {
  try {
    return openSync(file, "r");
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") throw new InputError("not-recognised", "reading requires a file that exists");
    throw error;
  }
}
