import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { unzipSync } from "fflate";
import type { Download, Locator, Page } from "playwright-core";
import { ROOT } from "../../scripts/sources.js";
import { syntheticTrial } from "../../src/synthetic/syntheticTrial.ts";
import type { CellValue } from "../../taskpane/host/SheetHost.ts";
import { fullCellName } from "../../taskpane/pane/cellName.ts";
import { axeViolations } from "./support/axe.ts";
import { startBrowserTests, type BrowserTests, type OpenPage } from "./support/page.ts";

/** Screenshots of every view, to be looked at by a person. */
const PICTURES = join(ROOT, "tests", "output", "pane");

let tests: BrowserTests;
let open: OpenPage;
let page: Page;
let view: Locator;

beforeAll(async () => {
  mkdirSync(PICTURES, { recursive: true });
  tests = await startBrowserTests();
});
afterAll(() => tests?.close());

/** One page for the tests of a group; what it logs or asks of others counts against the group. */
function onOnePage(): void {
  beforeAll(async () => {
    open = await tests.open();
    page = open.page;
    page.setDefaultTimeout(12_000);
    view = page.locator("#leapsheet-view");
    // The protocols are formulas: the list stands once they are computed.
    await view.getByRole("heading", { name: /^Squat jump, hands on hips/ }).first().waitFor();
  });
  afterAll(async () => {
    const faults = open.faults;
    await open.close();
    expect(faults).toEqual({ console: [], foreign: [] });
  });
}

const tab = (name: string): Promise<void> => page.locator("#pane").getByRole("tab", { name }).click();
const results = (): Promise<readonly (readonly CellValue[])[]> =>
  page.evaluate(async () => {
    const { host } = window.leapsheet!;
    await host.settled();
    const [content] = await host.read([(await host.usedRange("Results"))!]);
    return content.values;
  });
/** Column of a metric in Results. */
const column = async (name: string): Promise<number> => (await results())[0].indexOf(name);
const select = (row: number, at: number, sheet = "Results"): Promise<void> => page.evaluate(([s, r, c]) => window.leapsheet!.host.select({ sheet: s as string, row: r as number, column: c as number }), [sheet, row, at] as const);
/** An empty list of files in the view that brings them in. */
const startOver = async (): Promise<void> => {
  await tab("Bring in");
  const clear = view.getByRole("button", { name: "Start over" });
  if (await clear.isVisible()) await clear.click();
};
const said = (text: string | RegExp): Locator => page.locator("#pane").getByRole("status").getByText(text);
const file = (name: string, text: string): { name: string; mimeType: string; buffer: Buffer } => ({ name, mimeType: "text/csv", buffer: Buffer.from(text) });
const choose = (files: ReturnType<typeof file>[]): Promise<void> => page.locator("[data-test=files]").setInputFiles(files);

/** A jump of a known height as a delimited file: semicolons, decimal commas, the right plate first, negative under load. */
function recording(height: number, seed: number): string {
  const { trace } = syntheticTrial({ test: "CMJ", seed, mass: 70, height, faults: { noise: 0.5 } });
  const [left, right] = ["left", "right"].map((role) => trace.plates.find((plate) => plate.role === role)!.force);
  const lines = ["Recorded on two plates", "Time;Right Fz;Left Fz", "s;N;N"];
  for (let i = 0; i < left.length; i++) lines.push([i / trace.rate, -right[i], -left[i]].map((value) => value.toFixed(4).replace(".", ",")).join(";"));
  return lines.join("\r\n");
}

/** What axe-core finds in the pane. */
const violations = (): Promise<readonly string[]> => axeViolations(page, "#pane");

/** How far the view can be scrolled sideways, px. */
const sideways = (): Promise<number> => view.evaluate((element) => element.scrollWidth - element.clientWidth);

