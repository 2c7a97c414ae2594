import { describe, expect, test } from "vitest";
import { workbookFormat } from "../../command/workbookFormat.ts";
import { readWorkbook } from "../../src/workbook/readWorkbook.ts";
import type { FileSheet } from "../../src/workbook/WorkbookFile.ts";
import { ENTRY, writerOf } from "./entries.ts";

async function written(): Promise<Map<string, FileSheet>> {
  const writer = writerOf(workbookFormat);
  writer.add(ENTRY);
  writer.add({ file: "b.csv", error: "reading requires a file with something in it" });
  writer.add({ ...ENTRY, file: "c.csv", metrics: [{ id: "flightTime", value: 0.53, unit: "s" }] });
  const { sheets } = await readWorkbook((await writer.end()) as Uint8Array, new Map());
  return new Map(sheets.map((sheet) => [sheet.name, sheet]));
}

const row = (sheet: FileSheet, index: number) => sheet.cells.filter((cell) => cell.row === index).map(({ column, value }) => [sheet.cells.find((head) => head.row === 0 && head.column === column)!.value, value]);

describe("workbookFormat", () => {
  test("one row a trial in a table, exact numbers, text that looks like a formula as text", async () => {
    const results = (await written()).get("Results")!;
    expect(results.tables![0]).toMatchObject({ name: "Results", range: { rows: 4 } });
    expect(Object.fromEntries(row(results, 1))).toEqual({
      file: "=cmd,one.csv", trial: 1, test: "CMJ", protocol: "CMJ", start: 0, rate: 1000, verdict: "look", findings: 'Q9 look: legs "bent"', jumpHeight: 0.344, jumpHeight_u: 0.003, peakForce: 1897.9,
    });
    expect(results.cells.every((cell) => cell.formula === undefined)).toBe(true);
  });

  test("a file that could not be read is a row with the reason; a metric of one trial only is blank for the others", async () => {
    const results = (await written()).get("Results")!;
    expect(row(results, 2)).toEqual([["file", "b.csv"], ["error", "reading requires a file with something in it"]]);
    expect(Object.fromEntries(row(results, 3))).toMatchObject({ file: "c.csv", flightTime: 0.53 });
    expect(Object.fromEntries(row(results, 3))).not.toHaveProperty("jumpHeight");
  });

  test("says what each column means, with which settings, and what to heed", async () => {
    const sheets = await written();
    expect(row(sheets.get("Metrics")!, 1).slice(0, 3)).toEqual([["id", "jumpHeight"], ["name", "Jump height"], ["unit", "m"]]);
    expect(row(sheets.get("Settings")!, 1)).toEqual([["setting", "gravity"], ["value", 9.80665]]);
    expect(sheets.get("Notes")!.cells.map((cell) => cell.value).join(" ")).toMatch(/diagnosis/);
  });

  test("an empty run gives a workbook that opens", async () => {
    const { sheets } = await readWorkbook((await writerOf(workbookFormat).end()) as Uint8Array, new Map());
    expect(sheets.map((sheet) => sheet.name)).toContain("Results");
  });
});
