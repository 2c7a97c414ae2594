import { describe, expect, test } from "vitest";
import type { FileCell, FileSheet, WorkbookFile } from "../../../src/workbook/WorkbookFile.ts";
import { codeNames, keyText, namesAgain, readKeyText } from "../../../taskpane/workbook/codeNames.ts";
import { seededRandom } from "../../support/seededRandom.ts";

const grid = (rows: readonly (readonly (string | number)[])[]): FileCell[] =>
  rows.flatMap((line, row) =>
    line.map((value, column): FileCell => (typeof value === "string" && value.startsWith("=") ? { row, column, value: row === 0 ? "" : "Bo Vale", formula: value } : { row, column, value })),
  );

const sheet = (name: string, rows: readonly (readonly (string | number)[])[], more: Partial<FileSheet> = {}): FileSheet => ({ name, cells: grid(rows), ...more });

const PICTURE = { row: 9, column: 0, width: 10, height: 10, type: "png", bytes: new Uint8Array(4), text: "Bo Vale, CMJ" } as const;

/** Invented people; one has a name of one word, one a name that is a word of the sheets. */
const FILE: WorkbookFile = {
  sheets: [
    sheet("Athletes", [["athlete", "mass", "note"], ["Bo Vale", 72.4, "captain; Vale asked for a rest"], ["Ída O'Fenn-Quill", 63.1, ""], ["Keep", 70, ""]]),
    sheet("Trials", [["athlete", "test", "keep", "file"], ["Bo Vale", "CMJ", "keep", "Bo_Vale_1.csv"], [" bo vale", "CMJ", "", "Bo_Vale_2.csv"], ["Ída O'Fenn-Quill", "SJ", "leave out", "s7.csv"], ["Keep", "SJ", "keep", "s8.csv"]]),
    sheet("Results", [["athlete", "use", "verdict"], ['=Trials!$A2&""', "keep", "keep"]]),
    sheet("Report Ída O Fenn-Quill", [["Report: Ída O'Fenn-Quill"], ['=AVERAGE(FILTER(Results!$C$2:$C$9,Results!$A$2:$A$9="Ída O\'Fenn-Quill"))']], { pictures: [PICTURE] }),
    sheet("Summary", [["see"], ["='Report Ída O Fenn-Quill'!$A$2"], ["Bo Vale jumped well; Boval did not"]]),
  ],
  names: [{ name: "Own", refersTo: "'Report Ída O Fenn-Quill'!$A$1:$A$2" }],
};

const words = (file: WorkbookFile): string => JSON.stringify([file.sheets.map(({ name, cells, charts, pictures }) => [name, cells.map(({ value, formula }) => [value, formula]), charts, pictures]), file.names]);

