import { DOMParser } from "@xmldom/xmldom";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readWorkbook } from "../../../src/workbook/readWorkbook.ts";
import { valuesOnly } from "../../../src/workbook/valuesOnly.ts";
import type { FileCell, FileValue, WorkbookFile } from "../../../src/workbook/WorkbookFile.ts";
import { writeWorkbook } from "../../../src/workbook/writeWorkbook.ts";
import { unzip } from "../../fuzz/storedZip.ts";
import { FUNCTIONS, SESSION } from "./workbooks.ts";

const live = await writeWorkbook(SESSION, { formulas: "live", functions: FUNCTIONS });
const values = await writeWorkbook(SESSION, { formulas: "values" });

function xml(bytes: Uint8Array, part: string) {
  const found = unzip(bytes).get(part);
  if (!found) throw new Error(`no part ${part}`);
  return new DOMParser({ onError: (_level, message) => { throw new Error(message); } }).parseFromString(new TextDecoder().decode(found), "text/xml");
}

/** Cell of a sheet part: formula, its attributes, cached value and type. */
function cellOf(bytes: Uint8Array, sheet: number, place: string) {
  const cell = Array.from(xml(bytes, `xl/worksheets/sheet${sheet}.xml`).getElementsByTagName("c")).find((each) => each.getAttribute("r") === place)!;
  const formula = cell.getElementsByTagName("f")[0];
  return { type: cell.getAttribute("t"), meta: cell.getAttribute("cm"), formula: formula?.textContent, kind: formula?.getAttribute("t"), ref: formula?.getAttribute("ref"), value: cell.getElementsByTagName("v")[0]?.textContent };
}

