import { writeXlsx } from "hucre/xlsx";
import { describe, expect, test } from "vitest";
import { readWorkbook } from "../../../src/workbook/readWorkbook.ts";
import { storedZip, unzip } from "../../fuzz/storedZip.ts";

const whole = unzip(await writeXlsx({ sheets: [{ name: "A", rows: Array.from({ length: 60 }, (_, row) => [row, 700 + row]) }] }));

/** A workbook whose column B shares one formula, from its first cell on. */
function sharing(formula: string): Uint8Array {
  const change = (text: string): string =>
    text.replace(/<c r="B(\d+)"[^>]*><v>(\d+)<\/v><\/c>/g, (_all, row: string, value: string) => `<c r="B${row}"><f t="shared" si="0"${row === "1" ? ` ref="B1:B60">${formula}</f>` : "/>"}<v>${value}</v></c>`);
  return storedZip(new Map([...whole].map(([name, content]) => [name, name === "xl/worksheets/sheet1.xml" ? new TextEncoder().encode(change(new TextDecoder().decode(content))) : content])));
}

const column = async (formula: string): Promise<(string | undefined)[]> => (await readWorkbook(sharing(formula), new Map())).sheets[0].cells.filter((cell) => cell.column === 1).map((cell) => cell.formula);

describe("formulas that cells share", () => {
  test("move with their cell, fixed references stay", async () => {
    expect(await column("A1*$A$1+A$1")).toEqual(Array.from({ length: 60 }, (_, row) => `=A${row + 1}*$A$1+A$1`));
  });

  test("longer than the format allows are none, and the values stay", async () => {
    expect(await column(`${"A1+".repeat(3000)}1`)).toEqual(Array.from({ length: 60 }, () => undefined));
  });

  // 59 copies of 8,001 characters are 472,059: allowed; the same from 600 rows would be 4.8 million.
  test("that would take seconds to write out are refused with a sentence", async () => {
    const rows = 600;
    const parts = new Map(unzip(await writeXlsx({ sheets: [{ name: "A", rows: Array.from({ length: rows }, (_, row) => [row, 700 + row]) }] })));
    const text = new TextDecoder()
      .decode(parts.get("xl/worksheets/sheet1.xml"))
      .replace(/<c r="B(\d+)"[^>]*>/g, (_all, row: string) => `<c r="B${row}"><f t="shared" si="0"${row === "1" ? ` ref="B1:B${rows}">${"A1+".repeat(2666)}1</f>` : "/>"}`);
    parts.set("xl/worksheets/sheet1.xml", new TextEncoder().encode(text));
    const started = performance.now();
    await expect(readWorkbook(storedZip(parts), new Map())).rejects.toMatchObject({ name: "InputError", code: "too-large", message: expect.stringContaining("4.8 million") });
    expect(performance.now() - started).toBeLessThan(2000);
  });
});
