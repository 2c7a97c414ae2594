import { describe, expect, test } from "vitest";
import { FUNCTIONS } from "../../../functions/index.ts";
import { forgetCalls } from "../../../functions/runtime/callRecord.ts";
import { packTrace } from "../../../src/trace/packTrace.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import { explainCell } from "../../../taskpane/explain/explainCell.ts";
import { explainMetric } from "../../../taskpane/explain/explainMetric.ts";
import { explanationText } from "../../../taskpane/explain/explanationText.ts";
import type { CellRef, RangeRef, SheetHost } from "../../../taskpane/host/SheetHost.ts";
import { SI } from "../../../taskpane/pane/shownUnits.ts";

const { trace, truth } = syntheticTrial({ test: "CMJ", seed: 3, mass: 72, height: 0.34 });
const packed = packTrace(trace);
const NAMES = ["verdict", "jumpHeight cm", "peakForceLeftRelative", "rsi"];

/** A sheet with one formula in A1 that spills over four cells; `calculate` runs its calls as a host would. */
function sheetWith(formula: string, calculate: (address: string) => void): SheetHost & { calculations: number } {
  const host = {
    calculations: 0,
    spillAnchor: async (cell: CellRef) => ({ ...cell, column: 0 }),
    read: async (ranges: readonly RangeRef[]) => ranges.map((ref) => ({ ref, values: [[ref.column === 3 ? { error: "#N/A", message: "no contact" } : 1]], formulas: [[ref.column === 0 ? formula : ""]] })),
    recalculate: async () => {
      host.calculations++;
      calculate("S!A1");
    },
    settled: async () => undefined,
  };
  return host as unknown as SheetHost & { calculations: number };
}

const metric = (address: string): void => void FUNCTIONS.get("METRIC")!([packed], "CMJ", [NAMES], null, null, null, { address });
const cell = (column: number): CellRef => ({ sheet: "S", row: 0, column });
const FORMULA = '=LEAP.METRIC(B2:E2,"CMJ",G1:J1)';

describe("explainCell", () => {
  test("calculates a cell that has no record yet, once, and explains the metric of its column", async () => {
    forgetCalls("S!A1");
    const host = sheetWith(FORMULA, metric);
    const explanation = (await explainCell(host, cell(1)))!;
    expect(host.calculations).toBe(1);
    expect(explanation.anchor.column).toBe(0);
    const [one] = explanation.calls;
    expect(one.metricNames[one.chosen]).toBe("jumpHeight cm");
    await explainCell(host, cell(2));
    expect(host.calculations).toBe(1);
  });

  test("chooses no metric for the column of the verdict, and keeps the sentence of an error", async () => {
    const host = sheetWith(FORMULA, metric);
    expect((await explainCell(host, cell(0)))!.calls[0].chosen).toBe(-1);
    expect((await explainCell(host, cell(3)))!.value).toEqual({ error: "#N/A", message: "no contact" });
  });

  test("gives nothing for a cell without a LEAP formula", async () => {
    expect(await explainCell(sheetWith("=SUM(A1:A3)", () => undefined), cell(0))).toBeUndefined();
  });

  test("says that a cell which stays without a record was not calculated", async () => {
    forgetCalls("S!A1");
    const explanation = (await explainCell(sheetWith(FORMULA, () => undefined), cell(1)))!;
    expect(explanation.calculated).toBe(false);
  });
});

describe("explainMetric", () => {
  const analysis = async () => (await explainCell(sheetWith(FORMULA, metric), cell(1)))!.calls[0].analysis!;

  // The synthetic trial is made with a jump height of 0.34 m (exact truth of the generator).
  test("gives the value in the unit that the name asks for, its uncertainty and budget with it", async () => {
    const made = await analysis();
    const si = explainMetric(made, "jumpHeight").value!;
    const cm = explainMetric(made, "jumpHeight cm").value!;
    expect(Math.abs(si.value - truth.jumpHeightTakeoffVelocity)).toBeLessThan(0.0015);
    expect(cm.value).toBeCloseTo(100 * si.value, 10);
    expect(cm.u).toBeCloseTo(100 * si.u!, 10);
    // Law: the parts of a budget add up to the whole in squares (JCGM 100:2008, 5.1.2).
    expect(Math.hypot(...cm.budget!.map((part) => part.u))).toBeCloseTo(cm.u!, 8);
  });

  test("ends the working with the step that gives the value", async () => {
    const { steps, value } = explainMetric(await analysis(), "jumpHeight");
    expect(steps.at(-1)!.gives).toBe("jumpHeight");
    expect(steps.at(-1)!.value).toBeCloseTo(value!.value, 12);
    expect(steps.map((step) => step.gives)).toContain("bodyWeight");
  });

  test("shows what a form is made of", async () => {
    const { steps, value } = explainMetric(await analysis(), "peakForceLeftRelative");
    expect(steps.map((step) => step.gives)).toEqual(expect.arrayContaining(["bodyMass", "peakForceLeft"]));
    expect(value!.unit).toBe("N/kg");
  });

  test("says why a metric is missing and shows no working for it", async () => {
    const { missing, steps } = explainMetric(await analysis(), "rsi");
    expect(missing).toMatch(/rsi requires|requires/);
    expect(steps).toEqual([]);
  });
});

describe("explanationText", () => {
  test("holds the cell, the formula, the working, the sources and the cautions", async () => {
    const explanation = (await explainCell(sheetWith(FORMULA, metric), cell(1)))!;
    const [one] = explanation.calls;
    const text = explanationText(explanation, one, SI, explainMetric(one.analysis!, "jumpHeight cm"));
    expect(text).toContain(FORMULA);
    expect(text).toContain("v_TO^2 / (2 g)");
    expect(text).toContain("Linthorne");
    expect(text).toContain("not a diagnosis");
  });
});
