import { parseA1Ref, tokenize } from "@borgar/fx";
import { describe, expect, test } from "vitest";
import { createWorkbookModel } from "../../taskpane/workbook/createWorkbookModel.ts";
import { record, recordedRows } from "../../taskpane/workbook/record.ts";
import { writeSessions } from "../../taskpane/workbook/sessions.ts";
import { DEFAULT_RESULT_NAMES } from "../../taskpane/workbook/sheets.ts";
import type { TrialDraft, WorkbookModel } from "../../taskpane/workbook/WorkbookModel.ts";
import { draftTrial } from "../support/draftTrial.ts";
import { PeopleHost } from "../support/peopleHost.ts";

const draft = (hash: string, athlete: string): TrialDraft => draftTrial(hash, athlete, { protocol: { test: "CMJ", arms: "hips" }, file: `${hash}.csv` });

/** A workbook with three trials of two people. */
async function filled(): Promise<{ host: PeopleHost; workbook: WorkbookModel }> {
  const host = new PeopleHost();
  const workbook = createWorkbookModel(host);
  await workbook.addTrials([draft("a", "Bo Example"), draft("b", "Ada Example"), draft("c", "Cy Example")]);
  return { host, workbook };
}

interface Read {
  readonly sheet: string;
  readonly row: number;
  readonly columns: readonly number[];
}

/** What the references of a formula read, in order; nothing where one of them is gone. */
function reads(formula: string, own: string): readonly Read[] {
  return tokenize(formula).flatMap(({ type, value }) => {
    if (type !== "range") return [];
    const { context, range } = parseA1Ref(value) as unknown as { context?: string[]; range: { top: number; left: number; right: number } };
    return [{ sheet: context?.[0] ?? own, row: range.top, columns: Array.from({ length: range.right - range.left + 1 }, (_, index) => range.left + index) }];
  });
}

/** Every row of Results that has a formula: the hash of the trial it reads, and whether all that belongs to a trial is read from its own columns. */
async function results(host: PeopleHost): Promise<readonly { hash: string; sound: boolean }[]> {
  const trials = (await host.tables()).find(({ columns }) => columns.includes("trace 1"))!;
  const sheet = [...host.cells].find(([, cells]) => [...cells.values()].some(({ formula }) => formula.includes("LEAP.METRIC")))![0];
  const column = (name: string): number => trials.range.column + trials.columns.indexOf(name);
  const heads = [...host.cells.get(sheet)!].filter(([, { value }]) => value === "verdict").map(([key]) => key.split(",").map(Number) as [number, number]);
  const [headRow, first] = heads[0]!;
  const lead = (name: string): number => Array.from({ length: first }, (_, index) => host.cell(sheet, headRow, index).value).lastIndexOf(name);
  const found: { hash: string; sound: boolean }[] = [];
  for (let row = headRow + 1; row < headRow + 60; row++) {
    const { formula } = host.cell(sheet, row, first);
    if (formula === "") continue;
    const [traces, protocol, head, mass, again, adjust] = reads(formula, sheet);
    const one = (name: string): string => host.cell(sheet, row, lead(name)).formula;
    const from = (given: Read | undefined, name: string): boolean => given !== undefined && given.sheet === trials.range.sheet && given.row === traces!.row && given.columns.length === 1 && given.columns[0] === column(name);
    const sound =
      traces!.columns.map((index) => index - column("trace 1")).join() === "0,1,2,3" &&
      from(protocol, "protocol") && from(mass, "mass") && from(again, "mass") && from(adjust, "adjust") &&
      head!.sheet === sheet && head!.row === headRow && head!.columns[0] === first &&
      from(reads(one("athlete"), sheet)[0], "athlete") && from(reads(one("date"), sheet)[0], "date") && from(reads(one("protocol"), sheet)[0], "protocol") &&
      from(reads(one("use"), sheet)[0], "keep") && reads(one("use"), sheet).some(({ sheet: where, row: at, columns }) => where === sheet && at === row && columns[0] === first);
    found.push({ hash: String(host.cell(trials.range.sheet, traces!.row, column("hash")).value), sound });
  }
  return found;
}

