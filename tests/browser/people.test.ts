import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import type { FunctionTable } from "../../src/workbook/fileFormula.ts";
import { readWorkbook } from "../../src/workbook/readWorkbook.ts";
import { demoTrials } from "../../taskpane/workbook/demoSession.ts";
import { DIST, startBrowserTests, usable, type BrowserTests, type OpenPage } from "./support/page.ts";

/** Trials of the demo session. */
const DEMO = demoTrials().length;

/** Results as the sheet shows them, by the text of the athlete and protocol. */
const results = (page: Page): Promise<readonly (readonly unknown[])[]> =>
  page.evaluate(async () => {
    const { host } = window.leapsheet!;
    await host.settled();
    const head = (await host.definedName("LeapResults"))!;
    const used = (await host.usedRange(head.sheet))!;
    const [content] = await host.read([{ ...head, row: head.row + 1, column: 0, rows: used.row + used.rows - head.row - 1, columns: head.column + head.columns }]);
    return content.values.map((row) => [...row]);
  });

const sheets = (page: Page): Promise<readonly string[]> => page.evaluate(() => window.leapsheet!.host.sheets());

/** Renames a sheet as a person does: by a double click on its tab. */
async function renameTab(page: Page, from: string, to: string): Promise<void> {
  await page.evaluate((sheet) => window.leapsheet!.host.select({ sheet, row: 0, column: 0 }), from);
  const tab = page.locator("#sheet [data-u-comp=slide-tab-item] span").filter({ hasText: from });
  await expect
    .poll(
      async () => {
        if ((await sheets(page)).includes(to)) return true;
        await tab.dblclick();
        if (!(await tab.evaluate((span) => (span as HTMLElement).isContentEditable))) return false;
        // The sheet takes a tab for dragged that was renamed within the time of a long press: no person types that fast.
        await page.waitForTimeout(800);
        await page.keyboard.press("Control+a");
        await page.keyboard.type(to);
        await page.keyboard.press("Enter");
        return (await sheets(page)).includes(to);
      },
      { timeout: 20_000, interval: 500 },
    )
    .toBe(true);
}

