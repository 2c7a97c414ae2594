/**
 * SHA-256 of the bytes of a file, as 64 hexadecimal digits: equal files have equal hashes, under any name.
 *
 * Made here and not with the browser's own function, which answers only later and only on secure pages.
 *
 * @param bytes Content of the file, no unit.
 * @returns Hash, no unit.
 * @see NIST (2015) FIPS 180-4, section 6.2.
 */
export function contentHash(bytes: Uint8Array): string {
  const state = Int32Array.from(INITIAL);
  const schedule = new Int32Array(64);
  const whole = bytes.length - (bytes.length % 64);
  for (let at = 0; at < whole; at += 64) addBlock(state, schedule, bytes, at);

  const rest = bytes.length - whole;
  const tail = new Uint8Array(rest < 56 ? 64 : 128);
  tail.set(bytes.subarray(whole));
  tail[rest] = 0x80;
  const view = new DataView(tail.buffer);
  view.setUint32(tail.length - 8, Math.floor(bytes.length / 2 ** 29));
  view.setUint32(tail.length - 4, (bytes.length << 3) >>> 0);
  for (let at = 0; at < tail.length; at += 64) addBlock(state, schedule, tail, at);

  let text = "";
  for (const word of state) text += (word >>> 0).toString(16).padStart(8, "0");
  return text;
}

function addBlock(state: Int32Array, schedule: Int32Array, bytes: Uint8Array, at: number): void {
  for (let i = 0; i < 16; i++) {
    const p = at + 4 * i;
    schedule[i] = (bytes[p] << 24) | (bytes[p + 1] << 16) | (bytes[p + 2] << 8) | bytes[p + 3];
  }
  for (let i = 16; i < 64; i++) {
    const x = schedule[i - 15];
    const y = schedule[i - 2];
    const small0 = ((x >>> 7) | (x << 25)) ^ ((x >>> 18) | (x << 14)) ^ (x >>> 3);
    const small1 = ((y >>> 17) | (y << 15)) ^ ((y >>> 19) | (y << 13)) ^ (y >>> 10);
    schedule[i] = (schedule[i - 16] + small0 + schedule[i - 7] + small1) | 0;
  }
  let [a, b, c, d, e, f, g, h] = state;
  for (let i = 0; i < 64; i++) {
    const big1 = ((e >>> 6) | (e << 26)) ^ ((e >>> 11) | (e << 21)) ^ ((e >>> 25) | (e << 7));
    const t1 = (h + big1 + ((e & f) ^ (~e & g)) + ROUND[i] + schedule[i]) | 0;
    const big0 = ((a >>> 2) | (a << 30)) ^ ((a >>> 13) | (a << 19)) ^ ((a >>> 22) | (a << 10));
    const t2 = (big0 + ((a & b) ^ (a & c) ^ (b & c))) | 0;
    h = g;
    g = f;
    f = e;
    e = (d + t1) | 0;
    d = c;
    c = b;
    b = a;
    a = (t1 + t2) | 0;
  }
  state[0] += a;
  state[1] += b;
  state[2] += c;
  state[3] += d;
  state[4] += e;
  state[5] += f;
  state[6] += g;
  state[7] += h;
}

/** First 32 bits of the fractional parts of the square roots of the first eight primes. */
const INITIAL = primes(8).map((p) => fraction(Math.sqrt(p)));
/** The same of the cube roots of the first 64 primes. */
const ROUND = Int32Array.from(primes(64), (p) => fraction(Math.cbrt(p)));

function fraction(x: number): number {
  return Math.floor((x % 1) * 2 ** 32) | 0;
}

function primes(count: number): number[] {
  const found: number[] = [];
  for (let n = 2; found.length < count; n++) if (found.every((p) => n % p !== 0)) found.push(n);
  return found;
}
