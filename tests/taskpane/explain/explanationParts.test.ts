import { describe, expect, test } from "vitest";
import { packTrace } from "../../../src/trace/packTrace.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import { analysisFrom } from "../../../functions/runtime/analyses.ts";
import type { CellExplanation, ExplainedCall } from "../../../taskpane/explain/explainCell.ts";
import { explainMetric } from "../../../taskpane/explain/explainMetric.ts";
import { explanationParts } from "../../../taskpane/explain/explanationParts.ts";
import { explanationText } from "../../../taskpane/explain/explanationText.ts";
import { formatWorking } from "../../../taskpane/pane/format.ts";
import type { UnitChoice } from "../../../taskpane/pane/withUnits.ts";
import { SI } from "../../../taskpane/pane/shownUnits.ts";

const { trace } = syntheticTrial({ test: "CMJ", seed: 5, mass: 70, height: 0.34, faults: { noise: 0.8 } });
const analysis = analysisFrom([packTrace(trace)], "CMJ arms=hips", undefined, undefined, undefined);
const call = { index: 0, name: "METRIC", start: 1, end: 20, depth: 0, args: [] };
const one: ExplainedCall = { call, analysis, metricNames: ["jumpHeight cm"], chosen: 0 };
const cell = { sheet: "Results", row: 1, column: 5 };
const explanation: CellExplanation = { cell, anchor: cell, formula: "=LEAP.METRIC(A1,B1,C1)", parts: [], calls: [one], value: 34, calculated: true };

describe("explanationParts", () => {
  const metric = explainMetric(analysis, "jumpHeight cm");
  const parts = explanationParts(explanation, one, SI, metric);

  test("begins with the cell, its formula, the metric and the value with its uncertainty", () => {
    expect(parts.slice(0, 4).map(({ kind }) => kind)).toEqual(["cell", "formula", "name", "value"]);
    expect(parts[0].lines).toEqual(["Results!F2"]);
    expect(parts[3].lines[0]).toMatch(/^3[34]\.\d+\s*cm \u00b1 0\.\d+\s*cm$/);
  });

  test("holds each step with its numbers, and the parts of the uncertainty", () => {
    const working = parts.find(({ kind }) => kind === "working")!;
    expect(working.lines.filter((line) => !line.startsWith("\t"))).toHaveLength(metric.steps.length);
    const uncertainty = parts.find(({ heading }) => heading === "Uncertainty")!;
    for (const name of ["Threshold", "Body weight", "Noise"]) expect(uncertainty.lines.join(" ")).toContain(name);
  });

  // The number of the cell is the last step in another unit: 1 m is 100 cm.
  test("says that the working is in SI where the cell shows another unit, and with which number", () => {
    const last = metric.steps.at(-1)!;
    expect(metric.value!.value).toBeCloseTo(100 * last.value, 10);
    const [note] = parts[parts.findIndex(({ kind }) => kind === "working") + 1].lines;
    expect(note).toBe(`The working is in SI units; the cell shows ${formatWorking(last.value, "m")} as ${formatWorking(100 * last.value, "cm")}.`);
  });

  test("keeps the unit of the cell, and adds the value in the units of Results where they are others", () => {
    const bare = explainMetric(analysis, "jumpHeight");
    const notes = (units: UnitChoice, of = bare) => explanationParts(explanation, one, units, of).flatMap(({ kind, lines }) => (kind === "quiet" || kind === "value" ? lines : [])).slice(0, -1);
    expect(notes(SI)).toEqual([expect.stringMatching(/^0\.3\d+\u00a0m /)]);
    expect(notes({ ...SI, m: "cm" })).toEqual([expect.stringMatching(/^0\.3\d+\u00a0m /), expect.stringMatching(/^In the units of Results: 3[34]\.\d+\u00a0cm\.$/)]);
    // A cell that names a unit was asked for that one.
    expect(notes({ ...SI, m: "in" }, metric)[0]).toMatch(/cm/);
    expect(notes({ ...SI, m: "in" }, metric).join(" ")).not.toMatch(/Results/);
  });

  test("ends with the cautions and with what it was made from", () => {
    expect(parts.at(-2)!.heading).toBe("Cautions");
    expect(parts.at(-1)!.lines[0]).toContain(analysis.settings.digest);
  });

  // Law: text and picture are made from the same parts.
  test("is what the plain text says, part by part", () => {
    const text = explanationText(explanation, one, SI, metric);
    for (const { lines } of parts) for (const line of lines) expect(text).toContain(line.trim());
  });

  test("says a cell in error and a metric that is missing", () => {
    const missing = explanationParts({ ...explanation, value: { error: "#N/A", message: "contact time requires a drop jump" } }, one, SI, explainMetric(analysis, "contactTime"));
    const errors = missing.filter(({ kind }) => kind === "error").flatMap(({ lines }) => lines);
    expect(errors[0]).toBe("#N/A Contact time requires a drop jump");
    expect(errors[1]).toMatch(/^Not given by this trace: /);
    expect(missing.some(({ kind }) => kind === "working")).toBe(false);
  });
});
