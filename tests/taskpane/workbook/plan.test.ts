import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { createWorkbookModel } from "../../../taskpane/workbook/createWorkbookModel.ts";
import { matchPlanned } from "../../../taskpane/workbook/matchPlanned.ts";
import { PLAN_ORDERS, plannedSteps, planSteps, type PlannedTest, type PlanRequest } from "../../../taskpane/workbook/plan.ts";
import { TRIAL_COLUMNS } from "../../../taskpane/workbook/sheets.ts";
import type { TrialDraft } from "../../../taskpane/workbook/WorkbookModel.ts";
import { createOfficeHost } from "../../../taskpane/host/createOfficeHost.ts";
import { FakeExcel } from "../../support/fakeExcel.ts";
import { MemoryHost } from "../../support/memoryHost.ts";

const jump: PlannedTest = { test: "CMJ", arms: "hips", trials: 2, rest: 60 };
const drop: PlannedTest = { test: "DJ", dropHeights: [0.4, 0.2, 0.3], trials: 1, rest: 90 };
const request = (more: Partial<PlanRequest> = {}): PlanRequest => ({ date: "2026-03-14", athletes: [{ name: "Ada Example" }, { name: "Bo Example", mass: 80 }], tests: [jump], order: "person", ...more });
const said = (more: Partial<PlanRequest>): string[] => planSteps(request(more)).map(({ athlete, protocol, trial }) => `${athlete.slice(0, 3).trim()} ${protocol.test}${protocol.limb === undefined ? "" : ` ${protocol.limb}`}${protocol.dropHeight === undefined ? "" : ` ${protocol.dropHeight}`} ${trial}`);
const at = (name: (typeof TRIAL_COLUMNS)[number]): number => TRIAL_COLUMNS.indexOf(name);
const draft = (hash: string, more: Partial<TrialDraft> = {}): TrialDraft => ({
  athlete: "Ada Example",
  date: "2026-03-14",
  protocol: { test: "CMJ" },
  file: "ada.csv",
  startInFile: 0,
  hash,
  trace: { rate: 1000, plates: [{ role: "total", force: new Float64Array(64).fill(700) }], start: 0, step: 0, rounding: 0 },
  ...more,
});

