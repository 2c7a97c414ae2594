import { beforeAll, describe, expect, test } from "vitest";
import { resolveMetricName } from "../../../src/catalogue/resolveMetricName.ts";
import { makeCoursework } from "../../../src/coursework/makeCoursework.ts";
import { COURSEWORK_FAULTS, type CourseworkPlan } from "../../../src/coursework/Coursework.ts";
import { KEY_HEAD } from "../../../src/coursework/keyRows.ts";
import { markAssignment } from "../../../src/coursework/markAssignment.ts";
import { markRecording } from "../../../src/coursework/markRecording.ts";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import { SETTINGS } from "../../../src/settings/definitions.ts";
import { readWorkbook } from "../../../src/workbook/readWorkbook.ts";
import type { FileCell, WorkbookFile } from "../../../src/workbook/WorkbookFile.ts";
import { writeWorkbook } from "../../../src/workbook/writeWorkbook.ts";
import { inLanguage } from "../../../src/wording/inLanguage.ts";
import { pageTextsOf } from "../../../src/wording/pageTextsOf.ts";
import { setLanguage } from "../../../src/wording/textsOf.ts";
import { reportOf } from "../../../taskpane/decide/reportOf.ts";
import { squadsOf } from "../../../taskpane/decide/squadsOf.ts";
import { showDemo } from "../../../taskpane/embedded/showDemo.ts";
import type { Applied } from "../../../taskpane/host/SheetHost.ts";
import { rememberRecipe, rememberedRecipes } from "../../../taskpane/pane/bringIn/recipes.ts";
import { reportWords } from "../../../taskpane/pane/decide/reportWords.ts";
import { answersFrom } from "../../../taskpane/pane/teach/answersFrom.ts";
import { keysFrom, keyWorkbook } from "../../../taskpane/pane/teach/keyWorkbook.ts";
import { marksEdits, marksWorkbook } from "../../../taskpane/pane/teach/marksWorkbook.ts";
import { ANSWERS_SHEET, RECORDING_SHEET, studentWorkbook } from "../../../taskpane/pane/teach/studentWorkbook.ts";
import { metricName } from "../../../taskpane/pane/texts.ts";
import { unitsOf } from "../../../taskpane/pane/withUnits.ts";
import { speakWords, words } from "../../../taskpane/pane/words.ts";
import { codeNames } from "../../../taskpane/workbook/codeNames.ts";
import { createWorkbookModel } from "../../../taskpane/workbook/createWorkbookModel.ts";
import { sharedCopy } from "../../../taskpane/workbook/exportWorkbook.ts";
import { plannedSteps, planSteps, PLAN_COLUMNS } from "../../../taskpane/workbook/plan.ts";
import { latestByTrial, RECORD_COLUMNS, recordedRows } from "../../../taskpane/workbook/record.ts";
import { athleteReportEdits, squadReportEdits, writeReports } from "../../../taskpane/workbook/report.ts";
import { NUMBER_SHEETS, openReportNumbers, REPORT_MARK } from "../../../taskpane/workbook/reportNumbers.ts";
import { writeSessions } from "../../../taskpane/workbook/sessions.ts";
import { ATHLETE_COLUMNS, DEFAULT_RESULT_NAMES, RESULT_LEAD, TRIAL_COLUMNS } from "../../../taskpane/workbook/sheets.ts";
import { MARKED, speakMarked, unmarked } from "../../support/markedLanguage.ts";
import { MemoryHost } from "../../support/memoryHost.ts";
import { world, type World } from "../../support/reportWorld.ts";
import { seededRandom } from "../../support/seededRandom.ts";
import { SheetEvaluator } from "../../support/sheetEvaluator.ts";

const speak = (language: string): void => {
  setLanguage(language);
  speakWords(language);
};

