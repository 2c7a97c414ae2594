import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { serve } from "../../scripts/serve.js";
import { demoTrials } from "../../taskpane/workbook/demoSession.ts";
import { DIST, launchProfile, startBrowserTests, temporaryProfile, usable, type BrowserTests, type OpenPage } from "./support/page.ts";

/** Trials of the demo session. */
const DEMO = demoTrials().length;

const write = (page: Page, row: number, value: string | number) =>
  page.evaluate(async ({ row, value }) => void (await window.leapsheet!.host.apply([{ kind: "cells", sheet: "Athletes", row, column: 8, cells: [[value]] }], { label: "Note" })), { row, value });

const notes = (page: Page, rows = 4) =>
  page.evaluate(async (count) => (await window.leapsheet!.host.read([{ sheet: "Athletes", row: 0, column: 8, rows: count, columns: 1 }]))[0].values.map(([value]) => value), rows);

/** Everything a workbook shows: values, formulas, tables, names. */
const whole = (page: Page) =>
  page.evaluate(async () => {
    const { host } = window.leapsheet!;
    await host.settled();
    const sheets = await host.sheets();
    const used = await Promise.all(sheets.map((sheet) => host.usedRange(sheet)));
    const contents = await host.read(used.filter((range) => range !== undefined));
    return { sheets, contents, tables: await host.tables(), settings: await host.definedName("LeapSettings") };
  });

const saved = (page: Page) => page.evaluate(() => window.leapsheet!.save());

/** Waits until everything is computed and stored, and no save is to come: one would write over what a test puts into the store. */
async function atRest(page: Page): Promise<void> {
  await page.evaluate(() => window.leapsheet!.host.settled());
  const said = () => page.locator("#save-state").textContent();
  for (let before: string | null = null, alike = 0; alike < 5; ) {
    await saved(page);
    const now = await said();
    alike = now === before ? alike + 1 : 0;
    before = now;
    await page.waitForTimeout(250);
  }
}

