import { describe, expect, test } from "vitest";
import { createOfficeHost } from "../../../taskpane/host/createOfficeHost.ts";
import type { SheetHost } from "../../../taskpane/host/SheetHost.ts";
import { createWorkbookModel } from "../../../taskpane/workbook/createWorkbookModel.ts";
import { lostResults, removeLostResults } from "../../../taskpane/workbook/lostResults.ts";
import { draftTrial as draft } from "../../support/draftTrial.ts";
import { FakeExcel } from "../../support/fakeExcel.ts";
import { PeopleHost } from "../../support/peopleHost.ts";

const four = [draft("a", "Bo Example"), draft("b", "Ada Example"), draft("c", "Cy Example"), draft("d", "Di Example")];

async function filled(): Promise<PeopleHost> {
  const host = new PeopleHost();
  await createWorkbookModel(host).addTrials(four);
  return host;
}

/** Rows of Results that hold a formula for numbers, zero-based. */
const formulaRows = (host: PeopleHost, sheet = "Results"): number[] => Array.from({ length: 12 }, (_, row) => row).filter((row) => host.cell(sheet, row, 4).formula.includes("LEAP.METRIC"));

describe("lostResults", () => {
  test("finds none where every trial is there, and nothing to look at without a Results sheet", async () => {
    expect(await lostResults(await filled())).toEqual({ sheet: "Results", rows: [] });
    expect(await lostResults(new PeopleHost())).toBeUndefined();
  });

  test("names the rows whose trials were deleted, wherever the sheet and its head are by now", async () => {
    const host = await filled();
    host.deleteRows("Trials", 2, 2);
    host.renameSheet("Results", "Bo's results 🦘");
    host.insertRows("Bo's results 🦘", 0, 2);
    expect(await lostResults(host)).toEqual({ sheet: "Bo's results 🦘", rows: [4, 5] });
  });

  test("does not take a lost column for a lost trial: every row has its trace", async () => {
    const host = await filled();
    host.deleteColumns("Trials", host.columnOf("Trials", "mass"));
    expect(host.cell("Results", 1, 4).formula).toContain("#REF!");
    expect(await lostResults(host)).toEqual({ sheet: "Results", rows: [] });
  });

  // The forms that spreadsheets give a reference that is gone: of the cells, with the sheet still named, and of the whole sheet.
  test.each(["#REF!", "Trials!#REF!", "'Bo''s trials'!#REF!", "#REF!$Q3:$T3", "#REF!:#REF!"])("knows the lost trace written as %s", async (lost) => {
    const host = await filled();
    await host.apply([{ kind: "cells", sheet: "Results", row: 2, column: 4, cells: [[{ formula: `=LEAP.METRIC(${lost},Trials!$I3,Results!$E$1:$S$1,LeapSettings,"")` }]] }], { label: "x" });
    expect((await lostResults(host))!.rows).toEqual([2]);
  });

  test("leaves a person's own formulas alone", async () => {
    const host = await filled();
    await host.apply([{ kind: "cells", sheet: "Results", row: 8, column: 4, cells: [[{ formula: "=#REF!+1" }]] }, { kind: "cells", sheet: "Results", row: 9, column: 4, cells: [[{ formula: '="LEAP.METRIC(#REF!"' }]] }], { label: "x" });
    expect((await lostResults(host))!.rows).toEqual([]);
  });
});

describe("removeLostResults", () => {
  test("blanks the rows that were shown in one step, and leaves notes beside them and all other rows", async () => {
    const host = await filled();
    host.setResult("Results", 2, 25, "my note");
    host.deleteRows("Trials", 2, 2);
    const before = structuredClone(host.cells);
    const shown = (await lostResults(host))!;
    const applied = await removeLostResults(host, shown);
    expect(host.batches.at(-1)!.label).toBe("Remove 2 rows of Results");
    expect(formulaRows(host)).toEqual([1, 4]);
    for (const row of shown.rows) expect([0, 1, 2, 3, 4].map((column) => host.cell("Results", row, column))).toEqual(Array(5).fill({ value: "", formula: "" }));
    expect(host.cell("Results", 2, 25).value).toBe("my note");
    expect(await lostResults(host)).toEqual({ sheet: "Results", rows: [] });
    const workbook = createWorkbookModel(host);
    await workbook.addTrials([draft("b", "Ada Example")]);
    expect(await workbook.resultCell("b@0.0000")).toMatchObject({ row: 5 });
    await workbook.setResultNames(["peakForce"]);
    expect(formulaRows(host)).toEqual([1, 4, 5]);
    await host.undo(applied);
    expect(host.cells).toEqual(before);
  });

  test("refuses, changing nothing, where a row that was shown reads a trial by now", async () => {
    const host = await filled();
    host.deleteRows("Trials", 2, 2);
    const shown = (await lostResults(host))!;
    await host.apply([{ kind: "cells", sheet: "Results", row: 3, column: 4, cells: [[{ formula: host.cell("Results", 1, 4).formula }]] }], { label: "a person's own" });
    const before = structuredClone(host.cells);
    await expect(removeLostResults(host, shown)).rejects.toThrow("nothing was removed");
    expect(host.cells).toEqual(before);
  });

  test("in Excel is one step too, and a protected sheet is left as it is", async () => {
    const excel = new FakeExcel();
    const host: SheetHost = createOfficeHost({ run: excel.run as unknown as typeof Excel.run });
    await createWorkbookModel(host).addTrials(four);
    const lost = "=LEAP.METRIC(Trials!#REF!,Trials!#REF!,Results!$E$1:$S$1,LeapSettings,Trials!#REF!)";
    excel.workbook.set("Results", 2, 4, lost);
    const shown = (await lostResults(host))!;
    expect(shown.rows).toEqual([2]);
    excel.workbook.protectedSheets.add("Results");
    await expect(removeLostResults(host, shown)).rejects.toThrow("unprotect it");
    expect(excel.workbook.get("Results", 2, 4)).toBe(lost);
    excel.workbook.protectedSheets.clear();
    const applied = await removeLostResults(host, shown);
    expect([0, 1, 2, 3, 4].map((column) => excel.workbook.get("Results", 2, column))).toEqual(["", "", "", "", ""]);
    expect(excel.workbook.get("Results", 3, 4)).toContain("LEAP.METRIC");
    await host.undo(applied);
    expect(excel.workbook.get("Results", 2, 4)).toBe(lost);
  });
});
