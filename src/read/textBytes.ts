import { InputError } from "../errors.ts";

export type Encoding = "UTF-8" | "UTF-16LE" | "UTF-16BE";

/**
 * The bytes of a text file as UTF-8 without byte-order mark.
 *
 * UTF-16 is told by its mark, or by a zero in every other of the first bytes.
 *
 * @param bytes Content of the file, no unit.
 * @returns The text as UTF-8 bytes (the same memory where nothing had to change), and what it was.
 * @throws {InputError} `not-recognised` if the file holds bytes that no text has.
 */
export function textBytes(bytes: Uint8Array): { bytes: Uint8Array; encoding: Encoding } {
  const encoding = encodingOf(bytes);
  if (encoding === "UTF-8") {
    const text = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? bytes.subarray(3) : bytes;
    refuseBinary(text);
    return { bytes: text, encoding };
  }
  const text = fromUtf16(bytes, encoding === "UTF-16LE");
  refuseBinary(text);
  return { bytes: text, encoding };
}

/** The characters of UTF-8 bytes; bytes that are not UTF-8 are read as Latin-1. */
export function textOf(bytes: Uint8Array, start = 0, end = bytes.length): string {
  let text = "";
  for (let i = start; i < end; i++) {
    const byte = bytes[i];
    if (byte < 0x80) {
      text += String.fromCharCode(byte);
      continue;
    }
    const extra = byte >= 0xf0 ? 3 : byte >= 0xe0 ? 2 : byte >= 0xc2 ? 1 : 0;
    let code = byte & (0x3f >> extra);
    let valid = extra > 0 && byte < 0xf5 && i + extra < end;
    for (let k = 1; valid && k <= extra; k++) {
      valid = (bytes[i + k] & 0xc0) === 0x80;
      code = (code << 6) | (bytes[i + k] & 0x3f);
    }
    if (valid && code <= 0x10ffff && (code < 0xd800 || code > 0xdfff)) {
      text += String.fromCodePoint(code);
      i += extra;
    } else {
      text += String.fromCharCode(byte);
    }
  }
  return text;
}

/** UTF-8 bytes of a text. */
export function bytesOf(text: string): Uint8Array {
  const bytes = new Uint8Array(text.length * 3);
  let length = 0;
  for (let i = 0; i < text.length; i++) {
    const code = text.codePointAt(i)!;
    if (code > 0xffff) i++;
    length = putUtf8(bytes, length, code);
  }
  return bytes.slice(0, length);
}

function encodingOf(bytes: Uint8Array): Encoding {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return "UTF-16LE";
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return "UTF-16BE";
  const pairs = Math.min(64, bytes.length >> 1);
  let evenZeros = 0;
  let oddZeros = 0;
  for (let i = 0; i < pairs; i++) {
    if (bytes[2 * i] === 0) evenZeros++;
    if (bytes[2 * i + 1] === 0) oddZeros++;
  }
  if (pairs >= 4 && oddZeros === pairs && evenZeros === 0) return "UTF-16LE";
  if (pairs >= 4 && evenZeros === pairs && oddZeros === 0) return "UTF-16BE";
  return "UTF-8";
}

function fromUtf16(bytes: Uint8Array, little: boolean): Uint8Array {
  const out = new Uint8Array((bytes.length >> 1) * 3);
  const unit = (i: number) => (little ? bytes[i] | (bytes[i + 1] << 8) : (bytes[i] << 8) | bytes[i + 1]);
  let length = 0;
  for (let i = unit(0) === 0xfeff ? 2 : 0; i + 1 < bytes.length; i += 2) {
    let code = unit(i);
    if (code >= 0xd800 && code < 0xdc00 && i + 3 < bytes.length) {
      const low = unit(i + 2);
      if (low >= 0xdc00 && low < 0xe000) {
        code = 0x10000 + ((code - 0xd800) << 10) + (low - 0xdc00);
        // A pair gives four bytes of UTF-8 for four of UTF-16, within the three bytes kept for each unit.
        i += 2;
      }
    }
    length = putUtf8(out, length, code);
  }
  return out.subarray(0, length);
}

function putUtf8(out: Uint8Array, at: number, code: number): number {
  if (code < 0x80) {
    out[at++] = code;
    return at;
  }
  if (code < 0x800) {
    out[at++] = 0xc0 | (code >> 6);
  } else {
    if (code < 0x10000) {
      out[at++] = 0xe0 | (code >> 12);
    } else {
      out[at++] = 0xf0 | (code >> 18);
      out[at++] = 0x80 | ((code >> 12) & 63);
    }
    out[at++] = 0x80 | ((code >> 6) & 63);
  }
  out[at++] = 0x80 | (code & 63);
  return at;
}

/** Control characters other than tab, line feed, form feed, carriage return and escape stand in no recording. */
function refuseBinary(bytes: Uint8Array): void {
  const end = Math.min(bytes.length, 16_384);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  let i = 0;
  // Four bytes at a time; the high bit of each remains where it was below 32.
  for (; i + 4 <= end; i += 4) {
    const four = view.getInt32(i, true);
    if (((four - 0x20202020) & ~four & 0x80808080) !== 0) for (let k = i; k < i + 4; k++) refuseControl(bytes, k);
  }
  for (; i < end; i++) refuseControl(bytes, i);
}

function refuseControl(bytes: Uint8Array, at: number): void {
  const byte = bytes[at];
  if (byte < 32 && byte !== 9 && byte !== 10 && byte !== 12 && byte !== 13 && byte !== 26) {
    throw new InputError("not-recognised", "reading requires a text file of numbers, a C3D file or a workbook, and this is none of them", `byte ${at + 1}`);
  }
}