describe("bringing a recording in", () => {
  onOnePage();

  test("shows what was read, writes trial and formulas, and takes them back in one step", async () => {
    const before = (await results()).length;
    await startOver();
    await choose([file("ann_2026-03-02_cmj.csv", recording(0.33, 11))]);
    await view.getByText("1 trial found").waitFor();
    await view.getByText("negative under load", { exact: false }).first().waitFor();
    expect(await view.getByLabel("Sampling rate, Hz").inputValue()).toBe("1000");
    await page.screenshot({ path: join(PICTURES, "bring-in.png") });
    await view.getByLabel(/^Athlete/).first().fill("Ann Test");
    await view.getByRole("button", { name: "Write 1 trial" }).click();
    await said("1 trial written").waitFor();
    const after = await results();
    expect(after.length).toBe(before + 1);
    const written = after[after.length - 1];
    expect(written[0]).toBe("Ann Test");
    // The trial was made 33 cm high (exact truth of the generator); noise and threshold move it by millimetres.
    expect(Math.abs(Number(written[await column("jumpHeight cm")]) - 33)).toBeLessThan(0.4);
    await page.getByRole("button", { name: "Undo" }).click();
    await said(/^Undone/).waitFor();
    expect((await results()).length).toBe(before);
  });

  test("asks for the name before it writes, and knows a file that is already there", async () => {
    await startOver();
    await choose([file("cmj.csv", recording(0.31, 12))]);
    await view.getByLabel(/^Athlete/).first().fill("");
    await view.getByRole("button", { name: "Write 1 trial" }).click();
    await view.getByText("Each file needs an athlete").first().waitFor();
    await view.getByLabel(/^Athlete/).first().fill("Ann Test");
    await view.getByRole("button", { name: "Write 1 trial" }).click();
    await said("1 trial written").waitFor();
    await choose([file("copy of cmj.csv", recording(0.31, 12))]);
    await view.getByText("already in the sheet").waitFor();
    expect(await view.getByRole("button", { name: "Write 0 trials" }).isVisible()).toBe(true);
  });

  test.each([
    ["empty.csv", "", /something in it/],
    ["picture.csv", "\u0089PNG\u0000\u0001\u0002\u0003".repeat(50), /cannot be read/],
    ["words.csv", "a;b\nc;d\ne;f\n", /cannot be read/],
    ["rateless.txt", Array.from({ length: 3000 }, (_, i) => (700 + Math.sin(i)).toFixed(2)).join("\n"), /sampling rate/],
  ])("says in a sentence what is wrong with %s and leaves the sheet as it was", async (name, text, sentence) => {
    const before = await results();
    await startOver();
    await choose([file(name, text)]);
    const alert = view.getByRole("alert").first();
    await alert.waitFor();
    expect(await alert.textContent()).toMatch(sentence);
    expect(await results()).toEqual(before);
  });

  test("reads a file without a rate once the rate is typed", async () => {
    const { trace } = syntheticTrial({ test: "CMJ", seed: 14, mass: 70, height: 0.3, plates: "total", faults: { noise: 0.5 } });
    await startOver();
    await choose([file("total.txt", Array.from(trace.plates[0].force, (value) => value.toFixed(2)).join("\n"))]);
    await view.getByRole("alert").first().waitFor();
    const rate = view.getByRole("textbox", { name: "Sampling rate, Hz" });
    await rate.fill("1000");
    await rate.press("Enter");
    await view.getByText("1 trial found").waitFor();
    expect(await view.getByRole("alert").count()).toBe(0);
  });

  test("reads athletes, tests and dates of many files by one example", async () => {
    await startOver();
    await choose(["ann", "bea", "cara"].map((name, place) => file(`${name}_CMJ_2026-03-0${place + 1}.csv`, recording(0.3 + place / 100, 20 + place))));
    await view.getByText("Files (3)").waitFor();
    await view.getByText("Read athletes, tests and dates").click();
    await view.getByLabel("Athlete in it").fill("ann");
    await view.getByLabel("Test in it").fill("CMJ");
    await view.getByText("3 of 3 names follow it").waitFor();
    await view.getByRole("button", { name: "Use it for 3 files" }).click();
    await view.getByRole("button", { name: "Write 3 trials" }).click();
    await said("3 trials written").waitFor();
    const rows = await results();
    expect(rows.slice(-3).map((row) => row[0])).toEqual(["ann", "bea", "cara"]);
  });

  test("writes typed times as a trial that says it has no trace", async () => {
    await startOver();
    await view.getByText("Type times from a mat or a video instead").click();
    await view.locator("form").getByLabel(/^Athlete/).fill("Timed Person");
    await view.getByLabel("Flight time, s").fill("0,5");
    await view.getByRole("button", { name: "Write this trial" }).click();
    await said("1 trial written").waitFor();
    const rows = await results();
    const row = rows[rows.length - 1];
    expect(row[0]).toBe("Timed Person");
    // By hand: 9.80665 * 0.5^2 / 8 = 0.30646 m.
    expect(Number(row[await column("jumpHeightFlightTime cm")])).toBeCloseTo(30.646, 2);
    await tab("Trials");
    // Lines out of sight are not laid out, so their text is read from the document.
    const line = view.locator("[data-line]", { hasText: "times from a mat" });
    await line.waitFor({ state: "attached" });
    // What comes into view is laid out then and moves a little, which a click waits for once it is there.
    await line.scrollIntoViewIfNeeded();
    await line.click();
    await view.getByText("Times from a mat or a video, no force trace").waitFor();
  });
});

