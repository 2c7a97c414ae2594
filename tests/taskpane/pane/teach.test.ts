import { describe, expect, test } from "vitest";
import { strFromU8, unzipSync } from "fflate";
import { TESTS } from "../../../src/protocols/Protocol.ts";
import { COURSEWORK_FAULTS, type CourseworkPlan } from "../../../src/coursework/Coursework.ts";
import { makeCoursework } from "../../../src/coursework/makeCoursework.ts";
import { markAssignment } from "../../../src/coursework/markAssignment.ts";
import { markRecording } from "../../../src/coursework/markRecording.ts";
import { recordingSentence } from "../../../src/wording/recordingSentence.ts";
import { readWorkbook } from "../../../src/workbook/readWorkbook.ts";
import type { FileCell, WorkbookFile } from "../../../src/workbook/WorkbookFile.ts";
import { writeWorkbook } from "../../../src/workbook/writeWorkbook.ts";
import { answersFrom } from "../../../taskpane/pane/teach/answersFrom.ts";
import { courseworkPlan, type CourseworkForm } from "../../../taskpane/pane/teach/courseworkForm.ts";
import { keysFrom, keyWorkbook } from "../../../taskpane/pane/teach/keyWorkbook.ts";
import { marksEdits, marksWorkbook } from "../../../taskpane/pane/teach/marksWorkbook.ts";
import { fileNameOf } from "../../../taskpane/pane/teach/saveFile.ts";
import { ANSWERS_SHEET, RECORDING_SHEET, studentWorkbook } from "../../../taskpane/pane/teach/studentWorkbook.ts";

