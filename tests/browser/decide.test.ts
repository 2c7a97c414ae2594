import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Locator, Page } from "playwright-core";
import { ROOT } from "../../scripts/sources.js";
import { syntheticTrial } from "../../src/synthetic/syntheticTrial.ts";
import type { CellValue } from "../../taskpane/host/SheetHost.ts";
import { formatDate } from "../../taskpane/pane/format.ts";
import { axeViolations } from "./support/axe.ts";
import { startBrowserTests, type BrowserTests, type OpenPage } from "./support/page.ts";

/** Screenshots of every part, to be looked at by a person. */
const PICTURES = join(ROOT, "tests", "output", "decide");

let tests: BrowserTests;
let open: OpenPage;
let page: Page;
let view: Locator;

beforeAll(async () => {
  mkdirSync(PICTURES, { recursive: true });
  tests = await startBrowserTests();
  await begin();
});
/** A page with the demo, in a browser profile of its own. */
async function begin(): Promise<void> {
  open = await tests.open();
  page = open.page;
  view = page.locator("#leapsheet-view");
  await page.locator("[data-line]").first().waitFor();
}
afterAll(async () => {
  const faults = open.faults;
  await open.close();
  await tests.close();
  expect(faults).toEqual({ console: [], foreign: [] });
});

const tab = (name: string): Promise<void> => page.locator("#pane").getByRole("tab", { name }).click();
const show = async (part: string): Promise<void> => {
  await tab("Decide");
  await view.getByLabel("Show", { exact: true }).selectOption({ label: part });
};
const cells = (sheet: string): Promise<readonly (readonly CellValue[])[]> =>
  page.evaluate(async (name) => {
    const { host } = window.leapsheet!;
    await host.settled();
    const [content] = await host.read([(await host.usedRange(name))!]);
    return content.values;
  }, sheet);

/** A day as the browser writes it. */
const day = async (date: string): Promise<string> => formatDate(date, await page.evaluate(() => navigator.language));

/** What axe-core finds in the pane. */
const violations = (): Promise<readonly string[]> => axeViolations(page, "#pane");

/** How far the view can be scrolled sideways, px. */
const sideways = (): Promise<number> => view.evaluate((element) => element.scrollWidth - element.clientWidth);

