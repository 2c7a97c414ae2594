import { describe, expect, test } from "vitest";
import { createOfficeHost } from "../../taskpane/host/createOfficeHost.ts";
import { createWorkbookModel } from "../../taskpane/workbook/createWorkbookModel.ts";
import type { WorkbookModel } from "../../taskpane/workbook/WorkbookModel.ts";
import { draftTrial as draft } from "../support/draftTrial.ts";
import { FakeExcel } from "../support/fakeExcel.ts";

async function filled(): Promise<{ excel: FakeExcel; workbook: WorkbookModel }> {
  const excel = new FakeExcel();
  const workbook = createWorkbookModel(createOfficeHost({ run: excel.run as unknown as typeof Excel.run }));
  await workbook.addTrials([draft("a", "Bo Example"), draft("b", "Ada Example")]);
  return { excel, workbook };
}

/** What the workbook holds; a cell that was blanked is one that is blank. */
const state = ({ workbook }: FakeExcel): unknown =>
  structuredClone({ sheets: new Map([...workbook.sheets].map(([name, cells]) => [name, new Map([...cells].filter(([, value]) => value !== ""))])), tables: workbook.tables, names: workbook.names });

/** Excel renames a sheet everywhere: its own name, tables, defined names, formulas. */
function rename({ workbook }: FakeExcel, from: string, to: string): void {
  const quoted = `'${to.replaceAll("'", "''")}'!`;
  const all = [...workbook.sheets].map(([name, cells]) => [name === from ? to : name, new Map([...cells].map(([key, value]) => [key, typeof value === "string" && value.startsWith("=") ? value.replaceAll(`${from}!`, quoted) : value]))] as const);
  workbook.sheets.clear();
  all.forEach(([name, cells]) => workbook.sheets.set(name, cells));
  for (const table of workbook.tables.values()) if (table.sheet === from) table.sheet = to;
  for (const [name, formula] of workbook.names) workbook.names.set(name, formula.replaceAll(`${from}!`, quoted));
}

describe("protected sheets in Excel", () => {
  test.each(["Trials", "Results"])("%s is protected: an import says what to do, and everything is as it was", async (sheet) => {
    const { excel, workbook } = await filled();
    excel.workbook.protectedSheets.add(sheet);
    const before = state(excel);
    await expect(workbook.addTrials([draft("c", "Cy Example")])).rejects.toThrow("the sheet is protected; unprotect it, then try again");
    expect(state(excel)).toEqual(before);
    excel.workbook.protectedSheets.clear();
    expect(await workbook.addTrials([draft("c", "Cy Example")])).toMatchObject({ written: 1 });
  });

  test("Trials is protected: a word for a trial is refused, and a setting on another sheet is not", async () => {
    const { excel, workbook } = await filled();
    excel.workbook.protectedSheets.add("Trials");
    await expect(workbook.setKeep("a@0.0000", "leave out", "slipped")).rejects.toThrow("unprotect it");
    await workbook.setSetting("take-off-threshold", 15);
    expect((await workbook.settings()).values["take-off-threshold"]).toBe(15);
    expect((await workbook.trials()).map(({ keep }) => keep)).toEqual(["", ""]);
  });

  test("Results is protected: other quantities are refused, and the head stays with its formulas", async () => {
    const { excel, workbook } = await filled();
    const names = await workbook.resultNames();
    excel.workbook.protectedSheets.add("Results");
    const before = state(excel);
    await expect(workbook.setResultNames(["peakForce"])).rejects.toThrow("unprotect it");
    expect(state(excel)).toEqual(before);
    expect(await workbook.resultNames()).toEqual(names);
  });
});

describe("sheets with other names in Excel", () => {
  test.each(["Bo's trials", "Prøver 🦘", "'x' 'y'", "2026-03", "C"])("renamed to “%s”: trials are found, added and undone", async (name) => {
    const { excel, workbook } = await filled();
    rename(excel, "Trials", name);
    rename(excel, "Results", `${name} r`);
    rename(excel, "Settings", `${name} s`);
    const before = state(excel);
    const { applied } = await workbook.addTrials([draft("c", "Cy Example")]);
    expect((await workbook.trials()).map(({ athlete }) => athlete)).toEqual(["Bo Example", "Ada Example", "Cy Example"]);
    expect(await workbook.resultCell("c@0.0000")).toEqual({ sheet: `${name} r`, row: 3, column: 4 });
    expect(excel.workbook.get(`${name} r`, 3, 4)).toContain(`'${name.replaceAll("'", "''")}'!$Q4:$T4`);
    expect([...excel.workbook.sheets.keys()]).toHaveLength(5);
    await workbook.undo(applied!);
    expect({ tables: excel.workbook.tables, names: excel.workbook.names }).toEqual({ tables: (before as { tables: unknown }).tables, names: (before as { names: unknown }).names });
    expect(await workbook.trials()).toHaveLength(2);
  });
});
