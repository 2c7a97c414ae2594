import uPlot from "uplot";
import { formatTick, formatValue } from "../pane/format.ts";
import { axisRange } from "./axisRange.ts";
import { plotColours } from "./plotColours.ts";
import type { PlotColours } from "./plotColours.ts";
import { staggerRows } from "./staggerRows.ts";
import type { PlotSeries, Quantity, TracePlotData } from "./TracePlotData.ts";

/** What an axis says, and its unit. */
export interface PlotAxis {
  /** With the unit. */
  readonly label: string;
  readonly unit: string;
  /** Value in SI, as the data are, times the factor is the value in the unit. */
  readonly factor: number;
}

export type PlotAxes = Readonly<Record<Quantity | "time", PlotAxis>>;

export interface TracePlotOptions {
  /** Which panels and lines are drawn. @default force and the total */
  readonly quantities?: readonly Quantity[];
  /** Draw left and right too, where there are any. @default true */
  readonly sides?: boolean;
  readonly axes: PlotAxes;
  /** First view, s; absent: all of it. */
  readonly view?: readonly [number, number];
  /** Height of the force panel, px; others are three quarters of it. @default 200 */
  readonly height?: number;
  /** How many times as large everything is drawn, for a picture that is to be sharp wherever it is pasted. @default 1 */
  readonly magnify?: number;
  /** Called with the place of the cursor, s, or nothing when it leaves. */
  readonly onCursor?: (time: number | undefined) => void;
  /** Called while (`done` false) and after (`done` true) a person drags an event. Absent: events stay where they are. */
  readonly onMove?: (eventId: string, time: number, done: boolean) => void;
}

/** A drawn plot; `destroy` gives everything back. */
export interface TracePlot {
  /** Shows this stretch of time, s; all of it without an argument. */
  view(stretch?: readonly [number, number]): void;
  /** The stretch of time on show, s. */
  currentView(): readonly [number, number];
  /** The panels as they stand, from top to bottom, in pixels of the screen. */
  panels(): readonly HTMLCanvasElement[];
  /** PNG of all panels, as a data address. */
  toPicture(): string;
  destroy(): void;
}

/** Space for the numbers of the upright axis, px. */
const NUMBERS = 46;

/** Dash patterns that tell laid-over trials apart, px. */
export const DASHES: readonly (readonly number[] & number[])[] = [[7, 3], [2, 3], [10, 3, 2, 3], [4, 2]];

/**
 * Draws force, and on request velocity, displacement and power, as panels over one time axis.
 *
 * Dense lines are drawn as minimum and maximum per pixel column by the plotting library; phases are bands behind the lines; events are
 * upright lines with the number under which a table beside the plot names them.
 */
export function tracePlot(element: HTMLElement, data: TracePlotData, options: TracePlotOptions): TracePlot {
  const colours = plotColours(element);
  const m = options.magnify ?? 1;
  const font = `${12 * m}px "Segoe UI", system-ui, sans-serif`;
  const quantities = options.quantities ?? ["force"];
  const first = data.time[0] ?? 0;
  const last = data.time[data.time.length - 1] ?? 1;
  const key = `trace-${counter++}`;
  const plots: uPlot[] = [];
  let viewing: readonly [number, number] = options.view ?? [first, last];
  let settingView = false;

  const setView = (stretch: readonly [number, number]): void => {
    if (settingView) return;
    settingView = true;
    viewing = stretch;
    for (const plot of plots) plot.setScale("x", { min: stretch[0], max: stretch[1] });
    settingView = false;
  };

  quantities.forEach((quantity, place) => {
    const { label, factor } = options.axes[quantity];
    // In the unit of the axis, whose round numbers are not those of SI; times are printed in theirs, which is a power of ten.
    const lines = data.series
      .filter((line) => line.quantity === quantity && (line.side === "total" || line.side === "other" || options.sides !== false))
      .map((line) => (factor === 1 ? line : { ...line, values: line.values.map((value) => value * factor) }));
    if (lines.length === 0) return;
    const isLast = place === quantities.length - 1;
    const height = m * (Math.round((options.height ?? 200) * (quantity === "force" ? 1 : 0.75)) + (isLast ? 22 : 0));
    const plot = new uPlot(
      {
        width: Math.max(element.clientWidth, 160),
        height,
        padding: [m * (quantity === "force" ? 20 : 8), m * 10, isLast ? 0 : m * 4, 0],
        legend: { show: false },
        cursor: { y: false, sync: { key, setSeries: false }, drag: { x: true, y: false, setScale: true }, points: { size: 7 } },
        scales: { x: { time: false, min: viewing[0], max: viewing[1] }, y: { range: (_, low, high) => axisRange(low, high) } },
        axes: [
          { show: true, stroke: colours.quiet, grid: { stroke: colours.grid, width: m }, ticks: { show: isLast, stroke: colours.grid, width: m * 2, size: m * 10 }, gap: m * 5, size: m * (isLast ? 44 : 6), values: (_, splits) => (isLast ? splits.map((time) => formatTick(time * options.axes.time.factor)) : []), label: isLast ? options.axes.time.label : undefined, labelSize: m * 18, font, labelFont: font, space: m * 44 },
          { stroke: colours.quiet, grid: { stroke: colours.grid, width: m }, ticks: { stroke: colours.grid, width: m * 2, size: m * 4 }, gap: m * 3, size: m * NUMBERS, label, labelSize: m * 16, labelGap: 0, font, labelFont: font, space: m * 28, values: (_, splits) => splits.map(shortNumber) },
        ],
        series: [{}, ...lines.map((line) => ({ label: line.label, stroke: strokeOf(line, colours), width: m * (line.side === "total" ? 1.6 : 1.3), dash: line.pattern === undefined ? undefined : DASHES[line.pattern % DASHES.length], points: { show: false } }))],
        hooks: {
          drawClear: [(self) => paintGround(self, colours, data)],
          draw: [(self) => paintMarks(self, colours, lines, data, quantity === "force", m)],
          setScale: [(self, scale) => scale === "x" && plots.length > 0 && setView([self.scales.x.min ?? first, self.scales.x.max ?? last])],
          setCursor: [(self) => options.onCursor?.(self.cursor.idx == null || (self.cursor.left ?? -1) < 0 ? undefined : data.time[self.cursor.idx])],
        },
      },
      [data.time, ...lines.map((line) => line.values)] as unknown as uPlot.AlignedData,
      element,
    );
    plot.root.setAttribute("aria-hidden", "true");
    plots.push(plot);
    if (options.onMove !== undefined) makeEventsMovable(plot, data, options.onMove);
  });

  const watcher = new ResizeObserver(() => {
    const width = Math.max(element.clientWidth, 160);
    for (const plot of plots) if (plot.width !== width) plot.setSize({ width, height: plot.height });
  });
  watcher.observe(element);

  return {
    view: (stretch) => setView(stretch ?? [first, last]),
    currentView: () => viewing,
    panels: () => plots.map((plot) => plot.ctx.canvas),
    toPicture: () => pictureOf(plots, colours, data, options.axes.time),
    destroy() {
      watcher.disconnect();
      for (const plot of plots) plot.destroy();
    },
  };
}

