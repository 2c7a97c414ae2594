import { describe, expect, test } from "vitest";
import { createOfficeHost } from "../../../taskpane/host/createOfficeHost.ts";
import { createWorkbookModel } from "../../../taskpane/workbook/createWorkbookModel.ts";
import type { SheetHost } from "../../../taskpane/host/SheetHost.ts";
import { drafts } from "../../support/drafts.ts";
import { FakeExcel, REQUEST_LIMIT } from "../../support/fakeExcel.ts";

function start(): { excel: FakeExcel; host: SheetHost } {
  const excel = new FakeExcel();
  return { excel, host: createOfficeHost({ run: excel.run as unknown as typeof Excel.run }) };
}

const cells = (sheet: string, row: number, column: number, grid: any[][]) => ({ kind: "cells", sheet, row, column, cells: grid }) as const;

describe("apply", () => {
  test("writes text as text, whatever it looks like", async () => {
    const { excel, host } = start();
    const words = ["=1+1", "+1", "-1", "@A1", "007", "1-2", "TRUE", "March 5", "'quoted", "Plain name", "12.5", ""];
    await host.apply([cells("Sheet1", 0, 0, [words])], { label: "words" });
    expect(words.map((_, column) => excel.workbook.get("Sheet1", 0, column))).toEqual(words);
  });

  test("leaves cells alone where it is given null", async () => {
    const { excel, host } = start();
    excel.workbook.set("Sheet1", 0, 1, "mine");
    await host.apply([cells("Sheet1", 0, 0, [[1, null, 3]])], { label: "around" });
    expect([0, 1, 2].map((column) => excel.workbook.get("Sheet1", 0, column))).toEqual([1, "mine", 3]);
  });

  test("puts everything back where a later step fails", async () => {
    const { excel, host } = start();
    excel.workbook.set("Sheet1", 0, 0, "before");
    await host.apply([{ kind: "addSheet", sheet: "Own" }, { kind: "table", name: "Mine", sheet: "Own", row: 0, column: 0, columns: ["a", "b"], rows: [[1, 2]] }], { label: "own" });
    const names = () => [...excel.workbook.sheets.keys()];
    await expect(
      host.apply(
        [
          cells("Sheet1", 0, 0, [["after"]]),
          { kind: "addSheet", sheet: "New" },
          { kind: "appendRows", table: "Mine", rows: [[3, 4]] },
          { kind: "definedName", name: "Here", range: { sheet: "New", row: 0, column: 0, rows: 1, columns: 1 } },
          cells("Missing", 0, 0, [[1]]),
        ],
        { label: "fails" },
      ),
    ).rejects.toThrow("not there any more");
    expect(excel.workbook.get("Sheet1", 0, 0)).toBe("before");
    expect(names()).toEqual(["Sheet1", "Own"]);
    expect(excel.workbook.tables.get("Mine")).toMatchObject({ rows: 2 });
    expect(excel.workbook.get("Own", 2, 0)).toBe("");
    expect(excel.workbook.names.size).toBe(0);
  });

  test.each([1, 2, 3, 4, 5, 6, 7, 8, 9])("leaves the sheet as it was where request %d fails", async (sync) => {
    const { excel, host } = start();
    const workbook = createWorkbookModel(host);
    excel.workbook.set("Sheet1", 3, 3, "untouched");
    const before = structuredClone({ sheets: excel.workbook.sheets, tables: excel.workbook.tables, names: excel.workbook.names });
    // Counted from the first request that writes: reading comes before.
    let reads = 0;
    await createWorkbookModel(host).trials().then(() => (reads = excel.syncs.length));
    excel.failAt = { sync: reads * 4 + sync, code: "GeneralException" };
    const outcome = await workbook.addTrials(drafts(3)).then(() => "written", (error: Error) => error.message);
    if (outcome === "written") {
      expect(excel.failAt).toBeDefined();
    } else {
      expect(outcome).toBe("GeneralException");
      expect({ sheets: excel.workbook.sheets, tables: excel.workbook.tables, names: excel.workbook.names }).toEqual(before);
    }
  });

  test("says what to do where the sheet is protected", async () => {
    const { excel, host } = start();
    excel.workbook.protectedSheets.add("Sheet1");
    await expect(host.apply([cells("Sheet1", 0, 0, [[1]])], { label: "x" })).rejects.toThrow("unprotect it");
  });

  test("stops between steps on request and puts back what was done", async () => {
    const { excel, host } = start();
    const stop = new AbortController();
    await expect(
      host.apply([cells("Sheet1", 0, 0, [[1]]), cells("Sheet1", 1, 0, [[2]])], { label: "x", signal: stop.signal, onProgress: () => stop.abort() }),
    ).rejects.toThrow();
    expect(excel.workbook.get("Sheet1", 0, 0)).toBe("");
  });
});

