/** Words and bytes that readers of numbers and tables have reason to fear. */
const TOKENS = [
  ",", ";", "\t", "|", " ", "\n", "\r\n", "\r", "\n\n", '"', '""', "'", "=", "+", "-", "@", "#", "%", ".", "..", "e", "1e", "1e999", "-1e999", "NaN", "Infinity", "-0", "0x1F", "1.2.3", "1,234.5",
  "9".repeat(400), "0".repeat(100), "time", "Time,SubTime", "Fz", "left", "right", "N", "kN", "endheader", "nRows=99999999", "datarows 4294967295", "range 0 0", "rate 0 Hz", "rate 1e9",
  "__proto__", "constructor", "toString", "\u0000", "\ufeff", "é", "😀", "\u2028", "=HYPERLINK(\"x\")", "<script>", "../../x", "{athlete}",
];
const WORDS = [0, 1, 2, 3, 4, 7, 80, 84, 85, 86, 127, 128, 255, 256, 511, 512, 32_767, 32_768, 65_534, 65_535];
const LONGEST = 60_000;

/** Changes bytes in one to four places: bits, words of 16 bits, tokens, pieces lost, doubled, moved or taken from another input. */
export function mutate(original: Uint8Array, corpus: readonly Uint8Array[], random: () => number): Uint8Array {
  let bytes = original;
  const times = 1 + Math.floor(random() * 4);
  for (let n = 0; n < times; n++) bytes = mutateOnce(bytes, corpus, random);
  return bytes.length > LONGEST ? bytes.slice(0, LONGEST) : bytes;
}

function mutateOnce(bytes: Uint8Array, corpus: readonly Uint8Array[], random: () => number): Uint8Array {
  const below = (n: number) => Math.floor(random() * Math.max(1, n));
  // Heads are where structure is: half of the changes fall into the first kilobyte.
  const at = random() < 0.5 ? below(Math.min(1024, bytes.length)) : below(bytes.length);
  switch (below(10)) {
    case 0: {
      const out = bytes.slice();
      out[at] ^= 1 << below(8);
      return out;
    }
    case 1: {
      const out = bytes.slice();
      out[at] = below(256);
      return out;
    }
    case 2: {
      const out = bytes.slice();
      const word = WORDS[below(WORDS.length)];
      out[at & ~1] = word & 255;
      out[at | 1] = word >> 8;
      return out;
    }
    case 3:
      return spliced(bytes, at, at, new TextEncoder().encode(TOKENS[below(TOKENS.length)]));
    case 4:
      return spliced(bytes, at, at + 1 + below(8), new TextEncoder().encode(TOKENS[below(TOKENS.length)]));
    case 5:
      return spliced(bytes, at, at + below(200), new Uint8Array(0));
    case 6: {
      const piece = bytes.subarray(at, at + 1 + below(100));
      const copies = 1 + below(20);
      const repeated = new Uint8Array(piece.length * copies);
      for (let i = 0; i < copies; i++) repeated.set(piece, i * piece.length);
      return spliced(bytes, at, at, repeated);
    }
    case 7: {
      const other = corpus[below(corpus.length)];
      const from = below(other.length);
      return spliced(bytes, at, at + below(100), other.subarray(from, from + below(400)));
    }
    case 8:
      return bytes.slice(0, at);
    default: {
      const from = below(bytes.length);
      return spliced(bytes, at, at, bytes.slice(from, from + below(300)));
    }
  }
}

function spliced(bytes: Uint8Array, from: number, to: number, piece: Uint8Array): Uint8Array {
  const end = Math.min(bytes.length, to);
  const out = new Uint8Array(from + piece.length + bytes.length - end);
  out.set(bytes.subarray(0, from));
  out.set(piece, from);
  out.set(bytes.subarray(end), from + piece.length);
  return out;
}