let counter = 0;

function shortNumber(value: number): string {
  return Math.abs(value) >= 10000 ? `${formatTick(+(value / 1000).toFixed(1))}k` : formatTick(+value.toPrecision(4));
}

function strokeOf(line: PlotSeries, colours: PlotColours): string {
  if (line.side === "other") return colours.others[(line.pattern ?? 0) % colours.others.length];
  return line.side === "left" ? colours.left : line.side === "right" ? colours.right : colours.total;
}

function paintGround(plot: uPlot, colours: PlotColours, data: TracePlotData): void {
  const { ctx, bbox } = plot;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  data.phases.forEach((phase, index) => {
    const start = plot.valToPos(phase.start, "x", true);
    const end = plot.valToPos(phase.end, "x", true);
    ctx.fillStyle = colours.bands[index % 2];
    ctx.fillRect(start, bbox.top, end - start, bbox.height);
  });
  ctx.restore();
}

function paintMarks(plot: uPlot, colours: PlotColours, lines: readonly PlotSeries[], data: TracePlotData, withNames: boolean, magnify: number): void {
  const { ctx, bbox } = plot;
  const ratio = uPlot.pxRatio * magnify;
  ctx.save();
  ctx.font = `${11 * ratio}px "Segoe UI", system-ui, sans-serif`;
  ctx.lineWidth = ratio;
  if (withNames) paintPhaseNames(plot, colours, data, ratio);
  const visible = data.events.map((event, index) => ({ event, index, x: plot.valToPos(event.time, "x", true) })).filter(({ x }) => x >= bbox.left - 1 && x <= bbox.left + bbox.width + 1);
  visible.sort((a, b) => a.x - b.x);
  const rows = staggerRows(visible.map(({ x }) => x), 17 * ratio);
  visible.forEach(({ event, index, x }, at) => {
    ctx.strokeStyle = colours.event;
    ctx.setLineDash(event.byHand ? [] : [4 * ratio, 3 * ratio]);
    ctx.beginPath();
    ctx.moveTo(x, bbox.top);
    ctx.lineTo(x, bbox.top + bbox.height);
    ctx.stroke();
    if (!withNames) return;
    ctx.setLineDash([]);
    // Numbers sit on the top edge; a close neighbour goes a row lower.
    const y = bbox.top - 8 * ratio + rows[at] * 17 * ratio;
    ctx.beginPath();
    ctx.arc(x, y, 8 * ratio, 0, 2 * Math.PI);
    ctx.fillStyle = colours.ground;
    ctx.fill();
    ctx.stroke();
    ctx.fillStyle = colours.text;
    ctx.textAlign = "center";
    ctx.textBaseline = "middle";
    ctx.fillText(`${index + 1}`, x, y + ratio * 0.5);
  });
  ctx.setLineDash([]);
  for (const line of lines) if (line.side === "left" || line.side === "right") paintSideShapes(plot, strokeOf(line, colours), line, data.time, ratio);
  ctx.restore();
}

