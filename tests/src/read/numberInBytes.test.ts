import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { numberInBytes } from "../../../src/read/numberInBytes.ts";

function read(text: string, decimal = "."): number {
  const bytes = new TextEncoder().encode(text);
  return numberInBytes(bytes, 0, bytes.length, decimal.charCodeAt(0));
}

describe("numberInBytes", () => {
  test("is to the last bit what Number gives, for any double as JavaScript writes it", () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        expect(read(String(value))).toBe(Number(String(value)));
      }),
      { numRuns: 3000, seed: 5 },
    );
  });

  test("is to the last bit what Number gives, for digits of any length", () => {
    const digits = fc.stringMatching(/^[0-9]{1,25}$/);
    const number = fc.tuple(fc.constantFrom("", "-", "+"), digits, fc.option(digits, { nil: undefined }), fc.option(fc.integer({ min: -330, max: 330 }), { nil: undefined }));
    fc.assert(
      fc.property(number, ([sign, whole, part, exponent]) => {
        const text = `${sign}${whole}${part === undefined ? "" : `.${part}`}${exponent === undefined ? "" : `e${exponent}`}`;
        expect(read(text)).toBe(Number(text));
        expect(read(text.replace(".", ","), ",")).toBe(Number(text));
      }),
      { numRuns: 3000, seed: 6 },
    );
  });

  test("does not count blanks and quotation marks around a number", () => {
    expect(read(' "12.5"\t')).toBe(12.5);
  });

  test.each(["", " ", "-", ".", "e5", "1e", "1e+", "12abc", "1.2.3", "1 2", "0x10", "NaN", "Infinity", "--1", "1_000"])("finds no number in %j", (text) => {
    expect(read(text)).toBeNaN();
  });

  // By hand: 14 * 3600 + 3 * 60 + 7.25, and 3 * 60 + 7.25.
  test.each([
    ["14:03:07.25", 50587.25],
    ["14:03:07", 50587],
    ["3:07.25", 187.25],
    ["00:00:00.001", 0.001],
  ])("reads the time of day %s in seconds", (text, seconds) => {
    expect(read(text)).toBeCloseTo(seconds, 9);
  });

  test.each(["14:03", "14:60:00", "1:2:3:4", "114:00:00", ":30:00", "14::00", "14:00:", "-14:00:00"])("takes %s for no time of day", (text) => {
    expect(read(text)).toBeNaN();
  });

  test("does not take a trailing comma for a decimal mark", () => {
    expect(read("12,", ",")).toBeNaN();
    expect(read("12.")).toBe(12);
  });
});