describe("the workbook in the browser's storage", () => {
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

  test("is the same after a reload: values, formulas, spills, tables, names", async () => {
    const before = await whole(open.page);
    await saved(open.page);
    await open.page.reload();
    await usable(open.page);
    expect(await whole(open.page)).toEqual(before);
    expect(open.faults.console).toEqual([]);
  });

  test("is saved within a second of a change, without being asked", async () => {
    await write(open.page, 0, "kept");
    await open.page.waitForTimeout(1000);
    const stored = await open.page.evaluate(
      () =>
        new Promise<string>((resolve, reject) => {
          const request = indexedDB.open("leapsheet");
          request.onerror = () => reject(request.error);
          request.onsuccess = () => {
            const get = request.result.transaction("workbooks").objectStore("workbooks").getAll();
            get.onsuccess = () => {
              request.result.close();
              resolve(JSON.stringify(get.result));
            };
          };
        }),
    );
    expect(stored).toContain("kept");
    // Traces stand apart, once each: the workbook itself holds their hashes only.
    expect(stored).not.toContain("LEAPF1");
    expect(JSON.parse(stored).find(({ id }: { id: string }) => id === "current").saved.version).toBe(2);
  });

  test("is saved before a long import is written that begins right after the change", async () => {
    await open.page.waitForTimeout(1000);
    const seen = await open.page.evaluate(async () => {
      const { host, workbook } = window.leapsheet!;
      const stored = () =>
        new Promise<string>((resolve, reject) => {
          const request = indexedDB.open("leapsheet");
          request.onerror = () => reject(request.error);
          request.onsuccess = () => {
            const get = request.result.transaction("workbooks").objectStore("workbooks").getAll();
            get.onsuccess = () => {
              request.result.close();
              resolve(JSON.stringify(get.result));
            };
          };
        });
      const drafts = Array.from({ length: 40 }, (_, index) => ({
        athlete: `Invented ${index % 9}`,
        date: "2026-03-15",
        protocol: { test: "CMJ" as const },
        file: `import${index}.csv`,
        startInFile: 0,
        hash: `import${index}`,
        trace: { rate: 1000, plates: [{ role: "total" as const, force: Float64Array.from({ length: 3000 }, (_, i) => 700 + ((i * 7919 + index * 104729) % 31) / 10) }], start: 0, step: 0.1, rounding: 0 },
      }));
      await host.apply([{ kind: "cells", sheet: "Athletes", row: 0, column: 8, cells: [["kept before"]] }], { label: "Note" });
      let written = false;
      const importing = workbook.addTrials(drafts).then(() => (written = true));
      // What the storage holds while nothing of the import is stored yet: the change alone.
      let [alone, half] = [false, false];
      for (;;) {
        const text = await stored();
        const trials = new Set(text.match(/import\d+\.csv/g));
        if (text.includes("kept before") && trials.size === 0) alone = true;
        if (trials.size > 0 && trials.size < 40) half = true;
        if (trials.size === 40) break;
        await new Promise((resolve) => setTimeout(resolve, 15));
      }
      await importing;
      return { alone, half, written };
    });
    expect(seen).toEqual({ alone: true, half: false, written: true });
  });

  /** Changes the record of the workbook itself, behind the page's back. */
  const changeHead = (change: Record<string, unknown>) =>
    open.page.evaluate(
      (set) =>
        new Promise<void>((resolve) => {
          const request = indexedDB.open("leapsheet");
          request.onsuccess = () => {
            const store = request.result.transaction("workbooks", "readwrite").objectStore("workbooks");
            const get = store.get("current");
            get.onsuccess = () => {
              store.put({ ...get.result, ...set });
              store.transaction.oncomplete = () => {
                request.result.close();
                resolve();
              };
            };
          };
        }),
      change,
    );
  const resultOf = (row: number) =>
    open.page.evaluate(async (at) => {
      const { host } = window.leapsheet!;
      await host.settled();
      return (await host.read([{ sheet: "Results", row: at, column: 0, rows: 1, columns: 19 }]))[0].values[0];
    }, row);
  const analysesMade = () => open.page.evaluate(() => window.leapsheet!.analysesMade());
  const reopened = async () => {
    await saved(open.page);
    await open.page.waitForTimeout(300);
    await saved(open.page);
    await open.page.reload();
    await usable(open.page);
  };

  test("computes nothing again on opening, and all that depends on what is changed then", async () => {
    const before = [await resultOf(1), await resultOf(2), await resultOf(3)];
    // A sentence of an error is kept too: the contact time of a countermovement jump is not to be had.
    expect(before[0].find((value) => typeof value === "object")).toMatchObject({ error: "#N/A", message: expect.stringMatching(/\w{5}/) });
    await reopened();
    const atOpening = await analysesMade();
    const trials = await open.page.evaluate(async () => (await window.leapsheet!.workbook.trials()).length);
    expect([await resultOf(1), await resultOf(2), await resultOf(3)]).toEqual(before);
    // The pane analyses the trials it shows, each once; the sheet's formulas none besides.
    expect(atOpening).toBeLessThanOrEqual(trials);
    const listed = await analysesMade();
    await open.page.evaluate(() => window.leapsheet!.workbook.setSetting("take-off-threshold", 45));
    const [first, ...others] = [await resultOf(1), await resultOf(2), await resultOf(3)];
    expect(first[7]).not.toBe(before[0][7]);
    expect(others.map((row) => row[7])).not.toEqual(before.slice(1).map((row) => row[7]));
    expect(await analysesMade()).toBeGreaterThanOrEqual(listed + trials);
    // One trial by itself: another way of holding the arms is another protocol, of this trial alone.
    const arms = await open.page.evaluate(async () => {
      const table = (await window.leapsheet!.host.tables()).find(({ name }) => name === "Trials")!;
      return table.range.column + table.columns.indexOf("arms");
    });
    await open.page.evaluate((column) => window.leapsheet!.host.apply([{ kind: "cells", sheet: "Trials", row: 1, column, cells: [["swing"]] }], { label: "Arms" }), arms);
    expect((await resultOf(1))[2]).toBe("CMJ arms=swing");
    expect(await analysesMade()).toBeGreaterThanOrEqual(listed + trials + 1);
    expect(await resultOf(2)).toEqual(others[0]);
    expect(open.faults.console).toEqual([]);
  });

  test("computes everything again where another program had computed it, and where computing was not finished", async () => {
    const before = await resultOf(2);
    for (const computedBy of ["another program", undefined]) {
      await atRest(open.page);
      // A wrong value in the store: it is shown only by who trusts it.
      await open.page.evaluate(
        () =>
          new Promise<void>((resolve) => {
            const request = indexedDB.open("leapsheet");
            request.onsuccess = () => {
              const store = request.result.transaction("workbooks", "readwrite").objectStore("workbooks");
              const get = store.getAll();
              get.onsuccess = () => {
                for (const record of get.result) for (const spill of record.computed?.spills ?? []) for (const cell of spill.cells.flat()) if (cell?.t === 2) cell.v = 1e9;
                for (const record of get.result) store.put(record);
                store.transaction.oncomplete = () => {
                  request.result.close();
                  resolve();
                };
              };
            };
          }),
      );
      await open.page.reload();
      await usable(open.page);
      expect((await resultOf(2))[7], "kept as stored").toBe(1e9);
      await changeHead({ computedBy });
      await open.page.reload();
      await usable(open.page);
      expect(await resultOf(2)).toEqual(before);
    }
  });

  test("says so, and changes nothing, where a part of it is missing", async () => {
    await saved(open.page);
    await changeHead({ parts: ["part/none/0"] });
    await open.page.reload();
    await usable(open.page);
    await open.page.getByText("a part of this workbook is missing").waitFor();
    await open.page.getByText("Nothing is saved in this tab").waitFor();
  });

  test("a second tab does not save over the first, and can take the workbook over", async () => {
    await write(open.page, 0, "first tab");
    await saved(open.page);
    const second = await open.newTab();
    await second.getByText("open in another tab").waitFor();
    await write(second, 0, "second tab");
    await second.waitForTimeout(1200);
    await write(open.page, 1, "first again"); // not saved yet when the other tab asks
    await second.getByRole("button", { name: "Use it here" }).click();
    await second.waitForFunction(() => document.body.dataset.ready !== "yes");
    await usable(second);
    expect(await notes(second)).toEqual(["first tab", "first again", "", ""]);
    await open.page.getByText("opened in another tab").waitFor();
    await write(second, 2, "second");
    await saved(second);
    await write(open.page, 3, "too late");
    await open.page.waitForTimeout(1200);
    await second.reload();
    await usable(second);
    expect(await notes(second)).toEqual(["first tab", "first again", "second", ""]);
  });

  test("is not saved over what someone else has stored since, even without the tabs' lock", async () => {
    await write(open.page, 0, "seen");
    await saved(open.page);
    await open.page.waitForTimeout(400);
    const stored = (change: boolean) =>
      open.page.evaluate(
        (set) =>
          new Promise<string>((resolve) => {
            const request = indexedDB.open("leapsheet");
            request.onsuccess = () => {
              const store = request.result.transaction("workbooks", "readwrite").objectStore("workbooks");
              const get = store.get("current");
              get.onsuccess = () => {
                if (set) store.put({ ...get.result, revision: get.result.revision + 1, saved: { ...get.result.saved, savedAt: "by another" } });
                store.transaction.oncomplete = () => {
                  request.result.close();
                  resolve(get.result.saved.savedAt);
                };
              };
            };
          }),
        change,
      );
    await stored(true);
    await write(open.page, 1, "not seen by the other");
    await open.page.getByText("another tab has saved this workbook").waitFor();
    expect(await stored(false)).toBe("by another");
  });

  test("goes into a file and comes back from it, traces included", async () => {
    const before = await whole(open.page);
    const [download] = await Promise.all([open.page.waitForEvent("download"), open.page.getByRole("button", { name: "Download a copy" }).click()]);
    expect(download.suggestedFilename()).toMatch(/^leapsheet-\d{4}-\d\d-\d\d\.json$/);
    const file = await download.path();
    await write(open.page, 0, "later");
    open.page.on("dialog", (dialog) => void dialog.accept());
    const reloaded = open.page.waitForEvent("load");
    await open.page.getByLabel("Workbook file").setInputFiles({ name: "copy.json", mimeType: "application/json", buffer: readFileSync(file) });
    await reloaded;
    await usable(open.page);
    expect(await whole(open.page)).toEqual(before);
  });

  test("stays where a file cannot be opened, with a sentence for each reason", async () => {
    const files = [
      ['{"a":1}', "is not a Leapsheet workbook"],
      ["{", "damaged"],
      ['{"format":"leapsheet-workbook","version":99,"savedAt":"","workbook":{"sheets":{}},"texts":{}}', "update Leapsheet"],
      ['{"format":"leapsheet-workbook","version":1,"savedAt":"","workbook":{"sheets":[]},"texts":{}}', "its sheets cannot be read"],
    ];
    for (const [text, sentence] of files) {
      await open.page.getByLabel("Workbook file").setInputFiles({ name: "x.json", mimeType: "application/json", buffer: Buffer.from(text) });
      await open.page.getByText(sentence).waitFor();
    }
    expect(await open.page.evaluate(() => window.leapsheet!.host.sheets())).toContain("Trials");
  });

  test("a stored workbook of a newer version is not opened and not overwritten", async () => {
    await saved(open.page);
    const version = () =>
      open.page.evaluate(
        (set) =>
          new Promise<number>((resolve) => {
            const request = indexedDB.open("leapsheet");
            request.onsuccess = () => {
              const store = request.result.transaction("workbooks", "readwrite").objectStore("workbooks");
              const get = store.get("current");
              get.onsuccess = () => {
                if (set) store.put({ ...get.result, saved: { ...get.result.saved, version: 99 } });
                store.transaction.oncomplete = () => {
                  request.result.close();
                  resolve(get.result.saved.version);
                };
              };
            };
          }),
        true,
      );
    await open.page.waitForTimeout(500);
    await version();
    await open.page.reload();
    await usable(open.page);
    await open.page.getByText("newer Leapsheet").waitFor();
    await open.page.evaluate(() => window.leapsheet!.host.apply([{ kind: "addSheet", sheet: "Elsewhere" }], { label: "x" }));
    await open.page.waitForTimeout(1200);
    expect(await version()).toBe(99);
  });

  test("says so, with a copy to download, where the browser refuses to store", async () => {
    await open.page.evaluate(() => {
      IDBObjectStore.prototype.put = () => {
        throw new DOMException("full", "QuotaExceededError");
      };
    });
    await write(open.page, 0, "x");
    await open.page.getByText("storage is full").waitFor();
    const [download] = await Promise.all([open.page.waitForEvent("download"), open.page.locator("#save-failed").getByRole("button", { name: "Download a copy" }).click()]);
    expect(readFileSync(await download.path(), "utf8")).toContain('"leapsheet-workbook"');
  });

  test("starts anew on request, with one blank sheet", async () => {
    open.page.on("dialog", (dialog) => void dialog.accept());
    const reloaded = open.page.waitForEvent("load");
    await open.page.getByRole("button", { name: "New workbook" }).click();
    await reloaded;
    await usable(open.page);
    expect(await open.page.evaluate(() => window.leapsheet!.host.sheets())).toEqual(["Sheet1"]);
  });
});

