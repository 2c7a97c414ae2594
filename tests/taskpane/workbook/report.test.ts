import { describe, expect, test } from "vitest";
import { settingsFrom } from "../../../src/settings/settingsFrom.ts";
import { reportOf } from "../../../taskpane/decide/reportOf.ts";
import { squadOf } from "../../../taskpane/decide/squadOf.ts";
import type { Edit } from "../../../taskpane/host/SheetHost.ts";
import { athleteReportEdits, reportSheetName, resultsPlace, squadReportEdits, writeReports } from "../../../taskpane/workbook/report.ts";
import { MemoryHost } from "../../support/memoryHost.ts";
import { trial } from "../decide/trials.ts";

const settings = settingsFrom([]);
const HEAD = ["verdict", "jumpHeight cm", "jumpHeight", "findings"];
const words = { title: "Jump tests of Ida", made: "Made today.", about: "About.", metricName: (name: string) => name, protocol: (text: string) => text, heading: () => "Heading", doubtful: (count: number) => `${count} to look at`, role: (role: string) => role, verdict: "word", unknown: "not known", fewer: "fewer" };
const place = { lead: { athlete: 0, date: 1, protocol: 2, use: 3 }, head: { sheet: "Results", row: 0, column: 4, rows: 1, columns: 4 }, names: HEAD, lastRow: 7 };
const height = (athlete: string, metres: number, protocol: string) => trial(athlete, "2026-03-14", protocol, { jumpHeight: metres, "jumpHeight cm": 100 * metres });
const trials = [height("Ida", 0.3, "CMJ arms=hips"), height("Ida", 0.31, "CMJ arms=hips"), height("Ida", 0.28, "SJ arms=hips"), height("Ida", 0.29, "SJ arms=hips"), height("Noa", 0.4, "CMJ arms=hips")];

const formulas = (edits: readonly Edit[]): readonly string[] => edits.flatMap((edit) => (edit.kind === "cells" ? edit.cells.flat().flatMap((cell) => (typeof cell === "object" && cell !== null ? [cell.formula] : [])) : []));

describe("athleteReportEdits", () => {
  const page = athleteReportEdits(reportOf(trials, [], "Ida", HEAD, (name) => name, settings), place, settings, words);
  test("writes each number as a formula over the rows of this athlete, day, protocol and use", () => {
    expect(formulas(page.edits)).toContain(
      '=IFERROR(LEAP.SESSION_VALUE(FILTER(Results!$F$2:$F$7,(Results!$A$2:$A$7="Ida")*(Results!$B$2:$B$7=A5)*(Results!$C$2:$C$7=B5)*(Results!$D$2:$D$7="keep")*ISNUMBER(Results!$F$2:$F$7)),,"mean",3,"higher","value"),"")',
    );
  });
  test("says unit, n, uncertainty and the typical error beside each number", () => {
    const [cells] = page.edits.flatMap((edit) => (edit.kind === "cells" ? [edit.cells] : []));
    expect(cells[3].slice(0, 9)).toEqual(["date", "protocol", "quantity", "unit", "value", "±", "n", "typical error of a trial", "degrees of freedom"]);
    const line = cells[4];
    expect(line.slice(1, 4)).toEqual(["CMJ arms=hips", "jumpHeight cm", "cm"]);
    expect(line.slice(4, 9).every((cell) => typeof cell === "object" && cell !== null)).toBe(true);
    // Two trials where the settings ask for three; without a typical error the sheet says that the uncertainty is not known.
    expect(line[9]).toEqual({ formula: '=IF(F5="","not known; fewer","fewer")' });
  });
  test("reads a ratio by a formula over the numbers of the page", () => {
    const reading = formulas(page.edits).find((formula) => formula.includes('READ_RATIO("EUR"'))!;
    // The two rows of jumpHeight (in m, the second of each protocol): rows 6 and 8 of the sheet.
    expect(reading).toBe('=LEAP.READ_RATIO("EUR",E6,E8,F6,F8,B6,B8,,,D6,"word",{1,1.1},0.95,MIN(MAX(N(I6),N(G6)-1),MAX(N(I8),N(G8)-1)),G6,G8)');
  });
  test("doubles quotes in names", () => {
    const odd = trials.map((each) => ({ ...each, athlete: 'A "B"' }));
    const edits = athleteReportEdits(reportOf(odd, [], 'A "B"', HEAD, (name) => name, settings), place, settings, words).edits;
    expect(formulas(edits).join()).toContain('Results!$A$2:$A$7="A ""B"""');
  });
});

describe("squadReportEdits", () => {
  test("spills places from the values and the typical error of the page", () => {
    const { edits } = squadReportEdits([squadOf(trials, "CMJ arms=hips", "jumpHeight cm", settings)], place, settings, words);
    const all = formulas(edits);
    expect(all.some((formula) => formula.includes("LEAP.SQUAD_TABLE(C6:C7,E6:E7,E8,"))).toBe(true);
    expect(all.some((formula) => formula.includes('"between days")'))).toBe(true);
  });
});

describe("reportSheetName", () => {
  test.each([["Ida Fenn", "Report Ida Fenn"], ["a/b:c*[d]?'\\", "Report a b c  d"], ["x".repeat(60), `Report ${"x".repeat(24)}`]])("makes a name a sheet may have of %s", (athlete, name) => {
    expect(reportSheetName(athlete)).toBe(name);
    expect(name.length).toBeLessThanOrEqual(31);
  });
});

describe("writeReports", () => {
  const page = () => ({ sheet: "Report Ida", edits: [...athleteReportEdits(reportOf(trials, [], "Ida", HEAD, (name) => name, settings), place, settings, words).edits] });
  test("writes a report anew over its own kind", async () => {
    const host = new MemoryHost();
    await writeReports(host, [page()]);
    host.setResult("Report Ida", 60, 0, "old");
    await writeReports(host, [page()]);
    expect(host.cell("Report Ida", 0, 0).value).toBe("Jump tests of Ida");
    expect(host.cell("Report Ida", 60, 0).value).toBe("");
  });
  test("leaves a sheet alone that is no report", async () => {
    const host = new MemoryHost();
    await host.apply([{ kind: "addSheet", sheet: "Report Ida" }, { kind: "cells", sheet: "Report Ida", row: 0, column: 0, cells: [["mine"]] }], { label: "mine" });
    await expect(writeReports(host, [page()])).rejects.toThrow("is no report");
    expect(host.cell("Report Ida", 0, 0).value).toBe("mine");
  });
  test("knows where Results stands, and that it may not be there", async () => {
    expect(await resultsPlace(new MemoryHost())).toBeUndefined();
  });
});