describe("explaining right after opening", () => {
  test.each([
    ["whose numbers are kept, and no analysis behind them", true],
    ["that another build computed, so that all is computed again", false],
  ])("a cell of a workbook %s is worked out, and shown", async (_, kept) => {
    const first = await tests.open();
    await first.page.evaluate(() => window.leapsheet!.save());
    await first.page.close();
    const again = await first.newTab({ ready: false });
    // Without its receipt the program cannot know its own numbers again.
    if (!kept) await again.route("**/build.json", (route) => route.fulfill({ status: 404 }));
    await again.addInitScript(() => {
      // Explain is chosen before the list of trials has analysed anything.
      const watch = new MutationObserver(() => {
        const explain = document.getElementById("tab-explain");
        if (explain === null) return;
        watch.disconnect();
        explain.click();
      });
      watch.observe(document, { childList: true, subtree: true });
    });
    await again.reload();
    await again.waitForSelector("body[data-ready=yes]", { timeout: 60_000 });
    if (kept) expect(await again.evaluate(() => window.leapsheet!.analysesMade())).toBe(0);
    const shown = await again.evaluate(async () => {
      const view = document.getElementById("leapsheet-view")!;
      const texts: string[] = [];
      const watch = new MutationObserver(() => texts.push(view.textContent ?? ""));
      watch.observe(view, { childList: true, subtree: true, characterData: true });
      await window.leapsheet!.host.select({ sheet: "Results", row: 1, column: 5 });
      const until = Date.now() + 20_000;
      while (!texts.some((text) => text.includes("Working, with the numbers of this cell")) && Date.now() < until) await new Promise((resolve) => setTimeout(resolve, 20));
      watch.disconnect();
      return texts;
    });
    expect(shown.at(-1)).toContain("Results!F2");
    expect(shown.at(-1)).toContain("Working, with the numbers of this cell");
    // Meanwhile it says at most that it is worked out, and nothing of the cell that could be read as an answer.
    for (const text of shown.slice(0, -1)) expect(text).not.toMatch(/not calculated|not reached|Results!F2 holds no/);
    await first.close();
  });
});

