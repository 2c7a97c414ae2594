import type { MarkedAssignment } from "../../../src/coursework/markAssignment.ts";
import type { FileCell, WorkbookFile } from "../../../src/workbook/WorkbookFile.ts";
import { words } from "../words.ts";

/** Marks of a group: one row a student, and one row an answer. */
export function marksWorkbook(marked: readonly MarkedAssignment[]): WorkbookFile {
  const byStudent: readonly (readonly (string | number)[])[] = [words.teach.marksHead, ...marked.map(({ student, right, answers }) => [student, right, answers.length, answers.filter(({ mark }) => mark.byFunction).length])];
  const byAnswer: readonly (readonly (string | number)[])[] = [
    words.teach.answersHead,
    ...marked.flatMap(({ student, answers }) => answers.map(({ key, given, mark }) => [student, key.metric, key.unit, given === undefined || given === null ? "" : typeof given === "number" ? given : String(given), key.value, key.tolerance, mark.outcome, mark.message])),
  ];
  return { sheets: [sheet(words.teach.marks, byStudent), sheet(words.teach.answers, byAnswer)], names: [] };
}

function sheet(name: string, rows: readonly (readonly (string | number)[])[]): WorkbookFile["sheets"][number] {
  return { name, frozenRows: 1, cells: rows.flatMap((values, row) => values.map((value, column): FileCell => (row === 0 ? { row, column, value, bold: true } : { row, column, value }))), columns: [{ column: 0, width: 150 }, { column: 1, width: 190 }, { column: 7, width: 420 }] };
}
