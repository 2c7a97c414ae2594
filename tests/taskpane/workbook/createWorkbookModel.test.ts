import { describe, expect, test } from "vitest";
import { createWorkbookModel } from "../../../taskpane/workbook/createWorkbookModel.ts";
import { DEFAULT_RESULT_NAMES, TRIAL_COLUMNS } from "../../../taskpane/workbook/sheets.ts";
import type { TrialDraft } from "../../../taskpane/workbook/WorkbookModel.ts";
import { MemoryHost } from "../../support/memoryHost.ts";

const draft = (hash: string, more: Partial<TrialDraft> = {}): TrialDraft => ({
  athlete: "Ada Example",
  date: "2026-03-14",
  protocol: { test: "CMJ", arms: "hips" },
  file: "ada.csv",
  startInFile: 1.25,
  hash,
  trace: { rate: 1000, plates: [{ role: "total", force: new Float64Array(64).fill(700) }], start: 1.25, step: 0, rounding: 0 },
  ...more,
});
const at = (name: (typeof TRIAL_COLUMNS)[number]) => TRIAL_COLUMNS.indexOf(name);

describe("addTrials", () => {
  test("writes one Trials row and one Results formula row for each trial, as one step", async () => {
    const host = new MemoryHost();
    const receipt = await createWorkbookModel(host).addTrials([draft("aa"), draft("bb")]);
    expect(receipt.written).toBe(2);
    expect(host.batches).toHaveLength(1);
    expect(host.cell("Trials", 1, at("athlete")).value).toBe("Ada Example");
    // 14 March 2026 is day 46095 of the 1900 date system (2026-01-01 is 46023; by hand).
    expect(host.cell("Trials", 1, at("date")).value).toBe(46095);
    expect(host.cell("Trials", 2, at("protocol")).formula).toBe("=LEAP.PROTOCOL(C3,D3,E3,F3,G3)");
    expect(host.cell("Results", 2, 4).formula).toBe('=LEAP.METRIC(Trials!$Q3:$T3,Trials!$I3,Results!$E$1:$S$1,LeapSettings,IF(Trials!$H3>0,"mass="&Trials!$H3&"; ","")&Trials!$J3)');
    expect(host.cell("Results", 0, 4).value).toBe("verdict");
    expect(await host.definedName("LeapResults")).toMatchObject({ sheet: "Results", column: 4, columns: DEFAULT_RESULT_NAMES.length });
    expect(await host.definedName("LeapSettings")).toMatchObject({ sheet: "Settings", columns: 2 });
  });

  test("leaves a trial alone that is already there, and says so", async () => {
    const host = new MemoryHost();
    const workbook = createWorkbookModel(host);
    await workbook.addTrials([draft("aa")]);
    const receipt = await workbook.addTrials([draft("aa"), draft("cc"), draft("cc")]);
    expect(receipt.written).toBe(1);
    expect(receipt.duplicates.map((duplicate) => duplicate.hash)).toEqual(["aa", "cc"]);
    expect((await workbook.trials()).map((row) => row.key)).toEqual(["aa@1.2500", "cc@1.2500"]);
  });

  test("appends below what is there, in the order the columns have now", async () => {
    const host = new MemoryHost();
    const workbook = createWorkbookModel(host);
    await workbook.addTrials([draft("aa")]);
    const [a, b] = [host.cell("Trials", 0, 0).value, host.cell("Trials", 0, 1).value];
    host.setResult("Trials", 0, 0, b);
    host.setResult("Trials", 0, 1, a);
    await workbook.addTrials([draft("bb", { athlete: "Bo Example" })]);
    expect(host.cell("Trials", 2, 1).value).toBe("Bo Example");
    expect(host.cell("Results", 2, 0).formula).toBe('=Trials!$B3&""');
  });

  test("writes text that looks like a formula as text", async () => {
    const host = new MemoryHost();
    await createWorkbookModel(host).addTrials([draft("aa", { athlete: "=1+1", file: "@sum.csv" })]);
    expect(host.cell("Trials", 1, at("athlete"))).toEqual({ value: "=1+1", formula: "" });
    expect(host.cell("Trials", 1, at("file"))).toEqual({ value: "@sum.csv", formula: "" });
  });

  test("can be undone in one step", async () => {
    const host = new MemoryHost();
    const workbook = createWorkbookModel(host);
    const receipt = await workbook.addTrials([draft("aa")]);
    await workbook.undo(receipt.applied!);
    expect(await host.sheets()).toEqual([]);
  });

  test("refuses, changing nothing, where a foreign sheet has the name", async () => {
    const host = new MemoryHost();
    await host.apply([{ kind: "addSheet", sheet: "Results" }], { label: "a person's own sheet" });
    await expect(createWorkbookModel(host).addTrials([draft("aa")])).rejects.toThrow("a sheet named Results exists");
    expect(await host.sheets()).toEqual(["Results"]);
  });

  test("says which column of Trials is missing", async () => {
    const host = new MemoryHost();
    const workbook = createWorkbookModel(host);
    await workbook.addTrials([draft("aa")]);
    host.setResult("Trials", 0, at("keep"), "mine");
    await expect(workbook.trials()).rejects.toThrow('no column named "keep"');
  });
});

