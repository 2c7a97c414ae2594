import { describe, expect, test } from "vitest";
import { createOfficeHost } from "../../../taskpane/host/createOfficeHost.ts";
import type { RangeRef } from "../../../taskpane/host/SheetHost.ts";
import { createWorkbookModel } from "../../../taskpane/workbook/createWorkbookModel.ts";
import { recalculateInBlocks, resultBlocks } from "../../../taskpane/workbook/recalculateInBlocks.ts";
import { FakeExcel } from "../../support/fakeExcel.ts";
import { MemoryHost } from "../../support/memoryHost.ts";
import { drafts } from "../../support/drafts.ts";

/** A host that says what it was asked to compute, and how often it was asked whether it is done. */
class CountingHost extends MemoryHost {
  readonly asked: string[] = [];
  whenSettled: () => Promise<void> = async () => {};

  override async recalculate(ranges?: readonly RangeRef[]): Promise<void> {
    this.asked.push(...(ranges ?? []).map(({ sheet, row, rows, columns }) => `${sheet} ${row}+${rows}x${columns}`));
  }

  override async settled(): Promise<void> {
    this.asked.push("settled");
    await this.whenSettled();
  }
}

async function withTrials(count: number): Promise<CountingHost> {
  const host = new CountingHost();
  await createWorkbookModel(host).addTrials(drafts(count));
  host.asked.length = 0;
  return host;
}

describe("recalculateInBlocks", () => {
  test("computes the formulas of Results 60 rows at a time, each block only when nothing is pending", async () => {
    const host = await withTrials(150);
    const seen: string[] = [];
    const result = await recalculateInBlocks(host, { onProgress: ({ done, all }) => seen.push(`${done}/${all}`) });
    expect(result).toEqual({ done: 150, all: 150 });
    expect(seen).toEqual(["0/150", "60/150", "120/150", "150/150"]);
    const rows = host.asked.filter((what) => what !== "settled");
    expect(rows.map((what) => what.replace(/^Results \d+/, ""))).toEqual(["+60x1", "+60x1", "+30x1"]);
    expect(host.asked.map((what) => what === "settled")).toEqual([false, true, false, true, false, true]);
  });

  test("stops at once when told to, without waiting for a block that never ends", async () => {
    const host = await withTrials(150);
    const stop = new AbortController();
    let waits = 0;
    host.whenSettled = () => (++waits === 1 ? Promise.resolve() : new Promise(() => setTimeout(() => stop.abort(), 5)));
    expect(await recalculateInBlocks(host, { signal: stop.signal })).toEqual({ done: 60, all: 150 });
    expect(host.asked.filter((what) => what !== "settled")).toHaveLength(2);
  });

  test("says why it could not go on", async () => {
    const host = await withTrials(70);
    host.whenSettled = () => Promise.reject(new Error("Excel is still calculating"));
    await expect(recalculateInBlocks(host)).rejects.toThrow("still calculating");
  });

  test("has nothing to do where there are no results", async () => {
    expect(await resultBlocks(new MemoryHost())).toEqual([]);
  });

  test("in Excel writes each formula again, one request to read and one to write a block, and no other cell", async () => {
    const excel = new FakeExcel();
    const host = createOfficeHost({ run: excel.run as unknown as typeof Excel.run });
    await createWorkbookModel(host).addTrials(drafts(70));
    const [first] = await resultBlocks(host);
    // A text that a person typed over a formula, and that Excel would read as a number if it were written again.
    excel.workbook.set(first!.sheet, first!.row + 3, first!.column, "'007");
    const before = structuredClone(excel.workbook.sheets);
    const written: string[] = [];
    excel.onWrite = ({ sheet, row, column }) => written.push(`${sheet} ${column} ${row}`);
    const from = excel.syncs.length;
    expect(await recalculateInBlocks(host)).toEqual({ done: 70, all: 70 });
    expect(excel.workbook.sheets).toEqual(before);
    // All rows but the one that holds no formula.
    expect(new Set(written).size).toBe(69);
    expect(written).not.toContain(`${first!.sheet} ${first!.column} ${first!.row + 3}`);
    expect(excel.syncs.length - from).toBeLessThan(30);
  });
});
