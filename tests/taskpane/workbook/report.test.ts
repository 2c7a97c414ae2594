import { beforeAll, describe, expect, test } from "vitest";
import { settingsFrom } from "../../../src/settings/settingsFrom.ts";
import { reportOf, type AthleteReport } from "../../../taskpane/decide/reportOf.ts";
import { squadOf } from "../../../taskpane/decide/squadOf.ts";
import type { Edit } from "../../../taskpane/host/SheetHost.ts";
import { SI } from "../../../taskpane/pane/shownUnits.ts";
import type { UnitChoice } from "../../../taskpane/pane/withUnits.ts";
import { createWorkbookModel } from "../../../taskpane/workbook/createWorkbookModel.ts";
import { athleteReportEdits, reportSheetName, squadReportEdits, writeReports } from "../../../taskpane/workbook/report.ts";
import { openReportNumbers, REPORT_MARK, reportNumbers } from "../../../taskpane/workbook/reportNumbers.ts";
import { DEFAULT_RESULT_NAMES, TRIAL_COLUMNS } from "../../../taskpane/workbook/sheets.ts";
import { MemoryHost } from "../../support/memoryHost.ts";
import { world, type World } from "../../support/reportWorld.ts";
import { SheetEvaluator } from "../../support/sheetEvaluator.ts";
import { trial } from "../decide/trials.ts";

const plain = { low: "low", high: "high", log: "log", left: "left", right: "right", bandLow: "from", bandHigh: "to", weighted: "weighted", box: "box", real: "real", contact: "contact", height: "height", index: "index", gap: "gap", leastGap: "least", load: "load", pushOff: "push-off", mass: "mass", force: "force", velocity: "velocity" };
const words = {
  title: "Jump tests of Ida", made: "Made today.", about: "About.", metricName: (name: string) => name, protocol: (text: string) => text, heading: ({ kind, about }: { kind: string; about: string }) => `${kind} ${about}`,
  doubtful: (count: number) => `${count} to look at`, role: (role: string) => role, verdict: "word", unknown: "not known", fewer: "fewer", table: plain,
};
const SHEET = "Report Ida";

async function written({ host, workbook, live, recorded, settings }: World, units: UnitChoice = SI): Promise<{ report: AthleteReport; evaluator: SheetEvaluator }> {
  const report = reportOf(live, recorded, "Ida", DEFAULT_RESULT_NAMES, (name) => name, settings, units);
  const numbers = (await openReportNumbers(host, workbook, settings))!;
  const page = athleteReportEdits(report, numbers, settings, words, units);
  await writeReports(host, [page], numbers.edits());
  return { report, evaluator: new SheetEvaluator(host, Object.entries(settings.values).map(([id, value]) => [id, value])) };
}

/** Rows of the sheet by what stands in some of their cells. */
function rowsOf(host: MemoryHost, evaluator: SheetEvaluator): unknown[][] {
  const keys = [...host.cells.get(SHEET)!.keys()].map((key) => Number(key.split(",")[0]));
  return Array.from({ length: Math.max(...keys) + 1 }, (_, row) => Array.from({ length: 10 }, (__, column) => evaluator.cell(SHEET, row, column)));
}

