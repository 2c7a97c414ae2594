import type { Assignment } from "../../../src/coursework/Coursework.ts";
import { resolveMetricName } from "../../../src/catalogue/resolveMetricName.ts";
import { metricExplanation } from "../../../src/wording/explainMetric.ts";
import { fillTemplate } from "../../../src/wording/fillTemplate.ts";
import { pageTextsOf } from "../../../src/wording/pageTextsOf.ts";
import { testName } from "../../../src/wording/testName.ts";
import type { FileCell, WorkbookFile } from "../../../src/workbook/WorkbookFile.ts";
import { headNames } from "./courseworkHeads.ts";

/** Names of the sheets, by which they are found again: the same in every language. */
export const ANSWERS_SHEET = "Answers";
export const RECORDING_SHEET = "Recording";
/** Where the student's name stands on the answer sheet. */
export const STUDENT_CELL = { row: 1, column: 1 } as const;
/** Columns of the questions; the answer is the last. */
const COLUMN = { metric: 0, question: 1, unit: 2, answer: 3 } as const;
const TASK_ROW = 5;
/** Tells at a glance where to write. */
const ANSWER_FILL = "FFF4CE";

/**
 * What a student gets: the task, blank answers and the recording as numbers. Nothing in it tells the seed or the answers.
 */
export function studentWorkbook({ student, test, trace, questions }: Assignment): WorkbookFile {
  const texts = pageTextsOf().sheets.coursework;
  const { heads } = texts;
  const headRow = TASK_ROW + texts.task.length + 1;
  const answers: FileCell[] = [
    text(0, 0, texts.title, true),
    text(1, 0, texts.student, true),
    text(STUDENT_CELL.row, STUDENT_CELL.column, student),
    text(2, 0, texts.test, true),
    text(2, 1, testName(test)),
    text(3, 0, texts.rate, true),
    { row: 3, column: 1, value: trace.rate },
    ...texts.task.map((line, place) => text(TASK_ROW + place, 0, fillTemplate(line, { recording: RECORDING_SHEET }))),
    ...[heads.metric, texts.question, texts.unit, heads.answer].map((head, column) => text(headRow, column, head, true)),
    ...questions.flatMap(({ metric, unit }, place) => {
      const { name, definition } = metricExplanation(resolveMetricName(metric));
      const row = headRow + 1 + place;
      return [text(row, COLUMN.metric, metric), { ...text(row, COLUMN.question, `${name}. ${definition}`), wrap: true }, text(row, COLUMN.unit, unit), { row, column: COLUMN.answer, value: null, fill: ANSWER_FILL }];
    }),
  ];
  const plates = trace.plates;
  const recording: FileCell[] = [text(0, 0, heads.time, true), ...plates.map((plate, at) => text(0, at + 1, heads[plate.role], true))];
  const samples = plates[0].force.length;
  for (let i = 0; i < samples; i++) {
    recording.push({ row: i + 1, column: 0, value: Number((i / trace.rate).toFixed(6)) });
    for (let at = 0; at < plates.length; at++) recording.push({ row: i + 1, column: at + 1, value: Math.round(plates[at].force[i] * 100) / 100 });
  }
  return {
    sheets: [
      { name: ANSWERS_SHEET, cells: answers, frozenRows: headRow + 1, columns: [{ column: 0, width: 190 }, { column: 1, width: 520 }, { column: 2, width: 60 }, { column: 3, width: 120 }] },
      { name: RECORDING_SHEET, cells: recording, frozenRows: 1, columns: [{ column: 1, width: 120 }, { column: 2, width: 120 }] },
    ],
    names: [
      ...headNames(ANSWERS_SHEET, [{ head: "metric", row: headRow, column: COLUMN.metric }, { head: "answer", row: headRow, column: COLUMN.answer }]),
      ...headNames(RECORDING_SHEET, [{ head: "time", row: 0, column: 0 }, ...plates.map(({ role }, at) => ({ head: role, row: 0, column: at + 1 }))]),
    ],
  };
}

function text(row: number, column: number, value: string, bold = false): FileCell {
  return bold ? { row, column, value, bold } : { row, column, value };
}
