import { mkdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Locator, Page } from "playwright-core";
import { ROOT } from "../../scripts/sources.js";
import { syntheticTrial } from "../../src/synthetic/syntheticTrial.ts";
import { axeViolations } from "./support/axe.ts";
import { startBrowserTests, type BrowserTests, type OpenPage } from "./support/page.ts";

/** Screenshots, to be looked at by a person. */
const PICTURES = join(ROOT, "tests", "output", "plan");

let tests: BrowserTests;
let open: OpenPage;
let page: Page;
let view: Locator;

beforeAll(async () => {
  mkdirSync(PICTURES, { recursive: true });
  tests = await startBrowserTests();
  open = await tests.open();
  page = open.page;
  page.setDefaultTimeout(12_000);
  view = page.locator("#leapsheet-view");
  await page.evaluate(() => {
    window.print = () => {
      (window as unknown as { printed: string }).printed = document.getElementById("leapsheet-print")!.textContent!;
      window.dispatchEvent(new Event("afterprint"));
    };
  });
});
afterAll(async () => {
  const faults = open.faults;
  await tests.close();
  expect(faults).toEqual({ console: [], foreign: [] });
});

const tab = (name: string): Promise<void> => page.locator("#pane").getByRole("tab", { name }).click();
const said = (text: string | RegExp): Locator => page.locator("#pane").getByRole("status").getByText(text);
const planned = (): Promise<readonly { row: number; athlete: string; protocol: { test: string; dropHeight?: number } }[]> => page.evaluate(() => window.leapsheet!.workbook.planned());

/** A drop jump as a delimited file: time, left and right. */
function dropJump(seed: number): { name: string; mimeType: string; buffer: Buffer } {
  const { trace } = syntheticTrial({ test: "DJ", seed, mass: 70, height: 0.28, drop: 0.25, contactTime: 0.2, faults: { noise: 0.5 } });
  const [left, right] = ["left", "right"].map((role) => trace.plates.find((plate) => plate.role === role)!.force);
  const lines = ["Time (s),Left Fz (N),Right Fz (N)"];
  for (let i = 0; i < left.length; i++) lines.push([i / trace.rate, left[i], right[i]].map((value) => value.toFixed(4)).join(","));
  return { name: `drop-${seed}.csv`, mimeType: "text/csv", buffer: Buffer.from(lines.join("\n")) };
}

/** What axe-core finds in the pane. */
const violations = (): Promise<readonly string[]> => axeViolations(page, "#pane");

