import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { syntheticTrial } from "../../src/synthetic/syntheticTrial.ts";
import { words } from "../../taskpane/pane/words.ts";
import { startBrowserTests, usable, watch, type BrowserTests, type Faults } from "./support/page.ts";

const FILES = 24;

let tests: BrowserTests;
beforeAll(async () => {
  tests = await startBrowserTests();
});
afterAll(() => tests?.close());

interface ChosenFile {
  readonly name: string;
  readonly mimeType: string;
  readonly buffer: Buffer;
}

/** Files of one jump each, on two plates. */
function recordings(count: number): ChosenFile[] {
  const { trace } = syntheticTrial({ test: "CMJ", seed: 5, mass: 70, height: 0.3, faults: { noise: 0.5 } });
  const [left, right] = ["left", "right"].map((role) => trace.plates.find((plate) => plate.role === role)!.force);
  const lines = Array.from(left, (force, i) => `${(i / trace.rate).toFixed(3)},${force.toFixed(2)},${right[i].toFixed(2)}`);
  // One more line of the same kind makes another content, and so another trial.
  return Array.from({ length: count }, (_, place) => ({
    name: `jump ${place + 1}.csv`,
    mimeType: "text/csv",
    buffer: Buffer.from(["time,left,right", ...lines, `${(left.length / trace.rate).toFixed(3)},${(300 + place).toFixed(2)},${(300 + place).toFixed(2)}`].join("\n")),
  }));
}

/** The page with a script that runs before its own. */
async function openWith(script: (page: Page) => Promise<unknown>): Promise<{ page: Page; faults: Faults; close: () => Promise<void> }> {
  const opened = await tests.open({ ready: false, path: "functions.json" });
  const page = await opened.context.newPage();
  page.setDefaultTimeout(20_000);
  const faults: Faults = { console: [], foreign: [] };
  watch(page, tests.url, faults);
  await script(page);
  await page.goto(tests.url);
  return { page, faults, close: opened.close };
}

const bringIn = async (page: Page, files: ChosenFile[]): Promise<void> => {
  await page.locator("#tab-bringIn").click();
  await page.locator("[data-test=files]").setInputFiles(files);
};

