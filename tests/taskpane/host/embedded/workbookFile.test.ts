import { describe, expect, test } from "vitest";
import type { WorkbookFile } from "../../../../src/workbook/WorkbookFile.ts";
import type { ComputedCells } from "../../../../taskpane/host/embedded/computedCells.ts";
import { workbookDataFrom } from "../../../../taskpane/host/embedded/workbookDataFrom.ts";
import { workbookFileFrom } from "../../../../taskpane/host/embedded/workbookFileFrom.ts";
import { SESSION } from "../../../src/workbook/workbooks.ts";

const NOTHING: ComputedCells = { spilled: {}, spills: {}, shared: {} };

/** What the engine computes for the spill of the session: B2 fills C2. */
const COMPUTED: ComputedCells = {
  spilled: { "sheet-1": { 1: { 1: { v: "keep", t: 1 }, 2: { v: 34.41732, t: 2 } } } },
  spills: { "sheet-1": [{ startRow: 1, endRow: 1, startColumn: 1, endColumn: 2 }] },
  shared: {},
};

const inOrder = (file: WorkbookFile): WorkbookFile => ({
  ...file,
  sheets: file.sheets.map((sheet) => ({ ...sheet, cells: [...sheet.cells].sort((a, b) => a.row - b.row || a.column - b.column) })),
});

describe("workbookDataFrom and workbookFileFrom", () => {
  test("a workbook that went into the sheet and was computed there comes out as it was", () => {
    const back = inOrder(workbookFileFrom(workbookDataFrom(SESSION), COMPUTED));
    // The sheet says the width of every column: what is usual differs between spreadsheets.
    const wide = SESSION.sheets.map((sheet) => {
      const last = Math.max(...sheet.cells.map((cell) => cell.column), ...(sheet.columns ?? []).map((column) => column.column));
      return { ...sheet, columns: Array.from({ length: last + 1 }, (_, column) => ({ width: 88, ...sheet.columns?.find((each) => each.column === column), column })) };
    });
    // An error typed by hand is a text to the sheet; of a formula it stays an error.
    const cells = wide[0].cells.map((cell) => (cell.row === 8 ? { ...cell, value: "#DIV/0!" } : cell));
    expect(back).toEqual(inOrder({ ...SESSION, sheets: [{ ...wide[0], cells }, ...wide.slice(1)] }));
  });

  test("what a formula fills is left to the formula", () => {
    const cells = workbookDataFrom(SESSION).sheets!["sheet-1"].cellData!;
    expect(cells[1][1]).toMatchObject({ f: expect.stringContaining("LEAP.METRIC"), v: "keep" });
    expect(cells[1][2].v).toBeUndefined();
    expect(cells[1][2].s).toEqual({ n: { pattern: "0.0" } });
  });

  test("text that looks like a formula or a number stays text", () => {
    const cell = (value: string) => workbookDataFrom({ names: [], sheets: [{ name: "A", cells: [{ row: 0, column: 0, value }] }] }).sheets!["sheet-1"].cellData![0][0];
    // Type 4 is the sheet's mark of forced text.
    for (const text of ["=1+1", "+1", "007", "@a", "TRUE", "#N/A", "-x"]) expect(cell(text)).toEqual({ v: text, t: 4 });
    expect(cell("Robin")).toEqual({ v: "Robin", t: 1 });
  });

  test("formulas that share their text are written each with its own", () => {
    const workbook = { sheetOrder: ["a"], sheets: { a: { id: "a", name: "A", cellData: { 0: { 0: { f: "=B1*2", si: "x", v: 2 } }, 1: { 0: { si: "x", v: 4 } } } } } };
    const file = workbookFileFrom(workbook, { ...NOTHING, shared: { a: [{ row: 1, column: 0, formula: "=B2*2" }] } });
    expect(file.sheets[0].cells.map((cell) => cell.formula)).toEqual(["=B1*2", "=B2*2"]);
  });

  test("names that reach for the program's own objects are names only", () => {
    const file: WorkbookFile = { names: [{ name: "__proto__", refersTo: "A!$A$1" }], sheets: [{ name: "__proto__", cells: [{ row: 0, column: 0, value: "constructor" }, { row: 1, column: 0, value: 1 }], tables: [{ name: "constructor", range: { row: 0, column: 0, rows: 2, columns: 1 }, columns: ["constructor"] }] }] };
    const back = workbookFileFrom(workbookDataFrom(file), NOTHING);
    expect(back.names).toEqual(file.names);
    expect(back.sheets[0]).toMatchObject({ name: "__proto__", tables: file.sheets[0].tables });
    expect(Object.keys(Object.prototype)).toEqual([]);
  });
});