const sound = (...hashes: readonly string[]): readonly { hash: string; sound: boolean }[] => hashes.map((hash) => ({ hash, sound: true }));

/** Everything that must still be so: trials are found, another is added below, its formula reads its own cells, and a trial is kept by its key. */
async function expectAtWork({ host, workbook }: { host: PeopleHost; workbook: WorkbookModel }, hashes: readonly string[] = ["a", "b", "c"]): Promise<void> {
  expect(await results(host)).toEqual(sound(...hashes));
  expect((await workbook.trials()).map(({ key }) => key.slice(0, 1)).sort()).toEqual([...hashes].sort());
  await workbook.addTrials([draft("z", "Zoe Example")]);
  expect(await results(host)).toEqual(sound(...hashes, "z"));
  await workbook.setKeep("z@0.0000", "leave out", "slipped");
  expect((await workbook.trials()).filter(({ keep }) => keep === "leave out").map(({ athlete, reason }) => [athlete, reason])).toEqual([["Zoe Example", "slipped"]]);
  const cell = (await workbook.resultCell("z@0.0000"))!;
  expect(host.cell(cell.sheet, cell.row, cell.column).formula).toContain("LEAP.METRIC");
  await workbook.setResultNames(["jumpHeight cm", "peakForce"]);
  expect(await workbook.resultNames()).toEqual(["verdict", "jumpHeight cm", "peakForce"]);
  expect(await results(host)).toEqual(sound(...hashes, "z"));
}