describe("a plan", () => {
  test("is made from the squad list, shows its cautions and its steps before it is written", async () => {
    await tab("Plan");
    await view.getByRole("button", { name: "Take from the Athletes sheet" }).click();
    const names = view.getByLabel("Names or codes");
    expect((await names.inputValue()).split("\n")).toContain("Robin Vale");
    await names.fill("Robin Vale\nNew Person");
    await view.getByRole("button", { name: "Add a test" }).click();
    const second = view.getByRole("group", { name: "Test 2" });
    await second.getByLabel("Test", { exact: true }).selectOption("DJ");
    await second.getByLabel("Drop heights, m").fill("0,30 0.20");
    await second.getByLabel("Trials of each").fill("1");
    await view.getByRole("group", { name: "Test 1" }).getByLabel("Trials of each").fill("1");
    expect(await view.getByText("A drop jump loads the legs more than any other test here.").count()).toBe(1);
    const steps = view.getByRole("group", { name: "What will be planned" }).getByRole("row");
    // The head, then three trials of each of two people: a jump, the low box, the high box.
    expect(await steps.count()).toBe(7);
    expect(await steps.nth(2).innerText()).toMatch(/Robin Vale\s+Drop jump, hands on hips, from 20 cm/);
    expect(await violations()).toEqual([]);
    await view.screenshot({ path: join(PICTURES, "plan.png") });
    await view.getByRole("button", { name: "Write the plan of 6 trials" }).click();
    await said("6 trials planned").waitFor();
    expect((await planned()).map(({ athlete, protocol }) => [athlete, protocol.test, protocol.dropHeight])).toEqual([
      ["Robin Vale", "CMJ", undefined], ["Robin Vale", "DJ", 0.2], ["Robin Vale", "DJ", 0.3],
      ["New Person", "CMJ", undefined], ["New Person", "DJ", 0.2], ["New Person", "DJ", 0.3],
    ]);
  });

  test("says how far the day is, and prints a running sheet with cue cards and cautions", async () => {
    await view.getByText("0 of 6 trials are in. Next: Robin Vale, Countermovement jump, hands on hips.").waitFor();
    await view.getByRole("button", { name: "Print running sheet and cue cards" }).click();
    await expect.poll(() => page.evaluate(() => (window as unknown as { printed?: string }).printed)).toBeDefined();
    const printed = await page.evaluate(() => (window as unknown as { printed: string }).printed);
    for (const part of ["Running sheet, ", "New Person", "from 30 cm", "Cue cards", "Step off the box", "Begin with a low box", "Stop at once at pain"]) expect(printed).toContain(part);
    await expect.poll(() => page.locator("#leapsheet-print").count()).toBe(0);
    const [download] = await Promise.all([page.waitForEvent("download"), view.getByRole("button", { name: "Save them as a page" }).click()]);
    const saved = readFileSync((await download.path())!, "utf8");
    expect(saved).toMatch(/^<!doctype html>/);
    expect(saved).not.toContain("<script");
    const sheet = await page.context().newPage();
    await sheet.setContent(saved);
    await sheet.pdf({ path: join(PICTURES, "running-sheet.pdf"), preferCSSPageSize: true });
    await sheet.close();
  });

  test("keeps Results free of errors while its rows wait", async () => {
    const errors = await page.evaluate(async () => {
      const { host } = window.leapsheet!;
      await host.settled();
      const [content] = await host.read([(await host.usedRange("Results"))!]);
      return content.values.flatMap((row) => (row[0] === "New Person" || row.every((cell) => typeof cell === "object") ? [row] : []));
    });
    expect(errors).toEqual([]);
  });

  test("is filled by an import, which shows the row before it writes", async () => {
    await tab("Bring in");
    await page.locator("[data-test=files]").setInputFiles([dropJump(5), dropJump(6)]);
    await view.getByRole("combobox", { name: /^Athlete/ }).last().fill("new person");
    await view.getByRole("combobox", { name: "Test", exact: true }).selectOption("DJ");
    const rows = view.getByRole("group", { name: "What will be written" }).getByRole("row");
    // The first two drop jumps that wait, in the order of the sheet; rows count from one there.
    const [low, high] = (await planned()).filter(({ athlete, protocol }) => athlete === "New Person" && protocol.test === "DJ").map(({ row }) => row);
    await rows.getByText(`fills the planned row ${low + 1}: Drop jump, hands on hips, from 20 cm`).waitFor();
    expect(await rows.getByText(`fills the planned row ${high + 1}: Drop jump, hands on hips, from 30 cm`).count()).toBe(1);
    expect(await violations()).toEqual([]);
    await view.screenshot({ path: join(PICTURES, "match.png") });
    await view.getByRole("button", { name: "Write 2 trials" }).click();
    await said(/2 trials written/).waitFor();
    expect((await planned()).map(({ athlete, protocol }) => [athlete, protocol.test])).toEqual([["Robin Vale", "CMJ"], ["Robin Vale", "DJ"], ["Robin Vale", "DJ"], ["New Person", "CMJ"]]);
    await page.evaluate(() => window.leapsheet!.host.settled());
    const trials = await page.evaluate(() => window.leapsheet!.workbook.trials());
    expect(trials.filter(({ athlete }) => athlete === "New Person").map(({ row, protocol }) => [row, protocol])).toEqual([[low, "DJ drop=0.20 arms=hips"], [high, "DJ drop=0.30 arms=hips"]]);
    await tab("Plan");
    await view.getByText("2 of 6 trials are in.").waitFor();
  });

  test("comes back whole when the import is undone", async () => {
    await page.locator("#pane").getByRole("button", { name: /^Undo/ }).click();
    await view.getByText("0 of 6 trials are in.").waitFor();
    expect(await planned()).toHaveLength(6);
  });

  test("holds in a pane of 320 px", async () => {
    await page.setViewportSize({ width: 320, height: 640 });
    const wide = await page.evaluate(() => document.getElementById("leapsheet-view")!.scrollWidth - document.getElementById("leapsheet-view")!.clientWidth);
    expect(wide).toBe(0);
    const cut = await page.locator("#pane").getByRole("tab").evaluateAll((tabs) => tabs.filter((each) => each.scrollWidth > each.clientWidth).map((each) => each.textContent));
    expect(cut).toEqual([]);
    await page.screenshot({ path: join(PICTURES, "plan-320.png") });
    await page.setViewportSize({ width: 1280, height: 800 });
  });
});