describe("writeWorkbook", () => {
  test("everything written live is read back, our own functions and young ones included", async () => {
    expect(await readWorkbook(live, FUNCTIONS)).toEqual(SESSION);
  });

  test("values hold what the formulas gave and no formula", async () => {
    const back = await readWorkbook(values, FUNCTIONS);
    expect(back).toEqual(valuesOnly(SESSION));
    for (const name of unzip(values).keys()) if (name.startsWith("xl/worksheets/sheet")) expect(xml(values, name).getElementsByTagName("f")).toHaveLength(0);
  });

  test("nothing asks a spreadsheet to compute when the file opens", () => {
    const calculation = xml(live, "xl/workbook.xml").getElementsByTagName("calcPr")[0];
    expect(calculation.hasAttribute("fullCalcOnLoad")).toBe(false);
    expect(Number(calculation.getAttribute("calcId"))).toBeGreaterThan(0);
  });

  test("a spill is written as a dynamic array over its cells, a single cell as a plain formula", () => {
    expect(cellOf(live, 1, "B2")).toEqual({ type: "str", meta: "1", formula: "_xldudf_LEAP_METRIC(Trials!$C2:$F2,Trials!$B2,B$1:C$1,LeapSettings)", kind: "array", ref: "B2:C2", value: "keep" });
    expect(cellOf(live, 1, "C4")).toMatchObject({ meta: "1", kind: "array", ref: "C4", formula: "AVERAGE(_xlfn._xlws.FILTER(C2:C3,ISNUMBER(C2:C3)))" });
    expect(cellOf(live, 1, "C6")).toMatchObject({ meta: null, kind: null, formula: "_xldudf_LEAP_VERDICT(Trials!$C2)", value: "keep" });
    expect(cellOf(live, 1, "C5").formula).toBe("_xlfn.LET(_xlpm.x,1,_xlpm.x+1)");
    expect(unzip(live).has("xl/metadata.xml")).toBe(true);
  });

  test("the error a formula gave is stored as an error", () => {
    expect(cellOf(live, 1, "C3")).toMatchObject({ type: "e", value: "#N/A", formula: "_xldudf_LEAP_VERDICT(Trials!$C3)" });
  });

  test("every part is well-formed XML, and every part is declared", () => {
    const parts = [...unzip(live).keys()];
    for (const name of parts) if (/\.(xml|rels)$/.test(name)) expect(xml(live, name).documentElement, name).toBeTruthy();
    const declared = Array.from(xml(live, "[Content_Types].xml").getElementsByTagName("Override")).map((each) => each.getAttribute("PartName"));
    for (const part of ["/xl/workbook.xml", "/xl/worksheets/sheet1.xml", "/xl/tables/table1.xml", "/xl/metadata.xml", "/xl/sharedStrings.xml"]) expect(declared).toContain(part);
  });

  test("the heads of a table are the text of its first cells", () => {
    const table = xml(live, "xl/tables/table1.xml");
    expect(table.documentElement!.getAttribute("ref")).toBe("A1:C2");
    expect(Array.from(table.getElementsByTagName("tableColumn")).map((each) => each.getAttribute("name"))).toEqual(["athlete", "protocol", "trace 1"]);
  });

  test("a chart draws from the cells", async () => {
    const place = { row: 3, column: 3, rows: 15, columns: 6 };
    const chart = { kind: "column", title: "Jump height", x: "trial", y: "cm", series: [{ name: "height", values: "Results!$C$2:$C$4", categories: "Results!$A$2:$A$4" }], place } as const;
    const bytes = await writeWorkbook({ ...SESSION, sheets: [{ ...SESSION.sheets[0], pictures: [], charts: [chart] }, ...SESSION.sheets.slice(1)] }, { formulas: "values" });
    expect(xml(bytes, "xl/charts/chart1.xml").getElementsByTagName("c:f")[0].textContent).toBe("Results!$A$2:$A$4");
  });

  test("the same workbook gives the same bytes, but for the time it says it was written", async () => {
    const withoutTime = (bytes: Uint8Array) => [...unzip(bytes)].filter(([name]) => name !== "docProps/core.xml").map(([name, content]) => [name, Buffer.from(content).toString("latin1")]);
    expect(withoutTime(await writeWorkbook(SESSION, { formulas: "live", functions: FUNCTIONS }))).toEqual(withoutTime(live));
  });

  test("any text and any number come back as they were, whatever they look like", async () => {
    const tricky = fc.constantFrom("=1+1", "+cmd|' /C calc'!A0", "-2", "@SUM(A1)", "#N/A", "#DIV/0!", "TRUE", "007", "_x0041_", "_x000D_", "__proto__", "constructor", "<b>&amp;</b>", " two  spaces ", "line\nbreak", "tab\tbed", "]]>", "'quoted");
    const text = fc.oneof(tricky, fc.string({ unit: "grapheme", minLength: 1, maxLength: 40 }).filter((each) => !/[\uD800-\uDFFF\uFFFE\uFFFF]/u.test(each)));
    const value: fc.Arbitrary<FileValue> = fc.oneof(text, fc.double({ noNaN: true, noDefaultInfinity: true }).map((each) => each + 0), fc.boolean());
    await fc.assert(
      fc.asyncProperty(fc.array(value, { minLength: 1, maxLength: 30 }), async (list) => {
        const cells: FileCell[] = list.map((each, row) => ({ row, column: row % 3, value: each === 0 ? 0 : each }));
        const file: WorkbookFile = { names: [], sheets: [{ name: "A", cells }] };
        expect(await readWorkbook(await writeWorkbook(file, { formulas: "live", functions: FUNCTIONS }), FUNCTIONS)).toEqual(file);
      }),
      { numRuns: 60 },
    );
  });

  test.each([
    ["a sheet name that is too long", { name: "x".repeat(32), cells: [] }, "sheet name of 1 to 31 characters"],
    ["a sheet name with a sign that is not allowed", { name: "a/b", cells: [] }, "rename “a/b”"],
    ["a text that is too long", { name: "A", cells: [{ row: 0, column: 0, value: "x".repeat(32_768) }] }, "32,767 characters"],
    ["a number that is none", { name: "A", cells: [{ row: 0, column: 0, value: NaN }] }, "finite"],
    ["a formula that is too long", { name: "A", cells: [{ row: 0, column: 0, value: 1, formula: `=${"1+".repeat(5000)}1` }] }, "8,192 characters"],
  ])("refuses %s with a sentence", async (_what, sheet, sentence) => {
    await expect(writeWorkbook({ names: [], sheets: [sheet] }, { formulas: "live" })).rejects.toThrow(sentence);
  });

  test("refuses two sheets whose names differ in capitals only", async () => {
    await expect(writeWorkbook({ names: [], sheets: [{ name: "A", cells: [] }, { name: "a", cells: [] }] }, { formulas: "values" })).rejects.toMatchObject({ name: "InputError", code: "out-of-range" });
  });
});