describe("explaining a cell", () => {
  onOnePage();

  test("follows the selection and shows the working, the plot, the sources and the cautions", async () => {
    await tab("Explain");
    await select(1, await column("jumpHeight cm"));
    await view.getByRole("heading", { name: "Working, with the numbers of this cell" }).waitFor();
    const shown = Number((await results())[1][await column("jumpHeight cm")]);
    // The pane prints the number of the very cell, in its unit.
    expect(await view.getByText(/^[\d.]+\s*cm/).first().textContent()).toContain(shown.toFixed(2).slice(0, 4));
    expect(await view.locator("math").count()).toBeGreaterThan(0);
    expect(await view.getByRole("img", { name: /^Plot/ }).locator("canvas").count()).toBe(1);
    for (const heading of ["Uncertainty", "What to watch for", "Sources", "Cautions"]) expect(await view.getByRole("heading", { name: heading }).isVisible()).toBe(true);
    await page.screenshot({ path: join(PICTURES, "explain.png") });
    const other = await column("takeoffVelocity");
    await select(2, other);
    await view.getByRole("heading", { name: fullCellName({ sheet: "Results", row: 2, column: other }) }).waitFor();
    await view.getByRole("heading", { name: "Take-off velocity", exact: true }).first().waitFor();
  });

  test("copies the explanation as a picture: black on white in a dark pane too, sharp, and saved where the clipboard refuses", async () => {
    await open.context.grantPermissions(["clipboard-read", "clipboard-write"]);
    await page.emulateMedia({ colorScheme: "dark" });
    await tab("Explain");
    await select(1, await column("jumpHeight cm"));
    await view.getByRole("heading", { name: "Working, with the numbers of this cell" }).waitFor();
    await view.getByRole("button", { name: "Copy as picture" }).click();
    await said("The picture is on the clipboard").waitFor();
    const picture = await page.evaluate(async () => {
      const [item] = await navigator.clipboard.read();
      const bitmap = await createImageBitmap(await item.getType("image/png"));
      const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
      const context = canvas.getContext("2d")!;
      context.drawImage(bitmap, 0, 0);
      const { data } = context.getImageData(0, 0, bitmap.width, bitmap.height);
      let white = 0;
      let dark = 0;
      for (let i = 0; i < data.length; i += 4) {
        const light = data[i] + data[i + 1] + data[i + 2];
        if (light === 765) white++;
        if (light < 200) dark++;
      }
      const blob = await canvas.convertToBlob();
      return { width: bitmap.width, height: bitmap.height, white: white / (data.length / 4), dark: dark / (data.length / 4), bytes: Array.from(new Uint8Array(await blob.arrayBuffer())) };
    });
    writeFileSync(join(PICTURES, "explanation copied.png"), Uint8Array.from(picture.bytes));
    // 720 px and margins of 24, twice as fine.
    expect(picture.width).toBe(1536);
    expect(picture.height).toBeGreaterThan(2000);
    // Text and lines cover a few hundredths of a page; a dark ground would turn this round.
    expect(picture.white).toBeGreaterThan(0.75);
    expect(picture.dark).toBeGreaterThan(0.01);
    expect(picture.dark).toBeLessThan(0.1);
    await page.evaluate(() => {
      navigator.clipboard.write = () => Promise.reject(new DOMException("refused", "NotAllowedError"));
    });
    const saving = page.waitForEvent("download");
    await view.getByRole("button", { name: "Copy as picture" }).click();
    const saved = await saving;
    expect(saved.suggestedFilename()).toMatch(/^Results.*jumpHeight cm\.png$/);
    expect(readFileSync(await saved.path()).subarray(1, 4).toString()).toBe("PNG");
    await page.emulateMedia({ colorScheme: null });
  });

  test("shows the sentence of a cell in error", async () => {
    await tab("Explain");
    await select(1, await column("contactTime"));
    await view.getByText("#N/A").waitFor();
    expect(await view.getByRole("note").first().textContent()).toMatch(/requires|drop jump|contact/i);
  });

  test("lets the person choose among nested calls", async () => {
    await page.evaluate(async () => {
      const { host } = window.leapsheet!;
      await host.apply([{ kind: "cells", sheet: "Athletes", row: 20, column: 7, cells: [[{ formula: '=IF(1>0,LEAP.RSI(LEAP.HEIGHT_FLIGHT(0.5),0.2),LEAP.RSI(1,2))' }]] }], { label: "test" });
      await host.settled();
    });
    await tab("Explain");
    await select(20, 7, "Athletes");
    await view.getByRole("heading", { name: "Reactive strength index" }).waitFor();
    const calls = view.getByLabel("Calls in this formula");
    expect(await calls.locator("option").allTextContents()).toEqual(["1. LEAP.RSI", "2. LEAP.HEIGHT_FLIGHT", "3. LEAP.RSI"]);
    await calls.selectOption("1");
    await view.getByRole("heading", { name: "Jump height (flight time)" }).waitFor();
  });

  test("says what it needs where the cell holds no such formula", async () => {
    await tab("Explain");
    await select(0, 0, "Athletes");
    await view.getByText("Athletes!A1 holds no LEAP formula").waitFor();
  });
});