const SEED = 987654321;
const PLAN: CourseworkPlan = { test: "CMJ", students: ["Ann", "Ben"], faults: ["offset"], noise: 1, seed: SEED };
const { assignments, keys } = makeCoursework(PLAN);
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
    const answerCells = file.sheets.find((sheet) => sheet.name === ANSWERS_SHEET)!.cells.filter((cell) => cell.column === 3 && cell.fill !== undefined);
    expect(answerCells).toHaveLength(keys[0].answers.length);
    for (const cell of answerCells) expect(cell.value).toBeNull();
    for (const answer of keys[0].answers) expect(values).not.toContain(answer.value);
    // One row a sample, below the head; the time of the last follows from the rate.
    const samples = assignments[0].trace.plates[0].force.length;
    const times = file.sheets[1].cells.filter((cell) => cell.column === 0).slice(1);
    expect(times.length).toBe(samples);
    expect(times.at(-1)!.value).toBeCloseTo((samples - 1) / 1000, 6);
  });

  test.each(TESTS)("has no seed and no answer in any part of its file, for %s with every fault", async (name) => {
    const coursework = makeCoursework({ test: name, students: ["Ann", "Ben", "Cy"], faults: COURSEWORK_FAULTS, noise: 1, seed: SEED });
    const secrets = [SEED, ...coursework.keys.flatMap((key) => [key.seed, ...key.answers.flatMap(({ value, mistakes }) => [value, ...mistakes.map((mistake) => mistake.value)])])].map(String).filter((text) => text.length > 6);
    expect(secrets.length).toBeGreaterThan(6);
    for (const assignment of coursework.assignments) {
      const parts = Object.entries(unzipSync(await writeWorkbook(studentWorkbook(assignment), { formulas: "values" })));
      expect(parts.length).toBeGreaterThan(5);
      for (const [part, bytes] of parts) {
        const text = strFromU8(bytes);
        for (const secret of secrets) expect(text.includes(secret), `${secret} in ${part}`).toBe(false);
      }
    }
  });

  test("gives every student another recording", () => {
    const [ann, ben] = assignments.map(({ trace }) => trace.plates[0].force);
    expect([...ann.slice(0, 200)]).not.toEqual([...ben.slice(0, 200)]);
  });

  // Round trip: written as a file, filled in, read and marked.
  test("comes back through a file and is marked right where the answers are right", async () => {
    const right = new Map(keys[0].answers.map(({ metric, value }) => [metric, { value }]));
    const { student, answers } = answersFrom(await throughFile(answered(studentWorkbook(assignments[0]), right)));
    expect(student).toBe("Ann");
    expect(markAssignment(answers, keys[0]).right).toBe(keys[0].answers.length);
  });

  test("names a usual mistake, an answer as text with a decimal comma, and a number that is nothing known", async () => {
    const value = (metric: string): number => keys[0].answers.find((answer) => answer.metric === metric)!.value;
    const given = new Map<string, Partial<FileCell>>([
      // By definition: half of the flight, centimetres for metres, and the weight for the mass (mass times gravity).
      ["flightTime", { value: value("flightTime") / 2 }],
      ["jumpHeightFlightTime", { value: 100 * value("jumpHeightFlightTime") }],
      ["bodyMass", { value: 9.80665 * value("bodyMass") }],
      ["takeoffVelocity", { value: value("takeoffVelocity").toFixed(3).replace(".", ",") }],
      ["peakPower", { value: 3 * value("peakPower") }],
    ]);
    const { answers } = markAssignment(answersFrom(await throughFile(answered(studentWorkbook(assignments[0]), given))).answers, keys[0]);
    const mark = (metric: string) => answers.find(({ key }) => key.metric === metric)!.mark;
    expect(mark("flightTime").mistake).toBe("halfOfFlight");
    expect(mark("jumpHeightFlightTime").mistake).toBe("timesHundred");
    expect(mark("bodyMass").mistake).toBe("gravityLeftOut");
    expect(mark("takeoffVelocity").outcome).toBe("right");
    expect(mark("peakPower")).toMatchObject({ outcome: "wrong", byFunction: false });
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

describe("the recording that comes back", () => {
  const keyOf = (place: number) => markRecording(undefined, keys[place], keys);
  const recordingOf = async (file: WorkbookFile) => markRecording(answersFrom(await throughFile(file)).recording, keys[0], keys);
  /** The student's workbook with its recording changed. */
  const changed = (change: (cells: readonly FileCell[]) => readonly FileCell[]): WorkbookFile => {
    const file = studentWorkbook(assignments[0]);
    return { ...file, sheets: file.sheets.map((sheet) => (sheet.name === RECORDING_SHEET ? { ...sheet, cells: change(sheet.cells) } : sheet)) };
  };
  test("is known again through the file, with columns and rows of the student's own beside it", async () => {
    const worked = changed((cells) => [...cells.map((cell) => ({ ...cell, row: cell.row + 2, column: cell.column + 1 })), { row: 3, column: 0, value: 12 }, { row: 3, column: 9, value: 7.5 }, { row: cells.length + 40, column: 2, value: 812.25 }]);
    expect(await recordingOf(studentWorkbook(assignments[0]))).toEqual({ outcome: "own" });
    expect(await recordingOf(worked)).toEqual({ outcome: "own" });
  });
  test("is named where it is that of another student", async () => {
    const mark = await recordingOf({ sheets: [studentWorkbook(assignments[0]).sheets[0], studentWorkbook(assignments[1]).sheets[1]], names: [] });
    expect(mark).toEqual({ outcome: "of another", of: "Ben" });
    expect(recordingSentence(mark!)).toBe("The recording is not the one handed out, but that of Ben.");
  });
  test("differs where one force of it was changed by a tenth of a newton, or a sample is gone", async () => {
    const oneForce = changed((cells) => cells.map((cell) => (cell.row === 700 && cell.column === 1 ? { ...cell, value: (cell.value as number) + 0.1 } : cell)));
    const oneGone = changed((cells) => cells.filter(({ row }) => row !== 700));
    for (const file of [oneForce, oneGone]) expect(await recordingOf(file)).toEqual({ outcome: "differs" });
  });
  test("is missed where its sheet is gone, and not looked for with a key of an earlier version", () => {
    expect(keyOf(0)).toEqual({ outcome: "missing" });
    const { student, seed, answers } = keys[0];
    const earlier = { student, seed, answers };
    expect(markRecording("0", earlier, [earlier])).toBeUndefined();
    expect(answersFrom({ sheets: studentWorkbook(assignments[0]).sheets.slice(0, 1), names: [] }).recording).toBeUndefined();
  });
  test("is said in the row of its student among the marks", () => {
    const rows = marksWorkbook([{ ...markAssignment([], keys[0]), recording: { outcome: "differs" } }, { ...markAssignment([], keys[1]), recording: { outcome: "own" } }]).sheets[0].cells.filter(({ column }) => column === 4);
    expect(rows.map(({ value }) => value)).toEqual(["recording", "The recording differs from the one handed out.", "the one handed out"]);
  });
});

describe("the key", () => {
  test("comes back through a file as it was", async () => {
    const back = keysFrom(await throughFile(keyWorkbook(keys, PLAN)));
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

describe("marksEdits", () => {
  test("write to sheets of their own, whatever sheets there are", () => {
    const marked = [markAssignment([{ metric: "bodyMass", value: "=1+1" }], keys[0])];
    const names = marksEdits(marked, ["marks", "Marks 2", "Answers"]).flatMap((edit) => (edit.kind === "addSheet" ? [edit.sheet] : []));
    expect(names).toEqual(["Marks 3", "Answers 2"]);
    const cells = marksEdits(marked, []).flatMap((edit) => (edit.kind === "cells" ? edit.cells.flat() : []));
    // What a student wrote is text and never becomes a formula.
    expect(cells).toContain("=1+1");
    expect(cells.every((cell) => typeof cell !== "object")).toBe(true);
  });
});

describe("courseworkPlan", () => {
  const form: CourseworkForm = { test: "SJ", students: "", size: "12", noise: "0,5", seed: "", faults: new Set(["drift", "offset"]) };
  test("gives codes of one length to a group without names, and draws a seed where none is typed", () => {
    const plan = courseworkPlan(form, () => 77);
    expect(plan).toMatchObject({ noise: 0.5, seed: 77, faults: ["offset", "drift"] });
    expect([plan.students[0], plan.students[11], plan.students.length]).toEqual(["Student 01", "Student 12", 12]);
  });
  test("takes names before numbers, and makes the same coursework again from a typed seed", () => {
    const again = () => makeCoursework(courseworkPlan({ ...form, students: " Ann \nBen;\n", seed: "41" }, () => 0));
    expect(again().assignments.map(({ student }) => student)).toEqual(["Ann", "Ben"]);
    expect(again().keys).toEqual(again().keys);
  });
  test.each([[{ size: "" }, /how many students/], [{ size: "0" }, /how many students/], [{ seed: "1.5" }, /seed requires a whole number/], [{ noise: "" }, /Noise of each plate, N requires a number/]])("refuses %j", (part, sentence) => {
    expect(() => courseworkPlan({ ...form, ...part }, () => 1)).toThrow(sentence);
  });
});

describe("fileNameOf", () => {
  test.each([["Ann/../B: \"x\"", "Ann .. B x"], ["", "student"], ["Zoë Ångström", "Zoë Ångström"]])("%j becomes %j", (text, name) => {
    expect(fileNameOf(text)).toBe(name);
  });
});