/** Names of phases at the foot of the panel, where they have room. */
function paintPhaseNames(plot: uPlot, colours: PlotColours, data: TracePlotData, ratio: number): void {
  const { ctx, bbox } = plot;
  ctx.fillStyle = colours.quiet;
  ctx.textAlign = "center";
  ctx.textBaseline = "bottom";
  ctx.save();
  ctx.strokeStyle = colours.ground;
  ctx.lineWidth = 3 * ratio;
  ctx.lineJoin = "round";
  for (const phase of data.phases) {
    const start = Math.max(plot.valToPos(phase.start, "x", true), bbox.left);
    const end = Math.min(plot.valToPos(phase.end, "x", true), bbox.left + bbox.width);
    if (end - start < ctx.measureText(phase.label).width + 6 * ratio) continue;
    // A line that runs through the name stops around its letters.
    const at = [(start + end) / 2, bbox.top + bbox.height - 3 * ratio] as const;
    ctx.strokeText(phase.label, ...at);
    ctx.fillText(phase.label, ...at);
  }
  ctx.restore();
}

/** Triangles along a line of one side: pointing left for left, right for right. */
function paintSideShapes(plot: uPlot, colour: string, line: PlotSeries, time: Float64Array, ratio: number): void {
  const { ctx, bbox } = plot;
  const size = 4.5 * ratio;
  const direction = line.side === "left" ? -1 : 1;
  const offset = line.side === "left" ? 0.25 : 0.75;
  const every = 64 * ratio;
  ctx.fillStyle = colour;
  for (let x = bbox.left + every * offset; x < bbox.left + bbox.width; x += every) {
    const at = plot.valToIdx(plot.posToVal(x, "x", true));
    const value = line.values[at];
    if (!Number.isFinite(value) || Math.abs(plot.valToPos(time[at], "x", true) - x) > every / 2) continue;
    const y = plot.valToPos(value, "y", true);
    ctx.beginPath();
    ctx.moveTo(x + direction * size, y);
    ctx.lineTo(x - direction * size, y - size);
    ctx.lineTo(x - direction * size, y + size);
    ctx.closePath();
    ctx.fill();
  }
}

function makeEventsMovable(plot: uPlot, data: TracePlotData, onMove: NonNullable<TracePlotOptions["onMove"]>): void {
  const { over } = plot;
  let moving: string | undefined;
  const timeAt = (pointer: PointerEvent): number => plot.posToVal(pointer.clientX - over.getBoundingClientRect().left, "x");
  const nearest = (pointer: PointerEvent): string | undefined => {
    const x = pointer.clientX - over.getBoundingClientRect().left;
    let best: string | undefined;
    let distance = pointer.pointerType === "touch" ? 16 : 6;
    for (const event of data.events) {
      const away = Math.abs(plot.valToPos(event.time, "x") - x);
      if (away < distance) [best, distance] = [event.id, away];
    }
    return best;
  };
  over.addEventListener("pointermove", (pointer) => {
    if (moving !== undefined) onMove(moving, timeAt(pointer), false);
    else over.style.cursor = nearest(pointer) === undefined ? "" : "ew-resize";
  });
  // In the capture phase, so that a grab at an event does not begin a zoom.
  over.addEventListener("pointerdown", (pointer) => {
    moving = nearest(pointer);
    if (moving !== undefined) over.setPointerCapture(pointer.pointerId);
  });
  over.addEventListener("mousedown", (mouse) => moving !== undefined && mouse.stopImmediatePropagation(), true);
  over.addEventListener("pointerup", (pointer) => {
    if (moving !== undefined) onMove(moving, timeAt(pointer), true);
    moving = undefined;
  });
  over.addEventListener("pointercancel", () => {
    moving = undefined;
  });
}

function pictureOf(plots: readonly uPlot[], colours: PlotColours, data: TracePlotData, { unit, factor }: PlotAxis): string {
  const ratio = uPlot.pxRatio;
  const width = Math.max(...plots.map((plot) => plot.ctx.canvas.width), 1);
  const plotsHeight = plots.reduce((sum, plot) => sum + plot.ctx.canvas.height, 0);
  const lines = [...data.events.map((event, index) => `${index + 1}  ${event.label}  ${formatValue(event.time * factor, unit)}`), ...data.doubts];
  const lineHeight = 16 * ratio;
  const canvas = document.createElement("canvas");
  canvas.width = width;
  canvas.height = plotsHeight + lines.length * lineHeight + 8 * ratio;
  const ctx = canvas.getContext("2d")!;
  ctx.fillStyle = colours.ground;
  ctx.fillRect(0, 0, canvas.width, canvas.height);
  let y = 0;
  for (const plot of plots) {
    ctx.drawImage(plot.ctx.canvas, 0, y);
    y += plot.ctx.canvas.height;
  }
  ctx.fillStyle = colours.text;
  ctx.font = `${12 * ratio}px "Segoe UI", system-ui, sans-serif`;
  for (const line of lines) ctx.fillText(line, 8 * ratio, (y += lineHeight), width - 16 * ratio);
  return canvas.toDataURL("image/png");
}
