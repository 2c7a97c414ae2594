import { writeXlsx } from "hucre/xlsx";
import { describe, expect, test } from "vitest";
import { readWorkbook } from "../../../src/workbook/readWorkbook.ts";
import { writeWorkbook } from "../../../src/workbook/writeWorkbook.ts";
import { storedZip, unzip } from "../../fuzz/storedZip.ts";
import { seededRandom } from "../../support/seededRandom.ts";
import { FUNCTIONS, SESSION } from "./workbooks.ts";

const live = await writeWorkbook(SESSION, { formulas: "live", functions: FUNCTIONS });

/** The file with the text of one part changed. */
function changed(part: string, change: (text: string) => string, bytes = live): Uint8Array {
  const parts = unzip(bytes);
  parts.set(part, new TextEncoder().encode(change(new TextDecoder().decode(parts.get(part)))));
  return storedZip(parts);
}

async function sheetWith(data: string) {
  const bytes = await writeXlsx({ sheets: [{ name: "A", rows: [[1]] }] });
  return readWorkbook(changed("xl/worksheets/sheet1.xml", (text) => text.replace(/<sheetData>.*<\/sheetData>/, `<sheetData>${data}</sheetData>`), bytes), FUNCTIONS);
}

describe("readWorkbook", () => {
  test("a shared formula reaches every cell that shares it, moved", async () => {
    // The second and third cells hold no text of their own, as Excel writes a filled-down formula (ECMA-376, part 1, 18.3.1.40).
    const { sheets } = await sheetWith(
      '<row r="1"><c r="B1"><f t="shared" ref="B1:B3" si="0">A1*$D$1+_xldudf_LEAP_VERDICT(A1)</f><v>2</v></c></row><row r="2"><c r="B2"><f t="shared" si="0"/><v>4</v></c></row><row r="3"><c r="B3"><f t="shared" si="0"/><v>6</v></c></row>',
    );
    expect(sheets[0].cells.map(({ formula, value }) => [formula, value])).toEqual([
      ["=A1*$D$1+LEAP.VERDICT(A1)", 2],
      ["=A2*$D$1+LEAP.VERDICT(A2)", 4],
      ["=A3*$D$1+LEAP.VERDICT(A3)", 6],
    ]);
  });

  test("cells without a place follow one another, inline text is text, and text is never a formula", async () => {
    const { sheets } = await sheetWith('<row><c t="inlineStr"><is><t>=1+1</t></is></c><c><v>2</v></c></row>');
    expect(sheets[0].cells).toEqual([
      { row: 0, column: 0, value: "=1+1" },
      { row: 0, column: 1, value: 2 },
    ]);
  });

  test("days come back as the numbers they are stored as", async () => {
    const cells = [1, 59, 61, 46095, 46095.5].map((value, row) => ({ row, column: 0, value, numberFormat: "yyyy-mm-dd" }));
    const back = await readWorkbook(await writeWorkbook({ names: [], sheets: [{ name: "A", cells }] }, { formulas: "values" }), FUNCTIONS);
    expect(back.sheets[0].cells).toEqual(cells);
  });

  test("names that reach for the program's own objects are names only", async () => {
    const names = ["__proto__", "constructor", "toString"];
    const file = {
      names: [{ name: "hasOwnProperty", refersTo: "'__proto__'!$A$1" }],
      sheets: names.map((name) => ({
        name,
        cells: [{ row: 0, column: 0, value: name }, { row: 1, column: 0, value: 1 }],
        tables: [{ name: `${name}_1`, range: { row: 0, column: 0, rows: 2, columns: 1 }, columns: [name] }],
      })),
    };
    const back = await readWorkbook(await writeWorkbook(file, { formulas: "live" }), FUNCTIONS);
    expect(back).toEqual(file);
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
    expect(Object.keys(Object.prototype)).toEqual([]);
  });

  test("an entity of the file's own is not opened", async () => {
    const bytes = changed("xl/sharedStrings.xml", (text) => text.replace("<sst", '<!DOCTYPE sst [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]><sst').replace("<t>athlete</t>", "<t>&b;</t>"));
    const text = await readWorkbook(bytes, FUNCTIONS).then((file) => JSON.stringify(file.sheets[0].cells[0]), (error: Error) => error.name);
    expect(text).not.toContain("aaaaaaaaaa");
  });

  test.each([
    ["a text file", new TextEncoder().encode("a,b\n1,2\n".repeat(20)), "not-recognised"],
    ["a ZIP file without a workbook", storedZip(new Map([["a.txt", new Uint8Array(40)]])), "not-recognised"],
    ["a file that is cut", live.slice(0, live.length - 60), "damaged"],
    ["a cell beyond every sheet", changed("xl/worksheets/sheet1.xml", (text) => text.replace('r="A1"', 'r="XFE9999999"')), "damaged"],
    ["a cell named __proto__", changed("xl/worksheets/sheet1.xml", (text) => text.replace('r="A1"', 'r="__proto__"')), "damaged"],
    ["more than it may unpack to", live, "too-large", { input: 2 ** 27, unpacked: 1000, entries: 2000 }],
  ] as const)("refuses %s with a sentence", async (_what, bytes, code, limits?) => {
    await expect(readWorkbook(bytes, FUNCTIONS, limits)).rejects.toMatchObject({ name: "InputError", code });
  });

  test("damaged in any way it gives a workbook or a sentence, within two seconds", async () => {
    const random = seededRandom(20_260_314);
    const parts = [...unzip(live)];
    for (let round = 0; round < 150; round++) {
      const copy = new Map(parts.map(([name, content]) => [name, content.slice()]));
      const [name, content] = parts[Math.floor(random() * parts.length)];
      const bytes = copy.get(name)!;
      for (let i = 0; i < 1 + random() * 8; i++) bytes[Math.floor(random() * content.length)] = Math.floor(random() * 256);
      const started = performance.now();
      await readWorkbook(storedZip(copy), FUNCTIONS).then(
        (file) => expect(file.sheets.length).toBeGreaterThan(0),
        (error: Error) => expect(error.name).toBe("InputError"),
      );
      expect(performance.now() - started).toBeLessThan(2000);
    }
  }, 60_000);
});