describe("looking trials over", () => {
  onOnePage();

  test("moves, leaves out with a reason and follows the verdict again, by keyboard alone", async () => {
    const lines = view.locator("[data-line]");
    // The list is drawn a few lines at a time.
    await expect.poll(() => lines.count(), { timeout: 12_000 }).toBeGreaterThanOrEqual(12);
    await lines.first().focus();
    await page.keyboard.press("ArrowDown");
    expect(await lines.nth(1).evaluate((element) => element === document.activeElement)).toBe(true);
    await page.keyboard.press("x");
    await page.getByRole("dialog").waitFor();
    await page.keyboard.press("Enter");
    await page.getByText("needs a reason").waitFor();
    await page.keyboard.type("Slipped");
    await page.keyboard.press("Enter");
    await said(/^Left out/).waitFor();
    await view.getByText("Slipped").waitFor();
    const uses = async (): Promise<number> => (await results()).filter((row) => row[3] === "leave out").length;
    const left = await uses();
    expect(await lines.nth(1).evaluate((element) => element === document.activeElement)).toBe(true);
    await page.keyboard.press("f");
    await said(/^Follows the verdict/).waitFor();
    expect(await uses()).toBe(left - 1);
  });

  test("moves an event, shows that a person moved it, and puts it back", async () => {
    await view.locator("[data-line]").first().click();
    const onset = view.getByLabel("Time of Start of movement, s");
    const found = Number(await onset.inputValue());
    await onset.fill((found - 0.05).toFixed(3));
    await onset.press("Enter");
    await view.getByText("moved by hand").first().waitFor();
    expect(Number(await onset.inputValue())).toBeCloseTo(found - 0.05, 3);
    await view.getByRole("button", { name: /^Put Start of movement back/ }).click();
    await view.getByText("moved by hand").first().waitFor({ state: "detached" });
    expect(Number(await onset.inputValue())).toBeCloseTo(found, 3);
    await page.keyboard.press("Escape");
    await view.locator("[data-line]").first().waitFor();
  });

  test("takes an event that is dragged in the plot for the person's, and undoes it", async () => {
    await view.locator("[data-line]").first().click();
    const over = view.locator(".u-over").first();
    await over.waitFor();
    const box = (await over.boundingBox())!;
    const y = box.y + box.height / 2;
    // The pointer changes its shape over an event: the last one on the way from the left is the landing or what follows it.
    let grip = 0;
    for (let x = 0; x < box.width; x += 2) {
      await page.mouse.move(box.x + x, y);
      if ((await over.evaluate((element) => element.style.cursor)) === "ew-resize") grip = x;
    }
    expect(grip).toBeGreaterThan(0);
    await page.mouse.move(box.x + grip, y);
    await page.mouse.down();
    await page.mouse.move(box.x + grip - 12, y, { steps: 3 });
    await page.mouse.up();
    await said(/^Moved: /).waitFor();
    await view.getByText("moved by hand").first().waitFor();
    await page.locator("#pane").getByRole("button", { name: "Undo" }).click();
    await view.getByText("moved by hand").first().waitFor({ state: "detached" });
    await view.getByRole("button", { name: "All trials" }).click();
    await view.locator("[data-line]").first().waitFor();
  });

  test("goes from trial to trial, keeps and leaves out, on the large page by keyboard alone", async () => {
    const lines = view.locator("[data-line]");
    await lines.first().focus();
    await page.keyboard.press("Enter");
    // Its first trial has no one before it.
    const before = view.getByRole("button", { name: "Previous trial" });
    const isFirst = (): Promise<boolean> => before.evaluate((element) => element.getAttribute("aria-disabled") === "true");
    await expect.poll(isFirst).toBe(true);
    await page.keyboard.press("ArrowRight");
    await expect.poll(isFirst).toBe(false);
    await page.keyboard.press("k");
    await said(/^Kept: /).waitFor();
    await page.keyboard.press("ArrowLeft");
    await expect.poll(isFirst).toBe(true);
    await page.keyboard.press("x");
    await page.getByRole("dialog").waitFor();
    await page.keyboard.type("Slipped");
    await page.keyboard.press("Enter");
    await said(/^Left out: /).waitFor();
    await page.keyboard.press("Escape");
    await expect.poll(() => lines.first().evaluate((element) => element === document.activeElement)).toBe(true);
  });

  test("takes step after step back, the last first, and refuses where somebody changed the cells since", async () => {
    const pane = page.locator("#pane");
    const keeps = (): Promise<readonly string[]> => page.evaluate(async () => (await window.leapsheet!.workbook.trials()).map((row) => `${row.athlete} ${row.keep}`));
    const before = await keeps();
    expect(before.filter((keep) => / (keep|leave out)$/.test(keep))).toHaveLength(2);
    await pane.getByRole("button", { name: "Undo", exact: true }).click();
    await said(/^Undone: /).waitFor();
    expect((await keeps()).filter((keep) => / (keep|leave out)$/.test(keep))).toHaveLength(1);
    await pane.getByRole("button", { name: "Undo the one before" }).click();
    await expect.poll(async () => (await keeps()).filter((keep) => / (keep|leave out)$/.test(keep)).length).toBe(0);
    // A step whose cells a person changed since is refused, and nothing of it is taken back.
    await view.locator("[data-line]").first().focus();
    await page.keyboard.press("k");
    await said(/^Kept: /).waitFor();
    await page.evaluate(async () => {
      const { host, workbook } = window.leapsheet!;
      const row = (await workbook.trials()).find((trial) => trial.keep === "keep")!;
      const table = (await host.tables()).find(({ name }) => name === "Trials")!;
      await host.apply([{ kind: "cells", sheet: "Trials", row: row.row, column: table.range.column + table.columns.indexOf("keep"), cells: [["leave out"]] }], { label: "by hand" });
    });
    await pane.getByRole("button", { name: "Undo", exact: true }).click();
    await said(/changed/).waitFor();
    expect((await keeps()).filter((keep) => keep.endsWith(" leave out"))).toHaveLength(1);
    await page.evaluate(async () => {
      const { workbook } = window.leapsheet!;
      const row = (await workbook.trials()).find((trial) => trial.keep === "leave out")!;
      await workbook.setKeep(row.key, "", "");
    });
  });

  test("records the day as values and says so on the trial", async () => {
    await view.getByText("After the session").click();
    const button = view.getByRole("button", { name: /^Record \d+ trials$/ });
    const [count] = (await button.textContent())!.match(/\d+/)!;
    await button.click();
    await said(`${count} trials of Mar 14, 2026 recorded`).waitFor();
    await view.locator("[data-line]").first().click();
    await view.getByText("the values are the same now").waitFor();
    await page.screenshot({ path: join(PICTURES, "recorded.png") });
  });
});

