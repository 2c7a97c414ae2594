import { describe, expect, test } from "vitest";
import { createOfficeHost } from "../../taskpane/host/createOfficeHost.ts";
import type { Applied, SheetHost } from "../../taskpane/host/SheetHost.ts";
import { createWorkbookModel } from "../../taskpane/workbook/createWorkbookModel.ts";
import { lostResults, removeLostResults } from "../../taskpane/workbook/lostResults.ts";
import { placePicture } from "../../taskpane/workbook/placePicture.ts";
import { planSteps } from "../../taskpane/workbook/plan.ts";
import { record } from "../../taskpane/workbook/record.ts";
import { writeSessions } from "../../taskpane/workbook/sessions.ts";
import type { WorkbookModel } from "../../taskpane/workbook/WorkbookModel.ts";
import { draftTrial as draft } from "../support/draftTrial.ts";
import { FakeExcel } from "../support/fakeExcel.ts";

interface Given {
  readonly excel: FakeExcel;
  readonly host: SheetHost;
  readonly workbook: WorkbookModel;
}

function start(): Given {
  const excel = new FakeExcel();
  const host = createOfficeHost({ run: excel.run as unknown as typeof Excel.run });
  return { excel, host, workbook: createWorkbookModel(host) };
}

async function filled(): Promise<Given> {
  const given = start();
  given.excel.workbook.set("Sheet1", 3, 3, "a person's own");
  await given.workbook.addTrials([draft("a", "Bo Example"), draft("b", "Ada Example")]);
  return given;
}

/** What the workbook holds; a cell that was blanked is one that is blank. */
const state = ({ excel: { workbook } }: Given): unknown =>
  structuredClone({ sheets: new Map([...workbook.sheets].map(([name, cells]) => [name, new Map([...cells].filter(([, value]) => value !== ""))])), tables: workbook.tables, names: workbook.names, pictures: workbook.pictures.map(({ sheet, name, altText }) => `${sheet}: ${name.replace(/[\da-f-]{36}/, "")}, ${altText}`).sort() });

const PICTURE = { kind: "picture", dataUrl: "data:image/png;base64,AA==", width: 10, height: 10 } as const;

/** A page with a picture of its own, a chart that was placed on it, and two pictures of a person's own: one with a text, one a copy of the page's. */
async function illustrated(): Promise<Given> {
  const given = await filled();
  const { host, excel } = given;
  await host.apply([{ kind: "addSheet", sheet: "Page" }, { ...PICTURE, of: "report", sheet: "Page", row: 5, column: 0, altText: "former" }], { label: "Page" });
  await host.apply([{ ...PICTURE, of: "chart", sheet: "Page", row: 9, column: 0, altText: "placed" }], { label: "Chart" });
  excel.workbook.pictures.push({ sheet: "Page", base64: "AA==", name: "Picture 1", altText: "my own" }, { ...excel.workbook.pictures[0]!, altText: "my copy" });
  return given;
}

/** Texts of the pictures of a page. */
const pictures = ({ excel }: Given): readonly string[] => excel.workbook.pictures.map(({ altText }) => altText).sort();

/** Everything the pane writes. */
const WRITES: Readonly<Record<string, { readonly given: () => Promise<Given>; readonly write: (given: Given) => Promise<unknown> }>> = {
  "the first import": { given: async () => start(), write: ({ workbook }) => workbook.addTrials([draft("a", "Bo Example"), draft("b", "Ada Example"), draft("c", "Cy Example")]) },
  "a later import": { given: filled, write: ({ workbook }) => workbook.addTrials([draft("c", "Cy Example"), draft("d", "Di Example")]) },
  "a plan": { given: filled, write: ({ workbook }) => workbook.addPlan(planSteps({ athletes: [{ name: "Bo Example" }, { name: "Eve Example" }], tests: [{ test: "CMJ", trials: 2, rest: 60 }], date: "2026-03-15", order: "person" })) },
  "a word for a trial": { given: filled, write: ({ workbook }) => workbook.setKeep("a@0.0000", "leave out", "slipped") },
  "an adjustment": { given: filled, write: ({ workbook }) => workbook.setAdjust("b@0.0000", "onset=1.2") },
  "a setting": { given: filled, write: ({ workbook }) => workbook.setSetting("take-off-threshold", 15) },
  "other quantities": { given: filled, write: ({ workbook }) => workbook.setResultNames(["peakForce", "jumpHeight cm"]) },
  "a record": {
    given: filled,
    write: ({ host }) => record(host, [{ athlete: "Bo Example", date: "2026-03-14", protocol: "CMJ", use: "keep", verdict: "keep", key: "a@0.0000", adjust: "", settingsDigest: "s", metrics: [{ name: "jumpHeight cm", value: 34.4 }] }], new Date("2026-03-14T09:00:00Z")),
  },
  "a page written over, with its picture": {
    given: illustrated,
    write: ({ host }) =>
      host.apply(
        [
          { kind: "cells", sheet: "Page", row: 0, column: 0, cells: [["new"]] },
          { kind: "takePictures", of: "report", sheet: "Page" },
          { ...PICTURE, of: "report", sheet: "Page", row: 5, column: 0, altText: "new" },
        ],
        { label: "Page" },
      ),
  },
  "a chart placed in the sheet": { given: illustrated, write: ({ host }) => placePicture(host, { ...PICTURE, altText: "another" }, { sheet: "Page", row: 3, column: 0 }, "Chart") },
  sessions: { given: filled, write: ({ host, workbook }) => writeSessions(host, workbook) },
  "rows that lost their trial": {
    given: async () => {
      const given = await filled();
      given.excel.workbook.set("Results", 2, 4, "=LEAP.METRIC(#REF!,#REF!,Results!$E$1:$S$1,LeapSettings,#REF!)");
      return given;
    },
    write: async ({ host }) => removeLostResults(host, (await lostResults(host))!),
  },
};

