import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import type { Applied, CellInput, Edit, RangeRef } from "../../taskpane/host/SheetHost.ts";
import { startBrowserTests, type BrowserTests, type OpenPage } from "./support/page.ts";
import { storedPictures } from "./support/stored.ts";

describe("the embedded sheet as a host", () => {
  let tests: BrowserTests;
  let open: OpenPage;
  let sheets = 0;
  let sheet = "";

  beforeAll(async () => {
    tests = await startBrowserTests();
    open = await tests.open();
  });
  afterAll(async () => {
    await open?.close();
    await tests?.close();
  });
  beforeEach(async () => {
    sheet = `Work ${++sheets}`;
    await apply([{ kind: "addSheet", sheet, rows: 60, columns: 12 }]);
  });

  const apply = (edits: readonly Edit[], label = "Test"): Promise<Applied> =>
    open.page.evaluate(
      async ({ edits, label }) => {
        const applied = await window.leapsheet!.host.apply(edits, { label });
        await window.leapsheet!.host.settled();
        return applied;
      },
      { edits, label },
    );
  const undo = (applied: Applied) => open.page.evaluate((step) => window.leapsheet!.host.undo(step).then(() => window.leapsheet!.host.settled()), applied);
  const read = (range: Partial<RangeRef>) =>
    open.page.evaluate(async (ref) => (await window.leapsheet!.host.read([ref]))[0], { sheet, row: 0, column: 0, rows: 1, columns: 1, ...range });
  const values = async (range: Partial<RangeRef>) => (await read(range)).values;
  const cells = (row: number, column: number, inputs: readonly (readonly CellInput[])[]): Edit => ({ kind: "cells", sheet, row, column, cells: inputs });
  const tables = async () => (await open.page.evaluate(() => window.leapsheet!.host.tables())).filter((table) => table.range.sheet === sheet);

  test("keeps text as text, whatever it looks like", async () => {
    const texts = ["=1+1", "+1", "-x", "@a", "007", "1e5", "TRUE", "2024-01-05", "10%", "'quoted", "a\nb", "💪", "  spaces "];
    await apply([cells(0, 0, texts.map((text) => [text]))]);
    const content = await read({ rows: texts.length });
    expect(content.values.map(([value]) => value)).toEqual(texts);
    expect(content.formulas.flat().join("")).toBe("");
    await apply([cells(0, 1, texts.map((_, row) => [{ formula: `=ISTEXT(A${row + 1})` }]))]);
    expect((await values({ column: 1, rows: texts.length })).flat()).toEqual(texts.map(() => true));
  });

  test("keeps numbers to the last digit, booleans and blanks apart", async () => {
    await apply([cells(0, 0, [[Math.PI, 1 / 3, 1e-17, -0.1, true, false, "", 0]])]);
    expect(await values({ columns: 8 })).toEqual([[Math.PI, 1 / 3, 1e-17, -0.1, true, false, "", 0]]);
    expect(await open.page.evaluate((name) => window.leapsheet!.host.usedRange(name), sheet)).toEqual({ sheet, row: 0, column: 0, rows: 1, columns: 8 });
  });

  test("reads the cells of a spill at full precision, finds its anchor, and follows it when it grows and shrinks", async () => {
    await apply([cells(0, 0, [[{ formula: "=LEAP.UNPACK(LEAP.PACK(F1:F4,1000))" }]]), cells(0, 5, [[700.25], [701.5], [699.75], [700]])]);
    const spilled = await values({ rows: 6, columns: 3 });
    const filled = spilled.flat().filter((value) => typeof value === "number");
    expect(filled).toEqual(expect.arrayContaining([700.25, 701.5, 699.75]));
    const anchor = await open.page.evaluate((name) => window.leapsheet!.host.spillAnchor({ sheet: name, row: 2, column: 1 }), sheet);
    expect(anchor).toEqual({ sheet, row: 0, column: 0 });
    // The engine forgets to tell the sum when the spill shrinks (SEQUENCE is its own function).
    await apply([cells(20, 0, [[4]]), cells(21, 0, [[{ formula: "=SEQUENCE(A21)" }]]), cells(20, 2, [[{ formula: "=SUM(A22:A40)" }]])]);
    expect(await values({ row: 20, column: 2 })).toEqual([[10]]);
    await apply([cells(20, 0, [[2]])]);
    expect(await values({ row: 20, column: 2 })).toEqual([[3]]);
    await apply([cells(20, 0, [[5]])]);
    expect(await values({ row: 20, column: 2 })).toEqual([[15]]);
  });

  test("keeps many spills apart: one in the way of another says so, one that lost its place is blank to those who read it", async () => {
    // 40 spills of 3 × 2, one below the other: each cell belongs to one, at every place.
    await apply([cells(0, 0, Array.from({ length: 40 }, (_, k) => [{ formula: `=SEQUENCE(1,3,${10 * k})` }]))]);
    expect(await values({ rows: 40, columns: 3 })).toEqual(Array.from({ length: 40 }, (_, k) => [10 * k, 10 * k + 1, 10 * k + 2]));
    await apply([cells(38, 5, [[{ formula: "=SUM(A1:C40)" }, { formula: "=COUNT(B40:C40)" }]])]);
    // By hand: 3 · 10 · (0 + … + 39) + 40 · (0 + 1 + 2).
    expect(await values({ row: 38, column: 5, columns: 2 })).toEqual([[3 * 10 * 780 + 120, 2]]);
    await apply([cells(35, 4, [[{ formula: "=SEQUENCE(9)" }]])]);
    await apply([cells(30, 0, [[{ formula: "=SEQUENCE(4,1,5)" }]])]);
    expect(await values({ row: 30 })).toEqual([[{ error: "#SPILL!" }]]);
    await apply([cells(30, 0, [[{ formula: "=SEQUENCE(1,2,300)" }]])]);
    expect(await values({ row: 38, column: 5, columns: 2 })).toEqual([[3 * 10 * 780 + 120 - 302, 2]]);
    await apply([cells(39, 0, [[7]])]);
    expect(await values({ row: 38, column: 5, columns: 2 })).toEqual([[3 * 10 * 780 + 120 - 302 - (390 + 391 + 392) + 7, 0]]);
  });

  test("computes many formulas without holding the page up, and begins at once", async () => {
    const outcome = await open.page.evaluate(async (name) => {
      const { host } = window.leapsheet!;
      const write = (edits: Parameters<typeof host.apply>[0]) => host.apply(edits, { label: "Many" });
      await write([{ kind: "cells", sheet: name, row: 0, column: 0, cells: [[1]] }, { kind: "cells", sheet: name, row: 1, column: 0, cells: Array.from({ length: 200 }, (_, k) => [{ formula: `=LEAP.HEIGHT_FLIGHT(A$1/${k + 1})` }]) }]);
      await host.settled();
      // Turns of the event loop while the engine computes: without pauses there are only those before and after it.
      let turns = 0;
      const channel = new MessageChannel();
      let watching = true;
      channel.port1.onmessage = () => {
        turns++;
        if (watching) channel.port2.postMessage(0);
      };
      channel.port2.postMessage(0);
      let computed = 0;
      const began = performance.now();
      await write([{ kind: "cells", sheet: name, row: 0, column: 0, cells: [[0.5]] }]);
      const [before] = await host.read([{ sheet: name, row: 200, column: 0, rows: 1, columns: 1 }]);
      await host.settled();
      computed = performance.now() - began;
      watching = false;
      const [after] = await host.read([{ sheet: name, row: 200, column: 0, rows: 1, columns: 1 }]);
      return { turns, computed, before: before.values[0][0], after: after.values[0][0] };
    }, sheet);
    // By hand: 9.80665 · (0.5/200)² / 8.
    expect(outcome.after).toBeCloseTo((9.80665 * (0.5 / 200) ** 2) / 8, 15);
    expect(outcome.after).not.toBe(outcome.before);
    expect(outcome.turns).toBeGreaterThan(5);
  });

  test("gives each error cell the sentence of the function that made it, through other calls and references", async () => {
    await apply([cells(0, 0, [[{ formula: '=LEAP.RSI("x",0.2)' }, { formula: "=LEAP.HEIGHT_FLIGHT(A1)" }, { formula: "=1/0" }, { formula: "=IFERROR(A1,5)" }, { formula: '=LEAP.HEIGHT_FLIGHT({0.5,"x"})' }]])]);
    const [[first, passedOn, other, caught, good, spilled]] = await values({ columns: 6 });
    expect(first).toMatchObject({ error: "#VALUE!", message: expect.stringContaining("number") });
    expect(passedOn).toMatchObject({ error: "#VALUE!", message: (first as { message: string }).message });
    expect(other).toEqual({ error: "#DIV/0!" });
    expect(caught).toBe(5);
    expect(good).toBeCloseTo(0.3064578125, 12); // by hand: 9.80665 * 0.5^2 / 8
    expect(spilled).toMatchObject({ error: "#VALUE!", message: expect.stringContaining("number") });
  });

  test("leaves everything as it was where one edit of a batch cannot be done", async () => {
    await apply([cells(0, 0, [["before"]])]);
    const names = await open.page.evaluate(() => window.leapsheet!.host.sheets());
    await expect(apply([cells(0, 0, [["after"]]), { kind: "addSheet", sheet: "Never" }, { kind: "table", name: "Never", sheet: "Never", row: 0, column: 0, columns: ["a"], rows: [[1]] }, { kind: "cells", sheet: "No such sheet", row: 0, column: 0, cells: [[1]] }])).rejects.toThrow("there is no sheet named “No such sheet”");
    expect(await values({})).toEqual([["before"]]);
    expect(await open.page.evaluate(() => window.leapsheet!.host.sheets())).toEqual(names);
    await expect(apply([cells(1, 0, [[NaN]])])).rejects.toThrow("finite number");
  });

  test("stops between edits when asked to, and takes back what was done", async () => {
    const outcome = await open.page.evaluate(async (name) => {
      const controller = new AbortController();
      const edit = (row: number) => ({ kind: "cells", sheet: name, row, column: 0, cells: [[row + 1]] }) as const;
      const message = await window.leapsheet!.host
        .apply([edit(0), edit(1), edit(2)], { label: "Stopped", signal: controller.signal, onProgress: () => controller.abort() })
        .then(() => "done", (error: Error) => error.message);
      return { message, used: await window.leapsheet!.host.usedRange(name) };
    }, sheet);
    expect(outcome).toEqual({ message: expect.stringContaining("nothing was written"), used: undefined });
  });

  test("stops in the middle of one long edit, and takes back what was done", async () => {
    const name = `Long${sheets}`;
    await apply([{ kind: "table", name, sheet, row: 0, column: 0, columns: ["a", "b"], rows: [[1, 2]] }]);
    const outcome = await open.page.evaluate(async ({ table, name: at }) => {
      const { host } = window.leapsheet!;
      const controller = new AbortController();
      let most = 0;
      let last = performance.now();
      const watch = setInterval(() => {
        most = Math.max(most, performance.now() - last);
        last = performance.now();
      }, 1);
      setTimeout(() => controller.abort(), 30);
      const message = await host.apply([{ kind: "appendRows", table, rows: Array.from({ length: 20_000 }, (_, k) => [k, `text ${k}`]) }], { label: "Long", signal: controller.signal }).then(() => "done", (error: Error) => error.message);
      clearInterval(watch);
      return { message, used: await host.usedRange(at), most };
    }, { table: name, name: sheet });
    expect(outcome.message).toContain("nothing was written");
    expect(outcome.used).toEqual({ sheet, row: 0, column: 0, rows: 2, columns: 2 });
    expect(await tables()).toMatchObject([{ range: { rows: 2 } }]);
    const whole = await apply([{ kind: "appendRows", table: name, rows: Array.from({ length: 3000 }, (_, k) => [k, `text ${k}`]) }]);
    expect(await values({ row: 3001, columns: 2 })).toEqual([[2999, "text 2999"]]);
    await undo(whole);
    expect(await values({ rows: 4, columns: 2 })).toEqual([["a", "b"], [1, 2], ["", ""], ["", ""]]);
  });

  test("writes batches that are asked for at once one after the other", async () => {
    const undone = await open.page.evaluate(async (name) => {
      const { host } = window.leapsheet!;
      const write = (value: string) => host.apply([{ kind: "cells", sheet: name, row: 0, column: 0, cells: [[value]] }], { label: value });
      const [, second] = await Promise.all([write("first"), write("second")]);
      const [before] = await host.read([{ sheet: name, row: 0, column: 0, rows: 1, columns: 1 }]);
      await host.undo(second);
      const [after] = await host.read([{ sheet: name, row: 0, column: 0, rows: 1, columns: 1 }]);
      return [before.values, after.values];
    }, sheet);
    expect(undone).toEqual([[["second"]], [["first"]]]);
  });

  test("undoes one batch as a whole, formulas included", async () => {
    await apply([cells(0, 0, [["old", { formula: "=1+2" }]])]);
    const step = await apply([cells(0, 0, [["new", 7, 8]]), { kind: "definedName", name: `Undone${sheets}`, range: { sheet, row: 0, column: 0, rows: 1, columns: 2 } }]);
    await undo(step);
    const content = await read({ columns: 3 });
    expect(content.values).toEqual([["old", 3, ""]]);
    expect(content.formulas).toEqual([["", "=1+2", ""]]);
    expect(await open.page.evaluate((name) => window.leapsheet!.host.definedName(name), `Undone${sheets}`)).toBeUndefined();
    await expect(undo(step)).rejects.toThrow("undone already");
  });

  test("refuses to undo, changing nothing, where someone changed a cell since", async () => {
    const step = await apply([cells(0, 0, [["a", "b"]])], "Import");
    await apply([cells(0, 1, [["mine"]])]);
    await expect(undo(step)).rejects.toThrow("“Import” cannot be undone");
    expect(await values({ columns: 2 })).toEqual([["a", "mine"]]);
  });

  test("refuses to undo what others have built on since: a new sheet, a table that grew, rows taken away", async () => {
    const added = `${sheet} added`;
    const newSheet = await apply([{ kind: "addSheet", sheet: added }, { kind: "cells", sheet: added, row: 0, column: 0, cells: [["ours"]] }], "Sheet");
    await apply([{ kind: "cells", sheet: added, row: 5, column: 5, cells: [["theirs"]] }]);
    await expect(undo(newSheet)).rejects.toThrow("something was added to the sheet");
    const name = `Grown${sheets}`;
    await apply([{ kind: "table", name, sheet, row: 0, column: 0, columns: ["x"], rows: [[1]] }]);
    const rows = await apply([{ kind: "appendRows", table: name, rows: [[2]] }], "Rows");
    await apply([{ kind: "appendRows", table: name, rows: [[3]] }]);
    await expect(undo(rows)).rejects.toThrow(`the table ${name} was changed since`);
    const cut = await apply([{ kind: "deleteRows", table: name, rows: [0] }], "Cut");
    await apply([cells(0, 8, [["unrelated"]])]);
    await expect(undo(cut)).rejects.toThrow("the workbook was changed since");
    expect(await values({ rows: 3 })).toEqual([["x"], [2], [3]]);
  });

  test("appends to a table, fills its one blank row first, and refuses where something stands below", async () => {
    const name = `List${sheets}`;
    await apply([{ kind: "table", name, sheet, row: 1, column: 1, columns: ["athlete", "height"], rows: [] }]);
    await apply([{ kind: "appendRows", table: name, rows: [["Ada", 0.3]] }]);
    await apply([{ kind: "appendRows", table: name.toLowerCase(), rows: [["Ben", 0.4], ["Cy", 0.5]] }]);
    expect(await tables()).toEqual([{ name, range: { sheet, row: 1, column: 1, rows: 4, columns: 2 }, columns: ["athlete", "height"] }]);
    await apply([cells(1, 6, [[{ formula: `=AVERAGE(${name}[height])` }]])]);
    expect((await values({ row: 1, column: 6 }))[0][0]).toBeCloseTo(0.4, 12);
    await apply([{ kind: "appendRows", table: name, rows: [["Di", 0.8]] }]);
    expect((await values({ row: 1, column: 6 }))[0][0]).toBeCloseTo(0.5, 12);
    await apply([cells(6, 1, [["in the way"]])]);
    await expect(apply([{ kind: "appendRows", table: name, rows: [["Eve", 1], ["Fay", 1]] }])).rejects.toThrow("hold something");
  });

  test("appends columns to a table that formulas can name", async () => {
    const name = `Wide${sheets}`;
    await apply([{ kind: "table", name, sheet, row: 0, column: 0, columns: ["a"], rows: [[1], [2]] }]);
    await apply([{ kind: "appendColumns", table: name, columns: ["b", "c"] }]);
    await apply([cells(1, 1, [[10], [20]]), cells(0, 5, [[{ formula: `=SUM(${name}[b])` }]])]);
    expect(await tables()).toMatchObject([{ columns: ["a", "b", "c"], range: { rows: 3, columns: 3 } }]);
    expect(await values({ column: 5 })).toEqual([[30]]);
  });

  test("deletes rows of a table, formulas elsewhere following, and puts them back", async () => {
    const name = `Shortened${sheets}`;
    await apply([{ kind: "table", name, sheet, row: 0, column: 0, columns: ["x"], rows: [[1], [2], [3]] }, cells(0, 3, [[{ formula: "=A4" }]])]);
    const step = await apply([{ kind: "deleteRows", table: name, rows: [0] }]);
    expect(await tables()).toMatchObject([{ range: { rows: 3 } }]);
    const cut = await read({ column: 3 });
    expect([cut.values, cut.formulas]).toEqual([[[3]], [["=A3"]]]);
    await undo(step);
    expect(await values({ rows: 4 })).toEqual([["x"], [1], [2], [3]]);
    expect((await read({ column: 3 })).formulas).toEqual([["=A4"]]);
    await apply([cells(2, 5, [["beside"]])]);
    await expect(apply([{ kind: "deleteRows", table: name, rows: [1] }])).rejects.toThrow("beside the table");
  });

  test("deletes a sheet, shows #REF! where it was used, and puts it back", async () => {
    const other = `${sheet} other`;
    await apply([{ kind: "addSheet", sheet: other }, { kind: "cells", sheet: other, row: 0, column: 0, cells: [[42]] }, cells(0, 0, [[{ formula: `='${other}'!A1` }]])]);
    expect(await values({})).toEqual([[42]]);
    const step = await apply([{ kind: "deleteSheet", sheet: other }]);
    expect(await values({})).toEqual([[{ error: "#REF!" }]]);
    await undo(step);
    expect(await values({})).toEqual([[42]]);
  });

  test("formats cells without touching what they hold", async () => {
    await apply([cells(0, 0, [[{ formula: "=1/4" }, 0.5, "x"]])]);
    await apply([{ kind: "format", range: { sheet, row: 0, column: 0, rows: 2, columns: 3 }, numberFormat: "0.00", bold: true, fill: "#ffeecc", align: "center", wrap: true }]);
    const content = await read({ columns: 3 });
    expect(content.values).toEqual([[0.25, 0.5, "x"]]);
    expect(content.formulas).toEqual([["=1/4", "", ""]]);
    await apply([{ kind: "columns", sheet, column: 1, count: 2, hidden: true }, { kind: "columns", sheet, column: 0, count: 1, width: 222 }, { kind: "freezeRows", sheet, rows: 1 }]);
    expect((await values({ columns: 3 }))[0]).toEqual([0.25, 0.5, "x"]);
  });

  test("makes room below and beside what a sheet has", async () => {
    await apply([cells(500, 40, [["far"]])]);
    expect(await values({ row: 500, column: 40 })).toEqual([["far"]]);
  });

  test("tells of a selection where it ends, and of changes", async () => {
    const heard = await open.page.evaluate(async (name) => {
      const { host } = window.leapsheet!;
      const cells: unknown[] = [];
      let changes = 0;
      const unsubscribe = [host.onSelection((cell) => cells.push(cell)), host.onChange(() => changes++)];
      await host.select({ sheet: name, row: 5, column: 2 });
      await new Promise((resolve) => setTimeout(resolve, 300));
      const selected = await host.selection();
      await host.apply([{ kind: "cells", sheet: name, row: 0, column: 0, cells: [[1]] }], { label: "Change" });
      await host.settled();
      await new Promise((resolve) => setTimeout(resolve, 400));
      for (const stop of unsubscribe) stop();
      const before = changes;
      await host.apply([{ kind: "cells", sheet: name, row: 0, column: 0, cells: [[2]] }], { label: "Change" });
      await new Promise((resolve) => setTimeout(resolve, 400));
      return { last: cells.at(-1), count: cells.length, selected, changes: before, later: changes - before };
    }, sheet);
    expect(heard.last).toEqual({ sheet, row: 5, column: 2 });
    expect(heard.selected).toEqual({ sheet, row: 5, column: 2 });
    expect(heard.count).toBe(1);
    expect(heard.changes).toBeGreaterThan(0);
    expect(heard.later).toBe(0);
  });

  test("computes what a person types, and names the functions while they type", async () => {
    await open.page.locator("canvas[id^=univer-sheet-main-canvas]").click({ position: { x: 200, y: 200 } });
    await open.page.evaluate((name) => window.leapsheet!.host.select({ sheet: name, row: 3, column: 0 }), sheet);
    await open.page.keyboard.type("=LEAP.HEIGHT_FLIGHT(0.6)", { delay: 10 });
    await open.page.keyboard.press("Enter");
    // By hand: 9.80665 * 0.6^2 / 8.
    await expect.poll(async () => (await values({ row: 3 }))[0][0], { timeout: 10_000 }).toBeCloseTo(0.44129925, 10);
    await open.page.keyboard.press("Control+z");
    await expect.poll(() => values({ row: 3 }), { timeout: 10_000 }).toEqual([[""]]);
  });

  test("one press of undo takes back one batch, and redo brings it again", async () => {
    await apply([cells(0, 0, [[1, 2]]), cells(4, 0, [[{ formula: "=A1+B1" }]])]);
    await open.page.locator("canvas[id^=univer-sheet-main-canvas]").click({ position: { x: 200, y: 200 } });
    await open.page.evaluate((name) => window.leapsheet!.host.select({ sheet: name, row: 9, column: 0 }), sheet);
    await open.page.keyboard.press("Control+z");
    await expect.poll(() => values({ rows: 5 }), { timeout: 10_000 }).toEqual([[""], [""], [""], [""], [""]]);
    await open.page.keyboard.press("Control+y");
    await expect.poll(() => values({ rows: 5 }), { timeout: 10_000 }).toEqual([[1], [""], [""], [""], [3]]);
  });

  const BOX = `data:image/svg+xml;base64,${Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="40" height="20"/>').toString("base64")}`;
  const picture = (of: "chart" | "report", altText: string): Edit => ({ kind: "picture", of, sheet, row: 2, column: 1, dataUrl: BOX, width: 40, height: 20, altText });
  const pictures = async (): Promise<readonly string[]> => (await storedPictures(open.page))[sheet] ?? [];

  test("places a picture with its words, and refuses one from elsewhere", async () => {
    await apply([picture("chart", "an empty box")]);
    expect(await pictures()).toEqual(["an empty box"]);
    await expect(apply([cells(0, 0, [["not kept"]]), { ...picture("chart", "x"), dataUrl: "https://example.org/x.png" } as Edit])).rejects.toThrow("a picture requires PNG, JPEG or SVG data");
    expect(await pictures()).toEqual(["an empty box"]);
    expect(await values({})).toEqual([[""]]);
  });

  test("takes pictures off by what they were placed for, in one step with the cells, and puts back the same ones", async () => {
    await apply([cells(0, 0, [["old"]]), picture("report", "former")]);
    await apply([picture("chart", "placed")]);
    const step = await apply([cells(0, 0, [["new"]]), { kind: "takePictures", of: "report", sheet }, picture("report", "new")]);
    expect(await pictures()).toEqual(["placed", "new"]);
    // Between it and its undo, another one was placed: an undo that went by order would take that one.
    await apply([picture("chart", "later")]);
    await undo(step);
    expect([await values({}), [...(await pictures())].sort()]).toEqual([[["old"]], ["former", "later", "placed"]]);
  });

  test("one press of undo takes back what was written together with its picture, and redo brings both", async () => {
    await apply([cells(0, 0, [["text"]]), picture("report", "its picture")]);
    await open.page.locator("canvas[id^=univer-sheet-main-canvas]").click({ position: { x: 200, y: 200 } });
    await open.page.evaluate((name) => window.leapsheet!.host.select({ sheet: name, row: 9, column: 0 }), sheet);
    await open.page.keyboard.press("Control+z");
    await expect.poll(async () => [await values({}), await pictures()], { timeout: 10_000 }).toEqual([[[""]], []]);
    await open.page.keyboard.press("Control+y");
    await expect.poll(async () => [await values({}), await pictures()], { timeout: 10_000 }).toEqual([[["text"]], ["its picture"]]);
  });

  test("keeps the record of each call for the pane, by sheet name with a space in it", async () => {
    await apply([cells(0, 0, [[0.5, { formula: "=LEAP.HEIGHT_FLIGHT(A1)" }]])]);
    await open.page.evaluate((name) => window.leapsheet!.host.select({ sheet: name, row: 0, column: 1 }), sheet);
    await open.page.locator("#pane").getByRole("tab", { name: /explain/i }).click();
    await expect.poll(() => open.page.locator("#pane").innerText(), { timeout: 10_000 }).toMatch(/0\.306/);
  });

  test("nothing of this upset the page", () => {
    expect(open.faults.console).toEqual([]);
    expect(open.faults.foreign).toEqual([]);
  });
});
