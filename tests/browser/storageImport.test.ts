import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { serve } from "../../scripts/serve.js";
import { demoTrials } from "../../taskpane/workbook/demoSession.ts";
import { DIST, launchProfile, temporaryProfile, usable } from "./support/page.ts";
import { storedRecord } from "./support/stored.ts";

/** How often the browser is killed; a longer run is recorded by hand with LEAPSHEET_KILLS=50. */
const KILLS = Number(process.env.LEAPSHEET_KILLS ?? 3);
/** Trials of the demo session. */
const DEMO = demoTrials().length;
/** Trials of one import: enough for it to be under way when the browser is killed. */
const IMPORT = 60;

describe("a browser that is killed in the middle of an import", () => {
  let server: { url: string; close: () => Promise<void> };
  const profile = temporaryProfile();
  beforeAll(async () => {
    server = await serve({ folder: DIST });
  });
  afterAll(async () => {
    await server?.close();
    profile.remove();
  });

  test(`has all of an import or nothing of it when it is opened again, killed ${KILLS} times at random moments`, async () => {
    const counts: number[] = [];
    for (let round = 0; round <= KILLS; round++) {
      const { context, page } = await launchProfile(profile.folder);
      await page.goto(server.url);
      await usable(page);
      const found = await page.evaluate(async () => {
        const { host, workbook } = window.leapsheet!;
        await host.settled();
        const trials = await workbook.trials();
        const head = (await host.definedName("LeapResults"))!;
        const used = (await host.usedRange(head.sheet))!;
        const [content] = await host.read([{ ...head, row: head.row + 1, rows: used.row + used.rows - head.row - 1, columns: 1 }]);
        const cells = await Promise.all(trials.map(({ key }) => workbook.resultCell(key)));
        return {
          imported: trials.filter(({ key }) => key.startsWith("import")).map(({ key }) => key),
          whole: trials.every(({ packed }) => packed[0].startsWith("LEAPF1 ") && packed[0].length > 500),
          rows: content.formulas.filter(([formula]) => formula.includes("LEAP.METRIC")).length,
          trials: trials.length,
          cells: new Set(cells.map((cell) => cell?.row)).size,
        };
      });
      // Every trial with its trace and its own row of results, those of the demo among them; each import whole.
      expect(found.whole).toBe(true);
      expect([found.rows, found.cells]).toEqual([found.trials, found.trials]);
      expect(found.imported.length % IMPORT).toBe(0);
      expect(found.trials).toBe(DEMO + found.imported.length);
      expect(found.imported.length, "an import that was once found stays").toBeGreaterThanOrEqual(counts.at(-1) ?? 0);
      counts.push(found.imported.length);
      if (round === KILLS) {
        await context.close();
        break;
      }
      const { readlinkSync } = await import("node:fs");
      const processId = Number(/-(\d+)$/.exec(readlinkSync(`${profile.folder}/SingletonLock`))![1]);
      const importing = page
        .evaluate(
          async ({ round, count }) => {
            const force = (seed: number): Float64Array => Float64Array.from({ length: 3000 }, (_, i) => 700 + ((i * 7919 + seed * 104729) % 31) / 10);
            const drafts = Array.from({ length: count }, (_, index) => ({
              athlete: `Invented ${index % 9}`,
              date: "2026-03-15",
              protocol: { test: "CMJ" as const },
              file: `import${round}-${index}.csv`,
              startInFile: 0,
              hash: `import${round}-${index}`,
              trace: { rate: 1000, plates: [{ role: "total" as const, force: force(round * 100 + index) }], start: 0, step: 0.1, rounding: 0 },
            }));
            await window.leapsheet!.workbook.addTrials(drafts);
          },
          { round, count: IMPORT },
        )
        .catch(() => {});
      await new Promise((resolve) => setTimeout(resolve, 100 + Math.random() * 2500));
      process.kill(processId, "SIGKILL");
      await importing;
      await context.close().catch(() => {});
    }
    expect(counts).toHaveLength(KILLS + 1);
  }, 60_000 + KILLS * 40_000);
});

