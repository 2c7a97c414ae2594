import type { FunctionTable } from "../../../src/workbook/fileFormula.ts";
import type { WorkbookFile } from "../../../src/workbook/WorkbookFile.ts";

export const FUNCTIONS: FunctionTable = new Map([
  ["METRIC", true],
  ["PROTOCOL", true],
  ["VERDICT", false],
]);

/** One red pixel as a PNG of three chunks, made with Python's zlib. */
export const PIXEL = Uint8Array.from(
  atob("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAIAAACQd1PeAAAADElEQVR4nGP4z8AAAAMBAQDJ/pLvAAAAAElFTkSuQmCC"),
  (letter) => letter.charCodeAt(0),
);

/** An invented session with one of everything a workbook of ours holds. */
export const SESSION: WorkbookFile = {
  names: [{ name: "LeapSettings", refersTo: "Settings!$A$2:$B$3" }],
  sheets: [
    {
      name: "Results",
      frozenRows: 1,
      heights: [{ row: 0, height: 58 }],
      columns: [{ column: 0, width: 154 }, { column: 2, width: 112 }],
      cells: [
        { row: 0, column: 0, value: "athlete", bold: true, wrap: true },
        { row: 0, column: 1, value: "verdict", bold: true, wrap: true },
        { row: 0, column: 2, value: "jumpHeight cm", bold: true, wrap: true, fill: "DDEEFF", align: "center" },
        { row: 1, column: 0, value: "A. Example", formula: '=Trials!$A2&""' },
        { row: 1, column: 1, value: "keep", formula: "=LEAP.METRIC(Trials!$C2:$F2,Trials!$B2,B$1:C$1,LeapSettings)", spill: { rows: 1, columns: 2 } },
        { row: 1, column: 2, value: 34.41732, numberFormat: "0.0" },
        { row: 2, column: 2, value: { error: "#N/A" }, formula: "=LEAP.VERDICT(Trials!$C3)" },
        { row: 3, column: 2, value: 34.41732, formula: "=AVERAGE(FILTER(C2:C3,ISNUMBER(C2:C3)))", numberFormat: "0.000" },
        { row: 4, column: 2, value: 2, formula: "=LET(x,1,x+1)" },
        { row: 5, column: 2, value: "keep", formula: "=LEAP.VERDICT(Trials!$C2)" },
        { row: 6, column: 2, value: 46095, numberFormat: "yyyy-mm-dd" },
        { row: 7, column: 2, value: true },
        { row: 8, column: 2, value: { error: "#DIV/0!" } },
      ],
      pictures: [
        { row: 10, column: 0, width: 320, height: 200, type: "png", bytes: PIXEL, text: "Force of trial 1 over time" },
        { row: 30, column: 0, width: 320, height: 200, type: "png", bytes: PIXEL, text: "A picture of a report", of: "report" },
      ],
    },
    {
      name: "Trials",
      columns: [{ column: 2, hidden: true }, { column: 3, hidden: true }],
      cells: [
        { row: 0, column: 0, value: "athlete" },
        { row: 0, column: 1, value: "protocol" },
        { row: 0, column: 2, value: "trace 1" },
        { row: 1, column: 0, value: "A. Example" },
        { row: 1, column: 1, value: "CMJ arms=hips", formula: '=LEAP.PROTOCOL("CMJ","hips")' },
        { row: 1, column: 2, value: `LEAPF1 ${"Ab9+/".repeat(3000)}` },
      ],
      tables: [{ name: "Trials", range: { row: 0, column: 0, rows: 2, columns: 3 }, columns: ["athlete", "protocol", "trace 1"] }],
    },
    {
      name: "Settings",
      hidden: true,
      cells: [
        { row: 0, column: 0, value: "setting" },
        { row: 0, column: 1, value: "value" },
        { row: 1, column: 0, value: "gravity" },
        { row: 1, column: 1, value: 9.80665 },
        { row: 2, column: 0, value: "take-off-threshold" },
        { row: 2, column: 1, value: "auto" },
      ],
    },
  ],
};