/** Writes what the pane writes into a workbook: plan, sessions, report of a person and of the squad, marks, a way of reading files. */
async function writeAll({ host, workbook, live, recorded, settings }: World): Promise<Applied> {
  await workbook.addPlan(planSteps({ date: "2026-02-14", athletes: [{ name: "Ida" }, { name: "Noa" }], tests: [{ test: "DJ", arms: "hips", dropHeights: [0.3], trials: 1, rest: 60 }], order: "person" }));
  await writeSessions(host, workbook);
  await rememberRecipe(host, { name: "Plates", heads: "text: t | Fz | s", recipe: {} as never, pattern: "" });
  await host.apply(marksEdits(MARKS(), await host.sheets()), { label: words.teach.marksLabel });
  return writeReport({ host, workbook, live, recorded, settings });
}

async function writeReport({ host, workbook, live, recorded, settings }: World): Promise<Applied> {
  const numbers = (await openReportNumbers(host, workbook, settings))!;
  const units = unitsOf(DEFAULT_RESULT_NAMES);
  const shared = { title: words.decide.reportTitle("Ida"), ...reportWords(words.decide.made("2026-02-07", "0", "0"), settings, units) };
  const ida = athleteReportEdits(reportOf(live, recorded, "Ida", DEFAULT_RESULT_NAMES, metricName, settings, units), numbers, settings, shared, units);
  const squad = squadReportEdits(squadsOf(live, DEFAULT_RESULT_NAMES, settings), numbers, settings, { ...shared, title: words.decide.squadTitle("") });
  return writeReports(host, [ida, squad], numbers.edits());
}

const PLAN: CourseworkPlan = { test: "CMJ", students: ["Ann", "Ben"], faults: COURSEWORK_FAULTS.slice(0, 2), noise: 1, seed: 20260314 };
const { assignments, keys } = makeCoursework(PLAN);
const MARKS = () => [
  { ...markAssignment([{ metric: "bodyMass", value: 1 }, { metric: "flightTime", value: keys[0].answers.find(({ metric }) => metric === "flightTime")!.value / 2, formula: "=LEAP.X()" }], keys[0]), recording: { outcome: "of another" as const, of: "Ben" } },
  { ...markAssignment(keys[1].answers.map(({ metric, value }) => ({ metric, value })), keys[1]), recording: { outcome: "own" as const } },
];

/** What is part of the workbook in every language: heads by which columns are found, ids, and words that formulas compare. */
const KEYS: ReadonlySet<string> = new Set([
  ...TRIAL_COLUMNS, ...RESULT_LEAD, ...ATHLETE_COLUMNS, ...PLAN_COLUMNS, ...RECORD_COLUMNS, ...KEY_HEAD, ...["name", "columns", "recipe", "file names", "text: t | Fz | s"], ...["trials used", "of"], ...["kept", "key"], ...["setting", "value"],
  ...["keep", "look", "leave out", "mat", "verdict", "findings", "instrument", REPORT_MARK], ...["hips", "swing", "both", "left", "right"],
  ...SETTINGS.flatMap(({ id, options = [] }) => [id, ...options]),
  ...["trials within a day", "sessions between days", "trials within a day, every drop height"],
  // Heads and labels of the table that LEAP.SQUAD_TABLE gives, and outcomes of marking.
  ...["tScore", "placeFrom", "placeTo", "mean", "margin"], ...["right", "mistake", "wrong", "blank", "not a number"],
]);
/** The longest first, since some hold others. */
const OPTIONS = SETTINGS.flatMap(({ options = [] }) => options).sort((a, b) => b.length - a.length);
const PEOPLE = new Set(["Ida", "Noa", "Sam", "Ann", "Ben", "Plates", "Robin Vale", "Sam Quill", "Ida Fenn", "Noa Brook"]);

function isProtocol(text: string): boolean {
  try {
    parseProtocol(text.replace(/ by=\w+$/, ""));
    return true;
  } catch {
    return false;
  }
}