describe("the sheet of an athlete, computed from its formulas", () => {
  let all: World;
  let report: AthleteReport;
  let rows: unknown[][];
  beforeAll(async () => {
    all = await world();
    const done = await written(all);
    report = done.report;
    rows = rowsOf(all.host, done.evaluator);
  }, 60_000);

  test("has every number of the pane, with its uncertainty, n and typical error", () => {
    let compared = 0;
    for (const { session, lines } of report.sessions) {
      for (const { name, result } of lines) {
        const row = rows.find((cells) => cells[1] === session.protocolText && cells[2] === name)!;
        expect(row[4], `${session.protocolText} ${name}`).toBeCloseTo(result.value, 9);
        expect(row[5], `± ${session.protocolText} ${name}`).toEqual(result.u === undefined ? "" : expect.closeTo(result.u, 9));
        expect(row[6]).toBe(result.n);
        compared += 1;
      }
    }
    // Eleven protocols are on the page, each with several numbers.
    expect(compared).toBeGreaterThan(60);
    // Three jumps of that day say both legs, one does not: one session of the first three of four.
    expect(rows.find((cells) => cells[1] === "CMJ arms=hips" && cells[2] === "jumpHeight cm")![6]).toBe(3);
    expect(rows.some((cells) => cells[1] === "CMJ arms=hips by=mat")).toBe(true);
  });

  test("says every word of every reading by a formula over the numbers above it", () => {
    const kinds = new Set(report.readings.map(({ kind, about }) => `${kind} ${about.split(" ")[0]}`));
    // Every kind of reading is on this page, else this test would prove little.
    for (const kind of ["combination eccentricUtilisation", "combination prestretchAugmentation", "combination dynamicStrength", "combination armSwing", "combination bilateral", "sides meanForcePropulsion", "baseline jumpHeight", "change jumpHeight", "drop rsi", "load jumpHeight"]) expect([...kinds]).toContain(kind);
    for (const reading of report.readings) {
      const head = rows.findIndex((cells, row) => cells[0] === words.heading(reading) && rows[row + 1]?.[2] === reading.protocols.join(" / ")) + 1;
      expect(head, `${reading.kind} ${reading.about}`).toBeGreaterThan(0);
      const at = rows.findIndex((cells, row) => row > head && cells[0] === "word");
      expect(rows[at][2], `${reading.kind} ${reading.about} in short`).toBe(reading.reading.verdictWord);
      const roles = [...new Set(reading.reading.parts.map(({ role }) => role))];
      roles.forEach((role, order) => {
        expect(rows[at + 1 + order][0]).toBe(role);
        expect(rows[at + 1 + order][2], `${reading.kind} ${reading.about}: ${role}`).toBe(reading.reading.parts.filter((part) => part.role === role).map(({ text }) => text).join(" "));
        const formula = all.host.cell(SHEET, at + 1 + order, 2).formula;
        expect(formula).toMatch(/^=LEAP\.READ_/);
      });
    }
  });

  test("gives ratios and their limits as numbers, the parts before them", () => {
    for (const reading of report.readings) {
      if (reading.kind !== "combination") continue;
      const head = rows.findIndex((cells, row) => cells[0] === words.heading(reading) && rows[row + 1]?.[2] === reading.protocols.join(" / ")) + 1;
      const { combined, results } = reading.of;
      results.forEach((result, order) => expect(rows[head + 1 + order][4]).toBeCloseTo(result.value, 9));
      const at = rows.findIndex((cells, row) => row > head && cells[2] === "low");
      expect(rows[at - 1][4]).toBeCloseTo(combined!.value, 9);
      expect([rows[at][4], rows[at + 1][4]]).toEqual(combined!.low === undefined ? ["", ""] : [expect.closeTo(combined!.low, 9), expect.closeTo(combined!.high!, 9)]);
    }
  });

  test("has the band of each recorded session, and the percentages of the sides, as in the pane", () => {
    const followed = report.readings.flatMap((reading) => (reading.kind === "baseline" && reading.protocols[0] === "CMJ arms=hips" ? [reading.of] : []))[0];
    const head = rows.findIndex((cells) => cells[5] === "from");
    followed.points.forEach((point, order) => {
      const [, , , , value, low, n, high, weighted] = rows[head + 1 + order];
      expect(value).toBeCloseTo(point.value, 9);
      expect(n).toBe(point.n);
      expect([low, high, weighted]).toEqual(point.band === undefined ? [null, null, null] : [expect.closeTo(point.band.low, 9), expect.closeTo(point.band.high, 9), expect.closeTo(point.weighted!, 9)]);
    });
    expect(followed.points.length).toBe(3);
    const sides = report.readings.flatMap((reading) => (reading.kind === "sides" && reading.of[0].design === "bilateral" ? [reading.of] : []))[0];
    const sidesHead = rows.findIndex((cells) => cells[4] === sides[0].formula);
    sides.forEach((each, order) => expect(rows[sidesHead + 1 + order][4]).toBeCloseTo(each.percentage, 9));
  });

  test("shows no error anywhere", () => {
    const faults = rows.flatMap((cells, row) => cells.flatMap((cell, column) => (cell instanceof Error ? [`${row + 1}, ${column + 1}: ${cell.message} ${all.host.cell(SHEET, row, column).formula}`] : [])));
    expect(faults).toEqual([]);
  });
});

