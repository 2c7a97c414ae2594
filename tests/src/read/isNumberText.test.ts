import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { isNumberText } from "../../../src/read/isNumberText.ts";
import { numberInBytes } from "../../../src/read/numberInBytes.ts";
import { bytesOf } from "../../../src/read/textBytes.ts";

describe("isNumberText", () => {
  test("agrees with the reader of numbers on what a number is", () => {
    const text = fc.string({ unit: fc.constantFrom("0", "1", "9", ".", ",", "-", "+", "e", "E", ":", "5"), minLength: 1, maxLength: 9 });
    fc.assert(
      fc.property(text, fc.constantFrom(".", ","), (field, mark) => {
        const bytes = bytesOf(field);
        expect(isNumberText(field, mark as "." | ",")).toBe(!Number.isNaN(numberInBytes(bytes, 0, bytes.length, mark.charCodeAt(0))));
      }),
      { numRuns: 20_000, seed: 4 },
    );
  });
});
