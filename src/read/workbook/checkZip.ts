import { InputError } from "../../errors.ts";

/** What a workbook may be, before any of it is unpacked. */
export interface ZipLimits {
  /** Bytes of the file. @default 128 MiB */
  readonly input: number;
  /** Bytes of all entries, unpacked, as the directory declares them. @default 512 MiB */
  readonly unpacked: number;
  /** @default 2000 */
  readonly entries: number;
}

/** One part of a ZIP file, as the directory declares it. */
export interface ZipEntry {
  readonly name: string;
  /** Bytes when unpacked. */
  readonly size: number;
  /** Bytes in the file. */
  readonly packed: number;
  /** Place of its local header in the file. */
  readonly start: number;
}

export const WORKBOOK_LIMITS: ZipLimits = { input: 128 * 2 ** 20, unpacked: 512 * 2 ** 20, entries: 2000 };

/** Sheets of numbers and text pack to a tenth or a thirtieth; a bomb, at best, to a thousandth. Below the first size nothing is gained by one. */
const [ALWAYS_UNPACKED, MOST_TIMES] = [32 * 2 ** 20, 100] as const;

const LOCAL = 0x04034b50;
const CENTRAL = 0x02014b50;
const END = 0x06054b50;
const END_LENGTH = 22;
const CENTRAL_LENGTH = 46;
const LONGEST_COMMENT = 65_535;

/**
 * Checks the directory of a ZIP file against limits, so that a small file cannot unpack to more than memory holds.
 *
 * The sizes are the declared ones: the library that unpacks refuses an entry that is larger than it declares. Entries that
 * share bytes, entries outside the file, and ZIP64 are refused.
 *
 * @param bytes Content of the file, no unit.
 * @param limits Largest sizes and count.
 * @returns The entries in the order of their bytes: name, declared sizes, and where each begins, bytes.
 * @throws {InputError} `not-recognised` if it is no ZIP file; `too-large` above a limit; `damaged` if the directory contradicts itself.
 * @see APPNOTE.TXT, .ZIP File Format Specification, sections 4.3.12 and 4.3.16.
 */
export function checkZip(bytes: Uint8Array, limits: ZipLimits = WORKBOOK_LIMITS): ZipEntry[] {
  if (bytes.length > limits.input) {
    throw new InputError("too-large", `reading a workbook requires a file below ${megabytes(limits.input)} MB, and this one has ${megabytes(bytes.length)} MB`);
  }
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < END_LENGTH || view.getUint32(0, true) !== LOCAL) throw new InputError("not-recognised", "reading a workbook requires an .xlsx file, and this is none");
  const end = endOfDirectory(view);
  const count = view.getUint16(end + 10, true);
  let at = view.getUint32(end + 16, true);
  if (count === 0xffff || at === 0xffffffff) throw new InputError("too-large", "reading a workbook requires an ordinary ZIP file, not one of the kind for very large files");
  if (count > limits.entries) throw new InputError("too-large", `reading a workbook requires at most ${limits.entries} parts, and this one has ${count}`);
  const entries: ZipEntry[] = [];
  let total = 0;
  for (let i = 0; i < count; i++) {
    if (at + CENTRAL_LENGTH > end || view.getUint32(at, true) !== CENTRAL) throw broken();
    const packed = view.getUint32(at + 20, true);
    const size = view.getUint32(at + 24, true);
    const nameLength = view.getUint16(at + 28, true);
    const start = view.getUint32(at + 42, true);
    total += size;
    if (size === 0xffffffff || packed === 0xffffffff || total > limits.unpacked) {
      throw new InputError("too-large", `reading a workbook requires that it unpacks to less than ${megabytes(limits.unpacked)} MB`);
    }
    if (start + packed > end) throw broken();
    const nameStart = at + CENTRAL_LENGTH;
    entries.push({ name: String.fromCharCode(...bytes.subarray(nameStart, nameStart + nameLength)), size, start, packed });
    at = nameStart + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  if (total > Math.max(ALWAYS_UNPACKED, MOST_TIMES * bytes.length)) {
    throw new InputError("too-large", `reading a workbook requires that it unpacks to less than ${MOST_TIMES} times its size, and this one declares ${Math.round(total / bytes.length)} times`);
  }
  entries.sort((a, b) => a.start - b.start);
  for (let i = 1; i < entries.length; i++) if (entries[i].start < entries[i - 1].start + entries[i - 1].packed) throw broken();
  return entries;
}

function endOfDirectory(view: DataView): number {
  const first = Math.max(0, view.byteLength - END_LENGTH - LONGEST_COMMENT);
  for (let at = view.byteLength - END_LENGTH; at >= first; at--) if (view.getUint32(at, true) === END) return at;
  throw broken();
}

function broken(): InputError {
  return new InputError("damaged", "reading a workbook requires a whole file, and the directory of this one is damaged");
}

function megabytes(bytes: number): number {
  return Math.round(bytes / 2 ** 20);
}
