import { describe, expect, test } from "vitest";
import { CellError } from "../../../functions/runtime/CellError.ts";
import { isBlank, isGiven, numberFrom, numbersFrom, optionalFlag, optionalNumber, optionalWord, rowsFrom, singleFrom, tableFrom, textFrom, throwIfError } from "../../../functions/runtime/cells.ts";

/** What Excel hands over for a cell that holds an error. */
const hostError = { code: "#DIV/0!", message: "" };

describe("numberFrom", () => {
  test.each([
    [0.5, 0.5],
    ["0.5", 0.5],
    [" -1.2e3 ", -1200],
    [".5", 0.5],
    [0, 0],
  ])("reads %j as %d", (cell, value) => {
    expect(numberFrom(cell, "height")).toBe(value);
  });

  test.each(["0,5", "abc", "0x10", "1 2", "Infinity", true, false, NaN, Infinity, "", null, {}])("refuses %j with a sentence", (cell) => {
    expect(() => numberFrom(cell, "height")).toThrow(/^height requires a (finite )?number/);
  });

  test("passes an error cell on with what it was", () => {
    expect(() => numberFrom(hostError, "height")).toThrow(expect.objectContaining({ name: "CellError", code: "#VALUE!", message: "a cell used here holds #DIV/0!" }));
    expect(() => numberFrom({ code: "#N/A", message: "no flight" }, "height")).toThrow(expect.objectContaining({ code: "#N/A", message: "no flight" }));
  });
});

describe("blank cells", () => {
  test("are left out, null (Excel), undefined, and empty text", () => {
    expect([undefined, null, ""].every(isBlank)).toBe(true);
    expect([0, false, " ", "0"].some(isBlank)).toBe(false);
  });

  test("are 0 on the desktop, where 0 has no meaning", () => {
    expect(isGiven(0)).toBe(false);
    expect(optionalNumber(0, "gravity", 9.8)).toBe(9.8);
    expect(optionalNumber(0, "elevation", 100, "counts")).toBe(0);
    expect(textFrom(0, "name")).toBeUndefined();
    expect(textFrom("  ", "name")).toBeUndefined();
  });
});

describe("words and flags", () => {
  test("are read in any case and default when blank", () => {
    expect(optionalWord("LOG", "method", ["fieller", "log"], "fieller")).toBe("log");
    expect(optionalWord(null, "method", ["fieller", "log"], "fieller")).toBe("fieller");
    expect(() => optionalWord("x", "method", ["fieller", "log"], "fieller")).toThrow('method requires one of fieller, log, not "x"');
    expect(optionalFlag("yes", "flag", false)).toBe(true);
    expect(optionalFlag(0, "flag", true)).toBe(false);
    expect(optionalFlag(undefined, "flag", true)).toBe(true);
    expect(() => optionalFlag("maybe", "flag", true)).toThrow(/TRUE or FALSE/);
  });
});

describe("ranges", () => {
  test("a single value is one cell, a left-out range none, a repeated argument one row", () => {
    expect(rowsFrom(3)).toEqual([[3]]);
    expect(rowsFrom(undefined)).toEqual([]);
    expect(rowsFrom([1, 2])).toEqual([[1, 2]]);
    expect(singleFrom([["a"]], "protocol")).toBe("a");
    expect(() => singleFrom([["a", "b"]], "protocol")).toThrow("protocol requires a single cell");
  });

  test("numbers come in reading order without blanks; text is refused with its place", () => {
    expect(numbersFrom([[1, 0], ["", 2.5], [null, "3"]], "history")).toEqual([1, 2.5, 3]);
    expect(numbersFrom([[1, 0]], "history", "counts")).toEqual([1, 0]);
    expect(() => numbersFrom([[1], ["x"]], "history")).toThrow(expect.objectContaining({ where: "row 2, column 1 of the range" }));
  });

  test("a table keeps its gaps and loses a head row and a column of names", () => {
    const table = tableFrom([["athlete", "day 1", "day 2"], ["A", 34.1, 34.9], ["B", 0, 38], ["C", "", "41"]], "table");
    expect(table).toEqual([
      [34.1, 34.9],
      [undefined, 38],
      [undefined, 41],
    ]);
    expect(tableFrom([[1, 2], [3, 4]], "table")).toEqual([[1, 2], [3, 4]]);
  });

  test("an error cell inside is passed on", () => {
    expect(() => numbersFrom([[1, new CellError("#N/A", "no flight")]], "history")).toThrow("no flight");
    expect(() => throwIfError(hostError)).toThrow("a cell used here holds #DIV/0!");
  });
});
