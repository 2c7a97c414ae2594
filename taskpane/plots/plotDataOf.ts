import type { Analysis } from "../../src/protocols/Analysis.ts";
import type { PlotSeries, Quantity, TracePlotData } from "./TracePlotData.ts";

export interface PlotNames {
  event(name: string): string;
  phase(name: string): string;
  series(quantity: Quantity, side: PlotSeries["side"]): string;
}

/** Columns, events, phases and doubts of an analysed trial, ready to draw; `undefined` for times without a trace. */
export function plotDataOf(analysis: Analysis, names: PlotNames): TracePlotData | undefined {
  if (analysis.trace.plates.length === 0 || analysis.trace.plates[0].force.length === 0) return undefined;
  const columns = analysis.timeSeries();
  const series: PlotSeries[] = [];
  const add = (quantity: Quantity, side: PlotSeries["side"], values: Float64Array | undefined): void => {
    if (values !== undefined) series.push({ quantity, side, label: names.series(quantity, side), values });
  };
  add("force", "total", columns.force);
  add("force", "left", columns.left);
  add("force", "right", columns.right);
  add("velocity", "total", columns.velocity);
  add("displacement", "total", columns.displacement);
  add("power", "total", columns.power);
  return {
    time: columns.time,
    series,
    events: [...analysis.events.values()].map((event) => ({ id: event.name, label: names.event(event.name), time: event.time, byHand: event.byHand })).sort((a, b) => a.time - b.time),
    phases: analysis.phases.map((phase) => ({ label: names.phase(phase.name), start: phase.start, end: phase.end })),
    doubts: analysis.findings.filter((finding) => finding.action === "look" || finding.action === "leave out").map((finding) => finding.message),
  };
}

/** The stretch that holds the movement: from a little before the first event after weighing to a little after landing, s. */
export function movementView(data: TracePlotData): readonly [number, number] {
  const first = data.time[0] ?? 0;
  const last = data.time[data.time.length - 1] ?? 1;
  const times = data.events.filter((event) => !BEFORE_OR_AFTER.has(event.id)).map((event) => event.time);
  if (times.length === 0) return [first, last];
  const from = Math.min(...times);
  const to = Math.max(...times);
  const air = Math.max(0.2 * (to - from), 0.15);
  return [Math.max(first, from - air), Math.min(last, to + air)];
}

const BEFORE_OR_AFTER: ReadonlySet<string> = new Set(["weighingStart", "weighingEnd", "stabilised", "holdEnd", "stepOff"]);
