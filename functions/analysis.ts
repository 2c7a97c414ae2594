import { METRICS } from "../src/catalogue/metrics.ts";
import { resolveMetricName } from "../src/catalogue/resolveMetricName.ts";
import { unitUnder } from "../src/catalogue/unitUnder.ts";
import { InputError } from "../src/errors.ts";
import type { Analysis, Step } from "../src/protocols/Analysis.ts";
import { formatAdjust } from "../src/protocols/formatAdjust.ts";
import { formatProtocol } from "../src/protocols/formatProtocol.ts";
import { readMetric } from "../src/protocols/readMetric.ts";
import { VERSION } from "../src/version.ts";
import { inLanguage } from "../src/wording/inLanguage.ts";
import { analysisFrom } from "./runtime/analyses.ts";
import { CellError } from "./runtime/CellError.ts";
import { cellErrorFrom } from "./runtime/cellErrorFrom.ts";
import { isGiven, optionalNumber, requiredText, rowsFrom, singleFrom, type Cell } from "./runtime/cells.ts";

/**
 * One metric of a trial, or a row of metrics for a row of names. A name may end in a unit, such as "jumpHeight cm", or in "u" for its standard uncertainty.
 * @customfunction METRIC
 * @param trace One to four trace cells, or columns of numbers (force; left, right; or time, left, right).
 * @param protocol Test or protocol text, such as "CMJ arms=hips".
 * @param metric Name or names of metrics; also "verdict", "findings", "protocol", "version", "settingsDigest".
 * @param [settings] Settings range, such as LeapSettings; the defaults when left out.
 * @param [adjust] This trial's own facts and moved events, such as "bodyWeight=589; onset=1.734".
 * @param [rate] Sampling rate, in Hz; needed only for numbers without a time column.
 * @returns Values in SI units, or in the unit that the name ends in; #N/A with the reason where the trace cannot give one.
 */
export function metric(trace: any[][], protocol: any, metric: any[][], settings?: any[][], adjust?: any, rate?: any): any[][] {
  let analysis: Analysis | CellError | undefined;
  const analysed = (): Analysis => {
    try {
      analysis ??= analysisFrom(trace, protocol, settings, adjust, rate);
    } catch (error) {
      analysis = cellErrorFrom(error);
    }
    if (analysis instanceof CellError) throw analysis;
    return analysis;
  };
  const names = rowsFrom(metric);
  return (names.length === 0 ? [[""]] : names).map((row) =>
    row.map((cell) => {
      if (!isGiven(cell) || (typeof cell === "string" && cell.trim() === "")) return "";
      try {
        return valueOf(analysed, requiredText(cell, "metric"));
      } catch (error) {
        return cellErrorFrom(error);
      }
    }),
  );
}

/** Facts of an analysis that are text, by their name in plain form. */
const TEXTS: Readonly<Record<string, (analysis: Analysis) => string>> = {
  verdict: ({ verdict }) => verdict,
  findings: findingsText,
  version: () => VERSION,
  settingsdigest: ({ settings }) => settings.digest,
  protocol: ({ protocol }) => formatProtocol(protocol),
  adjust: ({ adjust }) => formatAdjust(adjust),
};

function valueOf(analysed: () => Analysis, name: string): Cell {
  const plain = name.replace(/[\s_]/g, "").toLowerCase();
  if (Object.hasOwn(TEXTS, plain)) return TEXTS[plain](analysed());
  const uncertainty = /\s+u$/i.test(name);
  const resolved = resolveMetricName(uncertainty ? name.replace(/\s+u$/i, "") : name);
  const { value, u } = readMetric(analysed(), resolved);
  if (!uncertainty) return value * resolved.factor;
  if (u === undefined) throw new InputError("not-available", `the uncertainty of ${resolved.id} requires a budget, and there is none for it`);
  return u * Math.abs(resolved.factor);
}

function findingsText({ findings }: Analysis): string {
  return findings
    .filter(({ action }) => action !== "not checked")
    .map(({ rule, action, message }) => `${rule} (${action}): ${message}`)
    .join(" · ");
}

/**
 * All metrics of a trial as a table: metric, value, unit and standard uncertainty. What the trace cannot give stands as #N/A with the reason.
 * @customfunction ANALYSE
 * @param trace One to four trace cells, or columns of numbers.
 * @param protocol Test or protocol text, such as "CMJ arms=hips".
 * @param [settings] Settings range, such as LeapSettings; the defaults when left out.
 * @param [adjust] This trial's own facts and moved events.
 * @param [rate] Sampling rate, in Hz; needed only for numbers without a time column.
 * @returns Table with a head row.
 */