describe("the sheet of an athlete under other settings", () => {
  test.each([
    [["session-value", "best"]],
    [["ratio-interval", "log"]],
    [["baseline-band", "own variation"], ["change-display", "probability"]],
    [["asymmetry-verdict", "larger variation"], ["asymmetry-formula", "Left share"]],
    [["drop-height-basis", "nominal"], ["force-basis", "net"]],
  ] as const)("still says what the pane says: %j", async (...changed) => {
    const settings = settingsFrom(changed as unknown as readonly (readonly [string, string])[]);
    const all = await world(settings);
    const { report, evaluator } = await written(all);
    const rows = rowsOf(all.host, evaluator);
    const texts = rows.map((cells) => cells[2] ?? "");
    for (const { reading } of report.readings) for (const role of new Set(reading.parts.map((part) => part.role))) expect(texts).toContain(reading.parts.filter((part) => part.role === role).map(({ text }) => text).join(" "));
  }, 60_000);
});

describe("the sheet of an athlete in other units", () => {
  test.each([{ m: "cm", s: "ms", kg: "kg", factor: 100 }, { m: "in", s: "s", kg: "lb", factor: 1 / 0.0254 }] as const)("tests combined say what the pane says, over numbers in $m", async ({ factor, ...units }) => {
    const all = await world();
    const { report, evaluator } = await written(all, units);
    const rows = rowsOf(all.host, evaluator);
    const texts = rows.map((cells) => cells[2] ?? "");
    let [heights, others] = [0, 0];
    for (const each of report.readings) {
      if (each.kind !== "combination") continue;
      for (const role of new Set(each.reading.parts.map((part) => part.role))) expect(texts).toContain(each.reading.parts.filter((part) => part.role === role).map(({ text }) => text).join(" "));
      const head = rows.findIndex((cells, row) => cells[0] === words.heading(each) && rows[row + 1]?.[2] === each.protocols.join(" / ")) + 1;
      const length = each.of.name === "jumpHeight";
      if (length) expect(each.reading.text).toContain(` ${units.m} `);
      each.of.results.forEach((result, order) => {
        const [, , name, unit, value, u] = rows[head + 1 + order];
        expect([name, unit]).toEqual(length ? [`jumpHeight ${units.m}`, units.m] : [each.of.name, each.of.unit]);
        expect(value).toBeCloseTo(result.value * (length ? factor : 1), 8);
        expect(u).toEqual(result.u === undefined ? "" : expect.closeTo(result.u * (length ? factor : 1), 8));
      });
      if (length) heights += 1;
      else others += 1;
    }
    expect(heights).toBeGreaterThan(1);
    expect(others).toBeGreaterThan(0);
  }, 60_000);
});

const formulas = (edits: readonly Edit[]): readonly string[] => edits.flatMap((edit) => (edit.kind === "cells" ? edit.cells.flat().flatMap((cell) => (typeof cell === "object" && cell !== null ? [cell.formula] : [])) : []));
const settings = settingsFrom([]);
const HEAD = ["verdict", "jumpHeight cm", "jumpHeight", "findings"];
const height = (athlete: string, metres: number, protocol: string) => trial(athlete, "2026-03-14", protocol, { jumpHeight: metres, "jumpHeight cm": 100 * metres });
const few = [height("Ida", 0.3, "CMJ arms=hips"), height("Ida", 0.31, "CMJ arms=hips"), height("Ida", 0.28, "SJ arms=hips"), height("Ida", 0.29, "SJ arms=hips"), height("Noa", 0.4, "CMJ arms=hips")];
const numbers = () => reportNumbers({ place: { sheet: "Trials", column: Object.fromEntries(TRIAL_COLUMNS.map((name, index) => [name, index])) as Record<(typeof TRIAL_COLUMNS)[number], number> }, rows: [1, 2, 3, 4, 5], recorded: [], settings });

