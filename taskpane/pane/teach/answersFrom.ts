import type { GivenAnswer } from "../../../src/coursework/markAssignment.ts";
import { InputError } from "../../../src/errors.ts";
import { recordingHash } from "../../../src/coursework/recordingHash.ts";
import type { WorkbookFile } from "../../../src/workbook/WorkbookFile.ts";
import { headCell } from "./courseworkHeads.ts";
import { ANSWERS_SHEET, RECORDING_SHEET, STUDENT_CELL } from "./studentWorkbook.ts";

/**
 * The answers of a returned workbook, wherever the rows and columns of its answer sheet went, and the hash of the recording in it.
 *
 * @throws {InputError} `not-recognised` for a workbook without the answer sheet.
 */
export function answersFrom(file: WorkbookFile): { readonly student: string; readonly answers: readonly GivenAnswer[]; readonly recording?: string } {
  const sheet = file.sheets.find((candidate) => candidate.name === ANSWERS_SHEET);
  const head = sheet && headCell(file, sheet, "metric");
  const answer = sheet && headCell(file, sheet, "answer", head?.row);
  if (sheet === undefined || head === undefined || answer === undefined) throw new InputError("not-recognised", `marking requires a workbook with the sheet ${ANSWERS_SHEET} of the coursework`);
  const student = String(sheet.cells.find((cell) => cell.row === STUDENT_CELL.row && cell.column === STUDENT_CELL.column)?.value ?? "").trim();
  const answers = sheet.cells.flatMap((cell): GivenAnswer[] => {
    if (cell.column !== head.column || cell.row <= head.row || typeof cell.value !== "string" || cell.value === "") return [];
    const given = sheet.cells.find((other) => other.row === cell.row && other.column === answer.column);
    return [{ metric: cell.value, value: given?.value ?? "", ...(given?.formula === undefined ? {} : { formula: given.formula }) }];
  });
  const recording = hashOfRecording(file);
  return { student, answers, ...(recording === undefined ? {} : { recording }) };
}

/** The forces under their heads as far down as times stand beside them: students work in columns, and in rows below, of their own. */
function hashOfRecording(file: WorkbookFile): string | undefined {
  const sheet = file.sheets.find((candidate) => candidate.name === RECORDING_SHEET);
  const time = sheet && headCell(file, sheet, "time");
  if (sheet === undefined || time === undefined) return undefined;
  const heads = (["total", "left", "right", "box"] as const).flatMap((head) => headCell(file, sheet, head, time.row) ?? []).sort((a, b) => a.column - b.column);
  if (heads.length === 0) return undefined;
  const columns = new Map([time, ...heads].map((head) => [head.column, [] as number[]]));
  for (const { row, column, value } of sheet.cells) {
    const values = columns.get(column);
    if (values !== undefined && row > time.row && typeof value === "number") values[row - time.row - 1] = value;
  }
  const times = columns.get(time.column)!;
  let samples = 0;
  while (times[samples] !== undefined) samples++;
  return recordingHash(heads.map((head) => Array.from({ length: samples }, (_, at) => columns.get(head.column)![at] ?? NaN)));
}
