import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { fixedRange, rangeFrom } from "../../../taskpane/workbook/addresses.ts";

describe("rangeFrom", () => {
  test("gives back the range that a text was made of, whatever the name of its sheet", () => {
    const sheet = fc.stringMatching(/^[A-Za-zÄé_0-9' .-]{1,20}$/);
    const count = fc.integer({ min: 1, max: 500 });
    fc.assert(
      fc.property(sheet, fc.nat(9000), fc.nat(700), count, count, (name, row, column, rows, columns) => {
        const range = { sheet: name, row, column, rows, columns };
        expect(rangeFrom(fixedRange(range))).toEqual(range);
      }),
    );
  });

  // By hand, as spreadsheets write references.
  test.each([
    ["Recording!$B$1", { sheet: "Recording", row: 0, column: 1, rows: 1, columns: 1 }],
    ["='My results'!E1:$S$3", { sheet: "My results", row: 0, column: 4, rows: 3, columns: 15 }],
  ])("reads %s", (reference, range) => {
    expect(rangeFrom(reference)).toEqual(range);
  });

  test.each(["", "#REF!", "Recording!#REF!", "Recording!$B:$B", "$B$1", "SUM(A!B1)"])("takes %j for no range", (reference) => {
    expect(rangeFrom(reference)).toBeUndefined();
  });
});
