import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { numberRuns } from "../../../taskpane/pane/numberRuns.ts";

describe("numberRuns", () => {
  // By hand.
  test.each([
    [[], ""],
    [[3], "3"],
    [[3, 4], "3 and 4"],
    [[3, 5], "3 and 5"],
    [[3, 4, 5], "3 to 5"],
    [[3, 5, 6, 7, 8, 9, 12], "3, 5 to 9 and 12"],
    [[1, 2, 4, 5], "1, 2, 4 and 5"],
  ])("%j is %j", (numbers, text) => expect(numberRuns(numbers)).toBe(text));

  // Law: what is listed, read back, is what was given.
  test("lists each number once and no other", () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.integer({ min: 1, max: 60 }), { maxLength: 40 }), (given) => {
        const numbers = [...given].sort((a, b) => a - b);
        const read = numberRuns(numbers)
          .split(/, | and /)
          .filter((part) => part !== "")
          .flatMap((part) => {
            const [first, last = first] = part.split(" to ").map(Number);
            return Array.from({ length: last! - first! + 1 }, (_, index) => first! + index);
          });
        expect(read).toEqual(numbers);
      }),
    );
  });
});