describe("settings", () => {
  onOnePage();

  test("a choice is written to the sheet, the numbers follow, and undo brings them back", async () => {
    const at = await column("jumpHeight cm");
    const before = (await results())[1][at];
    await tab("Settings");
    await view.getByLabel("Jump height from").selectOption("flight time");
    await said("Setting changed: Jump height from").waitFor();
    const after = await results();
    expect(after[1][at]).toBeCloseTo(Number(after[1][after[0].indexOf("jumpHeightFlightTime cm")]), 6);
    await page.getByRole("button", { name: "Undo" }).click();
    await said(/^Undone/).waitFor();
    expect((await results())[1][at]).toBe(before);
  });

  test("refuses a number out of range in a sentence and writes nothing", async () => {
    await tab("Settings");
    const gravity = view.getByLabel(/^Acceleration of free fall/);
    await gravity.fill("98");
    await gravity.press("Enter");
    await view.getByText("requires a number from 9.76 to 9.84").waitFor();
    const rows = await page.evaluate(() => window.leapsheet!.workbook.settingRows());
    expect(rows.find((row) => row.id === "gravity")!.value).toBe(9.80665);
  });

  test("writes the chosen units into the head of Results", async () => {
    await tab("Settings");
    await view.getByLabel("Heights and lengths").selectOption("m");
    await view.getByRole("button", { name: "Write the head of Results" }).click();
    await said("carries the chosen units").waitFor();
    const rows = await results();
    expect(rows[0]).toContain("jumpHeight");
    expect(Number(rows[1][rows[0].indexOf("jumpHeight")])).toBeLessThan(1);
  });
});