function isMetric(text: string): boolean {
  try {
    resolveMetricName(text.replace(/^u /, ""));
    return true;
  } catch {
    return false;
  }
}

/** Words of three letters outside the marks of a text that is no key, name, protocol, metric, packed trace, hash or date. */
function untranslated(value: unknown): boolean {
  if (typeof value !== "string" || KEYS.has(value) || PEOPLE.has(value) || isProtocol(value) || isMetric(value)) return false;
  // Athlete, day and protocol as one text, by which formulas find a session.
  if (isProtocol(value.replace(/^\p{L}+ \d{5} /u, ""))) return false;
  if (/^LEAP[FT]\d /.test(value) || /^(?:made|demo|invented)[-\w]*(?:@[\d.]+)?$/.test(value) || /^[0-9a-f]{64}$/.test(value) || /^\d{4}-\d\d-\d\d/.test(value)) return false;
  // Papers keep their names, and so do the values that settings take, in the list of those that are allowed.
  const rest = OPTIONS.reduce((text, option) => text.replaceAll(option, ""), unmarked(value));
  return /\p{L}{3,}/u.test(rest.replace(/[A-Z]\p{L}+(?: (?:&|et al\.|and) ?(?:[A-Z]\p{L}+)?)* \(\d{4}\w?\)/gu, ""));
}

/** What the cells of a sheet in memory show, formulas computed. */
function shown(host: MemoryHost, evaluator: SheetEvaluator, sheet: string): { readonly at: string; readonly value: unknown }[] {
  const places = [...host.cells.get(sheet)!.keys()].map((key) => key.split(",").map(Number) as [number, number]);
  const [rows, columns] = [Math.max(...places.map(([row]) => row)) + 1, Math.max(...places.map(([, column]) => column)) + 1];
  return Array.from({ length: rows * columns }, (_, at) => ({ at: `${sheet} ${Math.floor(at / columns)},${at % columns}`, value: evaluator.cell(sheet, Math.floor(at / columns), at % columns) }));
}

const valuesOf = (file: WorkbookFile) => file.sheets.flatMap(({ name, cells }) => cells.map(({ row, column, value }) => ({ at: `${name} ${row},${column}`, value })));

/** The workbook in memory as plain values, as a file would hold it. */
function fileOf(host: MemoryHost, names: WorkbookFile["names"] = []): WorkbookFile {
  return {
    sheets: [...host.cells].map(([name, cells]) => ({ name, cells: [...cells].map(([key, { value }]): FileCell => ({ row: Number(key.split(",")[0]), column: Number(key.split(",")[1]), value })) })),
    names,
  };
}

const FUNCTIONS = new Map([["METRIC", false]]);
const throughFile = async (file: WorkbookFile): Promise<WorkbookFile> => readWorkbook(await writeWorkbook(file, { formulas: "live", functions: FUNCTIONS }), FUNCTIONS);

/** A student's workbook with the right answers, in columns and rows that moved on as a spreadsheet moves them: with their names. */
function answeredAndMoved(file: WorkbookFile): WorkbookFile {
  const answers = new Map(keys[0].answers.map(({ metric, value }) => [metric, value]));
  const [down, right] = [2, 1];
  const sheets = file.sheets.map((sheet) => {
    const filled = sheet.cells.map((cell): FileCell => {
      const metric = sheet.name === ANSWERS_SHEET && cell.fill !== undefined ? sheet.cells.find((other) => other.row === cell.row && other.column === 0)!.value : undefined;
      return metric === undefined ? cell : { ...cell, value: answers.get(metric as string)! };
    });
    return sheet.name === RECORDING_SHEET ? { ...sheet, cells: filled.map((cell) => ({ ...cell, row: cell.row + down, column: cell.column + right })) } : { ...sheet, cells: filled };
  });
  const moved = file.names.map(({ name, refersTo }) => ({ name, refersTo: refersTo.startsWith(`${RECORDING_SHEET}!`) ? refersTo.replace(/\$([A-Z])\$(\d+)/g, (_, column: string, row: string) => `$${String.fromCharCode(column.charCodeAt(0) + right)}$${Number(row) + down}`) : refersTo }));
  return { sheets, names: moved };
}