describe("a cell typed while a long batch is written", () => {
  let server: { url: string; close: () => Promise<void> };
  const profile = temporaryProfile();
  beforeAll(async () => {
    server = await serve({ folder: DIST });
  });
  afterAll(async () => {
    await server?.close();
    profile.remove();
  });

  /**
   * Begins a batch of three sheets that takes nine seconds at least, each of its looks at whether it was cancelled holding it up,
   * until it is let go. It says when it has ended.
   */
  const beginLongBatch = (page: Page) =>
    page.evaluate(() => {
      const slow = {
        get aborted() {
          for (const until = performance.now() + ("letGo" in window ? 0 : 40); performance.now() < until; );
          return false;
        },
      } as AbortSignal;
      const rows = Array.from({ length: 1500 }, (_, row) => Array.from({ length: 20 }, (__, column) => `batch ${row} ${column}`));
      const edits = ["One", "Two", "Three"].flatMap((sheet) => [{ kind: "addSheet", sheet } as const, { kind: "cells", sheet, row: 0, column: 0, cells: rows } as const]);
      const note = { kind: "cells", sheet: "Athletes", row: 20, column: 8, cells: [["by the batch"]] } as const;
      void window.leapsheet!.host.apply([note, ...edits], { label: "Long", signal: slow }).then(() => "written", (error: Error) => error.message).then((ended) => Object.assign(window, { ended }));
    });
  const ended = (page: Page) => page.evaluate(() => (window as { ended?: string }).ended);
  const column = (page: Page) => page.evaluate(async () => (await window.leapsheet!.host.read([{ sheet: "Athletes", row: 0, column: 8, rows: 21, columns: 1 }]))[0].values.map(([value]) => value));

  test("is there when the browser is killed a second later, and nothing of the batch is; the batch that is not killed has both", async () => {
    const { readlinkSync } = await import("node:fs");
    for (const kill of [true, false]) {
      const { context, page } = await launchProfile(profile.folder);
      try {
        await page.goto(server.url);
        await usable(page);
        await page.evaluate(async () => {
          await window.leapsheet!.save();
          await window.leapsheet!.host.select({ sheet: "Athletes", row: 10, column: 8 });
        });
        const box = (await page.locator("canvas[id^=univer-sheet-main-canvas]").boundingBox())!;
        await page.mouse.move(box.x + 5, box.y + 5);
        await beginLongBatch(page);
        await page.waitForFunction(async () => (await window.leapsheet!.host.sheets()).includes("One"));
        await page.evaluate(() => window.leapsheet!.host.select({ sheet: "Athletes", row: 10, column: 8 }));
        await page.keyboard.type(kill ? "typed meanwhile" : "typed again", { delay: 5 });
        await page.keyboard.press("Enter");
        await expect.poll(async () => (await column(page))[10], { timeout: 10_000, interval: 20 }).toBe(kill ? "typed meanwhile" : "typed again");
        await page.waitForTimeout(1000);
        expect(await ended(page), "the batch is still being written").toBeUndefined();
        expect(JSON.stringify((await storedRecord(page)).saved)).not.toContain('"One"');
        if (kill) {
          process.kill(Number(/-(\d+)$/.exec(readlinkSync(`${profile.folder}/SingletonLock`))![1]), "SIGKILL");
          await context.close().catch(() => {});
          const reopened = await launchProfile(profile.folder);
          await reopened.page.goto(server.url);
          await usable(reopened.page);
          const found = await column(reopened.page);
          expect([found[10], found[20]]).toEqual(["typed meanwhile", ""]);
          expect(await reopened.page.evaluate(() => window.leapsheet!.host.sheets())).not.toContain("One");
          expect(await reopened.page.evaluate(async () => (await window.leapsheet!.workbook.trials()).length)).toBe(DEMO);
          // Once opened it stands in its cell as any other, and is stored there.
          await reopened.page.evaluate(() => window.leapsheet!.save());
          await expect.poll(async () => (await storedRecord(reopened.page)).byHand, { timeout: 10_000 }).toBeUndefined();
          await reopened.context.close();
        } else {
          await page.evaluate(() => Object.assign(window, { letGo: true }));
          await expect.poll(() => ended(page), { timeout: 120_000 }).toBe("written");
          await page.evaluate(() => window.leapsheet!.save());
          await page.reload();
          await usable(page);
          const found = await column(page);
          expect([found[10], found[20]]).toEqual(["typed again", "by the batch"]);
          expect((await storedRecord(page)).byHand).toBeUndefined();
          await context.close();
        }
      } finally {
        await context.close().catch(() => {});
      }
    }
  }, 300_000);

  test("is taken, while undo and what moves rows wait, with a sentence", async () => {
    const { context, page } = await launchProfile(profile.folder);
    try {
      await page.goto(server.url);
      await usable(page);
      await page.evaluate(() => window.leapsheet!.host.apply([{ kind: "cells", sheet: "Athletes", row: 0, column: 8, cells: [["before"]] }], { label: "Note" }));
      await page.locator("canvas[id^=univer-sheet-main-canvas]").click({ position: { x: 200, y: 200 } });
      await page.evaluate(() => {
        const slow = {
          get aborted() {
            for (const until = performance.now() + 20; performance.now() < until; );
            return false;
          },
        } as AbortSignal;
        const cells = Array.from({ length: 4000 }, (_, row) => Array.from({ length: 20 }, () => `waits ${row}`));
        void window.leapsheet!.host.apply([{ kind: "cells", sheet: "Athletes", row: 100, column: 8, cells }], { label: "Long", signal: slow }).then(() => Object.assign(window, { ended: true }));
      });
      await page.waitForFunction(async () => (await window.leapsheet!.host.read([{ sheet: "Athletes", row: 100, column: 8, rows: 1, columns: 1 }]))[0].values[0][0] === "waits 0");
      await page.keyboard.press("Control+z");
      await page.locator("#wait").getByText("The sheet is being written").waitFor();
      await page.waitForFunction(() => "ended" in window, undefined, { timeout: 60_000 });
      expect((await column(page))[0]).toBe("before");
      await page.evaluate(() => window.leapsheet!.host.settled());
      await page.locator("canvas[id^=univer-sheet-main-canvas]").click({ position: { x: 200, y: 200 } });
      await page.keyboard.press("Control+z");
      await expect.poll(() => page.evaluate(async () => (await window.leapsheet!.host.read([{ sheet: "Athletes", row: 100, column: 8, rows: 1, columns: 1 }]))[0].values[0][0]), { timeout: 20_000 }).toBe("");
      expect((await column(page))[0]).toBe("before");
    } finally {
      await context.close().catch(() => {});
    }
  }, 180_000);
});
