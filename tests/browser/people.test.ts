import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import type { FunctionTable } from "../../src/workbook/fileFormula.ts";
import { readWorkbook } from "../../src/workbook/readWorkbook.ts";
import { demoTrials } from "../../taskpane/workbook/demoSession.ts";
import { DIST, startBrowserTests, usable, type BrowserTests, type OpenPage } from "./support/page.ts";
import { storedResource } from "./support/stored.ts";

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
    // One step back to the codes, and one to the names again.
    await open.page.locator("#former").getByText("“codes.xlsx with names” took the place of “codes.xlsx”").waitFor();
    for (const expected of [coded, before]) {
      await Promise.all([open.page.waitForEvent("load"), open.page.locator("#former").getByRole("button", { name: "Put it back" }).click()]);
      await usable(open.page);
      expect(await results(open.page)).toEqual(expected);
    }
  });

  /** Each trial with the row of Results that reads it, by its key, and the keys from the top of Trials. */
  const trials = () =>
    open.page.evaluate(async () => {
      const { host, workbook } = window.leapsheet!;
      await host.settled();
      const rows = await workbook.trials();
      const results = new Map<string, unknown>();
      for (const { key, athlete, protocol, keep } of rows) {
        const cell = (await workbook.resultCell(key))!;
        const [content] = await host.read([{ sheet: cell.sheet, row: cell.row, column: 0, rows: 1, columns: 19 }]);
        results.set(key, { athlete, protocol, keep, result: content.values[0] });
      }
      return { order: rows.map(({ key }) => key), athletes: rows.map(({ athlete }) => athlete), byKey: Object.fromEntries(results) };
    });
  /** Opens what stands behind the arrow in the head of a column of Trials, the first by its width of 150 pixels. */
  const openColumn = async (): Promise<void> => {
    await open.page.evaluate(() => window.leapsheet!.host.select({ sheet: "Trials", row: 2, column: 0 }));
    await expect
      .poll(
        async () => {
          const box = (await open.page.locator("canvas[id^=univer-sheet-main-canvas]").boundingBox())!;
          await open.page.mouse.click(box.x + 46 + 150 - 11, box.y + 20 + 16);
          await open.page.waitForTimeout(400);
          return open.page.getByText("Ascending", { exact: true }).isVisible();
        },
        { timeout: 30_000, interval: 500 },
      )
      .toBe(true);
  };
  const filtered = async (): Promise<readonly number[]> => {
    const tables = (await storedResource(open.page, "SHEET_TABLE_PLUGIN")) as Record<string, { tableFilteredOutRows: number[] }>;
    return Object.values(tables).flatMap(({ tableFilteredOutRows }) => tableFilteredOutRows);
  };

  test("sorts and filters Trials: every trial keeps its protocol and result, and what the pane does hits the right row, hidden ones too", async () => {
    const before = await trials();
    await openColumn();
    await open.page.getByText("Ascending", { exact: true }).click();
    await expect.poll(async () => (await trials()).athletes, { timeout: 20_000 }).toEqual([...before.athletes].sort());
    const sorted = await trials();
    expect(sorted.order).not.toEqual(before.order);
    expect(sorted.byKey).toEqual(before.byKey);
    // One press of undo brings the former order back, formulas included; redo sorts again.
    await open.page.keyboard.press("Escape");
    await open.page.evaluate(() => window.leapsheet!.host.select({ sheet: "Trials", row: 3, column: 2 }));
    const box = (await open.page.locator("canvas[id^=univer-sheet-main-canvas]").boundingBox())!;
    await open.page.mouse.click(box.x + 300, box.y + 300);
    await open.page.keyboard.press("Control+z");
    await expect.poll(trials, { timeout: 20_000 }).toEqual(before);
    await open.page.keyboard.press("Control+y");
    await expect.poll(trials, { timeout: 20_000 }).toEqual(sorted);

    // By value: all but one athlete.
    const hidden = sorted.athletes.flatMap((athlete, index) => (athlete === "Sam Quill" ? [index + 1] : []));
    expect(hidden.length).toBeGreaterThan(0);
    await openColumn();
    await open.page.locator('xpath=//*[not(ancestor-or-self::*[@id="pane"])][text()="Sam Quill"]').first().click();
    await open.page.getByText("Confirm", { exact: true }).click();
    await expect.poll(filtered, { timeout: 20_000 }).toEqual(hidden);
    const key = sorted.order[hidden[0]! - 1]!;
    const kept = await open.page.evaluate((of) => window.leapsheet!.workbook.setKeep(of, "leave out", "by hand"), key);
    expect((await trials()).byKey[key]).toMatchObject({ athlete: "Sam Quill", keep: "leave out", result: { 3: "leave out" } });
    await open.page.evaluate((step) => window.leapsheet!.workbook.undo(step), kept);
    expect((await trials()).byKey).toEqual(before.byKey);
    const added = await open.page.evaluate(async () => {
      const trace = { rate: 1000, plates: [{ role: "total" as const, force: new Float64Array(2000).fill(700) }], start: 0, step: 0, rounding: 0 };
      return (await window.leapsheet!.workbook.addTrials([{ athlete: "Zoe Invented", date: "2026-03-15", protocol: { test: "CMJ" }, file: "z.csv", startInFile: 0, hash: "z", trace }])).applied!;
    });
    const more = await trials();
    expect(more.order).toEqual([...sorted.order, "z@0.0000"]);
    expect(more.byKey["z@0.0000"]).toMatchObject({ athlete: "Zoe Invented", protocol: "CMJ", result: { 0: "Zoe Invented", 2: "CMJ" } });
    await open.page.evaluate((step) => window.leapsheet!.workbook.undo(step), added);
    expect(await trials()).toEqual(sorted);
    // Order and filter are there again the next time.
    await open.page.evaluate(() => window.leapsheet!.save());
    await open.page.reload();
    await usable(open.page);
    expect(await trials()).toEqual(sorted);
    expect(await filtered()).toEqual(hidden);
    expect(open.faults).toEqual({ console: [], foreign: [] });
  });
});