describe("sheets written in another language", () => {
  let all: World;
  let written: Applied;
  let old: unknown;
  let evaluator: SheetEvaluator;
  beforeAll(async () => {
    await speakMarked();
    all = await world();
    written = await writeAll(all);
    evaluator = new SheetEvaluator(all.host, Object.entries(all.settings.values).map(([id, value]) => [id, value]));
  }, 120_000);

  test.each(["Report Ida", "Report squad", ...Object.values(NUMBER_SHEETS)])("%s says everything in it, computed", (sheet) => {
    const cells = shown(all.host, evaluator, sheet);
    expect(cells.filter(({ value }) => typeof value === "string" && value.includes("\u27e6")).length).toBeGreaterThan(0);
    expect(cells.filter(({ value }) => untranslated(value))).toEqual([]);
  }, 60_000);

  test.each(["Athletes", "Trials", "Results", "Settings", "Record", "Plan", "Sessions", "Recipes", "Marks", "Answers"])("%s says everything in it but its keys", (sheet) => {
    const cells = valuesOf(fileOf(all.host)).filter(({ at }) => at.startsWith(`${sheet} `));
    expect(cells.length).toBeGreaterThan(0);
    expect(cells.filter(({ value }) => untranslated(value))).toEqual([]);
  });

  test("the demo session says everything in it", async () => {
    const host = new MemoryHost();
    await host.apply([{ kind: "addSheet", sheet: "Sheet1" }], { label: "" });
    await showDemo(host, createWorkbookModel(host));
    expect(valuesOf(fileOf(host)).filter(({ value }) => untranslated(value))).toEqual([]);
    expect(host.cell("Athletes", 1, 3).value).toBe("\u27e6Invented demo squad\u27e7");
  });

  test("charts for people without the add-in say everything in it", () => {
    const rows = [["athlete", "date", "protocol", "use", "verdict", "peakForceLeft"], ["Ida", 1, "CMJ", "keep", "keep", 800], ["Ida", 1, "", "keep", "keep", 810]];
    const results = { name: "Results", cells: rows.flatMap((line, row) => line.map((value, column): FileCell => ({ row, column, value }))) };
    const { charts, cells } = sharedCopy({ sheets: [results], names: [{ name: "LeapResults", refersTo: "Results!$E$1:$F$1" }] }).sheets[1];
    const texts = [...cells.map(({ value }) => value), ...charts!.flatMap(({ title, x, y, series }) => [title, x, y, ...series.map(({ name }) => name)])];
    expect(texts).toContain("\u27e6no protocol\u27e7");
    expect(texts.filter(untranslated)).toEqual([]);
  });

  test("coursework, key and marks say everything in it", () => {
    for (const file of [studentWorkbook(assignments[0]), keyWorkbook(keys, PLAN), marksWorkbook(MARKS())]) {
      const cells = valuesOf(file);
      // Mistakes stand in the key as ids with their values.
      expect(cells.filter(({ at, value }) => !/^Key \d+,6$/.test(at) && untranslated(value))).toEqual([]);
      expect(cells.some(({ value }) => typeof value === "string" && value.includes("\u27e6"))).toBe(true);
    }
  });

  test("what can be undone is named in it", () => {
    const labels = all.host.batches.map(({ label }) => label);
    expect(labels.length).toBeGreaterThan(5);
    expect(labels.map((label) => inLanguage(label)).filter(untranslated)).toEqual([]);
  });

  test("names of people are found in it where codes take their place", () => {
    const coded = codeNames(fileOf(all.host), seededRandom(3));
    expect(Object.values(coded.key.people).sort()).toEqual(["Ann", "Ben", "Ida", "Noa", "Sam"]);
    expect(valuesOf(coded.file).filter(({ value }) => typeof value === "string" && ["Ann", "Ben", "Ida", "Noa", "Sam"].includes(value))).toEqual([]);
  });

  test("the page before the pane is said in it", () => {
    const { notInExcel, excelTooOld } = pageTextsOf().opening;
    expect([notInExcel, excelTooOld].filter(untranslated)).toEqual([]);
  });

  // The look-out itself: a text that is in no table must be seen.
  test("a text that is in no table would be shown", () => {
    expect(["lost words", "\u27e6jump\u27e7 high", "athletes"].map(untranslated)).toEqual([true, true, true]);
    expect(["athlete", "\u27e6jump (\u27e6high\u27e7)\u27e7", "CMJ arms=hips", "jumpHeight cm"].map(untranslated)).toEqual([false, false, false, false]);
  });

  describe("and opened in English", () => {
    beforeAll(() => speak("en"));

    test("are found again: trials, settings, plan, record, ways of reading files", async () => {
      const { workbook, host, live, recorded, settings } = all;
      expect(await workbook.trials()).toHaveLength(live.length);
      expect((await workbook.settings()).digest).toBe(settings.digest);
      expect(await workbook.resultNames()).toEqual(DEFAULT_RESULT_NAMES);
      expect((await workbook.athletes()).map(({ name }) => name)).toEqual(["Ida", "Noa"]);
      expect((await plannedSteps(host)).map(({ athlete, date }) => `${athlete} ${date}`)).toEqual(["Ida 2026-02-14", "Noa 2026-02-14"]);
      expect(await workbook.planned()).toHaveLength(2);
      expect(latestByTrial(await recordedRows(host))).toHaveLength(recorded.length);
      expect((await rememberedRecipes(host)).map(({ name }) => name)).toEqual(["Plates"]);
    });

    test("are written again over themselves, without a word of the other language, and come back undone", async () => {
      const { host, workbook } = all;
      const sheets = await host.sheets();
      old = structuredClone(host.cells);
      const again = [await writeReport(all), (await writeSessions(host, workbook))!];
      expect(await host.sheets()).toEqual(sheets);
      const foreign = valuesOf(fileOf(host)).filter(({ at, value }) => /^(?:Report|Sessions)/.test(at) && typeof value === "string" && value.includes("\u27e6"));
      expect(foreign).toEqual([]);
      expect(host.cell("Report Ida", 0, 0).value).toBe("Jump tests of Ida");
      for (const applied of again.reverse()) await workbook.undo(applied);
      expect(host.cells).toEqual(old);
      await workbook.undo(written);
      expect(await host.sheets()).not.toContain("Report Ida");
    });
  });
});

describe("coursework", () => {
  beforeAll(async () => {
    await speakMarked();
  }, 60_000);

  test.each([[MARKED, "en"], ["en", MARKED], [MARKED, MARKED]])("written in %s is marked in %s, through files, wherever its columns went", async (wrote, marks) => {
    speak(wrote);
    const [student, key] = [answeredAndMoved(studentWorkbook(assignments[0])), keyWorkbook(keys, PLAN)].map((file) => throughFile(file));
    speak(marks);
    const read = keysFrom(await key);
    const { student: name, answers, recording } = answersFrom(await student);
    expect(name).toBe("Ann");
    expect(markAssignment(answers, read[0]).right).toBe(keys[0].answers.length);
    expect(markRecording(recording, read[0], read)).toEqual({ outcome: "own" });
  });

  test("is not taken for itself where names point at another sheet or at blank cells", async () => {
    speak(MARKED);
    const file = studentWorkbook(assignments[0]);
    speak("en");
    const astray = { ...file, names: file.names.map(({ name }) => ({ name, refersTo: `${ANSWERS_SHEET}!$Z$99` })) };
    expect(() => answersFrom(astray)).toThrow(/requires a workbook with the sheet Answers/);
  });
});