describe("what is written", () => {
  test("a number is a formula over the trials of this athlete, day, protocol and use", () => {
    const page = athleteReportEdits(reportOf(few, [], "Ida", HEAD, (name) => name, settings), numbers(), settings, words);
    expect(formulas(page.edits)).toContain(
      `=IFERROR(LEAP.SESSION_VALUE(FILTER('Report trials'!$H$3:$H$42,('Report trials'!$F$3:$F$42="Ida"&" "&A5&" "&B5)*ISNUMBER('Report trials'!$H$3:$H$42)),,"mean",3,"higher","value"),"")`,
    );
    // Two trials where the settings ask for three; without a typical error the sheet says that the uncertainty is not known.
    expect(formulas(page.edits)).toContain('=IF(F5="","not known; fewer","fewer")');
  });
  test("quotes in names are doubled", () => {
    const odd = few.map((each) => ({ ...each, athlete: 'A "B"' }));
    const { edits } = athleteReportEdits(reportOf(odd, [], 'A "B"', HEAD, (name) => name, settings), numbers(), settings, words);
    expect(formulas(edits).join()).toContain('$F$3:$F$42="A ""B"""&" "&A5');
  });
  test("long sentences stand in the wide column, wrapped, in rows as high as they need", () => {
    const { edits } = athleteReportEdits(reportOf(few, [], "Ida", HEAD, (name) => name, settings), numbers(), settings, words);
    const cells = edits.flatMap((edit) => (edit.kind === "cells" ? edit.cells : []));
    const long = cells.flatMap((line, row) => line.flatMap((cell, column) => (typeof cell === "string" && cell.length > 60 && column > 0 ? [[row, column, cell.length] as const] : [])));
    expect(long.length).toBeGreaterThan(1);
    for (const [row, column, letters] of long) {
      expect(edits.some((edit) => edit.kind === "format" && edit.wrap === true && edit.range.row === row && edit.range.column === column)).toBe(true);
      const height = edits.flatMap((edit) => (edit.kind === "rowHeight" && edit.row === row ? [edit.height] : []))[0];
      // The wide column is 440 px, an average letter of the sheet's font 7 px; a line is 19 px.
      expect(height).toBeGreaterThanOrEqual(Math.ceil((letters * 7) / 440) * 19);
    }
  });
  test("rows are as high as longer words of another language need, in heads, names and sentences", () => {
    // Half as long again as the longest English ones, with words of German length.
    const long = (text: string): string => `${text} ${"Sprungkraft ".repeat(3).trim()}`;
    const table = Object.fromEntries(Object.entries(plain).map(([key, text]) => [key, long(text)])) as typeof plain;
    const wordy = { ...words, table, metricName: (name: string) => long(`${name} ${"Bodenkontakt ".repeat(5)}`), role: long, verdict: long("word"), heading: () => long("Title of a reading") };
    const pages = [
      athleteReportEdits(reportOf(few, [], "Ida", HEAD, (name) => name, settings), numbers(), settings, wordy),
      squadReportEdits([squadOf(few, "CMJ arms=hips", "jumpHeight cm", settings)], numbers(), settings, wordy),
    ];
    let checked = 0;
    for (const { edits } of pages) {
      const widths = new Map(edits.flatMap((edit) => (edit.kind === "columns" ? [[edit.column, edit.width!] as const] : [])));
      edits.flatMap((edit) => (edit.kind === "cells" ? edit.cells : [])).forEach((line, row) =>
        line.forEach((cell, column) => {
          const alone = line.slice(column + 1).every((other) => other === null || other === "" || (row === 0 && other === REPORT_MARK));
          // A text may run over blank cells beside it; letters are 7 px wide at least, lines 19 px high.
          const lines = typeof cell === "string" ? Math.ceil((cell.length * 7) / widths.get(column)!) : 1;
          if (lines <= 1 || (alone && column === 0)) return;
          checked += 1;
          const height = edits.flatMap((edit) => (edit.kind === "rowHeight" && edit.row === row ? [edit.height] : [])).at(-1) ?? 0;
          expect(height, `row ${row}: ${String(cell)}`).toBeGreaterThanOrEqual(lines * 19);
          expect(edits.some((edit) => edit.kind === "format" && edit.wrap === true && edit.range.row === row && edit.range.column <= column && column < edit.range.column + edit.range.columns), `wraps ${row},${column} ${String(cell)}`).toBe(true);
        }),
      );
    }
    expect(checked).toBeGreaterThan(20);
  });
  test("uncertainties and typical errors have one place more than the value beside them", () => {
    const athlete = athleteReportEdits(reportOf(few, [], "Ida", HEAD, (name) => name, settings), numbers(), settings, words).edits;
    const squad = squadReportEdits([squadOf(few, "CMJ arms=hips", "jumpHeight cm", settings)], numbers(), settings, words).edits;
    const formatAt = (edits: readonly Edit[], row: number, column: number): string | undefined =>
      edits.flatMap((edit) => (edit.kind === "format" && edit.numberFormat !== undefined && edit.range.row <= row && row < edit.range.row + edit.range.rows && edit.range.column <= column && column < edit.range.column + edit.range.columns ? [edit.numberFormat] : [])).at(-1);
    const row = (edits: readonly Edit[], text: string): number => edits.flatMap((edit) => (edit.kind === "cells" ? edit.cells : [])).findIndex((cells) => cells[2] === text);
    expect([4, 5, 7].map((column) => formatAt(athlete, row(athlete, "jumpHeight cm"), column))).toEqual(["0.0", "0.00", "0.00"]);
    expect([4, 5, 7].map((column) => formatAt(squad, row(squad, "Ida"), column))).toEqual(["0.0", "0.00", "0.00"]);
    // Places are spilled from the row with the formula: a head, two people, n, mean, standard deviation and margin.
    const below = (edits: readonly Edit[], rows: number, column: number): string | undefined =>
      formatAt(edits, edits.flatMap((edit) => (edit.kind === "cells" ? edit.cells : [])).findIndex((cells) => typeof cells[2] === "object" && cells[2] !== null && cells[2].formula.includes("SQUAD_TABLE")) + rows, column);
    expect([1, 2, 3, 4, 5, 6].map((rows) => below(squad, rows, 3))).toEqual(["0.0", "0.0", "0", "0.0", "0.00", "0.00"]);
    expect(below(squad, 2, 4)).toBe("0.0");
    // An index of 1.42 is not 1.4.
    const drops = ["Ida", "Noa"].map((athlete) => trial(athlete, "2026-03-14", "DJ drop=0.30 arms=hips", { rsi: 1.42 }));
    expect(below(squadReportEdits([squadOf(drops, "DJ drop=0.30 arms=hips", "rsi", settings)], numbers(), settings, words).edits, 1, 3)).toBe("0.000");
    // Two typical errors stand below the squad's values, in the column of the values.
    expect([10, 11].map((column) => formatAt(squad, column - 1, 4))).toEqual(["0.00", "0.00"]);
  });
  test("the squad spills places from the values and the typical error of the page", () => {
    const { edits } = squadReportEdits([squadOf(few, "CMJ arms=hips", "jumpHeight cm", settings)], numbers(), settings, words);
    const all = formulas(edits);
    expect(all.some((formula) => formula.includes("LEAP.SQUAD_TABLE(C7:C8,E7:E8,E11,"))).toBe(true);
    expect(all.some((formula) => formula.includes('"between days"'))).toBe(true);
  });
});

