import { beforeEach, describe, expect, test } from "vitest";
import type { CellValue, RangeContent, RangeRef } from "../../../taskpane/host/SheetHost.ts";
import { checkInSheet } from "../../../taskpane/workbook/checkInSheet.ts";
import { callDirectly, evaluateFormula } from "../../support/evaluateFormula.ts";
import { MemoryHost } from "../../support/memoryHost.ts";

/** Where the calls stand and what each gives, worked out without the module under test. */
const CALLS = 8;

/** A host that computes the formulas of the check as a spreadsheet would, with whatever goes wrong in it. */
class ComputingHost extends MemoryHost {
  /** What a spreadsheet makes of the right values. */
  distort: (values: CellValue[][], reading: number) => void = () => {};
  /** Set once the cells of the check have been read. */
  seen: string[] = [];
  private reads = 0;

  override async read(ranges: readonly RangeRef[]): Promise<readonly RangeContent[]> {
    const contents = await super.read(ranges);
    const [{ ref }] = contents as [RangeContent];
    if (!ref.sheet.startsWith("Leapsheet check")) return contents;
    this.seen.push(ref.sheet);
    const values = contents[0]!.values.map((line) => [...line]);
    const put = (row: number, column: number, table: unknown): void =>
      (table as CellValue[][]).forEach((line, i) => line.forEach((value, j) => void (values[row + i]![column + j] = value)));
    put(0, 0, callDirectly("SELF_CHECK", []));
    const height = (time: number): number => (9.80665 * time * time) / 8; // h = g t^2 / 8
    put(0, CALLS, [[height(0.5)], [""], [height(0.5)], [height(0.25)], [height(0.5)], [""], [""], [""], ["CMJ arms=hips"], [""]]);
    put(10, CALLS, await evaluateFormula('=LEAP.METRIC(LEAP.SYNTHETIC("CMJ",7),"CMJ","jumpHeight")'));
    put(12, CALLS, [[{ error: "#VALUE!" }]]);
    this.distort(values, ++this.reads);
    return [{ ...contents[0]!, values }];
  }

  override async settled(): Promise<void> {}
}

let host: ComputingHost;
beforeEach(async () => {
  host = new ComputingHost();
  await host.apply([{ kind: "addSheet", sheet: "Mine" }, { kind: "cells", sheet: "Mine", row: 0, column: 0, cells: [["mine"]] }], { label: "mine" });
});
const failed = async (): Promise<string[]> => (await checkInSheet(host)).filter(({ pass }) => !pass).map(({ name }) => name);

describe("checkInSheet", () => {
  test("passes every published value and every kind of call where the spreadsheet does as it should, and leaves no sheet behind", async () => {
    const rows = await checkInSheet(host);
    expect(rows.filter(({ pass }) => !pass)).toEqual([]);
    const published = (callDirectly("SELF_CHECK", []) as unknown[][]).length - 1;
    expect(rows.length).toBe(published + 8);
    expect(await host.sheets()).toEqual(["Mine"]);
  });

  test.each<[what: string, distort: (values: CellValue[][]) => void, failing: RegExp]>([
    ["the functions are unknown", (values) => values.forEach((line) => line.forEach((value, column) => value !== "" && (line[column] = { error: "#NAME?" }))), /a number from a cell/],
    ["a published value differs in a late digit", (values) => void (values[1]![2] = (values[1]![2] as number) + 1e-9), /./],
    ["cells beside the first are not filled", (values) => values.forEach((line, row) => line.forEach((_, column) => row + column > 0 && column < 5 && (line[column] = ""))), /./],
    ["only one of two cells is filled", (values) => void (values[3]![CALLS] = ""), /two cells/],
    ["a blank cell counts as zero", (values) => void (values[6]![CALLS] = 0), /blank/],
    ["an error loses its kind", (values) => void (values[12]![CALLS] = { error: "#NUM!" }), /error/],
  ])("says so where %s", async (_, distort, failing) => {
    host.distort = (values) => distort(values);
    const names = await failed();
    expect(names.length).toBeGreaterThan(0);
    expect(names.join("; ")).toMatch(failing);
  });

  test("waits for functions that are under way", async () => {
    host.distort = (values, reading) => {
      if (reading === 1) values[10]![CALLS] = { error: "#BUSY!" };
    };
    expect(await failed()).toEqual([]);
    expect(host.seen.length).toBe(2);
  });

  test("takes its sheet away where reading fails, and keeps clear of a sheet of that name", async () => {
    await host.apply([{ kind: "addSheet", sheet: "Leapsheet CHECK" }], { label: "another" });
    host.distort = () => {
      throw new Error("the sheet is not there any more");
    };
    await expect(checkInSheet(host)).rejects.toThrow("not there any more");
    expect(host.seen).toEqual(["Leapsheet check 2"]);
    expect(await host.sheets()).toEqual(["Mine", "Leapsheet CHECK"]);
  });
});
