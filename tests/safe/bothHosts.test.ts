import { describe, expect, test } from "vitest";
import { createOfficeHost } from "../../taskpane/host/createOfficeHost.ts";
import type { SheetHost } from "../../taskpane/host/SheetHost.ts";
import { fixedRange } from "../../taskpane/workbook/addresses.ts";
import { createWorkbookModel } from "../../taskpane/workbook/createWorkbookModel.ts";
import { lostResults, removeLostResults } from "../../taskpane/workbook/lostResults.ts";
import { planSteps } from "../../taskpane/workbook/plan.ts";
import { record } from "../../taskpane/workbook/record.ts";
import { writeSessions } from "../../taskpane/workbook/sessions.ts";
import type { TrialDraft } from "../../taskpane/workbook/WorkbookModel.ts";
import { draftTrial } from "../support/draftTrial.ts";
import { FakeExcel } from "../support/fakeExcel.ts";
import { PeopleHost } from "../support/peopleHost.ts";

/**
 * What people do to the sheets, then what the pane does, in both hosts: a spreadsheet in memory and Excel as Office.js shows it. Whatever was
 * done before, both must say the same, refuse the same with the same sentence, and leave the same cells.
 */

const draft = (hash: string, athlete: string): TrialDraft => draftTrial(hash, athlete, { protocol: { test: "CMJ", arms: "hips" }, file: `${hash}.csv` });

const column = (host: PeopleHost, name: string): number => host.columnOf("Trials", name);

/** What somebody did. */
const SCENES: Readonly<Record<string, (host: PeopleHost) => void>> = {
  nothing: () => {},
  "sheets renamed, with quotes and an emoji": (host) => {
    host.renameSheet("Trials", "Bo's “trials” 🦘");
    host.renameSheet("Results", "'R' & 'C'");
    host.renameSheet("Settings", "2026-03");
  },
  "columns of Trials moved": (host) => {
    host.moveColumn("Trials", column(host, "keep"), 1);
    host.moveColumn("Trials", column(host, "hash"), 2);
    host.moveColumn("Trials", column(host, "mass"), column(host, "file"));
  },
  "columns put in before and between": (host) => {
    host.insertColumns("Trials", 0, 2);
    host.insertColumns("Trials", column(host, "date"));
    host.insertColumns("Results", 0, 3);
    host.insertColumns("Results", 4);
  },
  "a column put in among the traces": (host) => host.insertColumns("Trials", column(host, "trace 3")),
  "rows put in above": (host) => {
    for (const sheet of ["Trials", "Results", "Settings"]) {
      host.insertRows(sheet, 0, 2);
      host.setResult(sheet, 0, 0, "Spring camp");
    }
  },
  "Trials sorted": (host) => host.sortTable("Trials", "athlete", true),
  "a trial deleted": (host) => host.deleteRows("Trials", 2),
  "all trials deleted but one": (host) => host.deleteRows("Trials", 2, 2),
  "a row of Results deleted": (host) => host.deleteRows("Results", 2),
  "values pasted over a row of Results": (host) => {
    host.setResult("Results", 2, 4, "keep");
    host.setResult("Results", 2, 5, 34.4);
    host.pasteValues({ sheet: "Results", row: 2, column: 4, rows: 1, columns: 15 });
  },
  "values pasted over the protocols": (host) => {
    [1, 2, 3].forEach((row) => host.setResult("Trials", row, 8, "CMJ arms=hips"));
    host.pasteValues({ sheet: "Trials", row: 1, column: 8, rows: 3, columns: 1 });
  },
  "numbers typed with a decimal comma": (host) => {
    host.setResult("Trials", 1, column(host, "mass"), "72,5");
    host.setResult("Trials", 2, column(host, "start in file"), "1,25");
    host.setResult("Settings", 1, 1, "9,81");
  },
  "dates typed as text of a place": (host) => {
    host.setResult("Trials", 1, column(host, "date"), "14.03.2026");
    host.setResult("Trials", 2, column(host, "date"), "3/14/2026");
  },
  "notes of their own beside the tables": (host) => {
    host.setResult("Results", 0, 25, "my rank");
    host.setResult("Results", 2, 25, 1);
    host.setResult("Trials", 9, 25, "rain");
  },
  "something of theirs right of the quantities": (host) => {
    host.setResult("Results", 0, 19, "my rank");
    host.setResult("Results", 1, 19, 1);
  },
  "tables renamed": (host) => {
    host.renameTable("Trials", "Spring");
    host.renameTable("Athletes", "People");
  },
  "the table turned into plain cells": (host) => host.convertToRange("Trials"),
  "the defined names deleted": (host) => {
    host.deleteName("LeapResults");
    host.deleteName("LeapSettings");
  },
  "a head of Trials renamed": (host) => host.setResult("Trials", 0, column(host, "hash"), "id"),
  "a head of Results renamed": (host) => host.setResult("Results", 0, 3, "valid?"),
  "heads in capitals with blanks": (host) => {
    host.setResult("Trials", 0, column(host, "keep"), " Keep ");
    host.setResult("Trials", 0, column(host, "file"), "FILE");
  },
  "odd words in keep": (host) => {
    host.setResult("Trials", 1, column(host, "keep"), " Leave Out");
    host.setResult("Trials", 2, column(host, "keep"), "maybe");
  },
  "Trials protected": (host) => host.protect("Trials"),
  "Results protected": (host) => host.protect("Results"),
};

const NAMES = ["LeapResults", "LeapSettings"] as const;