describe("undo", () => {
  test("puts former values back", async () => {
    const { excel, host } = start();
    excel.workbook.set("Sheet1", 0, 0, 5);
    const applied = await host.apply([cells("Sheet1", 0, 0, [[6]])], { label: "six" });
    await host.undo(applied);
    expect(excel.workbook.get("Sheet1", 0, 0)).toBe(5);
  });

  test("refuses where someone changed a cell since, changing nothing", async () => {
    const { excel, host } = start();
    const applied = await host.apply([cells("Sheet1", 0, 0, [[6, 7]])], { label: "six" });
    excel.workbook.set("Sheet1", 0, 1, 8);
    await expect(host.undo(applied)).rejects.toThrow("changed since");
    expect([0, 1].map((column) => excel.workbook.get("Sheet1", 0, column))).toEqual([6, 8]);
  });

  test("shrinks a table that had grown", async () => {
    const { excel, host } = start();
    const workbook = createWorkbookModel(host);
    await workbook.addTrials(drafts(2));
    const receipt = await workbook.addTrials(drafts(5));
    expect(receipt.written).toBe(3);
    await workbook.undo(receipt.applied!);
    expect(excel.workbook.tables.get("Trials")).toMatchObject({ rows: 3 });
    expect(await workbook.trials()).toHaveLength(2);
  });
});

describe("a folder of 360 trials", () => {
  test("takes a bounded number of requests, each below the limit of Excel on the web, with calculation suspended while writing", async () => {
    const { excel, host } = start();
    const workbook = createWorkbookModel(host);
    const receipt = await workbook.addTrials(drafts(360));
    expect(receipt.written).toBe(360);
    expect(Math.max(...excel.syncs.map(({ sent, received }) => Math.max(sent, received)))).toBeLessThan(REQUEST_LIMIT);
    // 5.5 MB of packed text in pieces of 2 MB, six blocks of Results, and what is read back: about 60 at the time of writing.
    expect(excel.syncs.length).toBeLessThan(110);
    const writes = excel.syncs.filter(({ sent }) => sent > 1000);
    expect(writes.length).toBeGreaterThan(8);
    expect(writes.every(({ calculationSuspended }) => calculationSuspended)).toBe(true);
    expect(excel.workbook.hidden.has("Trials!16")).toBe(true);
    expect(await workbook.trials()).toHaveLength(360);
  });
});

describe("Results", () => {
  test("are written 60 rows at a time: one request, and so one calculation, for each block", async () => {
    const { excel, host } = start();
    const rows = new Map<number, Set<number>>();
    excel.onWrite = ({ sheet, row }) => {
      const sync = excel.syncs.length;
      if (sheet === "Results" && row > 0) rows.set(sync, (rows.get(sync) ?? new Set()).add(row));
    };
    await createWorkbookModel(host).addTrials(drafts(130));
    const blocks = [...rows.values()].map((block) => [...block].sort((a, b) => a - b));
    expect(blocks.map((block) => block.length)).toEqual([60, 60, 10]);
    // Every row once, from the one below the head.
    expect(blocks.flat()).toEqual(Array.from({ length: 130 }, (_, i) => i + 1));
    for (const sync of rows.keys()) expect(excel.syncs[sync]!.calculationSuspended).toBe(true);
  });
});

describe("reading", () => {
  test("tells errors from text and formulas from values", async () => {
    const { excel, host } = start();
    excel.workbook.set("Sheet1", 0, 0, "=LEAP.METRIC(A2)");
    excel.workbook.set("Sheet1", 0, 1, "#N/A");
    excel.workbook.set("Sheet1", 0, 2, 4.5);
    const [content] = await host.read([{ sheet: "Sheet1", row: 0, column: 0, rows: 1, columns: 4 }]);
    expect(content!.values[0]!.slice(1)).toEqual([{ error: "#N/A" }, 4.5, ""]);
    expect(content!.formulas[0]).toEqual(["=LEAP.METRIC(A2)", "", "", ""]);
  });

  test("follows the selection until it is told to stop", async () => {
    const { excel, host } = start();
    const seen: unknown[] = [];
    const stop = host.onSelection((cell) => seen.push(cell));
    await new Promise((resolve) => setTimeout(resolve, 5));
    await host.select({ sheet: "Sheet1", row: 4, column: 2 });
    await Promise.all([...excel.workbook.selectionHandlers].map((handler) => handler({})));
    expect(seen).toEqual([{ sheet: "Sheet1", row: 4, column: 2 }]);
    stop();
    await new Promise((resolve) => setTimeout(resolve, 5));
    expect(excel.workbook.selectionHandlers.size).toBe(0);
  });

  test("gives no range for a name that is not there", async () => {
    expect(await start().host.definedName("LeapSettings")).toBeUndefined();
  });
});
