import type { MarkedAssignment } from "../../../src/coursework/markAssignment.ts";
import { pageTextsOf } from "../../../src/wording/pageTextsOf.ts";
import { recordingSentence } from "../../../src/wording/recordingSentence.ts";
import type { FileCell, WorkbookFile } from "../../../src/workbook/WorkbookFile.ts";
import type { Edit } from "../../host/SheetHost.ts";

type Rows = readonly (readonly (string | number)[])[];

/** Names of the sheets: the same in every language. */
const MARKS_SHEET = "Marks";
const ANSWERS_SHEET = "Answers";
/** Names of people are found below this head where codes take their place: it is the same in every language too. */
const STUDENT = "student";

const WIDTHS: readonly { readonly column: number; readonly width: number }[] = [{ column: 0, width: 150 }, { column: 1, width: 190 }, { column: 7, width: 420 }];

/** Marks of a group as a file of their own: one row a student, and one row an answer. */
export function marksWorkbook(marked: readonly MarkedAssignment[]): WorkbookFile {
  return {
    sheets: tables(marked).map(([name, rows]) => ({
      name, frozenRows: 1, columns: WIDTHS,
      cells: rows.flatMap((values, row) => values.map((value, column): FileCell => (row === 0 ? { row, column, value, bold: true } : { row, column, value }))),
    })),
    names: [],
  };
}

/** Edits that write the marks to new sheets, named so that none that exists is touched. */
export function marksEdits(marked: readonly MarkedAssignment[], sheets: readonly string[]): readonly Edit[] {
  const taken = new Set(sheets.map((sheet) => sheet.toLowerCase()));
  return tables(marked).flatMap(([wanted, rows]): Edit[] => {
    let sheet = wanted;
    for (let number = 2; taken.has(sheet.toLowerCase()); number++) sheet = `${wanted} ${number}`;
    const columns = rows[0].length;
    return [
      { kind: "addSheet", sheet, rows: Math.max(100, rows.length + 50), columns: columns + 4 },
      { kind: "cells", sheet, row: 0, column: 0, cells: rows },
      { kind: "format", range: { sheet, row: 0, column: 0, rows: 1, columns }, bold: true },
      { kind: "freezeRows", sheet, rows: 1 },
      ...WIDTHS.filter(({ column }) => column < columns).map(({ column, width }): Edit => ({ kind: "columns", sheet, column, count: 1, width })),
    ];
  });
}

function tables(marked: readonly MarkedAssignment[]): readonly (readonly [string, Rows])[] {
  const texts = pageTextsOf().sheets.marks;
  const byStudent: Rows = [[STUDENT, texts.right, texts.questions, texts.byFunction, texts.recording], ...marked.map(({ student, right, answers, recording }) => [student, right, answers.length, answers.filter(({ mark }) => mark.byFunction).length, recording === undefined ? "" : recording.outcome === "own" ? texts.own : recordingSentence(recording)])];
  const byAnswer: Rows = [
    [STUDENT, texts.metric, texts.unit, texts.answer, texts.expected, texts.tolerance, texts.outcome, texts.says],
    ...marked.flatMap(({ student, answers }) => answers.map(({ key, given, mark }) => [student, key.metric, key.unit, given === undefined || given === null ? "" : typeof given === "number" ? given : String(given), key.value, key.tolerance, mark.outcome, mark.message])),
  ];
  return [[MARKS_SHEET, byStudent], [ANSWERS_SHEET, byAnswer]];
}