/** The same workbook in Excel, protected sheets too. */
async function inExcel(host: PeopleHost, isProtected: readonly string[]): Promise<FakeExcel> {
  const excel = new FakeExcel();
  excel.workbook.sheets.clear();
  for (const [sheet, cells] of host.cells) excel.workbook.sheets.set(sheet, new Map([...cells].map(([place, { value, formula }]) => [place, formula === "" ? value : formula])));
  for (const { name, range } of await host.tables()) excel.workbook.tables.set(name, { ...range });
  for (const name of NAMES) {
    const range = await host.definedName(name);
    if (range) excel.workbook.names.set(name, `=${fixedRange(range)}`);
  }
  for (const sheet of isProtected) excel.workbook.protectedSheets.add(sheet);
  return excel;
}

type Cells = ReadonlyMap<string, ReadonlyMap<string, unknown>>;

const filledOnly = (sheets: Iterable<readonly [string, ReadonlyMap<string, unknown>]>): Cells => new Map([...sheets].map(([sheet, cells]) => [sheet, new Map([...cells].filter(([, value]) => value !== "").sort())]));
const cellsOf = (host: PeopleHost): Cells => filledOnly([...host.cells].map(([sheet, cells]) => [sheet, new Map([...cells].map(([place, { value, formula }]) => [place, formula === "" ? value : formula]))]));

/** What the pane does to a workbook, one after the other; each may refuse. */
const DEEDS: readonly (readonly [string, (host: SheetHost) => Promise<unknown>])[] = [
  ["lists the trials", (host) => createWorkbookModel(host).trials()],
  ["adds a trial", async (host) => (await createWorkbookModel(host).addTrials([draft("z", "Zoe Example")])).written],
  ["says where its numbers are", (host) => createWorkbookModel(host).resultCell("z@0.0000")],
  ["leaves one out", async (host) => void (await createWorkbookModel(host).setKeep("c@0.0000", "leave out", "slipped"))],
  ["moves an event", async (host) => void (await createWorkbookModel(host).setAdjust("c@0.0000", "onset=1.2"))],
  ["changes a setting", async (host) => void (await createWorkbookModel(host).setSetting("take-off-threshold", 15))],
  ["reads the settings", async (host) => (await createWorkbookModel(host).settings()).values],
  ["writes a plan", async (host) => void (await createWorkbookModel(host).addPlan(planSteps({ athletes: [{ name: "Eve Example" }], tests: [{ test: "SJ", trials: 1, rest: 60 }], date: "2026-03-15", order: "person" })))],
  ["lists what is planned", (host) => createWorkbookModel(host).planned()],
  ["shows other quantities", async (host) => void (await createWorkbookModel(host).setResultNames(["peakForce", "jumpHeight cm"]))],
  ["shows more quantities", async (host) => void (await createWorkbookModel(host).setResultNames(Array.from({ length: 18 }, (_, index) => (index % 2 === 0 ? "peakForce" : "flightTime"))))],
  ["names rows that lost their trial", lostResults],
  ["removes them", async (host) => {
    const lost = await lostResults(host);
    return lost && lost.rows.length > 0 ? void (await removeLostResults(host, lost)) : "none";
  }],
  ["records", async (host) => void (await record(host, [{ athlete: "Bo Example", date: "2026-03-14", protocol: "CMJ", use: "keep", verdict: "keep", key: "a@0.0000", adjust: "", settingsDigest: "s", metrics: [{ name: "jumpHeight cm", value: 34.4 }] }], new Date("2026-03-14T09:00:00Z")))],
  ["writes the sessions", async (host) => void (await writeSessions(host, createWorkbookModel(host)))],
];

/** Neither calculates: the fake of Excel gives a formula's text for its value, the other a blank. */
function uncalculated(office: SheetHost): SheetHost {
  const read: SheetHost["read"] = async (ranges) => (await office.read(ranges)).map((content) => ({ ...content, values: content.values.map((row, i) => row.map((value, j) => (content.formulas[i]![j] === "" ? value : ""))) }));
  return new Proxy(office, { get: (target, property, receiver: unknown) => (property === "read" ? read : (Reflect.get(target, property, receiver) as unknown)) });
}

const said = async (deed: (host: SheetHost) => Promise<unknown>, host: SheetHost): Promise<unknown> => deed(host).catch((error: Error) => `refused: ${error.message}`);

describe("in memory and in Excel the pane does the same after", () => {
  test.each(Object.entries(SCENES))("%s", async (what, scene) => {
    const host = new PeopleHost();
    await createWorkbookModel(host).addTrials([draft("a", "Bo Example"), draft("b", "Ada Example"), draft("c", "Cy Example")]);
    scene(host);
    const excel = await inExcel(host, what.endsWith("protected") ? [what.split(" ")[0]!] : []);
    const office = uncalculated(createOfficeHost({ run: excel.run as unknown as typeof Excel.run }));
    const outcomes: string[] = [];
    for (const [name, deed] of DEEDS) {
      const [here, there] = [await said(deed, host), await said(deed, office)];
      expect(there, name).toEqual(here);
      expect(filledOnly(excel.workbook.sheets), `cells after the pane ${name}`).toEqual(cellsOf(host));
      if (typeof here === "string") outcomes.push(here);
    }
    // Where something stands in the way, a sentence says what, and most still goes.
    expect(outcomes.filter((each) => each.startsWith("refused")).every((each) => each.length > 40)).toBe(true);
    expect(outcomes.filter((each) => each.startsWith("refused")).length).toBeLessThan(DEEDS.length);
  });
});
