import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { serve } from "../../scripts/serve.js";
import { demoTrials } from "../../taskpane/workbook/demoSession.ts";
import { DIST, launchProfile, startBrowserTests, temporaryProfile, usable, type BrowserTests, type OpenPage } from "./support/page.ts";
import { putRecords, storedRecord, storedRecords, storedTexts } from "./support/stored.ts";

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
    const records = await storedRecords(open.page);
    const stored = JSON.stringify(records);
    expect(stored).toContain("kept");
    // Traces stand apart, once each: the workbook itself holds their hashes only.
    expect(stored).not.toContain("LEAPF1");
    expect(records.find(({ id }) => id === "current")!.saved.version).toBe(2);
  });

  test("is saved before a long import is written that begins right after the change", async () => {
    await open.page.waitForTimeout(1000);
    await open.page.evaluate(() => {
      // What each transaction put into the workbook, once it is stored: no state can be missed, however busy the machine is.
      const stored: string[] = [];
      const puts = new WeakMap<IDBTransaction, string[]>();
      const { transaction } = IDBDatabase.prototype;
      IDBDatabase.prototype.transaction = function (this: IDBDatabase, ...given: Parameters<IDBDatabase["transaction"]>) {
        const made = transaction.apply(this, given);
        puts.set(made, []);
        made.addEventListener("complete", () => stored.push(puts.get(made)!.join()));
        return made;
      };
      const { put } = IDBObjectStore.prototype;
      IDBObjectStore.prototype.put = function (this: IDBObjectStore, ...given: Parameters<IDBObjectStore["put"]>) {
        if (this.name === "workbooks") puts.get(this.transaction)!.push(JSON.stringify(given[0]));
        return put.apply(this, given);
      };
      Object.assign(window, { stored });
    });
    await open.page.evaluate(async () => {
      const { host, workbook } = window.leapsheet!;
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
      await workbook.addTrials(drafts);
    });
    await saved(open.page);
    // What the storage holds while nothing of the import is stored yet: the change alone.
    const seen = { alone: false, half: false, written: false };
    const trials = new Set<string>();
    for (const text of await open.page.evaluate(() => (window as unknown as { stored: string[] }).stored)) {
      for (const file of text.match(/import\d+\.csv/g) ?? []) trials.add(file);
      if (text.includes("kept before") && trials.size === 0) seen.alone = true;
      if (trials.size > 0 && trials.size < 40) seen.half = true;
      if (trials.size === 40) seen.written = true;
    }
    expect(seen).toEqual({ alone: true, half: false, written: true });
  });

  /** Changes the record of the workbook itself, behind the page's back. */
  const changeHead = async (change: Record<string, unknown>) => putRecords(open.page, [{ ...(await storedRecord(open.page)), ...change }]);
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
      const records = await storedRecords(open.page);
      for (const record of records) for (const spill of record.computed?.spills ?? []) for (const cell of spill.cells.flat()) if (cell?.t === 2) cell.v = 1e9;
      await putRecords(open.page, records);
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
    const { revision, saved: theirs } = await storedRecord(open.page);
    await changeHead({ revision: revision + 1, saved: { ...theirs, savedAt: "by another" } });
    await write(open.page, 1, "not seen by the other");
    await open.page.getByText("another tab has saved this workbook").waitFor();
    expect((await storedRecord(open.page)).saved.savedAt).toBe("by another");
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
    await open.page.waitForTimeout(500);
    await changeHead({ saved: { ...(await storedRecord(open.page)).saved, version: 99 } });
    await open.page.reload();
    await usable(open.page);
    await open.page.getByText("newer Leapsheet").waitFor();
    await open.page.evaluate(() => window.leapsheet!.host.apply([{ kind: "addSheet", sheet: "Elsewhere" }], { label: "x" }));
    await open.page.waitForTimeout(1200);
    expect((await storedRecord(open.page)).saved.version).toBe(99);
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

