import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { readWorkbook } from "../../src/workbook/readWorkbook.ts";
import { valuesOnly } from "../../src/workbook/valuesOnly.ts";
import type { WorkbookFile } from "../../src/workbook/WorkbookFile.ts";
import { writeWorkbook } from "../../src/workbook/writeWorkbook.ts";
import { FUNCTIONS, SESSION } from "../src/workbook/workbooks.ts";

const asked = spawnSync("soffice", ["--version"], { encoding: "utf8" });
const installed = asked.status === 0;
/** The version in which it was looked at what follows from its way of opening files; another may do better. */
const looked = /^LibreOffice 7\.4\./.test(asked.stdout ?? "");
const folder = mkdtempSync(path.join(tmpdir(), "leapsheet-office-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** What LibreOffice shows of the first sheet after it opened the file, as lines of a text; formulas are shown as their results. */
function shown(name: string, bytes: Uint8Array): string[][] {
  const file = path.join(folder, `${name}.xlsx`);
  writeFileSync(file, bytes);
  // Tabs, double quotes, UTF-8; the last word false: results and not formulas.
  execFileSync("soffice", ["--headless", `-env:UserInstallation=file://${folder}/profile`, "--convert-to", "csv:Text - txt - csv (StarCalc):9,34,76,1,,0,false,true,false", "--outdir", folder, file], { stdio: "ignore", timeout: 120_000 });
  return readFileSync(path.join(folder, `${name}.csv`), "utf8").trimEnd().split("\n").map((line) => line.split("\t").map((cell) => cell.replace(/^"(.*)"$/, "$1")));
}

describe.skipIf(!installed)(`LibreOffice ${installed ? "" : "(skipped: soffice is not installed) "}opens our workbooks`, () => {
  test("values only: every number, text and error stands there", async () => {
    const rows = shown("values", await writeWorkbook(SESSION, { formulas: "values" }));
    expect(rows.slice(0, 9)).toEqual([
      ["athlete", "verdict", "jumpHeight cm"],
      ["A. Example", "keep", "34.41732"],
      ["", "", "#N/A"],
      ["", "", "34.41732"],
      ["", "", "2"],
      ["", "", "keep"],
      ["", "", "2026-03-14"],
      ["", "", "TRUE"],
      ["", "", "#DIV/0!"],
    ]);
  }, 180_000);

  test("live: what one cell gave shows without being computed, though LibreOffice has no such function", async () => {
    const live: WorkbookFile = {
      names: [],
      sheets: [
        {
          name: "Results",
          cells: [
            { row: 0, column: 0, value: 0.3065625, formula: "=LEAP.METRIC(C1:D1,\"CMJ\",\"jumpHeight\")" },
            { row: 0, column: 1, value: "keep", formula: "=LEAP.VERDICT(C1:D1,\"CMJ\")" },
            { row: 1, column: 0, value: 7, formula: "=SUM(C1:D1)+1" },
          ],
        },
      ],
    };
    // 7 is not what the sum gives (1): it is shown because nothing is computed on opening.
    expect(shown("live", await writeWorkbook(live, { formulas: "live", functions: FUNCTIONS })).slice(0, 2)).toEqual([["0.3065625", "keep"], ["7"]]);
  }, 180_000);

  test.skipIf(!looked)("live, in LibreOffice 7.4: a formula that fills several cells and a stored error are computed and fail, as docs/guide/files.md says; the values of the same workbook stand", async () => {
    const results = { row: 1, column: 0, value: 0.3065625, formula: '=LEAP.METRIC(C1:D1,"CMJ",A1:B1)', spill: { rows: 1, columns: 2 } } as const;
    const workbook: WorkbookFile = {
      names: [],
      sheets: [{ name: "Results", cells: [results, { row: 1, column: 1, value: "keep" }, { row: 2, column: 0, value: { error: "#N/A" }, formula: '=LEAP.VERDICT(C1:D1,"CMJ")' }] }],
    };
    const live = await writeWorkbook(workbook, { formulas: "live", functions: FUNCTIONS });
    expect(shown("several", live).slice(1)).toEqual([["#NAME?", "#NAME?"], ["#NAME?"]]);
    // Nothing is lost in the file: it holds every value, and gives them to whoever reads it without computing.
    expect((await readWorkbook(live, FUNCTIONS)).sheets[0]!.cells.map(({ value }) => value)).toEqual([0.3065625, "keep", { error: "#N/A" }]);
    expect(shown("several-values", await writeWorkbook(workbook, { formulas: "values" })).slice(1)).toEqual([["0.3065625", "keep"], ["#N/A"]]);
  }, 180_000);

  test("saved again by LibreOffice, the workbook opens here with its formulas, tables, names and hidden columns", async () => {
    const file = path.join(folder, "again.xlsx");
    writeFileSync(file, await writeWorkbook(SESSION, { formulas: "live", functions: FUNCTIONS }));
    execFileSync("soffice", ["--headless", `-env:UserInstallation=file://${folder}/profile`, "--convert-to", "xlsx", "--outdir", path.join(folder, "out"), file], { stdio: "ignore", timeout: 120_000 });
    const back = await readWorkbook(new Uint8Array(readFileSync(path.join(folder, "out", "again.xlsx"))), FUNCTIONS);
    expect(back.names).toEqual(SESSION.names);
    const formulas = (workbook: WorkbookFile) => workbook.sheets.flatMap((sheet) => sheet.cells.flatMap((cell) => (cell.formula === undefined ? [] : [[sheet.name, cell.row, cell.column, cell.formula]])));
    // LET is younger than this LibreOffice (7.4 writes its name in small letters, as of any function it does not know).
    const known = (list: unknown[][]) => list.filter(([, , , formula]) => !/LET\(/i.test(String(formula)) && !/FILTER\(/i.test(String(formula)));
    // It also makes a formula of a TRUE and of an error that stand in a cell by themselves.
    const standing = known(formulas(back)).filter(([, , , formula]) => formula !== "=TRUE()" && formula !== "=#DIV/0!");
    expect(standing).toEqual(known(formulas(SESSION)));
    expect(back.sheets.map(({ name, tables, hidden }) => ({ name, tables, hidden }))).toEqual(SESSION.sheets.map(({ name, tables, hidden }) => ({ name, tables, hidden })));
    expect(back.sheets[1].columns!.filter((column) => column.hidden).map(({ column }) => column)).toEqual([2, 3]);
    const trace = (workbook: WorkbookFile) => workbook.sheets[1].cells.find((cell) => cell.row === 1 && cell.column === 2)?.value;
    expect(trace(back)).toBe(trace(SESSION));
  }, 180_000);

  test("values only is the same file whether the workbook was stripped before or while writing", async () => {
    expect(shown("before", await writeWorkbook(valuesOnly(SESSION), { formulas: "live" }))).toEqual(shown("while", await writeWorkbook(SESSION, { formulas: "values" })));
  }, 180_000);
});
