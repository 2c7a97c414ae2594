import { describe, expect, test } from "vitest";
import { packTrace } from "../../../src/trace/packTrace.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import { analysisFrom } from "../../../functions/runtime/analyses.ts";
import type { CellExplanation, ExplainedCall } from "../../../taskpane/explain/explainCell.ts";
import { explainMetric } from "../../../taskpane/explain/explainMetric.ts";
import { explanationParts } from "../../../taskpane/explain/explanationParts.ts";
import { explanationText } from "../../../taskpane/explain/explanationText.ts";

const { trace } = syntheticTrial({ test: "CMJ", seed: 5, mass: 70, height: 0.34, faults: { noise: 0.8 } });
const analysis = analysisFrom([packTrace(trace)], "CMJ arms=hips", undefined, undefined, undefined);
const call = { index: 0, name: "METRIC", start: 1, end: 20, depth: 0, args: [] };
const one: ExplainedCall = { call, analysis, metricNames: ["jumpHeight cm"], chosen: 0 };
const cell = { sheet: "Results", row: 1, column: 5 };
const explanation: CellExplanation = { cell, anchor: cell, formula: "=LEAP.METRIC(A1,B1,C1)", parts: [], calls: [one], value: 34, calculated: true };

describe("explanationParts", () => {
  const metric = explainMetric(analysis, "jumpHeight cm");
  const parts = explanationParts(explanation, one, metric);

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

  test("ends with the cautions and with what it was made from", () => {
    expect(parts.at(-2)!.heading).toBe("Cautions");
    expect(parts.at(-1)!.lines[0]).toContain(analysis.settings.digest);
  });

  // Law: text and picture are made from the same parts.
  test("is what the plain text says, part by part", () => {
    const text = explanationText(explanation, one, metric);
    for (const { lines } of parts) for (const line of lines) expect(text).toContain(line.trim());
  });

  test("says a cell in error and a metric that is missing", () => {
    const missing = explanationParts({ ...explanation, value: { error: "#N/A", message: "contact time requires a drop jump" } }, one, explainMetric(analysis, "contactTime"));
    const errors = missing.filter(({ kind }) => kind === "error").flatMap(({ lines }) => lines);
    expect(errors[0]).toBe("#N/A Contact time requires a drop jump");
    expect(errors[1]).toMatch(/^Not given by this trace: /);
    expect(missing.some(({ kind }) => kind === "working")).toBe(false);
  });
});
