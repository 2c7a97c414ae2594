const POWERS = Float64Array.from({ length: 23 }, (_, i) => Number(`1e${i}`));
/** Whole numbers below this are exact in a double, and one more digit can still be added to one. */
const EXACT = 2 ** 53 / 10 - 1;

/**
 * The number written in a stretch of bytes, to the last bit what `Number` gives for the same text.
 *
 * Assumes an optional sign, digits with at most one decimal mark, and an optional exponent; blanks and
 * quotation marks around it do not count. A time of day such as `14:03:07.25` is its seconds since midnight, and `3:07.25` is minutes
 * and seconds.
 *
 * @param bytes Text, UTF-8, no unit.
 * @param start First byte, no unit.
 * @param end Byte after the last, no unit.
 * @param decimal Code of the decimal mark, 46 or 44, no unit.
 * @returns The number, in the unit it is written in; NaN where the bytes are no number.
 * @see Clinger (1990) How to read floating point numbers accurately: the exact fast path.
 */
export function numberInBytes(bytes: Uint8Array, start: number, end: number, decimal: number): number {
  while (start < end && isSurround(bytes[start])) start++;
  while (end > start && isSurround(bytes[end - 1])) end--;
  let i = start;
  const sign = bytes[i];
  if (sign === 45 || sign === 43) i++;
  let mantissa = 0;
  let digits = 0;
  let decimals = 0;
  let exact = true;
  for (; i < end; i++) {
    const digit = bytes[i] - 48;
    if (digit < 0 || digit > 9) break;
    if (mantissa > EXACT) exact = false;
    mantissa = mantissa * 10 + digit;
    digits++;
  }
  if (i < end && bytes[i] === decimal) {
    const mark = i++;
    for (; i < end; i++) {
      const digit = bytes[i] - 48;
      if (digit < 0 || digit > 9) break;
      if (mantissa > EXACT) exact = false;
      mantissa = mantissa * 10 + digit;
      digits++;
      decimals++;
    }
    // "12," is rather a field and a delimiter than a number.
    if (decimal === 44 && i === mark + 1) return NaN;
  }
  if (digits === 0) return NaN;
  let exponent = 0;
  if (i < end && (bytes[i] | 32) === 101) {
    i++;
    const negative = bytes[i] === 45;
    if (i < end && (negative || bytes[i] === 43)) i++;
    const first = i;
    for (; i < end; i++) {
      const digit = bytes[i] - 48;
      if (digit < 0 || digit > 9) break;
      if (exponent < 100_000) exponent = exponent * 10 + digit;
    }
    if (i === first) return NaN;
    if (negative) exponent = -exponent;
  }
  if (i !== end) return bytes[i] === 58 && decimals === 0 ? clockInBytes(bytes, start, end, decimal) : NaN;
  const power = exponent - decimals;
  if (!exact || power < -22 || power > 22) return slowly(bytes, start, end, decimal);
  const value = power < 0 ? mantissa / POWERS[-power] : mantissa * POWERS[power];
  return sign === 45 ? -value : value;
}

/** Hours, minutes and seconds, or minutes and seconds with decimals: whole minutes alone could be hours and minutes. */
function clockInBytes(bytes: Uint8Array, start: number, end: number, decimal: number): number {
  let seconds = 0;
  let parts = 0;
  for (let at = start; at < end; parts++) {
    const first = at;
    let value = 0;
    for (; at < end && bytes[at] >= 48 && bytes[at] <= 57; at++) value = value * 10 + bytes[at] - 48;
    if (at === first || at - first > 2 || (parts > 0 && value > 59)) return NaN;
    seconds = seconds * 60 + value;
    if (at === end) return parts === 2 ? seconds : NaN;
    if (bytes[at] === decimal && parts > 0) {
      // A whole number of seconds of a day is small, so that the sum is the nearest double to the written time but for the last bit.
      const rest = numberInBytes(bytes, at, end, decimal);
      return rest >= 0 && rest < 1 && parts <= 2 ? seconds + rest : NaN;
    }
    if (bytes[at] !== 58 || parts === 2) return NaN;
    at++;
  }
  return NaN;
}

/** Blank, tab or quotation mark. */
function isSurround(byte: number): boolean {
  return byte === 32 || byte === 9 || byte === 34;
}

function slowly(bytes: Uint8Array, start: number, end: number, decimal: number): number {
  let text = "";
  for (let i = start; i < end; i++) text += bytes[i] === decimal ? "." : String.fromCharCode(bytes[i]);
  return Number(text);
}
