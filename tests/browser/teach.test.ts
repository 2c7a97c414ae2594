import { mkdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { unzipSync } from "fflate";
import type { Download, Locator, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { ROOT } from "../../scripts/sources.js";
import { readWorkbook } from "../../src/workbook/readWorkbook.ts";
import type { FileCell, WorkbookFile } from "../../src/workbook/WorkbookFile.ts";
import { writeWorkbook } from "../../src/workbook/writeWorkbook.ts";
import { keysFrom } from "../../taskpane/pane/teach/keyWorkbook.ts";
import { axeViolations } from "./support/axe.ts";
import { startBrowserTests, type BrowserTests, type OpenPage } from "./support/page.ts";

/** Screenshots, to be looked at by a person. */
const PICTURES = join(ROOT, "tests", "output", "teach");
const FUNCTIONS = new Map([["METRIC", false]]);

let tests: BrowserTests;
let open: OpenPage;
let page: Page;
let view: Locator;
const downloads: Download[] = [];

beforeAll(async () => {
  mkdirSync(PICTURES, { recursive: true });
  tests = await startBrowserTests();
  open = await tests.open();
  page = open.page;
  page.setDefaultTimeout(20_000);
  page.on("download", (download) => downloads.push(download));
  view = page.locator("#leapsheet-view");
  await page.locator("#pane").getByRole("tab", { name: "Teach" }).click();
});
afterAll(async () => {
  const faults = open.faults;
  await tests.close();
  expect(faults).toEqual({ console: [], foreign: [] });
});

const said = (text: string | RegExp): Locator => page.locator("#pane").getByRole("status").getByText(text);
const saved = async (name: string): Promise<Uint8Array> => {
  await expect.poll(() => downloads.map((download) => download.suggestedFilename())).toContain(name);
  return readFileSync(await downloads.find((download) => download.suggestedFilename() === name)!.path());
};
const asFile = (name: string, bytes: Uint8Array) => ({ name, mimeType: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", buffer: Buffer.from(bytes) });

/** A student's file with answers filled in beside their metrics. */
async function answered(bytes: Uint8Array, answers: ReadonlyMap<string, Partial<FileCell>>): Promise<Uint8Array> {
  const file: WorkbookFile = await readWorkbook(bytes, FUNCTIONS);
  const sheets = file.sheets.map((sheet) => {
    const filled = sheet.cells.flatMap((cell): FileCell[] => {
      const answer = cell.column === 0 && typeof cell.value === "string" ? answers.get(cell.value) : undefined;
      return answer === undefined ? [] : [{ row: cell.row, column: 3, value: null, ...answer }];
    });
    return { ...sheet, cells: [...sheet.cells, ...filled] };
  });
  return writeWorkbook({ ...file, sheets }, { formulas: "live", functions: FUNCTIONS });
}

/** What axe-core finds in the pane. */
const violations = (): Promise<readonly string[]> => axeViolations(page, "#pane");

describe("coursework", () => {
  let files: Readonly<Record<string, Uint8Array>>;

  test("says what is missing before it makes anything", async () => {
    await view.getByRole("button", { name: "Save coursework and key" }).click();
    await view.getByText("Coursework requires names, or how many students: 1 to 1000.").waitFor();
    expect(downloads).toHaveLength(0);
  });

  test("is made for a group without names, each student's file without the seed", async () => {
    await view.getByLabel("Or how many").fill("3");
    await view.getByLabel("Seed").fill("20260314");
    await view.getByRole("checkbox", { name: "plates not zeroed" }).check();
    await view.screenshot({ path: join(PICTURES, "make.png") });
    await view.getByRole("button", { name: "Save coursework and key" }).click();
    await said("Coursework for 3 students saved, with the key").waitFor();
    files = unzipSync(await saved("coursework CMJ.zip"));
    expect(Object.keys(files)).toEqual(["001 Student 1.xlsx", "002 Student 2.xlsx", "003 Student 3.xlsx"]);
    const keys = keysFrom(await readWorkbook(await saved("coursework CMJ key.xlsx"), FUNCTIONS));
    for (const bytes of Object.values(files)) {
      for (const part of Object.values(unzipSync(bytes))) {
        const text = Buffer.from(part).toString("utf8");
        for (const seed of [20260314, ...keys.map((key) => key.seed)]) expect(text.includes(String(seed))).toBe(false);
      }
    }
  });

  test("that comes back is marked: right, a usual mistake, a formula of this add-in, blank, and another file", async () => {
    const key = await saved("coursework CMJ key.xlsx");
    const keys = keysFrom(await readWorkbook(key, FUNCTIONS));
    const right = (student: number): Map<string, Partial<FileCell>> => new Map(keys[student].answers.map(({ metric, value }) => [metric, { value }]));
    const first = right(0);
    const mistaken = right(1);
    mistaken.set("flightTime", { value: keys[1].answers.find(({ metric }) => metric === "flightTime")!.value / 2 });
    mistaken.set("bodyWeight", { value: keys[1].answers.find(({ metric }) => metric === "bodyWeight")!.value, formula: '=LEAP.METRIC(Recording!A1:C9,"CMJ","bodyWeight")' });
    await page.locator("[data-test=key]").setInputFiles(asFile("key.xlsx", key));
    await page.locator("[data-test=returned]").setInputFiles([
      asFile("b.xlsx", await answered(files["002 Student 2.xlsx"], mistaken)),
      asFile("a.xlsx", await answered(files["001 Student 1.xlsx"], first)),
      asFile("c.xlsx", files["003 Student 3.xlsx"]),
      asFile("~$a.xlsx", new Uint8Array([1])),
      asFile("other.xlsx", new Uint8Array([1, 2, 3])),
    ]);
    const row = (student: string): Locator => view.getByRole("row").filter({ has: page.getByRole("rowheader", { name: student }) });
    await row("Student 3").waitFor();
    const all = keys[0].answers.length;
    expect(await row("Student 1").innerText()).toContain(`${all} of ${all}`);
    expect(await row("Student 2").innerText()).toContain(`${all - 1} of ${all}`);
    expect(await row("Student 2").innerText()).toContain("Half of the flight time was given.");
    expect(await row("Student 2").innerText()).toContain("The answer cell is itself a formula of this add-in.");
    expect(await row("Student 3").innerText()).toContain(`0 of ${all}`);
    expect(await view.getByRole("alert").innerText()).toMatch(/^other\.xlsx: /);
    expect(await violations()).toEqual([]);
    await view.screenshot({ path: join(PICTURES, "marks.png") });
  });

  test("has its marks written to sheets of their own, and taken back in one step", async () => {
    await view.getByRole("button", { name: "Write the marks to the sheet" }).click();
    await said("The marks are written to new sheets").waitFor();
    const read = () =>
      page.evaluate(async () => {
        const { host } = window.leapsheet!;
        const sheets = await host.sheets();
        if (!sheets.includes("Marks")) return { sheets, rows: [] };
        const [content] = await host.read([(await host.usedRange("Marks"))!]);
        return { sheets, rows: content.values };
      });
    const { sheets, rows } = await read();
    expect(sheets).toEqual(expect.arrayContaining(["Marks", "Answers"]));
    const all = Number(rows[1][2]);
    expect(rows.map((cells) => cells.slice(0, 4))).toEqual([["student", "right", "questions", "answers by a LEAP formula"], ["Student 1", all, all, 0], ["Student 2", all - 1, all, 1], ["Student 3", 0, all, 0]]);
    await page.screenshot({ path: join(PICTURES, "marks-sheet.png") });
    await page.locator("#pane").getByRole("button", { name: /^Undo/ }).click();
    await expect.poll(async () => (await read()).sheets).not.toContain("Marks");
  });

  test("has views that hold in a pane of 320 px", async () => {
    await page.setViewportSize({ width: 320, height: 640 });
    expect(await page.evaluate(() => document.getElementById("leapsheet-view")!.scrollWidth - document.getElementById("leapsheet-view")!.clientWidth)).toBe(0);
    await page.screenshot({ path: join(PICTURES, "teach-320.png") });
  });
});
