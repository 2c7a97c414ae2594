import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { axeViolations } from "./support/axe.ts";
import { startBrowserTests, type BrowserTests, type OpenPage } from "./support/page.ts";

describe("the check under About", () => {
  let tests: BrowserTests;
  let open: OpenPage;
  beforeAll(async () => {
    tests = await startBrowserTests();
    open = await tests.open();
    open.page.setDefaultTimeout(15_000);
  });
  afterAll(async () => {
    const faults = open?.faults;
    await open?.close();
    await tests?.close();
    expect(faults).toEqual({ console: [], foreign: [] });
  });

  test("computes in cells of the workbook, finds that all agree, and leaves the workbook and the place in it as they were", async () => {
    const { page } = open;
    const state = () =>
      page.evaluate(async () => {
        const { host } = window.leapsheet!;
        const sheets = await host.sheets();
        return { sheets, selection: await host.selection(), used: await Promise.all(sheets.map((sheet) => host.usedRange(sheet))) };
      });
    const before = await state();
    await page.locator("#pane").getByRole("tab", { name: "About" }).click();
    await page.getByRole("button", { name: "Run the check" }).click();
    const verdict = page.getByText(/^\d+ of \d+ values agree$/);
    await verdict.waitFor();
    const [passed, all] = (await verdict.textContent())!.match(/\d+/g)!.map(Number);
    expect(passed).toBe(all);
    // Beside the published values of LEAP.SELF_CHECK: seven kinds of call, of which one fills two cells.
    const rows = await page.getByRole("group", { name: "Check of the numbers" }).getByRole("row").allInnerTexts();
    expect(rows.filter((text) => /from a cell|two cells|left out|blank cell|inside another|an error/.test(text))).toHaveLength(8);
    expect(await state()).toEqual(before);
    expect(await axeViolations(page, "#pane")).toEqual([]);
  });
});
