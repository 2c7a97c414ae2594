/** Numbers that look random and are the same for the same seed, on every machine. */
export interface SeededRandom {
  /** From zero (included) to one (not included). */
  uniform(): number;
  /** From `least` to `most`. */
  between(least: number, most: number): number;
  /** A whole number from `least` to `most`, both included. */
  integer(least: number, most: number): number;
  /** Standard normal. */
  normal(): number;
}

/**
 * A generator of pseudo-random numbers: xoshiro128**, its state filled by SplitMix32 from the seed; normal numbers by the polar method.
 *
 * Not for secrets.
 *
 * @param seed Any whole number; no unit.
 * @returns The generator.
 * @see Blackman and Vigna (2021), xoshiro128**.
 * @see Marsaglia and Bray (1964), polar method.
 */
export function seededRandom(seed: number): SeededRandom {
  let filler = Math.trunc(seed) | 0;
  const fill = (): number => {
    filler = (filler + 0x9e3779b9) | 0;
    let mixed = filler ^ (filler >>> 16);
    mixed = Math.imul(mixed, 0x21f0aaad);
    mixed ^= mixed >>> 15;
    mixed = Math.imul(mixed, 0x735a2d97);
    return (mixed ^ (mixed >>> 15)) >>> 0;
  };
  let a = fill();
  let b = fill();
  let c = fill();
  let d = fill();
  const next = (): number => {
    const times = Math.imul(b, 5);
    const result = Math.imul((times << 7) | (times >>> 25), 9) >>> 0;
    const shifted = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= shifted;
    d = (d << 11) | (d >>> 21);
    return result;
  };
  const uniform = (): number => next() / 4294967296;
  let spare: number | undefined;
  const normal = (): number => {
    if (spare !== undefined) {
      const kept = spare;
      spare = undefined;
      return kept;
    }
    for (;;) {
      const u = 2 * uniform() - 1;
      const v = 2 * uniform() - 1;
      const square = u * u + v * v;
      if (square > 0 && square < 1) {
        const factor = Math.sqrt((-2 * Math.log(square)) / square);
        spare = v * factor;
        return u * factor;
      }
    }
  };
  return {
    uniform,
    normal,
    between: (least, most) => least + (most - least) * uniform(),
    integer: (least, most) => least + Math.floor((most - least + 1) * uniform()),
  };
}