describe("the sheets after a person was at them", () => {
  test("nothing was done: the check itself is sound", async () => {
    await expectAtWork(await filled());
  });

  test.each(["My trials", "Bo's trials", "Prøver 🦘 “x”", "'quoted'", "2026", "A1", "R1C1", "R", "C", "TRUE", "a-b", "x!y"])("Trials and Results were renamed to “%s” and the like", async (name) => {
    const given = await filled();
    given.host.renameSheet("Trials", name);
    given.host.renameSheet("Results", `${name} r`);
    given.host.renameSheet("Settings", `${name} s`);
    await expectAtWork(given);
    expect((await given.workbook.settings()).values["take-off-threshold"]).toBeDefined();
    expect(await given.host.sheets()).toHaveLength(4);
  });

  test("columns were put in before and between those of Trials", async () => {
    const given = await filled();
    given.host.insertColumns("Trials", 0, 2);
    given.host.insertColumns("Trials", given.host.columnOf("Trials", "date"));
    await expectAtWork(given);
  });

  test("columns of Trials were moved", async () => {
    const given = await filled();
    given.host.moveColumn("Trials", given.host.columnOf("Trials", "keep"), 1);
    given.host.moveColumn("Trials", given.host.columnOf("Trials", "hash"), 2);
    given.host.moveColumn("Trials", given.host.columnOf("Trials", "mass"), given.host.columnOf("Trials", "file"));
    await expectAtWork(given);
  });

  test("a column was put in between the traces: it says which columns must stand together, and writes nothing", async () => {
    const { host, workbook } = await filled();
    host.insertColumns("Trials", host.columnOf("Trials", "trace 3"));
    const before = structuredClone(host.cells);
    await expect(workbook.addTrials([draft("z", "Zoe Example")])).rejects.toThrow('"trace 1" to "trace 4"');
    expect(host.cells).toEqual(before);
    expect(await workbook.trials()).toHaveLength(3);
  });

  test("columns were put in before and between those of Results, and among the quantities", async () => {
    const given = await filled();
    given.host.insertColumns("Results", 0, 3);
    given.host.insertColumns("Results", 4);
    await expectAtWork(given);
  });

  test("what a person wrote in a column of their own stays where it is", async () => {
    const { host, workbook } = await filled();
    host.insertColumns("Results", 1);
    host.setResult("Results", 0, 1, "shoe");
    host.setResult("Results", 4, 1, "the person's note for the next row");
    host.insertColumns("Trials", 1);
    host.setResult("Trials", 0, 1, "weather");
    host.setResult("Trials", 2, 1, "rain");
    await workbook.addTrials([draft("z", "Zoe Example")]);
    await workbook.setResultNames(["peakForce"]);
    expect([host.cell("Results", 4, 1).value, host.cell("Trials", 2, 1).value]).toEqual(["the person's note for the next row", "rain"]);
    // Below what is there: a note of a person's own counts as something there.
    expect((await results(host)).map(({ hash }) => hash)).toEqual(["a", "b", "c", "z"]);
  });

  test("a title was put above the tables", async () => {
    const given = await filled();
    for (const sheet of ["Trials", "Results", "Settings"]) {
      given.host.insertRows(sheet, 0, 2);
      given.host.setResult(sheet, 0, 0, "Spring camp");
    }
    await expectAtWork(given);
    await given.workbook.setSetting("take-off-threshold", 15);
    expect((await given.workbook.settings()).values["take-off-threshold"]).toBe(15);
  });

  test("Trials was sorted: results follow their rows, keys their trials", async () => {
    const given = await filled();
    given.host.sortTable("Trials", "athlete");
    expect((await given.workbook.trials()).map(({ athlete }) => athlete)).toEqual(["Ada Example", "Bo Example", "Cy Example"]);
    const cell = (await given.workbook.resultCell("b@0.0000"))!;
    expect(reads(given.host.cell(cell.sheet, cell.row, cell.column).formula, cell.sheet)[0]!.row).toBe(1);
    expect(given.host.cell("Trials", 1, 8).formula).toBe("=LEAP.PROTOCOL(C2,D2,E2,F2,G2)");
    await expectAtWork(given, ["b", "a", "c"]);
  });

  test("a trial was deleted: its result says #REF!, the others stand, and it can be brought in again", async () => {
    const { host, workbook } = await filled();
    host.deleteRows("Trials", 2);
    expect((await workbook.trials()).map(({ key }) => key)).toEqual(["a@0.0000", "c@0.0000"]);
    expect(host.cell("Results", 2, 4).formula).toContain("#REF!");
    expect(await workbook.resultCell("c@0.0000")).toMatchObject({ row: 3 });
    await workbook.setResultNames(["peakForce"]);
    expect(host.cell("Results", 2, 4).formula).toContain("#REF!");
    expect(await workbook.addTrials([draft("b", "Ada Example")])).toMatchObject({ written: 1 });
    expect(await workbook.resultCell("b@0.0000")).toMatchObject({ row: 4 });
  });

  test("all trials were deleted but for the head", async () => {
    const { host, workbook } = await filled();
    host.deleteRows("Trials", 1, 3);
    expect(await workbook.trials()).toEqual([]);
    await workbook.addTrials([draft("z", "Zoe Example")]);
    expect((await workbook.trials()).map(({ athlete }) => athlete)).toEqual(["Zoe Example"]);
  });

  test("a row of Results was deleted: the trial has no result cell, and no other is taken for it", async () => {
    const { host, workbook } = await filled();
    host.deleteRows("Results", 2);
    expect(await workbook.resultCell("b@0.0000")).toBeUndefined();
    expect(await workbook.resultCell("c@0.0000")).toMatchObject({ row: 2 });
    expect(await workbook.trialCell("b@0.0000")).toMatchObject({ row: 2 });
  });

  test("values were pasted over a row of Results: they never come to stand under other names", async () => {
    const { host, workbook } = await filled();
    host.setResult("Results", 2, 4, "keep");
    host.setResult("Results", 2, 5, 34.4);
    host.pasteValues({ sheet: "Results", row: 2, column: 4, rows: 1, columns: 15 });
    expect(await workbook.resultCell("b@0.0000")).toBeUndefined();
    await expect(workbook.setResultNames(["peakForce"])).rejects.toThrow("row 3 of Results holds values in place of its formula");
    expect(await workbook.resultNames()).toEqual(DEFAULT_RESULT_NAMES);
    host.deleteRows("Results", 2);
    await workbook.setResultNames(["peakForce"]);
    expect(await workbook.resultNames()).toEqual(["verdict", "peakForce"]);
  });

  test("a column of the person's own stands right of the quantities: it is not written over", async () => {
    const { host, workbook } = await filled();
    const beside = 4 + DEFAULT_RESULT_NAMES.length;
    host.setResult("Results", 0, beside, "my rank");
    host.setResult("Results", 1, beside, 1);
    await expect(workbook.setResultNames([...DEFAULT_RESULT_NAMES, "peakForce"])).rejects.toThrow("column T of Results holds something of yours");
    expect(host.cell("Results", 1, beside).value).toBe(1);
    await workbook.setResultNames(["peakForce"]);
    expect([0, 1].map((row) => host.cell("Results", row, beside).value)).toEqual(["my rank", 1]);
  });

  test("values were pasted over the protocols of Trials", async () => {
    const given = await filled();
    [1, 2, 3].forEach((row) => given.host.setResult("Trials", row, 8, "CMJ arms=hips"));
    given.host.pasteValues({ sheet: "Trials", row: 1, column: 8, rows: 3, columns: 1 });
    expect((await given.workbook.trials()).map(({ protocol }) => protocol)).toEqual(["CMJ arms=hips", "CMJ arms=hips", "CMJ arms=hips"]);
    await expectAtWork(given);
  });

  test("tables were renamed: they are known by their columns", async () => {
    const given = await filled();
    given.host.renameTable("Trials", "Spring");
    given.host.renameTable("Athletes", "People");
    await expectAtWork(given);
    expect(await given.host.sheets()).toHaveLength(4);
  });

  test("the defined names were deleted: head and settings are found by what is written in them, and named again", async () => {
    const { host, workbook } = await filled();
    await workbook.setSetting("take-off-threshold", 15);
    host.insertRows("Results", 0);
    host.deleteName("LeapResults");
    host.deleteName("LeapSettings");
    expect((await workbook.settings()).values["take-off-threshold"]).toBe(15);
    await workbook.addTrials([draft("z", "Zoe Example")]);
    expect(await host.definedName("LeapResults")).toMatchObject({ sheet: "Results", row: 1, column: 4, columns: DEFAULT_RESULT_NAMES.length });
    expect(await host.definedName("LeapSettings")).toMatchObject({ sheet: "Settings", row: 1, column: 0 });
    expect((await workbook.settings()).values["take-off-threshold"]).toBe(15);
    expect(await results(host)).toEqual(sound("a", "b", "c", "z"));
  });

  test("the table was turned into plain cells, or its sheet taken for something else: it says so and writes nothing", async () => {
    const { host, workbook } = await filled();
    host.convertToRange("Trials");
    const before = structuredClone(host.cells);
    await expect(workbook.addTrials([draft("z", "Zoe Example")])).rejects.toThrow("a sheet named Trials exists");
    expect(host.cells).toEqual(before);
  });

  test("a head of Results was renamed: it names the one it misses", async () => {
    const { host, workbook } = await filled();
    host.setResult("Results", 0, 3, "valid?");
    await expect(workbook.addTrials([draft("z", "Zoe Example")])).rejects.toThrow('no column named "use"');
    expect(await workbook.trials()).toHaveLength(3);
  });

  test("capitals and blanks in a head do not matter", async () => {
    const { host, workbook } = await filled();
    host.setResult("Results", 0, 0, " Athlete ");
    host.setResult("Trials", 0, 0, "ATHLETE ");
    await workbook.addTrials([draft("z", "Zoe Example")]);
    expect((await workbook.trials()).at(-1)!.athlete).toBe("Zoe Example");
  });

  test.each(["Trials", "Results"])("%s is protected: it says what to do, and no sheet is changed", async (sheet) => {
    const { host, workbook } = await filled();
    host.protect(sheet);
    const before = structuredClone(host.cells);
    await expect(workbook.addTrials([draft("z", "Zoe Example")])).rejects.toThrow("unprotect it");
    expect(host.cells).toEqual(before);
  });

  test("numbers came as text with a decimal comma", async () => {
    const { host, workbook } = await filled();
    host.setResult("Trials", 1, host.columnOf("Trials", "mass"), "72,5");
    host.setResult("Trials", 2, host.columnOf("Trials", "mass"), "81.9");
    host.setResult("Trials", 3, host.columnOf("Trials", "mass"), "heavy");
    expect((await workbook.trials()).map(({ mass }) => mass)).toEqual([72.5, 81.9, undefined]);
  });

  test("a word in keep that is neither of the two follows the verdict, in the sheet as in the pane", async () => {
    const { host, workbook } = await filled();
    const keep = host.columnOf("Trials", "keep");
    ["Keep ", "yes", " LEAVE OUT"].forEach((word, index) => host.setResult("Trials", index + 1, keep, word));
    expect((await workbook.trials()).map((row) => row.keep)).toEqual(["keep", "", "leave out"]);
    expect(host.cell("Results", 1, 3).formula).toBe('=IF(LOWER(TRIM(Trials!$K2))="keep","keep",IF(LOWER(TRIM(Trials!$K2))="leave out","leave out",IF(ISERROR($E2),"leave out",IF($E2="leave out","leave out","keep"))))');
  });
});

