import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Locator, Page } from "playwright-core";
import { ROOT } from "../../scripts/sources.js";
import { syntheticTrial } from "../../src/synthetic/syntheticTrial.ts";
import type { CellValue } from "../../taskpane/host/SheetHost.ts";
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
  open = await tests.open();
  page = open.page;
  view = page.locator("#leapsheet-view");
  await page.locator("[data-line]").first().waitFor();
});
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

/** What axe-core finds in the pane. */
const violations = (): Promise<readonly string[]> => axeViolations(page, "#pane");

/** How far the view can be scrolled sideways, px. */
const sideways = (): Promise<number> => view.evaluate((element) => element.scrollWidth - element.clientWidth);

describe("deciding", () => {
  test("combines the tests of a day with the parts first, and says undecided where single trials allow no more", async () => {
    await show("Tests combined");
    await view.getByLabel("Athlete", { exact: true }).selectOption("Robin Vale");
    const card = view.getByRole("article").first();
    await card.waitFor();
    const text = (await card.textContent())!;
    expect(text).toContain("Countermovement jump over squat jump");
    expect(text).toContain("single trial");
    // One trial of each test: no scatter and no typical error, so no limits.
    expect(text).toContain("undecided");
    expect(text).toContain("common practice");
    await page.screenshot({ path: join(PICTURES, "combine.png") });
  });

  test("shows left and right with the name of the formula, and why one trial gets no verdict", async () => {
    await show("Left and right");
    await view.getByText("Side over the sessions").waitFor();
    expect(await view.textContent()).toContain("Symmetry index");
    expect(await view.textContent()).toContain("at least two trials");
    await page.screenshot({ path: join(PICTURES, "sides.png") });
  });

  test("shows the squad with its n, and no places without a typical error", async () => {
    await show("Squad");
    await view.getByText(/n = [34]/).first().waitFor();
    expect(await view.textContent()).toContain("nobody has a place");
    await page.screenshot({ path: join(PICTURES, "squad.png") });
  });

  test("asks to record before it follows, then draws the recorded days with a text of the same", async () => {
    await show("One person over time");
    await view.getByRole("button", { name: "Go to Trials" }).click();
    await view.getByText("After the session").click();
    await view.getByRole("button", { name: /^Record \d+ trials$/ }).click();
    await page.getByText(/trials of .+ recorded/).waitFor();
    // Three more days as plain values, as if recorded before.
    await page.evaluate(async () => {
      const { host } = window.leapsheet!;
      const table = (await host.tables()).find((candidate) => candidate.name === "Record")!;
      const [content] = await host.read([{ ...table.range, row: table.range.row + 1, rows: 1 }]);
      const first = content.values[0];
      const at = (name: string): number => table.columns.indexOf(name);
      const rows = [35.1, 34.6, 35.6].map((height, day) =>
        first.map((value, column) => (column === at("date") ? (value as number) - 21 + 7 * day : column === at("trial") ? `day-${day}` : column === at("jumpHeight cm") ? height : (value as string | number))),
      );
      await host.apply([{ kind: "appendRows", table: "Record", rows }], { label: "Days" });
    });
    await show("One person over time");
    await view.getByLabel("Athlete", { exact: true }).selectOption("Robin Vale");
    const chart = view.getByRole("img");
    await chart.waitFor();
    const said = (await chart.getAttribute("aria-label"))!;
    expect(said).toMatch(/2026-02-21: 35\.1.*2026-02-28: 34\.6.*2026-03-07: 35\.6.*2026-03-14: /);
    expect(said).toContain("the band");
    await view.getByText("The last session against the band").waitFor();
    await page.screenshot({ path: join(PICTURES, "follow.png") });
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
    const own = results.find((row) => row[0] === "Robin Vale" && String(row[2]).startsWith("CMJ"))!;
    const line = report.find((row) => String(row[1]).startsWith("CMJ") && String(row[2]).startsWith("Jump height") && row[3] === "cm")!;
    // The only valid trial is the value of the session, and n says so.
    expect(line[4]).toBe(own[results[0].indexOf("jumpHeight cm")]);
    expect(line[6]).toBe(1);
    const errors = report.flat().filter((cell) => typeof cell === "object");
    expect(errors).toEqual([]);
    expect(report.flat().filter((cell) => typeof cell === "string").join(" ")).toContain("Eccentric utilisation ratio");
    const formulas = await page.evaluate(async () => {
      const [content] = await window.leapsheet!.host.read([(await window.leapsheet!.host.usedRange("Report Robin Vale"))!]);
      return content.formulas.flat().filter((formula) => formula !== "");
    });
    expect(formulas.some((formula) => formula.includes("LEAP.SESSION_VALUE(FILTER("))).toBe(true);
    expect(formulas.some((formula) => formula.includes('LEAP.READ_RATIO("EUR"'))).toBe(true);
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
    expect(report[at + 1][1]).toBe(low > 1 && high < 1.1 ? "between" : "undecided");
    expect(report.slice(at, at + 5).map((row) => row[1])).toContain(number);
    await page.evaluate((row) => window.leapsheet!.host.select({ sheet: "Report Ann Test", row, column: 0 }), at + 6);
    await page.waitForTimeout(400);
    await page.screenshot({ path: join(PICTURES, "report-readings.png") });
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
    await page.emulateMedia({ media: "screen" });
    expect(await page.locator("#leapsheet-print").isVisible()).toBe(false);
  });

  test.each(["One person over time", "Tests combined", "Left and right", "Squad", "Profiles", "Report"])("%s can be read with a screen reader and in a narrow pane", async (part) => {
    await show(part);
    await page.waitForTimeout(200);
    expect(await violations()).toEqual([]);
    expect(await sideways()).toBeLessThanOrEqual(1);
  });
});