describe("planSteps", () => {
  test("goes person by person, test by test, or trial by trial", () => {
    expect(said({ order: "person" })).toEqual(["Ada CMJ 1", "Ada CMJ 2", "Bo CMJ 1", "Bo CMJ 2"]);
    expect(said({ order: "test", tests: [jump, { ...jump, test: "SJ", trials: 1 }] })).toEqual(["Ada CMJ 1", "Ada CMJ 2", "Bo CMJ 1", "Bo CMJ 2", "Ada SJ 1", "Bo SJ 1"]);
    expect(said({ order: "trial" })).toEqual(["Ada CMJ 1", "Bo CMJ 1", "Ada CMJ 2", "Bo CMJ 2"]);
  });

  test("goes from low boxes to high ones, however they were typed", () => {
    expect(said({ tests: [drop], athletes: [{ name: "Ada Example" }] })).toEqual(["Ada DJ 0.2 1", "Ada DJ 0.3 1", "Ada DJ 0.4 1"]);
    expect(said({ tests: [drop], order: "trial" })).toEqual(["Ada DJ 0.2 1", "Bo DJ 0.2 1", "Ada DJ 0.3 1", "Bo DJ 0.3 1", "Ada DJ 0.4 1", "Bo DJ 0.4 1"]);
  });

  test("lets every second person begin with the right leg", () => {
    expect(said({ tests: [{ ...jump, limb: "each", trials: 1 }] })).toEqual(["Ada CMJ left 1", "Ada CMJ right 1", "Bo CMJ right 1", "Bo CMJ left 1"]);
    expect(said({ tests: [{ ...jump, limb: "each", trials: 1 }], order: "trial" })).toEqual(["Ada CMJ left 1", "Bo CMJ right 1", "Ada CMJ right 1", "Bo CMJ left 1"]);
  });

  test("has the same trials whatever their order, and never a higher box before a lower one for a person", () => {
    const tests = fc.array(fc.record({ test: fc.constantFrom("CMJ", "DJ", "IMTP"), limb: fc.constantFrom(undefined, "both", "each"), dropHeights: fc.uniqueArray(fc.constantFrom(0.2, 0.3, 0.45), { minLength: 1 }), loads: fc.uniqueArray(fc.constantFrom(0, 20, 40)), trials: fc.integer({ min: 1, max: 3 }), rest: fc.constant(30) }), { minLength: 1, maxLength: 3 });
    fc.assert(
      fc.property(tests, fc.integer({ min: 1, max: 4 }), (planned, people) => {
        const athletes = Array.from({ length: people }, (_, index) => ({ name: `P${index}` }));
        const orders = PLAN_ORDERS.map((order) => planSteps({ date: "", athletes, tests: planned as PlannedTest[], order }));
        const sorted = orders.map((steps) => steps.map((step) => JSON.stringify(step)).sort());
        expect(sorted[1]).toEqual(sorted[0]);
        expect(sorted[2]).toEqual(sorted[0]);
        if (planned.length === 1) {
          for (const steps of orders) {
            for (const { name } of athletes) {
              const heights = steps.filter((step) => step.athlete === name).map((step) => step.protocol.dropHeight ?? 0);
              expect(heights).toEqual([...heights].sort((a, b) => a - b));
            }
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  test.each<[string, Partial<PlanRequest>, string]>([
    ["nobody", { athletes: [] }, "name or code of each athlete"],
    ["a name twice", { athletes: [{ name: "Ada" }, { name: "ada" }] }, "stands twice"],
    ["no test", { tests: [] }, "requires a test"],
    ["a drop jump without a height", { tests: [{ test: "DJ", trials: 1, rest: 0 }] }, "requires a drop height"],
    ["a box of three metres", { tests: [{ ...drop, dropHeights: [3] }] }, "up to 1.5 m"],
    ["no trials", { tests: [{ ...jump, trials: 0 }] }, "1 to 20 trials"],
    ["more than a day holds", { athletes: Array.from({ length: 500 }, (_, index) => ({ name: `P${index}` })), tests: [{ ...jump, trials: 5 }] }, "at most 2000 trials: this one has 2500"],
  ])("refuses %s", (_, more, sentence) => {
    expect(() => planSteps(request(more))).toThrow(sentence);
  });
});

describe("addPlan", () => {
  test("writes the plan, a blank trial row each, and the names that Athletes lacks, as one step", async () => {
    const host = new MemoryHost();
    const workbook = createWorkbookModel(host);
    const applied = await workbook.addPlan(planSteps(request({ tests: [jump, drop] })));
    expect(host.batches).toHaveLength(1);
    expect(host.cell("Trials", 1, at("athlete")).value).toBe("Ada Example");
    expect(host.cell("Trials", 3, at("drop height")).value).toBe(0.2);
    expect(host.cell("Trials", 1, at("protocol")).formula).toBe("=LEAP.PROTOCOL(C2,D2,E2,F2,G2)");
    expect(host.cell("Trials", 1, at("trace 1")).value).toBe("");
    // A row in Results comes with the trace: nothing there can show an error before.
    expect(host.cell("Results", 1, 0)).toEqual({ value: "", formula: "" });
    expect(await workbook.trials()).toEqual([]);
    expect((await workbook.athletes()).map(({ name }) => name)).toEqual(["Ada Example", "Bo Example"]);
    expect(await plannedSteps(host)).toEqual(planSteps(request({ tests: [jump, drop], athletes: [{ name: "Ada Example" }, { name: "Bo Example" }] })));
    await workbook.undo(applied);
    expect(await host.sheets()).toEqual([]);
  });

  test("goes on below what is there, and takes blank lines of Athletes first", async () => {
    const host = new MemoryHost();
    const workbook = createWorkbookModel(host);
    await workbook.addTrials([draft("aa")]);
    await workbook.addPlan(planSteps(request({ tests: [{ ...jump, trials: 1 }] })));
    await workbook.addPlan(planSteps(request({ tests: [{ ...jump, test: "SJ", trials: 1 }] })));
    expect((await workbook.planned()).map(({ row, athlete, protocol, mass }) => [row, athlete, protocol.test, mass])).toEqual([[2, "Ada Example", "CMJ", undefined], [3, "Bo Example", "CMJ", 80], [4, "Ada Example", "SJ", undefined], [5, "Bo Example", "SJ", 80]]);
    expect([1, 2, 3, 4].map((row) => host.cell("Plan", row, 1).value)).toEqual([1, 2, 3, 4]);
    expect([1, 2, 3].map((row) => host.cell("Athletes", row, 0).value)).toEqual(["Ada Example", "Bo Example", ""]);
  });

  test("refuses, changing nothing, where a foreign sheet has the name", async () => {
    const host = new MemoryHost();
    await host.apply([{ kind: "addSheet", sheet: "plan" }], { label: "a person's own sheet" });
    await expect(createWorkbookModel(host).addPlan(planSteps(request()))).rejects.toThrow("a sheet named Plan exists");
    expect(await host.sheets()).toEqual(["plan"]);
  });
});

describe("addTrials into planned rows", () => {
  test("fills the row it was shown for, keeps what the plan and a person wrote there, and adds a row of Results", async () => {
    const host = new MemoryHost();
    const workbook = createWorkbookModel(host);
    await workbook.addPlan(planSteps(request({ tests: [drop] })));
    host.setResult("Trials", 2, at("reason"), "shoes off");
    const drafts = [draft("aa", { protocol: { test: "DJ", dropHeight: 0.3 } }), draft("bb")];
    const matches = matchPlanned(drafts, await workbook.planned());
    expect(matches.map((match) => match?.row)).toEqual([2, undefined]);
    const receipt = await workbook.addTrials(drafts.map((each, index) => (matches[index] === undefined ? each : { ...each, fills: matches[index].row })));
    expect(receipt.written).toBe(2);
    expect(host.cell("Trials", 2, at("hash")).value).toBe("aa");
    expect(host.cell("Trials", 2, at("drop height")).value).toBe(0.3);
    expect(host.cell("Trials", 2, at("reason")).value).toBe("shoes off");
    // Six planned rows stand in rows 1 to 6; the trial nobody planned comes below.
    expect(host.cell("Trials", 7, at("hash")).value).toBe("bb");
    expect(host.cell("Results", 1, 0).formula).toBe('=Trials!$A3&""');
    expect(host.cell("Results", 2, 0).formula).toBe('=Trials!$A8&""');
    expect(await workbook.resultCell("aa@0.0000")).toMatchObject({ row: 1 });
    expect((await workbook.planned()).map(({ row }) => row)).toEqual([1, 3, 4, 5, 6]);
    await workbook.undo(receipt.applied!);
    expect(await workbook.planned()).toHaveLength(6);
  });

  test("refuses, changing nothing, where the planned row is another's by now, filled, or named twice", async () => {
    const host = new MemoryHost();
    const workbook = createWorkbookModel(host);
    await workbook.addPlan(planSteps(request({ tests: [{ ...jump, trials: 1 }] })));
    const before = host.batches.length;
    // Row 2 waits for Bo Example.
    await expect(workbook.addTrials([draft("aa", { fills: 2 })])).rejects.toThrow("changed since the match was shown");
    await expect(workbook.addTrials([draft("aa", { fills: 1 }), draft("bb", { fills: 1 })])).rejects.toThrow("changed since the match was shown");
    expect(host.batches).toHaveLength(before);
    await workbook.addTrials([draft("aa", { fills: 1 })]);
    await expect(workbook.addTrials([draft("bb", { fills: 1 })])).rejects.toThrow("changed since the match was shown");
  });
});

describe("planned", () => {
  test("leaves rows out that hold a trace without a hash, and reads no trace of the others", async () => {
    const host = new MemoryHost();
    const workbook = createWorkbookModel(host);
    await workbook.addTrials([draft("aa"), draft("bb")]);
    await workbook.addPlan(planSteps(request({ tests: [jump] })));
    // By hand into the second of four planned rows (rows 3 to 6).
    host.setResult("Trials", 4, at("trace 1"), "LEAPT1 flight=0.5 source=mat");
    const read: string[] = [];
    const reading = host.read.bind(host);
    host.read = (ranges) => {
      for (const { sheet, row, column, rows, columns } of ranges) if (sheet === "Trials" && column + columns > at("trace 1")) read.push(`${row}+${rows}`);
      return reading(ranges);
    };
    expect((await workbook.planned()).map(({ row }) => row)).toEqual([3, 5, 6]);
    expect(read).toEqual(["3+4"]);
  });
});

describe("a plan in Excel", () => {
  test("is written, filled and taken back as in the embedded sheet", async () => {
    const excel = new FakeExcel();
    const host = createOfficeHost({ run: excel.run as unknown as typeof Excel.run });
    const workbook = createWorkbookModel(host);
    await workbook.addPlan(planSteps(request({ tests: [drop] })));
    await workbook.addPlan(planSteps(request({ tests: [{ ...jump, trials: 1 }], athletes: [{ name: "Cy Example" }] })));
    expect((await workbook.planned()).map(({ row, athlete, protocol }) => [row, athlete, protocol.dropHeight])).toEqual([
      [1, "Ada Example", 0.2], [2, "Ada Example", 0.3], [3, "Ada Example", 0.4], [4, "Bo Example", 0.2], [5, "Bo Example", 0.3], [6, "Bo Example", 0.4], [7, "Cy Example", undefined],
    ]);
    expect((await workbook.athletes()).map(({ name }) => name)).toEqual(["Ada Example", "Bo Example", "Cy Example"]);
    const receipt = await workbook.addTrials([draft("aa", { protocol: { test: "DJ" }, fills: 1 }), draft("bb", { athlete: "Cy Example", fills: 7 })]);
    expect((await workbook.trials()).map(({ row, key }) => [row, key])).toEqual([[1, "aa@0.0000"], [7, "bb@0.0000"]]);
    expect(await workbook.planned()).toHaveLength(5);
    await workbook.undo(receipt.applied!);
    expect(await workbook.planned()).toHaveLength(7);
    expect(await plannedSteps(host)).toHaveLength(7);
  });
});
