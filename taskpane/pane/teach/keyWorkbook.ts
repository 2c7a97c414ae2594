import type { CourseworkPlan, StudentKey } from "../../../src/coursework/Coursework.ts";
import { KEY_HEAD, keyRows, keysFromRows } from "../../../src/coursework/keyRows.ts";
import { InputError } from "../../../src/errors.ts";
import { VERSION } from "../../../src/version.ts";
import { testName } from "../../../src/wording/testName.ts";
import { pageTextsOf } from "../../../src/wording/pageTextsOf.ts";
import type { FileCell, WorkbookFile } from "../../../src/workbook/WorkbookFile.ts";
import { words } from "../words.ts";
import { rowsOf } from "./rowsOf.ts";

/** Names of the sheets: the same in every language. */
const KEY_SHEET = "Key";
const PLAN_SHEET = "Coursework";

/** What the teacher keeps: seeds, answers, tolerances and the answers of usual mistakes; and what it was made from, to make it again. */
export function keyWorkbook(keys: readonly StudentKey[], plan: CourseworkPlan): WorkbookFile {
  const rows: readonly (readonly (string | number)[])[] = [KEY_HEAD, ...keyRows(keys)];
  const cells = rows.flatMap((values, row) => values.map((value, column): FileCell => (row === 0 ? { row, column, value, bold: true } : { row, column, value })));
  const texts = pageTextsOf().sheets.key;
  // In the words of the form in which they were chosen.
  const facts: readonly (readonly [string, string | number])[] = [
    [texts.test, testName(plan.test)], [texts.seed, plan.seed], [texts.noise, plan.noise], [texts.faults, plan.faults.map((fault) => words.teach.faultNames[fault]).join(", ")], [texts.students, plan.students.length], [texts.version, VERSION],
  ];
  const made = facts.flatMap(([name, value], row): FileCell[] => [{ row, column: 0, value: name, bold: true }, { row, column: 1, value }]);
  return {
    sheets: [
      { name: KEY_SHEET, cells, frozenRows: 1, columns: [{ column: 0, width: 150 }, { column: 2, width: 190 }, { column: 6, width: 420 }] },
      { name: PLAN_SHEET, cells: made, columns: [{ column: 0, width: 110 }, { column: 1, width: 260 }] },
    ],
    names: [],
  };
}

/**
 * The keys of a key workbook.
 *
 * @throws {InputError} `not-recognised` for a workbook without a key; `damaged` for one that cannot be read.
 */
export function keysFrom(file: WorkbookFile): readonly StudentKey[] {
  const sheet = file.sheets.find((candidate) => candidate.name === KEY_SHEET);
  if (sheet === undefined) throw new InputError("not-recognised", `marking requires the key that was saved with the coursework: a workbook with a sheet named ${KEY_SHEET}`);
  return keysFromRows(rowsOf(sheet, KEY_HEAD.length).slice(1));
}