describe("deciding", () => {
  test("combines the tests of a day with the parts first, then the ratio with its limits", async () => {
    await show("Tests combined");
    await view.getByLabel("Athlete", { exact: true }).selectOption("Robin Vale");
    const card = view.getByRole("article").first();
    await card.waitFor();
    const text = (await card.textContent())!;
    expect(text).toContain("Countermovement jump over squat jump");
    expect(text).toContain("3 trials");
    expect(text).toMatch(/95 % limits \d\.\d+ to \d\.\d+/);
    expect(text).toContain("common practice");
    await page.screenshot({ path: join(PICTURES, "combine.png") });
    // Somebody whose countermovement jump gives no height: nothing is combined, and the reason stands there.
    await view.getByLabel("Athlete", { exact: true }).selectOption("Noa Brook");
    await view.getByText(/Not combined: no valid trial/).first().waitFor();
  });

  test("shows left and right with the name of the formula, and the side over the sessions", async () => {
    await show("Left and right");
    await view.getByLabel("Athlete", { exact: true }).selectOption("Robin Vale");
    await view.getByRole("heading", { name: "Side over the sessions" }).waitFor();
    const text = (await view.textContent())!;
    expect(text).toContain("Symmetry index");
    for (const date of ["2026-02-28", "2026-03-07", "2026-03-14"]) expect(text).toContain(`${await day(date)}: Symmetry index`);
    await page.screenshot({ path: join(PICTURES, "sides.png") });
    await view.getByLabel("Athlete", { exact: true }).selectOption("Sam Quill");
    await view.getByText(/at least two trials/).waitFor();
  });

  test("shows the squad with its n, and shared places inside the margin", async () => {
    await show("Squad");
    await view.getByText(/n = [34]/).first().waitFor();
    expect(await view.textContent()).toContain("are not told apart");
    await page.screenshot({ path: join(PICTURES, "squad.png") });
  });

  test("follows the recorded days with their band, the change of protocol and open trials, with a text of the same", async () => {
    await show("One person over time");
    await view.getByLabel("Athlete", { exact: true }).selectOption("Sam Quill");
    const chart = view.getByRole("img");
    await chart.waitFor();
    const said = (await chart.getAttribute("aria-label"))!;
    expect(said).toMatch(new RegExp((await Promise.all(["2026-01-31", "2026-02-07", "2026-03-07"].map(day))).map((written) => `${written}: `).join(".*")));
    expect(said).toContain("the band");
    await view.getByText(`1. ${await day("2026-02-14")}: the protocol changed (arms differ: swing and hips)`).waitFor();
    await view.getByText("The last session against the band").waitFor();
    await page.screenshot({ path: join(PICTURES, "follow.png") });
    await view.getByLabel("Athlete", { exact: true }).selectOption("Noa Brook");
    await view.getByText("to look at: shown open").waitFor();
    await view.getByText(/1 trial was left out: shown open with a cross/).waitFor();
  });

  test("places the same chart in the sheet", async () => {
    await page.evaluate(() => window.leapsheet!.host.select({ sheet: "Results", row: 20, column: 1 }));
    await view.getByRole("button", { name: "Place the chart in the sheet" }).click();
    await page.getByText("The chart stands on the sheet Results").waitFor();
  });

  test("writes a report whose numbers are formulas over Results", async () => {
    await show("Report");
    await view.getByLabel("Report for").selectOption("Robin Vale");
    await view.getByRole("button", { name: "Write the sheets" }).click();
    await page.getByText("1 report sheet written").waitFor();
    const report = await cells("Report Robin Vale");
    const results = await cells("Results");
    const own = results.find((row) => row[0] === "Robin Vale" && String(row[2]).startsWith("CMJ"))!; // The first rows are of the last day.
    const line = report.find((row) => String(row[1]).startsWith("CMJ") && String(row[2]).startsWith("Jump height") && row[3] === "cm")!;
    // The mean of the three trials of that day, and n says so.
    const heights = results.filter((row) => row[0] === "Robin Vale" && row[1] === own[1] && String(row[2]).startsWith("CMJ")).map((row) => Number(row[results[0].indexOf("jumpHeight cm")]));
    expect(heights).toHaveLength(3);
    expect(line[4]).toBeCloseTo(heights.reduce((sum, height) => sum + height, 0) / 3, 9);
    expect(line[6]).toBe(3);
    const errors = report.flat().filter((cell) => typeof cell === "object");
    expect(errors).toEqual([]);
    expect(report.flat().filter((cell) => typeof cell === "string").join(" ")).toContain("Eccentric utilisation ratio");
    const formulas = await page.evaluate(async () => {
      const [content] = await window.leapsheet!.host.read([(await window.leapsheet!.host.usedRange("Report Robin Vale"))!]);
      return content.formulas.flat().filter((formula) => formula !== "");
    });
    expect(formulas.some((formula) => formula.includes("LEAP.SESSION_VALUE(FILTER("))).toBe(true);
    for (const part of ['LEAP.READ_RATIO("EUR"', "LEAP.READ_ASYMMETRY(", "LEAP.READ_BASELINE(", "LEAP.READ_CHANGE(", "LEAP.RATIO_INTERVAL("]) expect(formulas.some((formula) => formula.includes(part)), part).toBe(true);
    await page.waitForTimeout(300);
    await page.screenshot({ path: join(PICTURES, "report-sheet.png") });
  });

  test("writes everybody and the squad anew without complaint, and leaves a sheet that is no report alone", async () => {
    await view.getByLabel("Report for").selectOption("everybody and the squad");
    await view.getByRole("button", { name: "Write the sheets" }).click();
    await page.getByText("5 report sheets written").waitFor();
    const squad = await cells("Report squad");
    expect(squad.flat()).toContain("tScore");
    expect(squad.flat().filter((cell) => typeof cell === "object")).toEqual([]);
    // Each block spills the people it lists: three with a valid countermovement jump, a head row, n.
    const head = squad.findIndex((row) => row[2] === "name");
    expect(squad.slice(head + 1, head + 4).map((row) => row[2]).sort()).toEqual(["Ida Fenn", "Robin Vale", "Sam Quill"]);
    expect(squad[head + 4].slice(2, 4)).toEqual(["n", 3]);
    await page.evaluate(() => window.leapsheet!.host.select({ sheet: "Report squad", row: 0, column: 0 }));
    await page.waitForTimeout(300);
    await page.screenshot({ path: join(PICTURES, "report-squad.png") });
    await page.evaluate(async () => {
      const { host } = window.leapsheet!;
      await host.apply([{ kind: "deleteSheet", sheet: "Report squad" }, ], { label: "Away" });
      await host.apply([{ kind: "addSheet", sheet: "Report squad" }, { kind: "cells", sheet: "Report squad", row: 0, column: 0, cells: [["mine"]] }], { label: "Mine" });
    });
    await view.getByRole("button", { name: "Write the sheets" }).click();
    await page.getByText(/is no report/).waitFor();
    expect((await cells("Report squad"))[0][0]).toBe("mine");
  });

  test("reads three trials of each test the same in the pane and by the formulas of the sheet", async () => {
    // On a page of its own: what stands there is the demo and these trials.
    const { faults } = open;
    await open.close();
    expect(faults).toEqual({ console: [], foreign: [] });
    await begin();
    const trials = [
      ...[0.351, 0.358, 0.355].map((height, at) => ({ test: "CMJ" as const, height, seed: 70 + at })),
      ...[0.325, 0.331, 0.322].map((height, at) => ({ test: "SJ" as const, height, seed: 80 + at })),
    ];
    const drafts = trials.map(({ test: name, height, seed }) => {
      const { trace } = syntheticTrial({ test: name, seed, mass: 70, height, faults: { noise: 0.5 } });
      return { name, seed, rate: trace.rate, plates: trace.plates.map((plate) => ({ role: plate.role, force: [...plate.force] })), start: trace.start, step: trace.step, rounding: trace.rounding };
    });
    await page.evaluate(async (made) => {
      const { workbook } = window.leapsheet!;
      await workbook.addTrials(
        made.map((draft) => ({
          athlete: "Ann Test", date: "2026-03-20", protocol: { test: draft.name, arms: "hips" as const }, file: "", startInFile: 0, hash: `made-${draft.name}-${draft.seed}`,
          trace: { rate: draft.rate, plates: draft.plates.map((plate) => ({ role: plate.role, force: Float64Array.from(plate.force) })), start: draft.start, step: draft.step, rounding: draft.rounding },
        })),
      );
      await window.leapsheet!.host.settled();
    }, drafts);
    await show("Tests combined");
    await view.getByLabel("Athlete", { exact: true }).selectOption("Ann Test");
    const card = view.getByRole("article", { name: /Countermovement jump over squat jump: Jump height/ });
    await card.waitFor();
    const number = (await card.locator("dd").nth(1).textContent())!;
    expect(number).toMatch(/^Eccentric utilisation ratio 1\.\d+, 95 % limits 1\.\d+ to 1\.\d+\.$/);
    const [low, high] = /limits (\S+) to (\S+)\.$/.exec(number)!.slice(1).map(Number);
    // The heights were made: their means are 0.3547 and 0.3260 m, a ratio of 1.088 that the limits hold.
    expect(low < 1.088 && high > 1.088).toBe(true);
    await show("Report");
    await view.getByLabel("Report for").selectOption("Ann Test");
    await view.getByRole("button", { name: "Write the sheets" }).click();
    await page.getByText("1 report sheet written").waitFor();
    const report = await cells("Report Ann Test");
    const at = report.findIndex((row) => String(row[0]).startsWith("Countermovement jump over squat jump: Jump height"));
    const short = report.findIndex((row, index) => index > at && row[0] === "In short");
    expect(report[short][2]).toBe(low > 1 && high < 1.1 ? "between" : "undecided");
    expect(report.slice(short, short + 5).map((row) => row[2])).toContain(number);
    // The limits stand there as numbers too, above the reading.
    const limit = (which: string): number => Number(report.slice(at, short).find((row) => row[2] === which)![4]);
    expect([limit("lower limit").toFixed(3), limit("upper limit").toFixed(3)]).toEqual([low.toFixed(3), high.toFixed(3)]);
    await page.evaluate((row) => window.leapsheet!.host.select({ sheet: "Report Ann Test", row, column: 0 }), at + 6);
    await page.waitForTimeout(400);
    await page.screenshot({ path: join(PICTURES, "report-readings.png") });
  });

  test("one undo brings back the report that was written over, with its pictures", async () => {
    await show("Report");
    await view.getByLabel("Report for").selectOption("Ida Fenn");
    await view.getByRole("button", { name: "Write the sheets" }).click();
    await page.getByText("1 report sheet written").waitFor();
    await page.evaluate(() => window.leapsheet!.host.apply([{ kind: "cells", sheet: "Report Ida Fenn", row: 1, column: 0, cells: [["as it was"]] }], { label: "Mark" }));
    const formulas = (): Promise<readonly string[]> => page.evaluate(async () => (await window.leapsheet!.host.read([(await window.leapsheet!.host.usedRange("Report Ida Fenn"))!]))[0].formulas.flat());
    const before = await formulas();
    await view.getByRole("button", { name: "Write the sheets" }).click();
    await expect.poll(async () => String((await cells("Report Ida Fenn"))[1][0]), { timeout: 20_000 }).toMatch(/^Made /);
    await page.locator("#pane").getByRole("button", { name: "Undo" }).first().click();
    await page.getByText("Undone: Report Ida Fenn").waitFor();
    expect((await cells("Report Ida Fenn"))[1][0]).toBe("as it was");
    expect(await formulas()).toEqual(before);
  });

  test("gives a plain text in which every line has n, and a page to print that hides all else", async () => {
    await view.getByLabel("Report for").selectOption("Robin Vale");
    const text = (await view.locator("[data-test=report-text]").textContent())!;
    for (const line of text.split("\n").filter((each) => each.startsWith("- "))) expect(line).toMatch(/single trial|\d+ trials|asks? for a look/);
    expect(text).toContain("not a diagnosis");
    expect(text).not.toMatch(/injury risk/i);
    await page.evaluate(() => {
      window.print = () => undefined;
    });
    await view.getByRole("button", { name: "Print or save as PDF" }).click();
    await page.emulateMedia({ media: "print" });
    expect(await page.locator("#leapsheet-print").isVisible()).toBe(true);
    expect(await page.locator("#pane").isVisible()).toBe(false);
    await page.screenshot({ path: join(PICTURES, "print.png"), fullPage: true });
    const pdf = await page.pdf({ format: "A4", preferCSSPageSize: true });
    expect(pdf.subarray(0, 5).toString()).toBe("%PDF-");
    await page.emulateMedia({ media: "screen" });
    expect(await page.locator("#leapsheet-print").isVisible()).toBe(false);
  });

  test("prints forty people of many protocols so that no line is cut and every page says of what it is", async () => {
    const { page: other, close } = await tests.open();
    try {
      await other.evaluate(async () => {
        const { host } = window.leapsheet!;
        const table = (await host.tables()).find((candidate) => candidate.name === "Trials")!;
        const [content] = await host.read([{ ...table.range, row: table.range.row + 1, rows: 12 }]);
        const at = (name: string): number => table.columns.indexOf(name);
        const made = Array.from({ length: 40 }, (_, person) => content.values.slice(0, 12).flatMap((row, trial) => (trial % 4 === person % 4 ? [{ row, trial }] : [])).map(({ row, trial }) => row.map((value, column) => (column === at("athlete") ? `Person number ${person + 1} with a long family name` : column === at("hash") ? `copy-${person}-${trial}` : column === at("protocol") ? { formula: "" } : typeof value === "object" ? "" : value)))).flat();
        const place = table.range.row + table.range.rows;
        await host.apply([{ kind: "appendRows", table: "Trials", rows: made.map((row, line) => row.map((value, column) => (column === at("protocol") ? { formula: `=LEAP.PROTOCOL(C${place + line + 1},D${place + line + 1},E${place + line + 1},F${place + line + 1},G${place + line + 1})` } : (value as string | number | boolean)))) }], { label: "Forty people" });
        await host.settled();
      });
      const pane = other.locator("#leapsheet-view");
      await other.locator("#pane").getByRole("tab", { name: "Decide" }).click();
      await pane.getByLabel("Show", { exact: true }).selectOption({ label: "Report" });
      await pane.getByLabel("Report for").locator("option", { hasText: "Person number 40" }).waitFor({ state: "attached" });
      await pane.getByLabel("Report for").selectOption("Squad");
      await other.evaluate(() => {
        window.print = () => void (document.body.dataset.printed = "yes");
      });
      await pane.getByRole("button", { name: "Print or save as PDF" }).click();
      await other.locator("body[data-printed=yes]").waitFor();
      await other.emulateMedia({ media: "print" });
      // The paper is 186 mm wide between its margins; nothing may be wider than that.
      await other.setViewportSize({ width: 703, height: 1000 });
      const wide = await other.locator("#leapsheet-print").evaluate((root) => [...root.querySelectorAll("*")].filter((element) => element.getBoundingClientRect().right > root.getBoundingClientRect().right + 1).map((element) => `${element.tagName} ${element.textContent?.slice(0, 40)}`));
      expect(wide).toEqual([]);
      const text = (await other.locator("#leapsheet-print").textContent())!;
      expect(text).toContain("Person number 40 with a long family name");
      expect(text).toMatch(/n = 4\d/);
      const pdf = await other.pdf({ format: "A4", preferCSSPageSize: true });
      writeFileSync(join(PICTURES, "squad.pdf"), pdf);
      // Three tables of some forty lines with a chart each: at least three pages, and no page for a single line.
      const pages = pdf.toString("latin1").match(/\/Type\s*\/Page[^s]/g)!.length;
      expect(pages).toBeGreaterThanOrEqual(3);
      expect(pages).toBeLessThanOrEqual(8);
    } finally {
      await close();
    }
  });

  test("writes days, decimal marks and units as the person is used to, while cells keep dates and what was recorded", async () => {
    const { context, url, close } = await tests.open({ ready: false });
    const german = await context.browser()!.newContext({ viewport: { width: 1280, height: 800 }, locale: "de-DE" });
    try {
      const other = await german.newPage();
      await other.goto(url);
      await other.waitForSelector("body[data-ready=yes]", { timeout: 60_000 });
      const pane = other.locator("#leapsheet-view");
      const inHead = (height: string): Promise<void> =>
        other.evaluate(async (name) => {
          const { host, workbook } = window.leapsheet!;
          await workbook.setResultNames((await workbook.resultNames()).map((each) => (each.startsWith("jumpHeight") && !each.startsWith("jumpHeightF") ? name : each)));
          await host.settled();
        }, height);
      const values = async (): Promise<readonly number[]> => {
        const cells = await pane.getByRole("region", { name: /Jump height of Sam Quill over time/ }).locator("tbody td:nth-of-type(1)").allTextContents();
        return cells.map((cell) => Number(/^(\d+,\d+)\s*(?:cm|in)/.exec(cell)![1].replace(",", ".")));
      };
      await other.locator("#tab-decide").click();
      await pane.getByLabel("Show", { exact: true }).selectOption({ label: "One person over time" });
      await pane.getByLabel("Athlete", { exact: true }).selectOption("Sam Quill");
      await pane.getByText("31.01.2026").first().waitFor();
      expect(await pane.textContent()).not.toMatch(/2026-\d\d-\d\d/);
      const centimetres = await values();
      await inHead("jumpHeight in");
      // Recorded in centimetres, read in inches: 1 in = 2.54 cm.
      await pane.getByText(/\d,\d+\s*in\b/).first().waitFor();
      const inches = await values();
      expect(inches).toHaveLength(centimetres.length);
      inches.forEach((value, at) => expect(Math.abs(value * 2.54 - centimetres[at])).toBeLessThan(0.07));
      await other.screenshot({ path: join(PICTURES, "follow, de-DE, in.png") });
      await pane.getByLabel("Show", { exact: true }).selectOption({ label: "Tests combined" });
      await pane.getByText("Jump height, in", { exact: true }).first().waitFor();
      await other.screenshot({ path: join(PICTURES, "combine, de-DE, in.png") });
      const dates = await other.evaluate(async () => {
        const table = (await window.leapsheet!.host.tables()).find(({ name }) => name === "Record")!;
        const [content] = await window.leapsheet!.host.read([table.range]);
        return content.values.slice(1).map((row) => row[table.columns.indexOf("date")]);
      });
      expect(dates.length).toBeGreaterThan(0);
      for (const date of dates) expect(typeof date).toBe("number");
    } finally {
      await german.close();
      await close();
    }
  });

  test.each(["One person over time", "Tests combined", "Left and right", "Squad", "Profiles", "Report"])("%s can be read with a screen reader and in a narrow pane", async (part) => {
    await show(part);
    await page.waitForTimeout(200);
    expect(await violations()).toEqual([]);
    expect(await sideways()).toBeLessThanOrEqual(1);
  });
});
