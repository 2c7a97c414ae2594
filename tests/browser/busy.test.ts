import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Page } from "playwright-core";
import { ROOT } from "../../scripts/sources.js";
import { axeViolations } from "./support/axe.ts";
import { startBrowserTests, type BrowserTests, type OpenPage } from "./support/page.ts";

/** Screenshots, to be looked at by a person. */
const PICTURES = join(ROOT, "tests", "output", "pane");

declare global {
  interface Window {
    /** While true the sheet says that it is computing. */
    hold?: boolean;
    /** Rows of each block that was computed. */
    blocks?: number[];
  }
}

describe("a sheet that stays busy", () => {
  let tests: BrowserTests;
  let open: OpenPage;
  let page: Page;
  const strip = () => page.getByRole("region", { name: "Calculation of the sheet" });
  /** Changes a cell of no importance: the pane looks whether the sheet is computing. */
  const change = (value: number): Promise<unknown> =>
    page.evaluate((number) => window.leapsheet!.host.apply([{ kind: "cells", sheet: "Athletes", row: 60, column: 12, cells: [[number]] }], { label: "a change" }), value);

  beforeAll(async () => {
    mkdirSync(PICTURES, { recursive: true });
    tests = await startBrowserTests();
    open = await tests.open();
    page = open.page;
    page.setDefaultTimeout(15_000);
    await page.evaluate(() => {
      const { host } = window.leapsheet!;
      const [settled, recalculate] = [host.settled.bind(host), host.recalculate.bind(host)];
      window.blocks = [];
      host.settled = async () => {
        while (window.hold) await new Promise((resolve) => setTimeout(resolve, 20));
        return settled();
      };
      host.recalculate = async (ranges) => {
        window.blocks!.push(...(ranges ?? []).map(({ rows }) => rows));
        return recalculate(ranges);
      };
    });
  });
  afterAll(async () => {
    const faults = open?.faults;
    await open?.close();
    await tests?.close();
    expect(faults).toEqual({ console: [], foreign: [] });
  });

  test("is told after eight seconds, with an offer that says what it does; at once no more when it is done", async () => {
    await page.evaluate(() => void (window.hold = true));
    await change(1);
    await page.waitForTimeout(4000);
    expect(await strip().isVisible()).toBe(false);
    await strip().waitFor();
    expect(await strip().innerText()).toContain("calculating for more than 8 s");
    await strip().getByRole("button", { name: "Calculate Results in blocks" }).waitFor();
    for (const width of [320, 1280, 1920]) {
      await page.setViewportSize({ width, height: 800 });
      await strip().scrollIntoViewIfNeeded();
      await page.screenshot({ path: join(PICTURES, `busy-${width}.png`) });
    }
    await page.setViewportSize({ width: 1280, height: 800 });
    expect(await axeViolations(page, "#pane")).toEqual([]);
    await page.evaluate(() => void (window.hold = false));
    await strip().waitFor({ state: "detached" });
  });

  test("is computed in blocks, each after the one before it; stopping leaves the rest as it is", async () => {
    await page.evaluate(() => void (window.hold = true));
    await change(2);
    await strip().getByRole("button", { name: "Calculate Results in blocks" }).click();
    await strip().getByText(/Calculating Results: 0 of \d+ rows/).waitFor();
    expect(await strip().getByRole("progressbar").count()).toBe(1);
    await page.screenshot({ path: join(PICTURES, "busy-blocks-1280.png") });
    await strip().getByRole("button", { name: "Stop" }).click();
    await page.getByText(/Stopped: 0 of \d+ rows of Results/).waitFor();
    expect(await page.evaluate(() => window.blocks!.length)).toBe(1);

    // Whoever stopped is not asked again before that calculation is over.
    await page.evaluate(() => void (window.hold = false));
    await page.evaluate(() => window.leapsheet!.host.settled());
    await page.waitForTimeout(500);
    await page.evaluate(() => void (window.hold = true));
    await change(3);
    await strip().getByRole("button", { name: "Calculate Results in blocks" }).click();
    await strip().getByText(/Calculating Results: 0 of/).waitFor();
    await page.evaluate(() => void (window.hold = false));
    await page.getByText(/^\d+ rows of Results calculated$/).waitFor();
    // Every row of Results below its head once, in this run; no block has more than 60 rows.
    const [blocks, rows] = await page.evaluate(async () => [window.blocks!, (await window.leapsheet!.host.usedRange("Results"))!.rows - 1] as const);
    expect(blocks.slice(1).reduce((sum, each) => sum + each, 0)).toBe(rows);
    expect(Math.max(...blocks)).toBeLessThanOrEqual(60);
    expect(await strip().count()).toBe(0);
  });
});
