import type { UnitChoice } from "../pane/withUnits.ts";
import { explanationParts, type ExplanationPart } from "./explanationParts.ts";
import type { CellExplanation, ExplainedCall } from "./explainCell.ts";
import type { MetricExplanation } from "./explainMetric.ts";

/** An explanation as plain text, for a report or a question to a colleague. */
export function explanationText(explanation: CellExplanation, one: ExplainedCall, units: UnitChoice, metric?: MetricExplanation): string {
  const blocks = explanationParts(explanation, one, units, metric).map(({ kind, heading, lines }) => [...(heading === undefined ? [] : [`${heading}:`]), ...lines.map((line) => indented(kind, line))].join("\n"));
  return `${blocks.join("\n\n").trim()}\n`;
}

function indented(kind: ExplanationPart["kind"], line: string): string {
  return kind === "list" || kind === "working" ? `  ${line.replace("\t", "  ")}` : line;
}