describe("reportNumbers", () => {
  test("keeps columns and rows where earlier pages read them", async () => {
    const all = await world();
    const first = (await openReportNumbers(all.host, all.workbook, settings))!;
    const [column, cells] = [first.trials.column("peakForce"), first.withinDay("CMJ arms=hips", "peakForce")];
    first.betweenDays("CMJ arms=hips", "jumpHeight cm", [{ athlete: "Ida", date: "2026-02-07" }]);
    await writeReports(all.host, [], first.edits());
    const again = (await openReportNumbers(all.host, all.workbook, settings))!;
    again.trials.column("rsi");
    expect(again.trials.column("peakForce")).toBe(column);
    again.withinDay("SJ arms=hips", "jumpHeight");
    expect(again.withinDay("CMJ arms=hips", "peakForce")).toEqual(cells);
    await writeReports(all.host, [], again.edits());
    const evaluator = new SheetEvaluator(all.host);
    // The last session that an earlier page asked for still stands beside them.
    expect(evaluator.cell("Report squad numbers", 2, 10)).toBe("Ida");
    expect(evaluator.cell("Report squad numbers", 2, 14)).toBeCloseTo(all.recorded.filter((each) => each.athlete === "Ida" && each.date === "2026-02-07" && each.stated.startsWith("CMJ arms=hips limb=both")).slice(0, 3).reduce((sum, each) => sum + each.value("jumpHeight cm")! / 3, 0), 9);
  }, 60_000);
  test("leaves a sheet of a person's own alone", async () => {
    const all = await world();
    await all.host.apply([{ kind: "addSheet", sheet: "Report trials" }, { kind: "cells", sheet: "Report trials", row: 0, column: 0, cells: [["mine"]] }], { label: "mine" });
    await expect(openReportNumbers(all.host, all.workbook, settings)).rejects.toThrow("is no report");
  }, 60_000);
});

