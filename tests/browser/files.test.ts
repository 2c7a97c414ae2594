import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { FunctionTable } from "../../src/workbook/fileFormula.ts";
import { readWorkbook } from "../../src/workbook/readWorkbook.ts";
import type { WorkbookFile } from "../../src/workbook/WorkbookFile.ts";
import { writeWorkbook } from "../../src/workbook/writeWorkbook.ts";
import type { Edit, RangeContent, TableInfo } from "../../taskpane/host/SheetHost.ts";
import { unzip } from "../fuzz/storedZip.ts";
import { DIST, startBrowserTests, usable, type BrowserTests, type OpenPage } from "./support/page.ts";
import { storedPictures } from "./support/stored.ts";

const functions = (): FunctionTable =>
  new Map((JSON.parse(readFileSync(join(DIST, "functions.json"), "utf8")).functions as { name: string; result?: { dimensionality?: string } }[]).map(({ name, result }) => [name, result?.dimensionality === "matrix"]));

interface Shown {
  readonly sheets: readonly string[];
  readonly tables: readonly TableInfo[];
  readonly results: RangeContent;
  readonly trials: RangeContent;
}

const shown = (page: Page): Promise<Shown> =>
  page.evaluate(async () => {
    const { host } = window.leapsheet!;
    await host.settled();
    const [results, trials] = await host.read([(await host.usedRange("Results"))!, (await host.usedRange("Trials"))!]);
    return { sheets: await host.sheets(), tables: await host.tables(), results, trials };
  });

async function saved(page: Page, button: RegExp): Promise<Uint8Array> {
  await page.getByRole("tab", { name: "About" }).click();
  const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: button }).click()]);
  return new Uint8Array(readFileSync(await download.path()));
}