export function analyse(trace: any[][], protocol: any, settings?: any[][], adjust?: any, rate?: any): any[][] {
  const { metrics, missing, settings: used } = analysisFrom(trace, protocol, settings, adjust, rate);
  const rows: Cell[][] = [["metric", "value", "unit", "±"]];
  for (const { id: base } of METRICS) {
    for (const id of [base, `${base}Left`, `${base}Right`]) {
      const found = metrics.get(id);
      const reason = missing.get(id);
      if (found !== undefined) rows.push([id, found.value, found.unit, found.u ?? ""]);
      else if (reason !== undefined) rows.push([id, new CellError("#N/A", reason), unitUnder(resolveMetricName(base), used), ""]);
    }
  }
  return rows;
}

/**
 * Events of a trial as a table: name, time from the first sample, time in the recording, and whether a person moved it.
 * @customfunction EVENTS
 * @param trace One to four trace cells, or columns of numbers.
 * @param protocol Test or protocol text, such as "CMJ arms=hips".
 * @param [settings] Settings range, such as LeapSettings; the defaults when left out.
 * @param [adjust] This trial's own facts and moved events.
 * @param [rate] Sampling rate, in Hz; needed only for numbers without a time column.
 * @returns Table with a head row; times in s.
 */
export function events(trace: any[][], protocol: any, settings?: any[][], adjust?: any, rate?: any): any[][] {
  const { events: found, trace: read } = analysisFrom(trace, protocol, settings, adjust, rate);
  return [
    ["event", "time", "timeInRecording", "byHand"],
    ...[...found.values()].sort((a, b) => a.time - b.time).map(({ name, time, byHand }) => [name, time, time + read.start, byHand]),
  ];
}

/**
 * What the quality rules found in a trial, the most severe first; also the rules that could not be checked.
 * @customfunction FINDINGS
 * @param trace One to four trace cells, or columns of numbers.
 * @param protocol Test or protocol text, such as "CMJ arms=hips".
 * @param [settings] Settings range, such as LeapSettings; the defaults when left out.
 * @param [adjust] This trial's own facts and moved events.
 * @param [rate] Sampling rate, in Hz; needed only for numbers without a time column.
 * @returns Table with a head row: rule, action, what it removes, sentence.
 */
export function findings(trace: any[][], protocol: any, settings?: any[][], adjust?: any, rate?: any): any[][] {
  const { findings: found } = analysisFrom(trace, protocol, settings, adjust, rate);
  return [["rule", "action", "removes", "message"], ...found.map(({ rule, action, removes, message }) => [rule, action, removes.join(" "), message])];
}

/**
 * Whether to keep a trial, look at it, or leave it out, by the quality rules. The person decides.
 * @customfunction VERDICT
 * @param trace One to four trace cells, or columns of numbers.
 * @param protocol Test or protocol text, such as "CMJ arms=hips".
 * @param [settings] Settings range, such as LeapSettings; the defaults when left out.
 * @param [adjust] This trial's own facts and moved events.
 * @param [rate] Sampling rate, in Hz; needed only for numbers without a time column.
 * @returns "keep", "look" or "leave out".
 */
export function verdict(trace: any[][], protocol: any, settings?: any[][], adjust?: any, rate?: any): string {
  return analysisFrom(trace, protocol, settings, adjust, rate).verdict;
}

/**
 * The working of a metric with this trial's numbers, one step a row, from the trace to the result.
 * @customfunction STEPS
 * @param trace One to four trace cells, or columns of numbers.
 * @param protocol Test or protocol text, such as "CMJ arms=hips".
 * @param metric Name of the metric.
 * @param [settings] Settings range, such as LeapSettings; the defaults when left out.
 * @param [adjust] This trial's own facts and moved events.
 * @param [rate] Sampling rate, in Hz; needed only for numbers without a time column.
 * @returns Table with a head row: what the step gives, formula, numbers that went in, value, unit.
 */
