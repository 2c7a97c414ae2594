import { readFileSync } from "node:fs";
import type { Locator, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { syntheticTrial } from "../../src/synthetic/syntheticTrial.ts";
import { packTrace } from "../../src/trace/packTrace.ts";
import { startBrowserTests, type BrowserTests, type OpenPage } from "./support/page.ts";

/** A name that says so where it is taken for markup or a formula. */
const MARKUP = '<img src=x onerror="window.taken=1"><script>window.taken=2</script>';
const FORMULA = '"&LEAP.VERSION()&"';

/** A recording whose heads, too, are markup. */
function recording(): string {
  const { trace } = syntheticTrial({ test: "CMJ", seed: 4, plates: "total", faults: { noise: 0.5 } });
  const lines = [`time (s),${MARKUP} Fz (N),${FORMULA}`];
  trace.plates[0]!.force.forEach((force, i) => lines.push(`${i / trace.rate},${force.toFixed(2)},0`));
  return lines.join("\n");
}

describe("names and heads that are markup", () => {
  let tests: BrowserTests;
  let open: OpenPage;
  let page: Page;
  let view: Locator;
  beforeAll(async () => {
    tests = await startBrowserTests();
    open = await tests.open();
    page = open.page;
    view = page.locator("#leapsheet-view");
  });
  afterAll(async () => {
    await open?.close();
    await tests?.close();
  });
  const tab = (name: string): Promise<void> => page.locator("#pane").getByRole("tab", { name }).click();
  const taken = (): Promise<unknown> => page.evaluate(() => (window as unknown as { taken?: number }).taken);
  /** What markup would have made of it, anywhere in the page. */
  const made = (): Promise<number> => page.locator('img[src="x"], script:not([src])').count();

  test("are shown as text where a recording is brought in", async () => {
    await tab("Bring in");
    await page.locator("[data-test=files]").setInputFiles([{ name: `${MARKUP.replaceAll("/", "_")}.csv`, mimeType: "text/csv", buffer: Buffer.from(recording()) }]);
    await view.getByText("1 trial found").waitFor();
    expect(await view.getByText("onerror=").count()).toBeGreaterThan(0);
    await view.getByLabel(/^Athlete/).first().fill(MARKUP);
    await view.getByRole("button", { name: "Write 1 trial" }).click();
    await page.locator("#pane").getByRole("status").getByText("1 trial written").waitFor();
    expect([await taken(), await made()]).toEqual([undefined, 0]);
  });

  test("are shown as text in every view, in formulas of a report only compared", async () => {
    await page.evaluate(
      async ([packed, ...names]) => {
        const { host, workbook } = window.leapsheet!;
        const rows = await workbook.trials();
        const trace = { rate: 1000, plates: [{ role: "total" as const, force: new Float64Array(1) }], start: 0, step: 0, rounding: 0 };
        await workbook.addTrials(names.map((athlete, index) => ({ athlete, date: "2026-03-15", protocol: { test: "CMJ" as const }, file: athlete, startInFile: 0, hash: `hostile${index}`, packed: [packed], trace })));
        await workbook.setKeep(rows[0].key, "leave out", names[0]);
        await host.settled();
      },
      [packTrace(syntheticTrial({ test: "CMJ", seed: 5, plates: "total", faults: { noise: 0.5 } }).trace)[0]!, MARKUP, FORMULA],
    );
    for (const name of ["Trials", "Decide", "Explain", "Settings", "Plan", "Teach", "About", "Trials"]) {
      await tab(name);
      await page.waitForTimeout(250);
      expect([name, await taken(), await made()]).toEqual([name, undefined, 0]);
    }
    await page.getByText(MARKUP).first().waitFor();
    await tab("Decide");
    for (const part of await view.getByLabel("Show", { exact: true }).locator("option").allTextContents()) {
      await view.getByLabel("Show", { exact: true }).selectOption({ label: part });
      await page.waitForTimeout(200);
      expect([part, await taken(), await made()]).toEqual([part, undefined, 0]);
    }
  });

  test("are text in a page that is saved, and in the report in the sheet", async () => {
    await tab("Decide");
    await view.getByLabel("Show", { exact: true }).selectOption({ label: "Report" });
    await view.getByLabel("Report for").selectOption(MARKUP);
    const [download] = await Promise.all([page.waitForEvent("download"), view.getByRole("button", { name: "Save the page as a file" }).click()]);
    const html = readFileSync(await download.path(), "utf8");
    expect(html).toContain("&lt;img src=x onerror=");
    expect(html).not.toContain("<img src=x");
    expect(html).not.toContain("<script");
    expect(download.suggestedFilename()).toMatch(/^[^\\/:*?"<>|]+\.html$/);
    const fresh = await open.context.newPage();
    await fresh.setContent(html);
    expect(await fresh.evaluate(() => (window as unknown as { taken?: number }).taken)).toBeUndefined();
    await fresh.close();

    await view.getByLabel("Report for").selectOption(FORMULA);
    await view.getByRole("button", { name: "Write the sheets" }).click();
    await page.getByText("report sheet").first().waitFor();
    const { calls, texts } = await page.evaluate(async () => {
      const { host } = window.leapsheet!;
      await host.settled();
      const sheet = (await host.sheets()).find((name) => name.startsWith("Report"))!;
      const [content] = await host.read([(await host.usedRange(sheet))!]);
      return { calls: content.formulas.flat().filter((formula) => formula !== ""), texts: content.values.flat().map(String) };
    });
    expect(calls.length).toBeGreaterThan(0);
    expect(texts.some((text) => text.includes(FORMULA))).toBe(true);
    // Where a formula holds the name, it stands between quotes, its own doubled.
    for (const formula of calls.filter((each) => each.includes("VERSION"))) expect(formula).toContain('"""&LEAP.VERSION()&"""');
    expect([await taken(), await made()]).toEqual([undefined, 0]);
    expect(open.faults).toEqual({ console: [], foreign: [] });
  });
});
