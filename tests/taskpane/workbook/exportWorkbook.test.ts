import { describe, expect, test } from "vitest";
import type { FileCell, WorkbookFile } from "../../../src/workbook/WorkbookFile.ts";
import { sharedCopy } from "../../../taskpane/workbook/exportWorkbook.ts";

/** Rows of an invented Results sheet: athlete, date, protocol, use, verdict, height, findings. */
const ROWS = [
  ["athlete", "date", "protocol", "use", "verdict", "jumpHeight cm", "findings"],
  ["A", 46095, "CMJ", "keep", "keep", 34.4, ""],
  ["A", 46095, "SJ", "keep", "look", 30.1, "Q9"],
  ["B", 46095, "CMJ", "leave out", "leave out", 12.3, "Q1"],
  ["B", 46095, "CMJ", "keep", "keep", 40.2, ""],
  ["C", 46095, "CMJ", "keep", "keep", null, ""],
];
const cells = ROWS.flatMap((row, r) => row.map((value, column): FileCell => (value === null ? { row: r, column, value: { error: "#N/A" } } : { row: r, column, value })));
const file: WorkbookFile = {
  names: [{ name: "LeapResults", refersTo: "'My results'!$E$1:$G$1" }],
  sheets: [
    { name: "My results", cells },
    { name: "Trials", cells: [{ row: 1, column: 0, value: "LEAPF1 rate=1000 abc" }, { row: 2, column: 0, value: "LEAPT1 flight=0.5" }, { row: 3, column: 0, value: "LEAPFROG" }] },
  ],
};

describe("sharedCopy", () => {
  const copy = sharedCopy(file);
  const charts = copy.sheets.find((sheet) => sheet.name === "Charts")!;

  test("traces and records of times are left out, other text stays", () => {
    expect(copy.sheets[1].cells.map((cell) => cell.value)).toEqual(["LEAPFROG"]);
  });

  test("each protocol has a column and a series of its own, without trials left out or without a number", () => {
    const rows = [0, 1, 2, 3, 4].map((row) => [0, 1, 2].map((column) => charts.cells.find((cell) => cell.row === row && cell.column === column)?.value));
    expect(rows).toEqual([
      ["Jump height, cm", "CMJ", "SJ"],
      ["A", 34.4, undefined],
      ["B", 40.2, undefined],
      ["A", undefined, 30.1],
      [undefined, undefined, undefined],
    ]);
    expect(charts.charts).toHaveLength(1);
    expect(charts.charts![0]).toMatchObject({ kind: "column", y: "cm", series: [{ name: "CMJ", values: "Charts!$B$2:$B$4", categories: "Charts!$A$2:$A$4" }, { name: "SJ", values: "Charts!$C$2:$C$4" }] });
  });

  test("columns that a person put in before or behind the results change nothing", () => {
    const moved = cells.map((cell): FileCell => ({ ...cell, column: cell.column < 2 ? cell.column : cell.column + 1 }));
    const own = [0, 1, 2, 3, 4, 5].flatMap((row): FileCell[] => [{ row, column: 2, value: row === 0 ? "my note" : 7 }, { row, column: 8, value: row === 0 ? "my number" : 99 }]);
    const people = { names: [{ name: "LeapResults", refersTo: "'My results'!$F$1:$H$1" }], sheets: [{ name: "My results", cells: [...moved, ...own] }, file.sheets[1]] };
    expect(sharedCopy(people).sheets.find((sheet) => sheet.name === "Charts")).toEqual(charts);
  });

  test("a workbook without results gets no charts", () => {
    expect(sharedCopy({ ...file, names: [] }).sheets.map((sheet) => sheet.name)).toEqual(["My results", "Trials"]);
  });
});
