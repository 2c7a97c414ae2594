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
    ["a workbook whose sheets are all hidden", { name: "A", cells: [], hidden: true }, "a sheet that is not hidden"],
  ])("refuses %s with a sentence", async (_what, sheet, sentence) => {
    await expect(writeWorkbook({ names: [], sheets: [sheet] }, { formulas: "live" })).rejects.toThrow(sentence);
  });

  test.each([
    ["that cannot be parsed", "=1+("],
    ["that is too long", `=${"1+".repeat(5000)}1`],
    ["that reads another workbook", "=[1]Sheet1!A1"],
    ["that reads another workbook by its path", "='C:\\data\\[b.xlsx]Sheet1'!A1"],
  ])("writes a formula %s as text", async (_what, formula) => {
    const file: WorkbookFile = { names: [], sheets: [{ name: "A", cells: [{ row: 0, column: 0, value: 1, formula }] }] };
    const { sheets } = await readWorkbook(await writeWorkbook(file, { formulas: "live" }), FUNCTIONS);
    expect(sheets[0].cells).toEqual([{ row: 0, column: 0, value: formula }]);
  });

  test("gives every table heads that are texts of their own", async () => {
    const heads: FileCell[] = [
      { row: 0, column: 0, value: "x", bold: true },
      { row: 0, column: 1, value: "X" },
      { row: 0, column: 3, value: 7 },
      { row: 0, column: 4, value: "y", formula: '="y"' },
    ];
    const file: WorkbookFile = { names: [], sheets: [{ name: "A", cells: [...heads, { row: 1, column: 0, value: 1 }], tables: [{ name: "T", range: { row: 0, column: 0, rows: 2, columns: 5 }, columns: ["x", "X", "", "7", "y"] }] }] };
    const { sheets } = await readWorkbook(await writeWorkbook(file, { formulas: "live" }), FUNCTIONS);
    expect(sheets[0].tables![0].columns).toEqual(["x", "X2", "Column3", "7", "y"]);
    expect(sheets[0].cells.filter((cell) => cell.row === 0)).toEqual(["x", "X2", "Column3", "7", "y"].map((value, column) => ({ row: 0, column, value, ...(column === 0 && { bold: true }) })));
  });

  test("opens on the first sheet that is not hidden", async () => {
    const bytes = await writeWorkbook({ names: [], sheets: [{ name: "A", cells: [], hidden: true }, { name: "B", cells: [] }] }, { formulas: "live" });
    expect(xml(bytes, "xl/workbook.xml").getElementsByTagName("workbookView")[0].getAttribute("activeTab")).toBe("1");
  });

  test("sheets with quotes, spaces and emoji keep their formulas, names and charts", async () => {
    const name = "It's 🏃 50 %";
    const file: WorkbookFile = {
      names: [{ name: "Heights", refersTo: "'It''s 🏃 50 %'!$A$1:$A$2" }],
      sheets: [
        { name, cells: [{ row: 0, column: 0, value: 1 }, { row: 1, column: 0, value: 3, formula: "='It''s 🏃 50 %'!A1+2" }] },
        { name: "A", cells: [{ row: 0, column: 0, value: 4, formula: "=SUM('It''s 🏃 50 %'!A1:A2)" }] },
      ],
    };
    expect(await readWorkbook(await writeWorkbook(file, { formulas: "live" }), FUNCTIONS)).toEqual(file);
  });

  test("refuses two sheets whose names differ in capitals only", async () => {
    await expect(writeWorkbook({ names: [], sheets: [{ name: "A", cells: [] }, { name: "a", cells: [] }] }, { formulas: "values" })).rejects.toMatchObject({ name: "InputError", code: "out-of-range" });
  });
});
