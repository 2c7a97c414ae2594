import { describe, expect, test } from "vitest";
import fc from "fast-check";
import { cellName, fullCellName } from "../../../taskpane/pane/cellName.ts";
import { decimalsFor, formatDate, formatNumber, formatValue, formatWorking } from "../../../taskpane/pane/format.ts";

describe("formatNumber", () => {
  test("prints a real minus sign and never a minus zero", () => {
    expect(formatNumber(-1.25, 1, "en")).toBe("\u22121.3");
    expect(formatNumber(-0.0001, 3, "en")).toBe("0.000");
  });
  test("follows the decimal mark of the language", () => {
    expect(formatNumber(0.345, 3, "de")).toBe("0,345");
  });
  test("prints a dash for what is no number", () => {
    expect(formatNumber(NaN, 2, "en")).toBe("–");
  });
});

describe("decimalsFor", () => {
  // JCGM 100:2008, 7.2.6: an uncertainty is printed with at most two significant digits and the value to the same place.
  test.each([
    [0.34472, "m", 0.0033, 4],
    [735.5, "N", 0.52, 2],
    [735.5, "N", 12, 0],
    [0.34472, "m", undefined, 3],
    [2.6, "", undefined, 3],
    [10, "", undefined, 0],
  ])("prints %d %s with uncertainty %s to %d decimals", (value, unit, u, decimals) => {
    expect(decimalsFor(value, unit, u)).toBe(decimals);
  });
});

describe("formatValue", () => {
  test("joins value and unit so that they do not part at a line end", () => {
    expect(formatValue(0.3447, "m", undefined, "en")).toBe("0.345\u00a0m");
  });
  test("prints powers and products of units as SI does", () => {
    expect(formatValue(9.81, "m/s^2", undefined, "en")).toBe("9.810\u00a0m/s²");
    expect(formatValue(201.3, "N s", undefined, "en")).toBe("201.3\u00a0N\u00b7s");
  });
});

describe("formatWorking", () => {
  test.each([
    [709.64, "N", "709.6\u00a0N"],
    [0.35374, "m", "0.3537\u00a0m"],
    [12345.6, "N/s", "12,346\u00a0N/s"],
    [0, "m/s", "0\u00a0m/s"],
  ])("prints %d %s with four figures", (value, unit, text) => {
    expect(formatWorking(value, unit, "en")).toBe(text);
  });
});

describe("cellName", () => {
  test.each([[0, "A1"], [25, "Z1"], [26, "AA1"], [701, "ZZ1"], [702, "AAA1"]])("column %d is %s", (column, name) => {
    expect(cellName({ row: 0, column })).toBe(name);
  });
  // Independent route: letters as digits of base 26 without a zero.
  test("reads back to the same column", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 16383 }), (column) => {
        const letters = cellName({ row: 4, column }).replace("5", "");
        expect([...letters].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0) - 1).toBe(column);
      }),
    );
  });
  test("quotes the name of a sheet that holds spaces or quotes", () => {
    expect(fullCellName({ sheet: "Results", row: 1, column: 4 })).toBe("Results!E2");
    expect(fullCellName({ sheet: "Ann's day", row: 1, column: 4 })).toBe("'Ann''s day'!E2");
  });
});

describe("formatDate", () => {
  // The wording of days is that of Unicode CLDR, as Intl has it.
  test.each([["2026-03-14", "en-US", "Mar 14, 2026"], ["2026-03-14", "de-DE", "14.03.2026"], ["2026-12-31", "en-GB", "31 Dec 2026"]])("writes %s for %s as %s", (date, locale, written) => {
    expect(formatDate(date, locale)).toBe(written);
  });
  test.each(["", "spring", "2026-02-31", "2026-3-14"])("leaves %j as it was typed", (text) => {
    expect(formatDate(text, "de-DE")).toBe(text);
  });
});
