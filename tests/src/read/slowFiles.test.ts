import { describe, expect, test } from "vitest";
import { InputError } from "../../../src/errors.ts";
import { readRecording } from "../../../src/read/readRecording.ts";

/** Eight megabytes, of which a reader that looks ahead line by line, or backtracks, would not come to an end. */
const SIZE = 8 * 2 ** 20;

function repeated(head: string, piece: string, tail = ""): Uint8Array {
  const encoder = new TextEncoder();
  const [first, part, last] = [head, piece, tail].map((text) => encoder.encode(text));
  const copies = Math.floor(SIZE / part.length);
  const bytes = new Uint8Array(first.length + copies * part.length + last.length);
  bytes.set(first);
  for (let i = 0; i < copies; i++) bytes.set(part, first.length + i * part.length);
  bytes.set(last, first.length + copies * part.length);
  return bytes;
}

const ROWS = Array.from({ length: 200 }, (_, i) => `${(i / 100).toFixed(2)},${700 + (i % 7) * 20}`).join("\n") + "\n";
/** Long enough that the lines looked at for the layout fall into it too. */
const HEAD = `time,force\n${ROWS.repeat(1400)}`;

describe("large files made to be slow answer within two seconds", () => {
  test.each([
    ["blank lines", repeated("", "\n")],
    ["blank lines within the table", repeated(HEAD, "\n", ROWS)],
    ["lines of blanks within the table", repeated(HEAD, "  \t \n", ROWS)],
    ["prose after the table", repeated(HEAD, "this is not a number at all, it is prose\n")],
    ["prose without line ends after the table", repeated(HEAD, "word,")],
    ["one line of digits", repeated("", "7")],
    ["one line of commas", repeated(HEAD, ",")],
    ["one line of quotation marks", repeated(HEAD, '"')],
    ["lines of long digits", repeated("x", `${"1".repeat(1999)}\nx`)],
    ["a head of brackets and blanks", repeated("", `${"( [ ".repeat(100)}\n`, HEAD)],
    ["carriage returns", repeated(HEAD, "\r")],
    ["faulty lines and good ones by turns", repeated(HEAD, "0.01,x\n0.02,700\n")],
    ["lines of one field and of two by turns", repeated("time,force\n", "0.01\n0.02,700\n")],
  ])("%s", { timeout: 20_000 }, (_what, bytes) => {
    const started = performance.now();
    try {
      readRecording(bytes, "slow.csv", { rate: 100 }).trace();
    } catch (error) {
      expect(error).toBeInstanceOf(InputError);
    }
    expect(performance.now() - started).toBeLessThan(2000);
  });
});