describe("workbooks as .xlsx in the embedded page", () => {
  let tests: BrowserTests;
  let first: OpenPage;
  let before: Shown;
  let bytes: Uint8Array;
  let file: WorkbookFile;
  beforeAll(async () => {
    tests = await startBrowserTests();
    first = await tests.open();
    before = await shown(first.page);
    bytes = await saved(first.page, /with formulas/);
    file = await readWorkbook(bytes, functions());
  });
  afterAll(async () => {
    await first?.close();
    await tests?.close();
  });

  const results = () => file.sheets.find((sheet) => sheet.name === "Results")!;

  test("saving keeps every sheet, table and defined name, and the traces hidden", () => {
    expect(file.sheets.map((sheet) => sheet.name)).toEqual(before.sheets);
    expect(file.sheets.flatMap((sheet) => sheet.tables ?? []).map(({ name, columns }) => ({ name, columns }))).toEqual(before.tables.map(({ name, columns }) => ({ name, columns })));
    expect(file.names.map(({ name }) => name).sort()).toEqual(["LeapResults", "LeapSettings"]);
    const trials = file.sheets.find((sheet) => sheet.name === "Trials")!;
    const trace = trials.tables![0].columns.indexOf("trace 1");
    expect(trials.columns!.find(({ column }) => column === trace)?.hidden).toBe(true);
    expect(String(trials.cells.find((cell) => cell.row === 1 && cell.column === trace)?.value)).toMatch(/^LEAPF1 /);
  });

  test("formulas are in the file with the values the sheet shows, at full precision", () => {
    const { values, formulas, ref } = before.results;
    const cells = new Map(results().cells.map((cell) => [`${cell.row},${cell.column}`, cell]));
    let spilled = 0;
    values.forEach((row, down) =>
      row.forEach((value, right) => {
        const cell = cells.get(`${ref.row + down},${ref.column + right}`);
        expect(cell?.formula ?? "", `formula ${down},${right}`).toBe(formulas[down][right]);
        if (typeof value === "object") expect(cell?.value).toEqual({ error: value.error });
        else expect(cell?.value ?? "", `value ${down},${right}`).toBe(value);
        if (cell?.spill) spilled += cell.spill.columns;
      }),
    );
    // Twelve demo trials with fifteen columns each.
    expect(spilled).toBeGreaterThan(100);
  });

  test("values only: the same numbers, no formula, no trace, a chart", async () => {
    const copy = await saved(first.page, /values/);
    const { sheets } = await readWorkbook(copy, functions());
    const cells = sheets.flatMap((sheet) => sheet.cells);
    expect(cells.filter((cell) => cell.formula !== undefined)).toEqual([]);
    expect(cells.filter((cell) => typeof cell.value === "string" && cell.value.startsWith("LEAPF1"))).toEqual([]);
    const values = (list: readonly { row: number; column: number; value: unknown }[]) => list.map(({ row, column, value }) => [row, column, value]);
    expect(values(sheets.find((sheet) => sheet.name === "Results")!.cells)).toEqual(values(results().cells));
    expect([...unzip(copy).keys()].filter((name) => name.startsWith("xl/charts/")).length).toBeGreaterThan(0);
  });

  test("opened in a fresh browser the file computes to the same workbook", async () => {
    const second = await tests.open();
    try {
      second.page.on("dialog", (dialog) => void dialog.accept());
      await second.page.evaluate(() => window.leapsheet!.host.apply([{ kind: "addSheet", sheet: "Mine" }], { label: "mine" }));
      await second.page.getByRole("tab", { name: "About" }).click();
      await Promise.all([second.page.waitForEvent("load"), second.page.getByLabel("Open .xlsx").setInputFiles({ name: "session.xlsx", mimeType: "", buffer: Buffer.from(bytes) })]);
      await usable(second.page);
      const after = await shown(second.page);
      expect(after.sheets).toEqual(before.sheets);
      expect(after.tables).toEqual(before.tables);
      expect(after.results).toEqual(before.results);
      expect(after.trials).toEqual(before.trials);
      // And the formulas live: another body mass is another analysis.
      const changed = await second.page.evaluate(async () => {
        const { host } = window.leapsheet!;
        const column = (await host.tables()).find(({ name }) => name === "Trials")!.columns.indexOf("test");
        await host.apply([{ kind: "cells", sheet: "Trials", row: 1, column, cells: [["SJ"]] }], { label: "another test" });
        await host.settled();
        return (await host.read([{ sheet: "Results", row: 1, column: 2, rows: 1, columns: 1 }]))[0].values[0][0];
      });
      expect(changed).toBe("SJ arms=hips");
      expect(second.faults).toEqual({ console: [], foreign: [] });
    } finally {
      await second.close();
    }
  });

  test("pictures of a person's own, with texts, stay where the pane undoes a chart or a report beside them", async () => {
    const second = await tests.open();
    try {
      second.page.on("dialog", (dialog) => void dialog.accept());
      // A PNG of one pixel.
      const pixel = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==";
      const own = { row: 1, column: 4, width: 20, height: 20, type: "png", bytes: new Uint8Array(Buffer.from(pixel, "base64")), text: "my own" } as const;
      const bytesOfMine = await writeWorkbook({ sheets: [{ name: "Mine", cells: [{ row: 0, column: 0, value: "notes" }], pictures: [own] }], names: [] }, { formulas: "live", functions: functions() });
      await Promise.all([second.page.waitForEvent("load"), second.page.getByLabel("Workbook file").setInputFiles({ name: "mine.xlsx", mimeType: "", buffer: Buffer.from(bytesOfMine) })]);
      await usable(second.page);
      expect(await storedPictures(second.page)).toEqual({ Mine: ["my own"] });
      const dataUrl = `data:image/png;base64,${pixel}`;
      const apply = (edits: readonly Edit[]) => second.page.evaluate((all) => window.leapsheet!.host.apply(all, { label: "Step" }), edits);
      const place = (of: "chart" | "report", altText: string): Edit => ({ kind: "picture", of, sheet: "Mine", row: 3, column: 1, dataUrl, width: 30, height: 20, altText });
      await apply([place("report", "former")]);
      const chart = await apply([place("chart", "chart")]);
      const report = await apply([{ kind: "takePictures", of: "report", sheet: "Mine" }, place("report", "new")]);
      expect((await storedPictures(second.page)).Mine).toEqual(["my own", "chart", "new"]);
      for (const [step, left] of [[report, ["chart", "former", "my own"]], [chart, ["former", "my own"]]] as const) {
        await second.page.evaluate((applied) => window.leapsheet!.workbook.undo(applied), step);
        expect((await storedPictures(second.page)).Mine.sort()).toEqual(left);
      }
      expect(second.faults).toEqual({ console: [], foreign: [] });
    } finally {
      await second.close();
    }
  });

  test("a file that is none is refused with a sentence, and nothing changes", async () => {
    await first.page.getByRole("tab", { name: "About" }).click();
    await first.page.getByLabel("Open .xlsx").setInputFiles({ name: "notes.xlsx", mimeType: "", buffer: Buffer.from("time,force\n0,700\n".repeat(50)) });
    await first.page.getByText("requires an .xlsx file, and this is none").waitFor();
    expect(await shown(first.page)).toEqual(before);
    expect(first.faults).toEqual({ console: [], foreign: [] });
  });
});
