import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { valuesOnly } from "../../src/workbook/valuesOnly.ts";
import type { WorkbookFile } from "../../src/workbook/WorkbookFile.ts";
import { writeWorkbook } from "../../src/workbook/writeWorkbook.ts";
import { FUNCTIONS, SESSION } from "../src/workbook/workbooks.ts";

const installed = spawnSync("soffice", ["--version"]).status === 0;
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

  test("values only is the same file whether the workbook was stripped before or while writing", async () => {
    expect(shown("before", await writeWorkbook(valuesOnly(SESSION), { formulas: "live" }))).toEqual(shown("while", await writeWorkbook(SESSION, { formulas: "values" })));
  }, 180_000);
});