describe("a write that Excel refuses at any of its requests leaves the workbook as it was", () => {
  test.each(Object.entries(WRITES))("%s", async (_what, { given, write }) => {
    const dry = await given();
    const from = dry.excel.syncs.length;
    const before = state(dry);
    await write(dry);
    const requests = dry.excel.syncs.length - from;
    expect(requests).toBeGreaterThan(1);
    expect(state(dry), "the write does write").not.toEqual(before);
    for (let request = 1; request <= requests; request++) {
      for (const code of ["GeneralException", "AccessDenied"]) {
        const tried = await given();
        const was = state(tried);
        tried.excel.failAt = { sync: tried.excel.syncs.length + request, code };
        await expect(write(tried), `request ${request} of ${requests}`).rejects.toThrow();
        expect(state(tried), `${code} at request ${request} of ${requests}`).toEqual(was);
        // It is the refusal alone: tried again, it goes through.
        tried.excel.failAt = undefined;
        await write(tried);
      }
    }
  });
});

describe("an undo that Excel refuses at any of its requests can be asked for again", () => {
  test.each(Object.entries(WRITES).filter(([what]) => what !== "sessions"))("%s", async (_what, { given, write }) => {
    const appliedBy = async (tried: Given): Promise<Applied> => {
      const result = (await write(tried)) as Applied | { applied: Applied };
      return "applied" in result ? result.applied : result;
    };
    const dry = await given();
    const was = state(dry);
    const applied = await appliedBy(dry);
    const from = dry.excel.syncs.length;
    await dry.host.undo(applied);
    expect(state(dry)).toEqual(was);
    const requests = dry.excel.syncs.length - from;
    expect(requests).toBeGreaterThan(0);
    for (let request = 1; request <= requests; request++) {
      const tried = await given();
      const again = await appliedBy(tried);
      tried.excel.failAt = { sync: tried.excel.syncs.length + request, code: "GeneralException" };
      await expect(tried.host.undo(again), `request ${request} of ${requests}`).rejects.toThrow();
      tried.excel.failAt = undefined;
      await tried.host.undo(again);
      expect(state(tried), `request ${request} of ${requests}`).toEqual(was);
    }
  });
});

describe("pictures in Excel", () => {
  test("a page that is written over loses its own picture and no other, and gets it back", async () => {
    const given = await illustrated();
    const applied = (await WRITES["a page written over, with its picture"]!.write(given)) as Applied;
    expect(pictures(given)).toEqual(["my copy", "my own", "new", "placed"]);
    await given.host.undo(applied);
    expect(pictures(given)).toEqual(["former", "my copy", "my own", "placed"]);
  });

  test("undoing a chart takes that chart, on a sheet that got another name since, too", async () => {
    const given = await illustrated();
    const applied = (await WRITES["a chart placed in the sheet"]!.write(given)) as Applied;
    const { workbook } = given.excel;
    workbook.sheets.set("Mine", workbook.sheets.get("Page")!);
    workbook.sheets.delete("Page");
    workbook.pictures = workbook.pictures.map((picture) => ({ ...picture, sheet: "Mine" }));
    await given.host.undo(applied);
    expect(pictures(given)).toEqual(["former", "my copy", "my own", "placed"]);
  });

  test("a new page on which a person placed a picture is not taken away", async () => {
    const given = await filled();
    const applied = await given.host.apply([{ kind: "addSheet", sheet: "Page" }, { ...PICTURE, of: "report", sheet: "Page", row: 5, column: 0, altText: "ours" }], { label: "Page" });
    given.excel.workbook.pictures.push({ sheet: "Page", base64: "AA==", name: "Picture 1", altText: "my own" });
    await expect(given.host.undo(applied)).rejects.toThrow("something was added to the sheet Page since");
    expect(pictures(given)).toEqual(["my own", "ours"]);
  });
});

test("the fake refuses what it is told to", async () => {
  const { excel, host } = start();
  excel.failAt = { sync: 1, code: "GeneralException" };
  await expect(host.sheets()).rejects.toThrow("GeneralException");
});