describe("trials and settings", () => {
  test("keeps and leaves out by key, with the reason", async () => {
    const host = new MemoryHost();
    const workbook = createWorkbookModel(host);
    await workbook.addTrials([draft("aa"), draft("bb")]);
    await workbook.setKeep("bb@1.2500", "leave out", "stepped off");
    expect((await workbook.trials())[1]).toMatchObject({ keep: "leave out", reason: "stepped off" });
    await workbook.setKeep("bb@1.2500", "", "");
    expect((await workbook.trials())[1]).toMatchObject({ keep: "", reason: "" });
  });

  test("finds the Results cell of a trial through the reference in its formula", async () => {
    const workbook = createWorkbookModel(new MemoryHost());
    await workbook.addTrials([draft("aa"), draft("bb")]);
    expect(await workbook.resultCell("bb@1.2500")).toEqual({ sheet: "Results", row: 2, column: 4 });
  });

  test("reads the verdicts that Results shows, by the row of the trial that each formula reads", async () => {
    const host = new MemoryHost();
    const workbook = createWorkbookModel(host);
    expect(await workbook.verdicts()).toEqual(new Map());
    await workbook.addTrials([draft("aa"), draft("bb"), draft("cc"), draft("dd")]);
    host.setResult("Results", 1, 4, "look");
    host.setResult("Results", 2, 4, "leave out");
    host.setResult("Results", 3, 4, { error: "#VALUE!" });
    host.setResult("Results", 4, 4, "keep");
    expect(await workbook.verdicts()).toEqual(new Map([[1, "look"], [2, "leave out"], [4, "keep"]]));
    host.setResult("Results", 0, 4, "jumpHeight");
    expect(await workbook.verdicts()).toEqual(new Map());
  });

  test("changes a setting on the sheet and refuses a wrong one before writing", async () => {
    const host = new MemoryHost();
    const workbook = createWorkbookModel(host);
    await workbook.ensure();
    await workbook.setSetting("take-off-threshold", 10);
    expect((await workbook.settings()).values["take-off-threshold"]).toBe(10);
    const before = host.batches.length;
    await expect(workbook.setSetting("take-off-threshold", -3)).rejects.toThrow();
    expect(host.batches).toHaveLength(before);
  });

  test("rewrites the formulas when the columns of Results change", async () => {
    const host = new MemoryHost();
    const workbook = createWorkbookModel(host);
    await workbook.addTrials([draft("aa")]);
    await workbook.setResultNames(["jumpHeight cm", "peakForce"]);
    expect(await workbook.resultNames()).toEqual(["verdict", "jumpHeight cm", "peakForce"]);
    expect(host.cell("Results", 1, 4).formula).toContain("Results!$E$1:$G$1");
    expect(host.cell("Results", 0, 7).value).toBe("");
  });
});
