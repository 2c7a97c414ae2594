import { deflateSync, inflateSync, strFromU8, strToU8 } from "fflate";
import { checkZip } from "../read/workbook/checkZip.ts";
import { crc32 } from "../trace/crc32.ts";

const LOCAL = 0x04034b50;
const CENTRAL = 0x02014b50;
const END = 0x06054b50;
const DEFLATED = 8;
const UTF8_NAMES = 0x0800;
/** First of January 1980: the same content gives the same bytes on every day. */
const DATE = 0x0021;

/**
 * Changes the text of some parts of a ZIP file; the bytes of the others are copied as they are packed.
 *
 * @param bytes A ZIP file of our own making.
 * @param wanted Whether a part is to be unpacked and changed.
 * @param change Gives the new text of a part from its name and its text.
 * @returns The new file.
 * @throws {InputError} as `checkZip`.
 * @see APPNOTE.TXT, .ZIP File Format Specification, section 4.3.
 */
export function replaceParts(bytes: Uint8Array, wanted: (name: string) => boolean, change: (name: string, text: string) => string): Uint8Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const parts = checkZip(bytes).map(({ name, size, packed, start }) => {
    const method = view.getUint16(start + 8, true);
    const data = start + 30 + view.getUint16(start + 26, true) + view.getUint16(start + 28, true);
    const content = bytes.subarray(data, data + packed);
    if (!wanted(name)) return { name: strToU8(name), method, size, sum: view.getUint32(start + 14, true), content };
    const text = change(name, strFromU8(method === DEFLATED ? inflateSync(content, { out: new Uint8Array(size) }) : content));
    const raw = strToU8(text);
    return { name: strToU8(name), method: DEFLATED, size: raw.length, sum: crc32(strFromU8(raw, true)), content: deflateSync(raw, { level: 6 }) };
  });
  const names = parts.reduce((sum, part) => sum + part.name.length, 0);
  const out = new Uint8Array(parts.reduce((sum, part) => sum + part.content.length, 22 + 76 * parts.length + 2 * names));
  const write = new DataView(out.buffer);
  let at = 0;
  const starts = parts.map(({ name, method, size, sum, content }) => {
    const start = at;
    write.setUint32(at, LOCAL, true);
    head(write, at + 4, method, sum, content.length, size, name.length);
    out.set(name, at + 30);
    out.set(content, at + 30 + name.length);
    at += 30 + name.length + content.length;
    return start;
  });
  const directory = at;
  parts.forEach(({ name, method, size, sum, content }, index) => {
    write.setUint32(at, CENTRAL, true);
    write.setUint16(at + 4, 20, true);
    head(write, at + 6, method, sum, content.length, size, name.length);
    write.setUint32(at + 42, starts[index], true);
    out.set(name, at + 46);
    at += 46 + name.length;
  });
  write.setUint32(at, END, true);
  write.setUint16(at + 8, parts.length, true);
  write.setUint16(at + 10, parts.length, true);
  write.setUint32(at + 12, at - directory, true);
  write.setUint32(at + 16, directory, true);
  return out.subarray(0, at + 22);
}

/** What a local header and a directory entry share, from "version needed" on. */
function head(write: DataView, at: number, method: number, sum: number, packed: number, size: number, nameLength: number): void {
  write.setUint16(at, 20, true);
  write.setUint16(at + 2, UTF8_NAMES, true);
  write.setUint16(at + 4, method, true);
  write.setUint16(at + 8, DATE, true);
  write.setUint32(at + 10, sum >>> 0, true);
  write.setUint32(at + 14, packed, true);
  write.setUint32(at + 18, size, true);
  write.setUint16(at + 22, nameLength, true);
}