/** How often the browser is killed; a longer run is recorded by hand with LEAPSHEET_KILLS=50. */
const KILLS = Number(process.env.LEAPSHEET_KILLS ?? 3);

describe("a browser that is killed", () => {
  test(`loses at most the last second and never corrupts, killed ${KILLS} times at random moments of writing`, async () => {
    const server = await serve({ folder: DIST });
    const profile = temporaryProfile();
    let written: { row: number; at: number; stalled: number }[] = [];
    let killedAt = 0;
    try {
      for (let round = 0; round <= KILLS; round++) {
        const { context, page } = await launchProfile(profile.folder);
        await page.goto(server.url);
        await usable(page);
        const found = (await notes(page, 2000)).filter((value) => value !== "").length;
        const column = await notes(page, found);
        // Rows were written in order: what is there is a beginning of it, without a gap, and whole.
        expect(column).toEqual(Array.from({ length: found }, (_, row) => `row ${row}`));
        // Each batch wrote to two sheets: never one half of it.
        const partners = await page.evaluate(async () => (await window.leapsheet!.host.read([{ sheet: "Settings", row: 0, column: 9, rows: 2000, columns: 1 }]))[0].values.filter(([value]) => value !== "").length);
        expect(partners).toBe(found);
        // A second of the page's own time: what the machine took from it while it was busy elsewhere does not count.
        const stalledInAll = written.at(-1)?.stalled ?? 0;
        const lost = written.filter(({ row, at, stalled }) => row >= found && killedAt - at - (stalledInAll - stalled) > 1000);
        expect(lost, `of ${written.length} rows written, ${found} were found`).toEqual([]);
        const traces = await page.evaluate(async () => {
          const { host } = window.leapsheet!;
          const trials = (await host.tables()).find((table) => table.name === "Trials")!;
          const [content] = await host.read([trials.range]);
          return content.values.slice(1).map((row) => String(row[trials.columns.indexOf("trace 1")]).slice(0, 4));
        });
        expect(traces).toHaveLength(DEMO);
        expect(traces.every((head) => head === "LEAP")).toBe(true);
        if (round === KILLS) {
          expect(found, "rows kept over all kills").toBeGreaterThan(0);
          await context.close();
          break;
        }
        written = [];
        await page.evaluate(() => {
          const clock = { last: performance.now(), stalled: 0 };
          setInterval(() => {
            const now = performance.now();
            if (now - clock.last > 120) clock.stalled += now - clock.last;
            clock.last = now;
          }, 20);
          Object.assign(window, { testClock: clock });
        });
        const until = Date.now() + 300 + Math.random() * 2500;
        const processId = await browserProcess(profile.folder);
        for (let row = found; Date.now() < until; row++) {
          const stalled = await page.evaluate(
            async ({ row, big }) => {
              await window.leapsheet!.host.apply(
                [
                  { kind: "cells", sheet: "Athletes", row, column: 8, cells: [[`row ${row}`, big]] },
                  { kind: "cells", sheet: "Settings", row, column: 9, cells: [[`row ${row}`]] },
                ],
                { label: "Row" },
              );
              return (window as unknown as { testClock: { stalled: number } }).testClock.stalled;
            },
            { row, big: `text ${row} `.repeat(200) },
          );
          written.push({ row, at: Date.now(), stalled });
        }
        killedAt = Date.now();
        process.kill(processId, "SIGKILL");
        await context.close().catch(() => {});
      }
    } finally {
      await server.close();
      profile.remove();
    }
  }, 60_000 + KILLS * 30_000);
});

/** The browser's own process: the one its profile is locked by (a link named after host and process). */
async function browserProcess(profile: string): Promise<number> {
  const { readlinkSync } = await import("node:fs");
  return Number(/-(\d+)$/.exec(readlinkSync(`${profile}/SingletonLock`))![1]);
}
