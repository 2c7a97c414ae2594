import { fullReference } from "../../src/catalogue/references.ts";
import { formatProtocol } from "../../src/protocols/formatProtocol.ts";
import type { Step } from "../../src/protocols/Analysis.ts";
import { VERSION } from "../../src/version.ts";
import { cautions, resultCautions } from "../../src/wording/cautions.ts";
import { inLanguage } from "../../src/wording/inLanguage.ts";
import { metricExplanation } from "../../src/wording/explainMetric.ts";
import { uncertaintySource } from "../../src/wording/uncertaintySource.ts";
import { fullCellName } from "../pane/cellName.ts";
import { decimalsFor, formatNumber, formatValue, formatWorking, prettyUnit } from "../pane/format.ts";
import { placeName } from "../pane/placeName.ts";
import { sentenceOf } from "../pane/sentenceOf.ts";
import { metricName } from "../pane/texts.ts";
import type { UnitChoice } from "../pane/withUnits.ts";
import { words } from "../pane/words.ts";
import type { CellExplanation, ExplainedCall } from "./explainCell.ts";
import type { MetricExplanation } from "./explainMetric.ts";
import { stepWithNumbers } from "./stepWithNumbers.ts";
import { unitNotes } from "./unitNotes.ts";

/** A stretch of an explanation: the text and the picture of it say the same. */
export interface ExplanationPart {
  readonly kind: "cell" | "formula" | "error" | "name" | "value" | "text" | "working" | "list" | "quiet";
  readonly heading?: string;
  readonly lines: readonly string[];
}

/** An explanation cut into parts, in the order in which they are read. */
export function explanationParts(explanation: CellExplanation, one: ExplainedCall, units: UnitChoice, metric?: MetricExplanation): readonly ExplanationPart[] {
  const { value: shown } = explanation;
  const parts: ExplanationPart[] = [
    { kind: "cell", lines: [fullCellName(explanation.cell)] },
    { kind: "formula", lines: [explanation.formula] },
  ];
  if (typeof shown === "object") parts.push({ kind: "error", lines: [`${shown.error} ${shown.message === undefined || shown.message === "" ? "" : sentenceOf(shown.message)}`.trim()] });
  if (metric === undefined && typeof shown !== "object" && shown !== "") parts.push({ kind: "value", lines: [typeof shown === "number" ? formatNumber(shown, 4) : String(shown)] });
  if (metric !== undefined) parts.push(...metricParts(metric, units));
  if (one.analysis !== undefined) {
    const fired = one.analysis.findings.filter((finding) => finding.action !== "not checked");
    if (fired.length > 0) parts.push({ kind: "list", heading: words.explain.findings, lines: fired.map((finding) => finding.message) });
  }
  if (metric !== undefined) {
    const { watchFor, assumptions } = metricExplanation(metric.metric);
    if (watchFor.length > 0) parts.push({ kind: "list", heading: words.explain.watchFor, lines: watchFor });
    if (assumptions.length > 0) parts.push({ kind: "list", heading: words.explain.assumptions, lines: assumptions });
    parts.push({ kind: "list", heading: words.explain.sources, lines: metric.metric.base.sources.map(fullReference) });
  }
  parts.push({ kind: "list", heading: words.explain.cautions, lines: [...resultCautions(), ...cautions(one.analysis?.protocol.test)] });
  const made = [words.pane.name, words.about.version(VERSION)];
  if (one.analysis !== undefined) made.push(formatProtocol(one.analysis.protocol), words.explain.settingsDigest(one.analysis.settings.digest));
  parts.push({ kind: "quiet", lines: [made.join(" \u00b7 ")] });
  return parts;
}

function metricParts(explanation: MetricExplanation, units: UnitChoice): readonly ExplanationPart[] {
  const { metric, value, missing, steps } = explanation;
  const notes = unitNotes(explanation, units);
  const { definition, forms } = metricExplanation(metric);
  const parts: ExplanationPart[] = [{ kind: "name", lines: [metricName(metric.id)] }];
  if (value !== undefined) parts.push({ kind: "value", lines: [`${formatValue(value.value, value.unit, value.u)}${value.u === undefined || value.u === 0 ? "" : ` \u00b1 ${formatValue(value.u, value.unit, value.u)}`}`] });
  if (notes.value !== undefined) parts.push({ kind: "quiet", lines: [notes.value] });
  if (missing !== undefined) parts.push({ kind: "error", lines: [`${words.explain.missing}: ${missing}`] });
  parts.push({ kind: "text", lines: [[definition, ...forms].join(" ")] });
  if (steps.length > 0) parts.push({ kind: "working", heading: words.explain.working, lines: steps.flatMap(stepLines) });
  if (notes.working !== undefined) parts.push({ kind: "quiet", lines: [notes.working] });
  if (value?.u !== undefined && value.u > 0) {
    const decimals = Math.min(decimalsFor(value.value, value.unit, value.u) + 1, 6);
    const budget = (value.budget ?? []).map((part) => `${uncertaintySource(part.source).name}: ${formatNumber(part.u, decimals)}\u00a0${prettyUnit(value.unit)}`);
    const whole = `${words.explain.standardUncertainty}: ${formatValue(value.u, value.unit, value.u)}. ${words.explain.coverage}`;
    parts.push({ kind: "text", heading: words.explain.uncertainty, lines: [whole, ...(budget.length > 0 ? [budget.join("; ")] : [])] });
  }
  return parts;
}

/** What a step gives, how, with which numbers; then where the numbers come from. */
function stepLines(step: Step): readonly string[] {
  const numbers = stepWithNumbers(step, (value) => formatWorking(value, ""));
  const sum = [placeName(step.gives), inLanguage(step.formula), ...(numbers === undefined ? [] : [numbers]), formatWorking(step.value, step.unit)].join(" = ");
  const inputs = step.inputs.map((input) => `${input.symbol} = ${formatWorking(input.value, input.unit)}${input.from === undefined ? "" : `, ${placeName(input.from).toLocaleLowerCase()}`}`);
  return inputs.length === 0 ? [sum] : [sum, `\t${inputs.join("; ")}`];
}