export function steps(trace: any[][], protocol: any, metric: any, settings?: any[][], adjust?: any, rate?: any): any[][] {
  const resolved = resolveMetricName(requiredText(singleFrom(metric, "metric"), "metric"));
  const analysis = analysisFrom(trace, protocol, settings, adjust, rate);
  // Says why where the trace cannot give it.
  readMetric(analysis, resolved);
  const wanted = [resolved.id, `${resolved.base.id}${resolved.side ?? ""}`, resolved.base.id];
  const target = wanted.find((id) => analysis.steps.some((step) => step.gives === id));
  if (target === undefined) throw new InputError("not-available", `the working of ${resolved.id} requires recorded steps, and it has none`);
  const rows = stepsTo(target, analysis.steps).map(({ gives, formula, inputs, value, unit }) => [
    gives,
    formula,
    inputs.map((input) => `${input.symbol} = ${printed(input.value)}${input.unit === "" ? "" : ` ${input.unit}`}`).join("; "),
    value,
    unit,
  ]);
  return [["gives", "formula", "with", "value", "unit"], ...rows];
}

/** The steps that lead to a result, each before the one that uses it. */
function stepsTo(target: string, steps: readonly Step[]): Step[] {
  const byResult = new Map(steps.map((step) => [step.gives, step]));
  const ordered = new Set<Step>();
  const open = new Set<string>();
  const visit = (id: string): void => {
    const step = byResult.get(id);
    if (step === undefined || open.has(id)) return;
    open.add(id);
    for (const { from } of step.inputs) if (from !== undefined) visit(from);
    ordered.add(step);
  };
  visit(target);
  return [...ordered];
}

/** A number of a step for reading: six significant digits. */
function printed(value: number): string {
  return String(Number(value.toPrecision(6)));
}

/**
 * The hops of a repeated hop test, one row a hop.
 * @customfunction HOPS
 * @param trace One to four trace cells, or columns of numbers.
 * @param protocol Test or protocol text, such as "RH arms=hips".
 * @param [settings] Settings range, such as LeapSettings; the defaults when left out.
 * @param [adjust] This trial's own facts and moved events.
 * @param [rate] Sampling rate, in Hz; needed only for numbers without a time column.
 * @returns Table with a head row: times in s, height in m, index, stiffness in N/m, peak force in N, whether it counts and why not.
 */
export function hops(trace: any[][], protocol: any, settings?: any[][], adjust?: any, rate?: any): any[][] {
  const { hops: found, protocol: asked } = analysisFrom(trace, protocol, settings, adjust, rate);
  if (asked.test !== "RH") throw new InputError("not-available", `hops require a repeated hop test (RH), not ${asked.test}`);
  return [
    ["hop", "touchdown", "takeoff", "contactTime", "flightTime", "height", "rsi", "stiffness", "peakForce", "counts", "reason"],
    ...found.map((hop) => [hop.number, hop.touchdown, hop.takeoff, hop.contactTime, hop.flightTime, hop.height, hop.rsi, hop.stiffness ?? "", hop.peakForce, hop.valid, inLanguage(hop.reason ?? "")]),
  ];
}

/**
 * Time, force, velocity, displacement and power of a trial over time, as columns to chart.
 * @customfunction TIME_SERIES
 * @param trace One to four trace cells, or columns of numbers.
 * @param protocol Test or protocol text, such as "CMJ arms=hips".
 * @param [settings] Settings range, such as LeapSettings; the defaults when left out.
 * @param [adjust] This trial's own facts and moved events.
 * @param [rate] Sampling rate, in Hz; needed only for numbers without a time column.
 * @param [every] Keeps every n-th sample; 10 when left out, 1 for all.
 * @returns Table with a head row; s, N, m/s, m, W. Blank where the trace could not be integrated.
 */
export function timeSeries(trace: any[][], protocol: any, settings?: any[][], adjust?: any, rate?: any, every?: any): any[][] {
  const stride = optionalNumber(singleFrom(every, "every"), "every", 10);
  if (!Number.isInteger(stride) || stride < 1) throw new InputError("out-of-range", "every requires a whole number of one or more");
  const series = analysisFrom(trace, protocol, settings, adjust, rate).timeSeries();
  const sides = series.left !== undefined && series.right !== undefined;
  const columns = [series.time, series.force, ...(sides ? [series.left, series.right] : []), series.velocity, series.displacement, series.power];
  const rows: Cell[][] = [["time", "force", ...(sides ? ["left", "right"] : []), "velocity", "displacement", "power"]];
  for (let i = 0; i < series.time.length; i += stride) {
    rows.push(columns.map((column) => (column !== undefined && Number.isFinite(column[i]) ? column[i] : "")));
  }
  return rows;
}
