import { fullReference } from "../../src/catalogue/references.ts";
import { cautions, resultCautions } from "../../src/wording/cautions.ts";
import { fullCellName } from "../pane/cellName.ts";
import { formatValue, formatWorking } from "../pane/format.ts";
import { placeName } from "../pane/placeName.ts";
import { metricName } from "../pane/texts.ts";
import { words } from "../pane/words.ts";
import type { CellExplanation, ExplainedCall } from "./explainCell.ts";
import type { MetricExplanation } from "./explainMetric.ts";

/** An explanation as plain text, for a report or a question to a colleague. */
export function explanationText(explanation: CellExplanation, one: ExplainedCall, metric?: MetricExplanation): string {
  const lines = [fullCellName(explanation.cell), explanation.formula, ""];
  if (typeof explanation.value === "object") lines.push(`${explanation.value.error} ${explanation.value.message ?? ""}`, "");
  if (metric !== undefined) {
    const { value } = metric;
    lines.push(metricName(metric.metric.id));
    if (value !== undefined) lines.push(`${formatValue(value.value, value.unit, value.u)}${value.u === undefined ? "" : ` ± ${formatValue(value.u, value.unit, value.u)} (${words.explain.standardUncertainty.toLocaleLowerCase()})`}`);
    if (metric.missing !== undefined) lines.push(`${words.explain.missing}: ${metric.missing}`);
    lines.push(metric.metric.base.definition, "");
    if (metric.steps.length > 0) lines.push(`${words.explain.working}:`);
    for (const step of metric.steps) {
      const inputs = step.inputs.map((input) => `${input.symbol} = ${formatWorking(input.value, input.unit)}`).join(", ");
      lines.push(`  ${placeName(step.gives)} = ${step.formula} = ${formatWorking(step.value, step.unit)}${inputs === "" ? "" : ` (${inputs})`}`);
    }
    lines.push("", `${words.explain.watchFor}:`, ...metric.metric.base.watchFor.map((text) => `  ${text}`));
    lines.push("", `${words.explain.sources}:`, ...metric.metric.base.sources.map((key) => `  ${fullReference(key)}`));
  }
  if (one.analysis !== undefined) {
    const fired = one.analysis.findings.filter((finding) => finding.action !== "not checked");
    if (fired.length > 0) lines.push("", `${words.explain.findings}:`, ...fired.map((finding) => `  ${finding.message}`));
  }
  lines.push("", `${words.explain.cautions}:`, ...[...resultCautions(), ...cautions(one.analysis?.protocol.test)].map((text) => `  ${text}`));
  return `${lines.join("\n").trim()}\n`;
}
