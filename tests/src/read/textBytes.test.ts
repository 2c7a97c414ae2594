import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bytesOf, textBytes, textOf } from "../../../src/read/textBytes.ts";

function utf16(text: string, little: boolean, mark: boolean): Uint8Array {
  const units = [...(mark ? [0xfeff] : []), ...Array.from({ length: text.length }, (_, i) => text.charCodeAt(i))];
  return Uint8Array.from(units.flatMap((unit) => (little ? [unit & 255, unit >> 8] : [unit >> 8, unit & 255])));
}

describe("textOf and bytesOf", () => {
  test("agree with the platform's own coder", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme", maxLength: 60 }), (text) => {
        expect(bytesOf(text)).toEqual(new TextEncoder().encode(text));
        expect(textOf(new TextEncoder().encode(text))).toBe(text);
      }),
      { seed: 2 },
    );
  });

  test("read bytes that are not UTF-8 as Latin-1", () => {
    expect(textOf(Uint8Array.from([75, 0xe4, 115, 101]))).toBe("Käse");
  });
});

describe("textBytes", () => {
  const text = "time;Kraft (N) für 😀\n0;700\n";

  test.each([
    [true, true],
    [false, true],
    [true, false],
  ])("turns UTF-16 into UTF-8, little-endian %s, mark %s", (little, mark) => {
    const plain = mark ? text : "time;force\n0;700\n";
    expect(textOf(textBytes(utf16(plain, little, mark)).bytes)).toBe(plain);
  });

  test("takes off the mark of UTF-8", () => {
    expect(textOf(textBytes(Uint8Array.from([0xef, 0xbb, 0xbf, 65])).bytes)).toBe("A");
  });

  test("refuses bytes that no text has, and says where", () => {
    expect(() => textBytes(Uint8Array.from([65, 66, 1, 67]))).toThrow(expect.objectContaining({ code: "not-recognised", where: "byte 3" }));
  });
});