describe("what is made of the sheets", () => {
  test("sessions read the columns where they stand now", async () => {
    const { host, workbook } = await filled();
    ["a", "b", "c"].forEach((_, index) => host.setResult("Trials", index + 1, 8, "CMJ arms=hips"));
    host.insertColumns("Results", 0);
    host.insertColumns("Results", 3);
    host.renameSheet("Results", "Bo's results");
    await writeSessions(host, workbook);
    // Two columns put in: athlete in B, date in C, protocol in E, use in F, the first quantity in H.
    expect(host.cell("Sessions", 1, 5).formula).toBe(
      `=IFERROR(LEAP.SESSION_VALUE(FILTER('Bo''s results'!$H$2:$H$4,('Bo''s results'!$B$2:$B$4=$A2)*('Bo''s results'!$C$2:$C$4=$B2)*('Bo''s results'!$E$2:$E$4=$C2)*('Bo''s results'!$F$2:$F$4="keep")*ISNUMBER('Bo''s results'!$H$2:$H$4)),,"mean",3),"")`,
    );
  });

  test("a record is added to a table that was renamed and moved", async () => {
    const host = new PeopleHost();
    const entry = { athlete: "Bo Example", date: "2026-03-14", protocol: "CMJ", use: "keep", verdict: "keep", key: "a@0.0000", adjust: "", settingsDigest: "s", metrics: [{ name: "jumpHeight cm", value: 34.4 }] } as const;
    await record(host, [entry], new Date("2026-03-14T09:00:00Z"));
    host.renameTable("Record", "All we know");
    host.insertColumns("Record", 0);
    host.insertRows("Record", 0, 3);
    await record(host, [{ ...entry, key: "b@0.0000" }], new Date("2026-03-14T10:00:00Z"));
    expect((await recordedRows(host)).map(({ key, values }) => [key, values.get("jumpHeight cm")!.value])).toEqual([["a@0.0000", 34.4], ["b@0.0000", 34.4]]);
    expect(await host.sheets()).toEqual(["Record"]);
  });
});
