const TABLE = makeTable();

/**
 * CRC-32 of bytes or of the characters of a text, continued from an earlier checksum (polynomial 0xEDB88320).
 *
 * Assumes one byte a character (codes 0 to 255).
 *
 * @param content Bytes or characters to add, no unit.
 * @param before Checksum of what came before; zero to begin.
 * @returns Checksum as an unsigned 32-bit number, no unit.
 * @see Deutsch (1996) RFC 1952, section 8.
 */
export function crc32(content: string | Uint8Array, before = 0): number {
  let crc = ~before;
  if (typeof content === "string") {
    for (let i = 0; i < content.length; i++) crc = TABLE[(crc ^ content.charCodeAt(i)) & 0xff] ^ (crc >>> 8);
  } else {
    for (let i = 0; i < content.length; i++) crc = TABLE[(crc ^ content[i]) & 0xff] ^ (crc >>> 8);
  }
  return ~crc >>> 0;
}

function makeTable(): Int32Array {
  const table = new Int32Array(256);
  for (let n = 0; n < 256; n++) {
    let c = n;
    for (let bit = 0; bit < 8; bit++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
    table[n] = c;
  }
  return table;
}