describe("codeNames", () => {
  const { file, key, left } = codeNames(FILE, seededRandom(5));

  test("leaves no name in cells, formulas, sheet names and defined names", () => {
    expect(words(file)).not.toMatch(/Bo Vale|Bo_Vale|bo vale|O.Fenn|Quill|s7\.csv/);
    expect(file.sheets[3]!.name).toMatch(/^Report P-[2-9A-Z]{5}$/);
    expect(file.sheets.every(({ pictures }) => pictures === undefined)).toBe(true);
  });

  test("gives one person one code everywhere, whatever the capitals, and another person another", () => {
    const [bo, again, ida] = [1, 2, 3].map((row) => file.sheets[1]!.cells.find((cell) => cell.row === row && cell.column === 0)!.value);
    expect(bo).toMatch(/^P-[2-9A-Z]{5}$/);
    expect(again).toBe(bo);
    expect(ida).not.toBe(bo);
    expect(file.sheets[0]!.cells.find((cell) => cell.row === 1 && cell.column === 0)!.value).toBe(bo);
    expect(Object.keys(key.people)).toHaveLength(3);
    expect(Object.keys(key.files)).toHaveLength(4);
  });

  test("codes the students of marks and the people of a plan too", () => {
    const marks = codeNames({ sheets: [sheet("Marks", [["student", "right"], ["Zoe Marsh", 3], ["Cy", 2]]), sheet("Plan", [["date", "athlete"], [46095, "zoe marsh"], [46095, "Ann"]])], names: [] }, seededRandom(6));
    expect(words(marks.file)).not.toMatch(/marsh|Ann|Cy/i);
    expect(Object.values(marks.key.people)).toEqual(["Zoe Marsh", "Cy", "Ann"]);
  });

  test("takes no sentence of a report for a name, and codes a person who stands only there", () => {
    const gone = Array.from({ length: 9 }, () => "");
    const page = sheet("Report squad", [["Jump tests", ...gone.slice(1), "Leapsheet report"], ["date", "protocol", "athlete"], [46095, "CMJ", "Ann"], [46095, "CMJ", "Zoe Marsh"], ["", "", ""], ["", "", "typical error between days"], ["", "", "Stop at pain."]]);
    const coded = codeNames({ sheets: [sheet("Athletes", [["athlete"], ["Ann"]]), page], names: [] }, seededRandom(8));
    expect(Object.values(coded.key.people).sort()).toEqual(["Ann", "Zoe Marsh"]);
    expect(words(coded.file)).toContain("Stop at pain.");
    expect(words(coded.file)).not.toMatch(/Ann|Marsh/);
  });

  test("lets formulas read the renamed sheet, and compare with the code", () => {
    const report = file.sheets[3]!;
    const ida = Object.entries(key.people).find(([, name]) => name.startsWith("Ída"))![0];
    expect(report.cells.find((cell) => cell.row === 1)!.formula).toBe(`=AVERAGE(FILTER(Results!$C$2:$C$9,Results!$A$2:$A$9="${ida}"))`);
    expect(file.sheets[4]!.cells.find((cell) => cell.row === 1)!.formula).toBe(`='${report.name}'!$A$2`);
    expect(file.names[0]!.refersTo).toBe(`'${report.name}'!$A$1:$A$2`);
  });

  test("does not take a word of the sheets for a person of that name", () => {
    expect(file.sheets[1]!.cells.filter(({ column, row }) => column === 2 && row > 0).map(({ value }) => value)).toEqual(["keep", "", "leave out", "keep"]);
    expect(file.sheets[4]!.cells.at(-1)!.value).toMatch(/^P-[2-9A-Z]{5} jumped well; Boval did not$/);
  });

  test("shows where part of a name still stands", () => {
    expect(left).toContainEqual({ sheet: "Athletes", row: 1, column: 2, text: "captain; Vale asked for a rest" });
  });

  test("changes no number, no head and no other formula", () => {
    const numbers = (given: WorkbookFile): unknown => given.sheets.map(({ cells }) => cells.filter(({ value, row }) => typeof value === "number" || row === 0).map(({ value }) => (typeof value === "string" && value.startsWith("Report") ? "" : value)));
    expect(numbers(file)).toEqual(numbers(FILE));
    expect(file.sheets[2]!.cells.find((cell) => cell.row === 1)!.formula).toBe('=Trials!$A2&""');
  });

  test("has other codes each time", () => {
    expect(Object.keys(codeNames(FILE, seededRandom(6)).key.people)).not.toEqual(Object.keys(key.people));
  });

  test("is no different for a workbook without people", () => {
    const plain = { sheets: [sheet("Own", [["x"], [1]])], names: [] };
    expect(codeNames(plain, seededRandom(1)).file).toEqual(plain);
  });
});

describe("namesAgain", () => {
  // The way back gives each person one spelling, and knows nothing of pictures and of letters a sheet's name cannot hold.
  const tidy: WorkbookFile = { ...FILE, sheets: FILE.sheets.map(({ pictures: _, ...given }) => ({ ...given, cells: given.cells.map((cell) => (cell.value === " bo vale" ? { ...cell, value: "Bo Vale" } : cell)) })) };

  test("with its key gives back the workbook as it was, through a file", () => {
    const { file, key } = codeNames(tidy, seededRandom(7));
    expect(namesAgain(file, readKeyText(keyText(key)))).toEqual(tidy);
  });

  test("with the key of another copy changes nothing", () => {
    const { file } = codeNames(tidy, seededRandom(7));
    const { key: other } = codeNames(tidy, seededRandom(8));
    expect(namesAgain(file, other)).toEqual(file);
  });

  test.each(["{", "[]", "null", '{"format":"leapsheet-name-key","version":2,"people":{},"files":{}}', '{"format":"leapsheet-name-key","version":1,"people":{"P-1":3},"files":{}}'])("refuses %s as no key", (text) => {
    expect(() => readKeyText(text)).toThrow("not a key to names");
  });
});
