import { writeXlsx } from "hucre/xlsx";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { checkSpans } from "../../../../src/read/workbook/checkSpans.ts";
import { checkZip } from "../../../../src/read/workbook/checkZip.ts";
import { storedZip } from "../../../fuzz/storedZip.ts";

const check = (bytes: Uint8Array, most?: number): void => checkSpans(bytes, checkZip(bytes), most);

const sheet = (inside: string): Uint8Array => storedZip(new Map([["xl/worksheets/sheet1.xml", new TextEncoder().encode(`<worksheet><sheetData>${inside}</sheetData></worksheet>`)]]));

/** The rectangle as it is found: the least limit that lets the sheet pass. */
function cellsOf(bytes: Uint8Array): number {
  let [low, high] = [-1, 2 ** 36];
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    try {
      check(bytes, middle);
      high = middle;
    } catch {
      low = middle;
    }
  }
  return high;
}

describe("checkSpans", () => {
  // By hand: last row times last column.
  test.each([
    ["no cell", "", 0],
    ["one cell", '<row r="1"><c r="A1"/></row>', 1],
    ["a cell far away", '<row r="3"><c r="XFD3"><v>1</v></c></row>', 3 * 16_384],
    ["two cells that span a rectangle", '<row r="1"><c r="J1"/></row><row r="7"><c r="A7"/></row>', 70],
    ["cells without addresses", "<row><c/><c/><c></c></row><row><c/></row>", 6],
    ["cells without addresses after some with", '<row r="5"><c r="B5"/><c/></row><row><c/></row>', 18],
    ["an element with a prefix", '<x:row r="4"><x:c r="C4"/></x:row>', 12],
    ["single quotes, spaces and other attributes", "<row r = '4'  spans='1:9'><c s=\"2\" t='s' r = 'C4' ></c></row>", 12],
    ["a sign of an end inside a value", '<row r="2"><c s=">" r="D2"/></row>', 8],
    ["a cell in another row than the one around it", '<row r="2"><c r="B9"/></row>', 18],
    ["rows after a cell that stands elsewhere", '<row r="9"><c r="A1"/></row><row><c/></row>', 10],
    ["rows without cells", '<row r="1048576" ht="20"/>', 0],
    ["other elements that begin like a cell", '<cols><col min="1" max="16384"/></cols><row r="2"><cell r="ZZ9"/><c r="A2"><v>1</v></c></row>', 2],
  ])("finds the rectangle of %s", (_what, inside, cells) => {
    expect(cellsOf(sheet(inside))).toBe(cells);
  });

  test("adds the rectangles of all parts, whatever they are named", () => {
    const part = new TextEncoder().encode('<row r="3"><c r="B3"/></row>');
    expect(cellsOf(storedZip(new Map([["a", part], ["xl/media/b.png", part]])))).toBe(12);
  });

  test.each(['<row r="1"><c r="&#65;1"/></row>', '<row r="1"><c r="__proto__"/></row>', '<row r="1e6"><c/></row>', '<row r="1"><c r="ABCD1"/></row>'])("refuses %s: no address", (inside) => {
    expect(() => check(sheet(inside))).toThrow(expect.objectContaining({ name: "InputError", code: "damaged" }));
  });

  // Law: where a piece of the unpacked part ends changes nothing; compared with the rectangle of the rows themselves.
  test("finds in a packed file of any size what was written", async () => {
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 1, max: 400 }), fc.integer({ min: 1, max: 60 }), async (rows, columns) => {
        const bytes = await writeXlsx({ sheets: [{ name: "A", rows: Array.from({ length: rows }, (_, row) => Array.from({ length: columns }, (_x, column) => row * column)) }] });
        expect(cellsOf(bytes)).toBe(rows * columns);
      }),
      { numRuns: 12 },
    );
  });
});