describe("bringing many files in", () => {
  test("reads them in at most two threads, says what is wrong with one, and writes the others", async () => {
    const { page, faults, close } = await openWith(() => Promise.resolve());
    await usable(page);
    let most = 0;
    page.on("worker", () => {
      most = Math.max(most, page.workers().length);
    });
    await bringIn(page, [...recordings(FILES), { name: "words.csv", mimeType: "text/csv", buffer: Buffer.from("a;b\nc;d\ne;f\n") }]);
    await page.getByText(`Files (${FILES + 1})`).waitFor();
    expect(most).toBeGreaterThan(0);
    expect(most).toBeLessThanOrEqual(2);
    expect(await page.locator("#leapsheet-view").getByRole("alert").first().textContent()).toMatch(/words\.csv cannot be read/);
    await page.locator("#leapsheet-view").getByLabel(/^Athlete/).last().fill("Squad");
    await page.getByRole("button", { name: `Write ${FILES} trials` }).click();
    await page.getByText(`${FILES} trials written`).waitFor();
    const heights = await page.evaluate(async () => {
      const { host } = window.leapsheet!;
      await host.settled();
      const [{ values }] = await host.read([(await host.usedRange("Results"))!]);
      const at = values[0].indexOf("jumpHeight cm");
      return values.filter((row) => row[0] === "Squad").map((row) => row[at]);
    });
    expect(heights).toHaveLength(FILES);
    // The jump was made 30 cm high (exact truth of the generator); noise and threshold move it by millimetres.
    for (const height of heights) expect(Math.abs(Number(height) - 30)).toBeLessThan(0.4);
    // The threads end when there is no more to read.
    await expect.poll(() => page.workers().length, { timeout: 15_000 }).toBe(0);
    await close();
    expect(faults).toEqual({ console: [], foreign: [] });
  });

  test("cancels in the middle: the threads end, the sheet stays as it was", async () => {
    // Threads that hear of each file a little later, so that there is a middle however busy the machine is.
    const { page, faults, close } = await openWith((opened) =>
      opened.addInitScript(() => {
        window.Worker = class extends Worker {
          override postMessage(...given: unknown[]): void {
            setTimeout(() => (super.postMessage as (...all: unknown[]) => void)(...given), 500);
          }
        };
      }),
    );
    await usable(page);
    const rows = (): Promise<number> => page.evaluate(async () => (await window.leapsheet!.workbook.trials()).length);
    const before = await rows();
    await bringIn(page, recordings(60));
    await page.getByRole("button", { name: "Cancel" }).click();
    await expect.poll(() => page.workers().length).toBe(0);
    await expect.poll(() => page.getByRole("progressbar").count()).toBe(0);
    // Those that were read are on the list, the others are not.
    const listed = await page.locator("#leapsheet-view ul li").filter({ hasText: "jump" }).count();
    expect(listed).toBeLessThan(60);
    expect(await rows()).toBe(before);
    await close();
    expect(faults).toEqual({ console: [], foreign: [] });
  });

  test("reads on the page itself where threads are refused", async () => {
    const { page, faults, close } = await openWith((opened) =>
      opened.addInitScript(() => {
        window.Worker = class {
          constructor() {
            throw new Error("threads are refused");
          }
        } as unknown as typeof Worker;
      }),
    );
    await usable(page);
    await bringIn(page, recordings(3));
    await page.getByText("Files (3)").waitFor();
    await page.getByRole("button", { name: "Write 3 trials" }).waitFor();
    expect(page.workers()).toHaveLength(0);
    await close();
    expect(faults).toEqual({ console: [], foreign: [] });
  });
});

describe("the first list of trials", () => {
  test("is grouped by protocols that are computed already", async () => {
    const { page, faults, close } = await openWith((opened) =>
      opened.addInitScript(() => {
        const seen = ((window as unknown as { headings: string[] }).headings = []) as string[];
        new MutationObserver(() => {
          for (const heading of document.querySelectorAll("#leapsheet-view section h3")) if (!seen.includes(heading.textContent!)) seen.push(heading.textContent!);
        }).observe(document, { subtree: true, childList: true, characterData: true });
      }),
    );
    await usable(page);
    await page.locator("#leapsheet-view section h3").first().waitFor();
    await page.waitForTimeout(500);
    const headings = await page.evaluate(() => (window as unknown as { headings: string[] }).headings);
    expect(headings.length).toBeGreaterThan(1);
    expect(headings.filter((heading) => heading.startsWith(words.protocol.none))).toEqual([]);
    await close();
    expect(faults).toEqual({ console: [], foreign: [] });
  });

  test("keeps the focus on its trial when the trial moves to another group", async () => {
    const { page, faults, close } = await openWith(() => Promise.resolve());
    await usable(page);
    const line = page.locator("#leapsheet-view [data-line]").first();
    await line.waitFor();
    const id = (await line.getAttribute("data-line"))!;
    await line.focus();
    const group = (): Promise<string | null | undefined> => page.evaluate((wanted) => document.querySelector(`[data-line="${CSS.escape(wanted)}"]`)?.closest("section")?.getAttribute("aria-label"), id);
    await page.evaluate(async (wanted) => {
      const { host, workbook } = window.leapsheet!;
      const cell = (await workbook.trialCell(wanted.slice(0, wanted.lastIndexOf(" "))))!;
      await host.apply([{ kind: "cells", ...cell, cells: [["Another Name"]] }], { label: "Another name" });
    }, id);
    await expect.poll(group).toBe("Another Name");
    expect(await page.evaluate(() => document.activeElement?.getAttribute("data-line"))).toBe(id);
    await close();
    expect(faults).toEqual({ console: [], foreign: [] });
  });
});