describe("a person at the embedded sheet", () => {
  let tests: BrowserTests;
  let open: OpenPage;
  beforeAll(async () => {
    tests = await startBrowserTests();
  });
  afterAll(() => tests?.close());
  beforeEach(async () => {
    open = await tests.open();
  });
  afterEach(() => open?.close());

  test("renames Trials and Results with quotes and an emoji: nothing that is shown changes, and a trial is added below", async () => {
    const before = await results(open.page);
    expect(before).toHaveLength(DEMO);
    await renameTab(open.page, "Trials", "Bo's trials 🦘");
    await renameTab(open.page, "Results", "Was “heute” war");
    expect(await results(open.page)).toEqual(before);
    const added = await open.page.evaluate(async () => {
      const { host, workbook } = window.leapsheet!;
      const trace = { rate: 1000, plates: [{ role: "total" as const, force: new Float64Array(2000).fill(700) }], start: 0, step: 0, rounding: 0 };
      await workbook.addTrials([{ athlete: "Zoe Invented", date: "2026-03-15", protocol: { test: "CMJ" }, file: "z.csv", startInFile: 0, hash: "z", trace }]);
      await host.settled();
      return workbook.resultCell("z@0.0000");
    });
    expect(added).toMatchObject({ sheet: "Was “heute” war", row: DEMO + 1 });
    const after = await results(open.page);
    expect(after.slice(0, DEMO)).toEqual(before);
    expect(after[DEMO]!.slice(0, 3)).toEqual(["Zoe Invented", 46096, "CMJ"]);
    expect(open.faults.console).toEqual([]);
  });

  test("deletes a trial: its result says #REF!, every other stays", async () => {
    const before = await results(open.page);
    await open.page.evaluate(() => window.leapsheet!.host.apply([{ kind: "deleteRows", table: "Trials", rows: [4] }], { label: "Delete a trial" }));
    const after = await results(open.page);
    expect(after.filter((_, index) => index !== 4)).toEqual(before.filter((_, index) => index !== 4));
    expect(after[4]![0]).toMatchObject({ error: "#REF!" });
    expect(await open.page.evaluate(async () => (await window.leapsheet!.workbook.trials()).length)).toBe(DEMO - 1);
  });

  test("deletes two trials: the pane names the rows of Results that lost theirs, removes them in one step, and brings them back", async () => {
    const before = await results(open.page);
    await open.page.locator("#tab-trials").click();
    await open.page.evaluate(() => window.leapsheet!.host.apply([{ kind: "deleteRows", table: "Trials", rows: [4, 5] }], { label: "Delete two trials" }));
    await open.page.getByText("Rows 6 and 7 of Results show #REF!").waitFor();
    const broken = await results(open.page);
    expect(broken[4]![0]).toMatchObject({ error: "#REF!" });
    await open.page.getByRole("button", { name: "Remove these 2 rows" }).click();
    await open.page.getByText("2 rows of Results removed").waitFor();
    await expect.poll(() => open.page.getByText("of Results show #REF!").count()).toBe(0);
    const after = await results(open.page);
    expect([4, 5].map((row) => after[row]!.every((cell) => cell === ""))).toEqual([true, true]);
    expect(after.filter((_, index) => index !== 4 && index !== 5)).toEqual(before.filter((_, index) => index !== 4 && index !== 5));
    await open.page.getByRole("button", { name: "Undo", exact: true }).click();
    await open.page.getByText("Rows 6 and 7 of Results show #REF!").waitFor();
    expect(await results(open.page)).toEqual(broken);
    expect(open.faults.console).toEqual([]);
  });

  test("saves a copy with codes that holds no name, and goes back with the key", async () => {
    open.page.on("dialog", (dialog) => void dialog.accept());
    const before = await results(open.page);
    await open.page.getByRole("tab", { name: "About" }).click();
    const downloads: Promise<readonly [string, Buffer]>[] = [];
    open.page.on("download", (download) => downloads.push(download.path().then((path) => [download.suggestedFilename(), readFileSync(path)] as const)));
    await open.page.getByRole("button", { name: "Save a copy with codes" }).click();
    await expect.poll(() => downloads.length, { timeout: 20_000 }).toBe(2);
    const [key, copy] = await Promise.all(downloads);
    expect([key![0], copy![0]].map((name) => name.replace(/\d{4}-\d\d-\d\d/, "day"))).toEqual(["leapsheet-day-key.json", "leapsheet-day-codes.xlsx"]);
    const functions: FunctionTable = new Map((JSON.parse(readFileSync(join(DIST, "functions.json"), "utf8")).functions as { name: string; result?: { dimensionality?: string } }[]).map(({ name, result }) => [name, result?.dimensionality === "matrix"]));
    const file = await readWorkbook(new Uint8Array(copy![1]), functions);
    const said = JSON.stringify(file.sheets.map(({ name, cells }) => [name, cells.map(({ value, formula }) => [value, formula])]));
    for (const name of Object.values((JSON.parse(key![1].toString()) as { people: Record<string, string> }).people)) expect(said).not.toContain(name);
    expect(said).toMatch(/P-[2-9A-Z]{5}/);

    await Promise.all([open.page.waitForEvent("load"), open.page.getByLabel("Open .xlsx").setInputFiles({ name: "codes.xlsx", mimeType: "", buffer: copy![1] })]);
    await usable(open.page);
    const coded = await results(open.page);
    expect(coded.map((row) => row.slice(1))).toEqual(before.map((row) => row.slice(1)));
    expect(coded[0]![0]).toMatch(/^P-/);
    await open.page.getByRole("tab", { name: "About" }).click();
    await Promise.all([open.page.waitForEvent("load"), open.page.getByLabel("Put names back with a key").setInputFiles({ name: "key.json", mimeType: "", buffer: key![1] })]);
    await usable(open.page);
    expect(await results(open.page)).toEqual(before);
  });
});
