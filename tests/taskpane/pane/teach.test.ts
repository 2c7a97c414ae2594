import { describe, expect, test } from "vitest";
import { makeCoursework } from "../../../src/coursework/makeCoursework.ts";
import { markAssignment } from "../../../src/coursework/markAssignment.ts";
import { readWorkbook } from "../../../src/workbook/readWorkbook.ts";
import type { FileCell, WorkbookFile } from "../../../src/workbook/WorkbookFile.ts";
import { writeWorkbook } from "../../../src/workbook/writeWorkbook.ts";
import { answersFrom } from "../../../taskpane/pane/teach/answersFrom.ts";
import { keysFrom, keyWorkbook } from "../../../taskpane/pane/teach/keyWorkbook.ts";
import { marksWorkbook } from "../../../taskpane/pane/teach/marksWorkbook.ts";
import { fileNameOf } from "../../../taskpane/pane/teach/saveFile.ts";
import { ANSWERS_SHEET, studentWorkbook } from "../../../taskpane/pane/teach/studentWorkbook.ts";

const SEED = 987654321;
const { assignments, keys } = makeCoursework({ test: "CMJ", students: ["Ann", "Ben"], faults: ["offset"], noise: 1, seed: SEED });
const FUNCTIONS = new Map([["METRIC", false]]);
const throughFile = async (file: WorkbookFile): Promise<WorkbookFile> => readWorkbook(await writeWorkbook(file, { formulas: "live", functions: FUNCTIONS }), FUNCTIONS);

/** A student's workbook with answers filled in, by metric. */
function answered(file: WorkbookFile, answers: ReadonlyMap<string, Partial<FileCell>>): WorkbookFile {
  const sheets = file.sheets.map((sheet) => {
    if (sheet.name !== ANSWERS_SHEET) return sheet;
    const filled = sheet.cells.flatMap((cell): FileCell[] => {
      const answer = cell.column === 0 && typeof cell.value === "string" ? answers.get(cell.value) : undefined;
      return answer === undefined ? [] : [{ row: cell.row, column: 3, value: null, ...answer }];
    });
    return { ...sheet, cells: [...sheet.cells, ...filled] };
  });
  return { ...file, sheets };
}

describe("a student's workbook", () => {
  test("holds the recording and blank answers, and neither a seed nor an answer", () => {
    const file = studentWorkbook(assignments[0]);
    const values = file.sheets.flatMap((sheet) => sheet.cells.map((cell) => cell.value));
    const secrets = [SEED, ...keys.map((key) => key.seed)];
    for (const secret of secrets) expect(values).not.toContain(secret);
    const answerCells = file.sheets.find((sheet) => sheet.name === ANSWERS_SHEET)!.cells.filter((cell) => cell.column === 3 && cell.row > 6);
    expect(answerCells).toEqual([]);
    for (const answer of keys[0].answers) expect(values).not.toContain(answer.value);
    // One row a sample, below the head; the time of the last follows from the rate.
    const samples = assignments[0].trace.plates[0].force.length;
    const times = file.sheets[1].cells.filter((cell) => cell.column === 0).slice(1);
    expect(times.length).toBe(samples);
    expect(times.at(-1)!.value).toBeCloseTo((samples - 1) / 1000, 6);
  });

  // Round trip: written as a file, filled in, read and marked.
  test("comes back through a file and is marked right where the answers are right", async () => {
    const right = new Map(keys[0].answers.map(({ metric, value }) => [metric, { value }]));
    const { student, answers } = answersFrom(await throughFile(answered(studentWorkbook(assignments[0]), right)));
    expect(student).toBe("Ann");
    expect(markAssignment(answers, keys[0]).right).toBe(keys[0].answers.length);
  });

  test("shows an answer that is a formula of this add-in, and counts blanks as blank", async () => {
    const { metric, value } = keys[0].answers[0];
    const file = await throughFile(answered(studentWorkbook(assignments[0]), new Map([[metric, { value, formula: '=LEAP.METRIC(A1,"CMJ","bodyWeight")' }]])));
    const marked = markAssignment(answersFrom(file).answers, keys[0]);
    expect(marked.answers[0].mark).toMatchObject({ outcome: "right", byFunction: true });
    expect(marked.answers.slice(1).every(({ mark }) => mark.outcome === "blank")).toBe(true);
  });

  test("is refused in a sentence where it is another workbook", () => {
    expect(() => answersFrom({ sheets: [{ name: "Sheet1", cells: [] }], names: [] })).toThrow(/requires a workbook with the sheet Answers/);
  });
});

describe("the key", () => {
  test("comes back through a file as it was", async () => {
    const back = keysFrom(await throughFile(keyWorkbook(keys)));
    expect(back.map((key) => [key.student, key.seed])).toEqual(keys.map((key) => [key.student, key.seed]));
    expect(back[1].answers.map((answer) => answer.value)).toEqual(keys[1].answers.map((answer) => answer.value));
  });
  test("is refused in a sentence where it is another workbook", () => {
    expect(() => keysFrom(studentWorkbook(assignments[0]))).toThrow(/requires the key/);
  });
});

describe("the marks", () => {
  test("hold one row a student and one row an answer", () => {
    const marked = keys.map((key) => markAssignment([], key));
    const [byStudent, byAnswer] = marksWorkbook(marked).sheets.map((sheet) => Math.max(...sheet.cells.map((cell) => cell.row)));
    expect(byStudent).toBe(2);
    expect(byAnswer).toBe(keys.reduce((sum, key) => sum + key.answers.length, 0));
  });
});

describe("fileNameOf", () => {
  test.each([["Ann/../B: \"x\"", "Ann .. B x"], ["", "student"], ["Zoë Ångström", "Zoë Ångström"]])("%j becomes %j", (text, name) => {
    expect(fileNameOf(text)).toBe(name);
  });
});