describe("the workbook in whose place another is put", () => {
  let tests: BrowserTests;
  let open: OpenPage;
  beforeAll(async () => {
    tests = await startBrowserTests();
  });
  afterAll(() => tests?.close());
  beforeEach(async () => {
    open = await tests.open();
    open.page.on("dialog", (dialog) => void dialog.accept());
  });
  afterEach(() => open?.close());

  /** A small workbook as a file of ours. */
  const file = (sheet: string, cell: string) => ({
    name: `${sheet}.json`,
    mimeType: "application/json",
    buffer: Buffer.from(JSON.stringify({ format: "leapsheet-workbook", version: 2, savedAt: "2026-03-14T10:00:00Z", workbook: { id: "workbook", sheetOrder: ["s"], sheets: { s: { id: "s", name: sheet, cellData: { 0: { 0: { v: cell, t: 1 } } } } } }, texts: {} })),
  });
  const openFile = async (given: ReturnType<typeof file>, page = open.page): Promise<void> => {
    await Promise.all([page.waitForEvent("load"), page.getByLabel("Workbook file").setInputFiles(given)]);
    await usable(page);
  };
  const offer = () => open.page.locator("#former");
  const putBack = async (): Promise<void> => {
    await Promise.all([open.page.waitForEvent("load"), offer().getByRole("button", { name: "Put it back" }).click()]);
    await usable(open.page);
  };
  const sheets = (page = open.page) => page.evaluate(() => window.leapsheet!.host.sheets());

  test("is kept, said with its name and time, also after a reload, and put back in one step with all it held; and so is the other", async () => {
    await write(open.page, 0, "a moment before");
    const before = await whole(open.page);
    await openFile(file("Other", "theirs"));
    expect(await sheets()).toEqual(["Other"]);
    // The change that nothing had stored yet is in it too; the other one is saved in parts of its own.
    await open.page.evaluate(() => window.leapsheet!.host.apply([{ kind: "cells", sheet: "Other", row: 1, column: 0, cells: [["added"]] }], { label: "Note" }));
    await saved(open.page);
    await open.page.reload();
    await usable(open.page);
    const day = new Date().toLocaleDateString([], { dateStyle: "medium" });
    await expect.poll(() => offer().innerText()).toMatch(new RegExp(`“Other.json” took the place of “First workbook”, which was last saved ${day}, .*kept in this browser`));
    await putBack();
    expect(await whole(open.page)).toEqual(before);
    expect(await notes(open.page, 1)).toEqual(["a moment before"]);
    await expect.poll(() => offer().innerText()).toContain("“First workbook” took the place of “Other.json”");
    await saved(open.page);
    await putBack();
    expect(await open.page.evaluate(async () => (await window.leapsheet!.host.read([{ sheet: "Other", row: 0, column: 0, rows: 2, columns: 1 }]))[0].values)).toEqual([["theirs"], ["added"]]);
    await putBack();
    expect(await whole(open.page)).toEqual(before);
    expect(open.faults.console).toEqual([]);
  });

  test("is one: who opens a third is told that the first goes, and nothing is left of it", async () => {
    const asked: string[] = [];
    open.page.on("dialog", (dialog) => asked.push(dialog.message()));
    await openFile(file("Second", "2"));
    await openFile(file("Third", "3"));
    expect(asked.map((text) => text.match(/“[^”]*”, which was kept until now, is kept no longer/)?.[0])).toEqual([undefined, "“First workbook”, which was kept until now, is kept no longer"]);
    await saved(open.page);
    await open.page.reload();
    await usable(open.page);
    const stored = JSON.stringify(await storedRecords(open.page));
    expect([stored.includes('"Second"'), stored.includes('"Third"'), stored.includes('"Trials"')]).toEqual([true, true, false]);
    expect(await storedTexts(open.page), "traces kept").toEqual([]);
    await putBack();
    expect(await sheets()).toEqual(["Second"]);
  });

  test("is offered until the person closes the offer; About has it all the same", async () => {
    await openFile(file("Other", "theirs"));
    await offer().getByRole("button", { name: "Close" }).click();
    await open.page.reload();
    await usable(open.page);
    await open.page.locator("#pane").getByRole("tab", { name: "About" }).click();
    await open.page.locator("#pane").getByText("“Other.json” took the place of “First workbook”").waitFor();
    expect(await offer().count()).toBe(0);
    await Promise.all([open.page.waitForEvent("load"), open.page.locator("#pane").getByRole("button", { name: "Put it back" }).click()]);
    await usable(open.page);
    expect(await sheets()).toContain("Trials");
  });

  test("is not given up where the storage has no room for both: first it is offered as a file", async () => {
    await open.page.evaluate(() => {
      const { put } = IDBObjectStore.prototype;
      IDBObjectStore.prototype.put = function (this: IDBObjectStore, value: { id?: string }, ...key) {
        if (value?.id === "former") throw new DOMException("full", "QuotaExceededError");
        return put.call(this, value, ...key);
      };
    });
    await open.page.getByLabel("Workbook file").setInputFiles(file("Other", "theirs"));
    const strip = open.page.locator("#replace-full");
    await strip.getByText("no room for both workbooks, so nothing was replaced").waitFor();
    await write(open.page, 0, "still here");
    const [download] = await Promise.all([open.page.waitForEvent("download"), strip.getByRole("button", { name: "Download a copy" }).click()]);
    expect(readFileSync(await download.path(), "utf8")).toContain("still here");
    expect(await sheets()).toContain("Trials");
    await Promise.all([open.page.waitForEvent("load"), strip.getByRole("button", { name: "Replace it now" }).click()]);
    await usable(open.page);
    expect(await sheets()).toEqual(["Other"]);
    expect((await storedRecords(open.page)).map(({ id }) => id)).not.toContain("former");
    expect(await offer().count()).toBe(0);
  });

  test("stays where the tab that opens another one is not the one that has it", async () => {
    const second = await open.newTab();
    await second.getByText("open in another tab").waitFor();
    await second.getByLabel("Workbook file").setInputFiles(file("Other", "theirs"));
    await second.getByText("choose “Use it here” first").waitFor();
    await write(open.page, 0, "goes on");
    await saved(open.page);
    expect(await open.page.locator("#save-state").textContent()).toContain("Saved on this computer");
    expect((await storedRecords(open.page)).map(({ id }) => id)).not.toContain("former");
  });

  test("is kept in the place of a new one too, as it was found where it could not be read", async () => {
    await saved(open.page);
    await open.page.waitForTimeout(500);
    const current = await storedRecord(open.page);
    await putRecords(open.page, [{ ...current, saved: { ...current.saved, version: 99 } }]);
    await open.page.reload();
    await usable(open.page);
    await open.page.getByText("newer Leapsheet").waitFor();
    await Promise.all([open.page.waitForEvent("load"), open.page.getByRole("button", { name: "New workbook" }).click()]);
    await usable(open.page);
    expect(await sheets()).toEqual(["Sheet1"]);
    expect((await storedRecord(open.page, "former")).saved).toEqual({ ...current.saved, version: 99 });
    await putBack();
    await open.page.getByText("newer Leapsheet").waitFor();
    await putRecords(open.page, [{ ...(await storedRecord(open.page)), saved: current.saved }]);
    await open.page.reload();
    await usable(open.page);
    expect(await sheets()).toContain("Trials");
    expect(await open.page.evaluate(async () => (await window.leapsheet!.workbook.trials()).every(({ packed }) => packed[0].startsWith("LEAP")))).toBe(true);
  });
});

/** How often the browser is killed; a longer run is recorded by hand with LEAPSHEET_KILLS=50. */
const KILLS = Number(process.env.LEAPSHEET_KILLS ?? 3);

/** More rows than are ever written: a round takes 2.8 s at most, a row 10 ms at least. */
const ROWS = 280 * (KILLS + 1);

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
        const found = (await notes(page, ROWS)).filter((value) => value !== "").length;
        const column = await notes(page, found);
        // Rows were written in order: what is there is a beginning of it, without a gap, and whole.
        expect(column).toEqual(Array.from({ length: found }, (_, row) => `row ${row}`));
        // Each batch wrote to two sheets: never one half of it.
        const partners = await page.evaluate(async (rows) => (await window.leapsheet!.host.read([{ sheet: "Settings", row: 0, column: 9, rows, columns: 1 }]))[0].values.filter(([value]) => value !== "").length, ROWS);
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