describe("teaching", () => {
  onOnePage();

  test("saves coursework with its key, and marks a workbook that comes back blank", async () => {
    await tab("Teach");
    await view.getByLabel("Students").fill("Ann\nBen");
    const downloads: Download[] = [];
    page.on("download", (download) => downloads.push(download));
    await view.getByRole("button", { name: "Save coursework and key" }).click();
    await said("Coursework for 2 students saved, with the key").waitFor();
    await expect.poll(() => downloads.map((download) => download.suggestedFilename()).sort()).toEqual(["coursework CMJ key.xlsx", "coursework CMJ.zip"]);
    const bytesOf = async (name: string): Promise<Uint8Array> => readFileSync(await downloads.find((download) => download.suggestedFilename() === name)!.path());
    const files = unzipSync(await bytesOf("coursework CMJ.zip"));
    expect(Object.keys(files)).toEqual(["001 Ann.xlsx", "002 Ben.xlsx"]);
    const xlsx = (name: string, bytes: Uint8Array) => ({ name, mimeType: "application/octet-stream", buffer: Buffer.from(bytes) });
    await page.locator("[data-test=key]").setInputFiles(xlsx("key.xlsx", await bytesOf("coursework CMJ key.xlsx")));
    await page.locator("[data-test=returned]").setInputFiles([xlsx("back.xlsx", files["002 Ben.xlsx"]), xlsx("other.xlsx", new Uint8Array([1, 2, 3]))]);
    await view.getByRole("rowheader", { name: "Ben" }).waitFor();
    expect(await view.getByRole("alert").textContent()).toContain("other.xlsx");
    await page.screenshot({ path: join(PICTURES, "teach.png") });
    expect(await violations()).toEqual([]);
  });
});

describe("about", () => {
  onOnePage();

  test("recomputes the published values on this machine, and all agree", async () => {
    await tab("About");
    await view.getByRole("button", { name: "Run the check" }).click();
    const verdict = view.getByText(/^\d+ of \d+ values agree$/);
    await verdict.waitFor();
    const [passed, all] = (await verdict.textContent())!.match(/\d+/g)!.map(Number);
    expect(all).toBeGreaterThan(10);
    expect(passed).toBe(all);
  });
});

describe("access", () => {
  onOnePage();

  test.each([320, 420])("no view breaks a rule of accessibility or scrolls sideways in a pane of %d px", async (width) => {
    await page.evaluate((px) => document.documentElement.style.setProperty("--pane-width", `${px}px`), width);
    const look = async (name: string): Promise<void> => {
      await page.waitForTimeout(300);
      await page.screenshot({ path: join(PICTURES, `${name}-${width}.png`) });
      expect({ name, broken: await violations(), sideways: await sideways() }).toEqual({ name, broken: [], sideways: 0 });
    };
    await tab("Trials");
    if (await view.getByRole("button", { name: "All trials" }).isVisible()) await page.keyboard.press("Escape");
    await look("trials");
    await view.locator("[data-line]").first().click();
    await look("trial");
    await tab("Explain");
    await select(1, await column("rsiModified"));
    await view.getByRole("heading", { name: "Sources" }).waitFor();
    await look("explain");
    await tab("Settings");
    await look("settings");
    await tab("Teach");
    await look("teach");
    await tab("About");
    await look("about");
    await startOver();
    await look("bring-in-empty");
    await choose([file("a_very_long_file_name_that_does_not_fit_in_a_narrow_pane_2026-03-14.csv", recording(0.3, 30)), file("broken.csv", "")]);
    await view.getByText("Files (2)").waitFor();
    await look("bring-in-files");
  });

  test("the tabs are reached and moved by keyboard", async () => {
    const tabs = page.locator("#pane").getByRole("tab");
    const names = await tabs.allTextContents();
    const chosen = (): Promise<string | null> => page.locator("#pane [role=tab][aria-selected=true]").textContent();
    await tabs.nth(1).focus();
    await page.keyboard.press("ArrowRight");
    await expect.poll(chosen).toBe(names[2]);
    await page.keyboard.press("Home");
    await expect.poll(chosen).toBe(names[0]);
    await page.keyboard.press("ArrowLeft");
    await expect.poll(chosen).toBe(names.at(-1));
  });
});
