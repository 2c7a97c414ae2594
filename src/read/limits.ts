import { InputError } from "../errors.ts";

/** Largest file that is read, bytes: above this a browser tab may run out of memory. */
export const MAX_RECORDING_BYTES = 256 * 2 ** 20;
/** Most samples of one column. */
export const MAX_SAMPLES = 10_000_000;
/** Most columns of one table. */
export const MAX_COLUMNS = 4096;

/**
 * Refuses a file by its size, before a byte of it is read.
 *
 * @param bytes Size of the file, bytes.
 * @param fileName Name for the message, no unit.
 * @throws {InputError} `too-large` above 256 MiB; `wrong-shape` if the file is empty.
 */
export function checkRecordingSize(bytes: number, fileName: string): void {
  if (bytes === 0) throw new InputError("wrong-shape", "reading requires a file with something in it, and this one is empty", fileName);
  if (bytes > MAX_RECORDING_BYTES) {
    const megabytes = Math.round(bytes / 2 ** 20);
    throw new InputError("too-large", `reading requires a file below ${MAX_RECORDING_BYTES / 2 ** 20} MB, and this one has ${megabytes} MB: export single trials`, fileName);
  }
}
