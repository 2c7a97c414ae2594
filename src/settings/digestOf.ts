/**
 * Short digest of a text: FNV-1a, 64 bit, over its UTF-16 code units in two bytes each where above 255, as 16 hexadecimal digits.
 *
 * Not for security: it tells equal choices from unequal ones.
 *
 * @param text Any text.
 * @returns 16 hexadecimal digits.
 * @see Fowler, Noll and Vo (1991), FNV-1a: offset basis cbf29ce484222325, prime 100000001b3.
 */
export function digestOf(text: string): string {
  let high = 0xcbf29ce4;
  let low = 0x84222325;
  const mix = (byte: number): void => {
    low = (low ^ byte) >>> 0;
    // Times 2^40 + 0x1b3, modulo 2^64; the products stay below 2^53.
    const product = low * 0x1b3;
    high = (Math.imul(high, 0x1b3) + Math.floor(product / 4294967296) + (low << 8)) >>> 0;
    low = product >>> 0;
  };
  for (let i = 0; i < text.length; i++) {
    const unit = text.charCodeAt(i);
    if (unit > 255) mix(unit >>> 8);
    mix(unit & 255);
  }
  return high.toString(16).padStart(8, "0") + low.toString(16).padStart(8, "0");
}
