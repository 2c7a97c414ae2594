import type { GivenAnswer } from "../../../src/coursework/markAssignment.ts";
import { InputError } from "../../../src/errors.ts";
import type { WorkbookFile } from "../../../src/workbook/WorkbookFile.ts";
import { ANSWERS_SHEET, QUESTION_HEAD, STUDENT_CELL } from "./studentWorkbook.ts";

/**
 * The answers of a returned workbook, wherever the rows and columns of its answer sheet went.
 *
 * @throws {InputError} `not-recognised` for a workbook without the answer sheet.
 */
export function answersFrom(file: WorkbookFile): { readonly student: string; readonly answers: readonly GivenAnswer[] } {
  const sheet = file.sheets.find((candidate) => candidate.name === ANSWERS_SHEET);
  const head = sheet?.cells.find((cell) => cell.value === QUESTION_HEAD[0]);
  const answer = sheet?.cells.find((cell) => cell.row === head?.row && cell.value === QUESTION_HEAD[3]);
  if (sheet === undefined || head === undefined || answer === undefined) throw new InputError("not-recognised", `marking requires a workbook with the sheet ${ANSWERS_SHEET} of the coursework`);
  const student = String(sheet.cells.find((cell) => cell.row === STUDENT_CELL.row && cell.column === STUDENT_CELL.column)?.value ?? "").trim();
  const answers = sheet.cells.flatMap((cell): GivenAnswer[] => {
    if (cell.column !== head.column || cell.row <= head.row || typeof cell.value !== "string" || cell.value === "") return [];
    const given = sheet.cells.find((other) => other.row === cell.row && other.column === answer.column);
    return [{ metric: cell.value, value: given?.value ?? "", ...(given?.formula === undefined ? {} : { formula: given.formula }) }];
  });
  return { student, answers };
}
