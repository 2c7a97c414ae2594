import { closeSync, openSync, readFileSync, readSync } from "node:fs";

/** Larger files get memory of their own, bytes. */
const LARGEST_SHARED = 2 ** 22;

let shared = new Uint8Array(2 ** 18);

/**
 * The bytes of a file, in memory that the next call uses again: a folder of recordings then needs the memory of one. Whoever keeps them
 * beyond the next call copies them.
 *
 * @param size Bytes the file is known to have.
 */
export function readBytes(file: string, size: number): Uint8Array {
  if (size > LARGEST_SHARED) return new Uint8Array(readFileSync(file));
  if (size > shared.length) shared = new Uint8Array(Math.min(LARGEST_SHARED, 2 * size));
  const handle = openSync(file, "r");
  try {
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