describe("reportSheetName", () => {
  test.each([["Ida Fenn", "Report Ida Fenn"], ["a/b:c*[d]?'\\", "Report a b c  d"], ["x".repeat(60), `Report ${"x".repeat(24)}`]])("makes a name a sheet may have of %s", (athlete, name) => {
    expect(reportSheetName(athlete)).toBe(name);
    expect(name.length).toBeLessThanOrEqual(31);
  });
});

describe("writeReports", () => {
  const page = (title: string) => athleteReportEdits(reportOf(few, [], "Ida", HEAD, (name) => name, settings), numbers(), settings, { ...words, title });
  test("writes a report anew over its own kind in one step, which undone brings the old one back", async () => {
    const host = new MemoryHost();
    const workbook = createWorkbookModel(host);
    const picture = (altText: string) => ({ dataUrl: "data:image/png;base64,AA==", width: 560, height: 260, altText });
    await writeReports(host, [{ ...page("First"), pictures: [picture("old chart")] }]);
    host.setResult("Report Ida", 160, 0, "old");
    const batches = host.batches.length;
    const applied = await writeReports(host, [{ ...page("Second"), pictures: [picture("new chart")] }]);
    expect(host.batches.length).toBe(batches + 1);
    expect(host.cell("Report Ida", 0, 0).value).toBe("Second");
    expect(host.cell("Report Ida", 160, 0).value).toBe("");
    expect(host.pictures.get("Report Ida")).toEqual([{ of: "report", altText: "new chart" }]);
    await workbook.undo(applied);
    expect(host.cell("Report Ida", 0, 0).value).toBe("First");
    expect(host.cell("Report Ida", 160, 0).value).toBe("old");
    expect(host.pictures.get("Report Ida")).toEqual([{ of: "report", altText: "old chart" }]);
  });
  test("leaves a sheet alone that is no report", async () => {
    const host = new MemoryHost();
    await host.apply([{ kind: "addSheet", sheet: "Report Ida" }, { kind: "cells", sheet: "Report Ida", row: 0, column: 0, cells: [["mine"]] }], { label: "mine" });
    await expect(writeReports(host, [page("First")])).rejects.toThrow("is no report");
    expect(host.cell("Report Ida", 0, 0).value).toBe("mine");
  });
});
