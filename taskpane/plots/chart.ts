import { formatTick } from "../pane/format.ts";
import type { PlotColours } from "./plotColours.ts";

/** A small chart of marks: sessions over time, indices over heights, points of a line. */
export interface ChartSpec {
  readonly xLabel: string;
  readonly yLabel: string;
  readonly marks: readonly ChartMark[];
  /** Names on the level axis; numbers of the axis are used where there are none. */
  readonly ticks?: readonly { readonly at: number; readonly label: string }[];
  /** Joins the marks that are not left out, in order. */
  readonly joined?: boolean;
  readonly bands?: readonly { readonly at: number; readonly low: number; readonly high: number }[];
  /** Upright dashed lines with a number, for instance where a protocol changes. */
  readonly changes?: readonly { readonly at: number; readonly label: string }[];
  /** A straight line through two points. */
  readonly line?: readonly [x0: number, y0: number, x1: number, y1: number];
}

export interface ChartMark {
  readonly x: number;
  readonly y: number;
  /** Doubtful: an open ring. Left out: an open ring with a cross, part of no line. */
  readonly look?: "full" | "hollow" | "left out";
  /** Half length of an upright bar through the mark. */
  readonly half?: number;
}

/** Marks, numbers and lines of a chart in pixels: what is drawn, without the drawing. */
export interface ChartLayout {
  readonly x: (value: number) => number;
  readonly y: (value: number) => number;
  readonly xTicks: readonly { readonly at: number; readonly label: string }[];
  readonly yTicks: readonly { readonly at: number; readonly label: string }[];
  readonly area: { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number };
}

const FONT = "12px system-ui, sans-serif";

/** Steps of 1, 2 or 5 that give four to eight numbers on an axis. */
export function axisTicks(low: number, high: number, most: number = 5): readonly number[] {
  const rough = (high - low) / most;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = power * ([1, 2, 5, 10].find((factor) => factor * power >= rough) ?? 10);
  const ticks: number[] = [];
  for (let k = Math.ceil(low / step - 1e-9); k * step <= high + 1e-9 * step; k++) ticks.push(Number((k * step).toPrecision(12)));
  return ticks;
}

/**
 * Scales and ticks of a chart. The upright axis holds every mark, bar, band and line with a little air and does not begin at zero: what matters is
 * the change against the band.
 */
export function chartLayout(spec: ChartSpec, width: number, height: number): ChartLayout {
  const ys = [...spec.marks.flatMap(({ y, half }) => (half === undefined ? [y] : [y - half, y + half])), ...(spec.bands ?? []).flatMap(({ low, high }) => [low, high]), ...(spec.line === undefined ? [] : [spec.line[1], spec.line[3]])];
  const xs = [...spec.marks.map(({ x }) => x), ...(spec.ticks ?? []).map(({ at }) => at), ...(spec.line === undefined ? [] : [spec.line[0], spec.line[2]])];
  const [xLow, xHigh] = spread(xs, 0.06);
  const [yLow, yHigh] = spread(ys, 0.1);
  const area = { left: 54, right: width - 12, top: 16, bottom: height - 42 };
  const x = (value: number): number => area.left + ((value - xLow) / (xHigh - xLow)) * (area.right - area.left);
  const y = (value: number): number => area.bottom - ((value - yLow) / (yHigh - yLow)) * (area.bottom - area.top);
  const all = spec.ticks ?? axisTicks(xLow, xHigh).map((at) => ({ at, label: formatTick(at) }));
  // Names that would run into each other are left out; the table beside the chart has them all.
  let free = -Infinity;
  const xTicks = all.filter(({ at, label }) => {
    const half = 3.4 * label.length;
    if (x(at) - half < free) return false;
    free = x(at) + half + 6;
    return true;
  });
  return { x, y, xTicks, yTicks: axisTicks(yLow, yHigh).map((at) => ({ at, label: formatTick(at) })), area };
}

/** Sizes a canvas to `width` × `height` pixels, at `scale` device pixels each, and fills it with the ground; its pen, or nothing where the browser gives none. */
export function blankCanvas(canvas: HTMLCanvasElement, colours: PlotColours, width: number, height: number, scale: number): CanvasRenderingContext2D | null {
  canvas.width = Math.round(width * scale);
  canvas.height = Math.round(height * scale);
  const pen = canvas.getContext("2d");
  if (pen === null) return null;
  pen.setTransform(scale, 0, 0, scale, 0, 0);
  pen.fillStyle = colours.ground;
  pen.fillRect(0, 0, width, height);
  return pen;
}

/** Draws a chart into a canvas of `width` × `height` pixels, at `scale` device pixels each. */
export function drawChart(canvas: HTMLCanvasElement, spec: ChartSpec, colours: PlotColours, width: number, height: number, scale: number): void {
  const pen = blankCanvas(canvas, colours, width, height, scale);
  if (pen === null) return;
  const { x, y, xTicks, yTicks, area } = chartLayout(spec, width, height);
  pen.font = FONT;
  pen.lineWidth = 1;
  pen.strokeStyle = colours.grid;
  pen.fillStyle = colours.quiet;
  pen.textBaseline = "middle";
  pen.textAlign = "right";
  for (const { at, label } of yTicks) {
    stroke(pen, [area.left, y(at)], [area.right, y(at)]);
    pen.fillText(label, area.left - 6, y(at));
  }
  pen.textAlign = "center";
  pen.textBaseline = "top";
  for (const { at, label } of xTicks) pen.fillText(label, Math.min(Math.max(x(at), area.left + 3.4 * label.length - 20), width - 3.4 * label.length), area.bottom + 6);
  pen.fillText(spec.xLabel, (area.left + area.right) / 2, height - 16);
  pen.textAlign = "left";
  pen.textBaseline = "alphabetic";
  pen.fillText(spec.yLabel, 4, 11);
  pen.strokeStyle = colours.quiet;
  stroke(pen, [area.left, area.bottom], [area.right, area.bottom]);

  const half = Math.min(16, (area.right - area.left) / (2 * Math.max(spec.marks.length, 1)));
  pen.strokeStyle = colours.left;
  for (const band of spec.bands ?? []) {
    pen.fillStyle = colours.bands[0];
    pen.fillRect(x(band.at) - half, y(band.high), 2 * half, y(band.low) - y(band.high));
    stroke(pen, [x(band.at) - half, y(band.high)], [x(band.at) + half, y(band.high)]);
    stroke(pen, [x(band.at) - half, y(band.low)], [x(band.at) + half, y(band.low)]);
  }
  pen.setLineDash([5, 4]);
  pen.strokeStyle = colours.event;
  pen.fillStyle = colours.event;
  pen.textAlign = "center";
  for (const { at, label } of spec.changes ?? []) {
    stroke(pen, [x(at), area.top], [x(at), area.bottom]);
    pen.fillText(label, x(at), area.top - 2);
  }
  pen.setLineDash([]);
  pen.strokeStyle = colours.total;
  pen.lineWidth = 1.5;
  if (spec.line !== undefined) stroke(pen, [x(spec.line[0]), y(spec.line[1])], [x(spec.line[2]), y(spec.line[3])]);
  if (spec.joined === true) {
    pen.beginPath();
    spec.marks.filter((mark) => mark.look !== "left out").forEach((mark, order) => (order === 0 ? pen.moveTo(x(mark.x), y(mark.y)) : pen.lineTo(x(mark.x), y(mark.y))));
    pen.stroke();
  }
  for (const mark of spec.marks) {
    if (mark.half !== undefined) stroke(pen, [x(mark.x), y(mark.y - mark.half)], [x(mark.x), y(mark.y + mark.half)]);
    pen.beginPath();
    pen.arc(x(mark.x), y(mark.y), 4.5, 0, 2 * Math.PI);
    pen.fillStyle = mark.look === undefined || mark.look === "full" ? colours.total : colours.ground;
    pen.fill();
    pen.stroke();
    if (mark.look === "left out") {
      stroke(pen, [x(mark.x) - 4, y(mark.y) - 4], [x(mark.x) + 4, y(mark.y) + 4]);
      stroke(pen, [x(mark.x) - 4, y(mark.y) + 4], [x(mark.x) + 4, y(mark.y) - 4]);
    }
  }
}

/** Colours on paper and in the sheet, whatever the theme of the pane. */
export const PAPER: PlotColours = {
  ground: "#ffffff", text: "#242424", quiet: "#424242", grid: "#e6e6e6", total: "#242424", left: "#0072b2", right: "#c04f00",
  others: ["#0072b2", "#c04f00", "#8f3f71", "#00785a"], bands: ["rgba(20,60,90,0.10)", "rgba(20,60,90,0.035)"], event: "#0f6cbd",
};

/** PNG of a chart as a data address, twice as fine as a screen. */
export function chartPicture(spec: ChartSpec, width: number, height: number): string {
  const canvas = document.createElement("canvas");
  drawChart(canvas, spec, PAPER, width, height, 2);
  return canvas.toDataURL("image/png");
}

function stroke(pen: CanvasRenderingContext2D, from: readonly [number, number], to: readonly [number, number]): void {
  pen.beginPath();
  pen.moveTo(from[0], from[1]);
  pen.lineTo(to[0], to[1]);
  pen.stroke();
}

function spread(values: readonly number[], air: number): [number, number] {
  const [low, high] = values.length === 0 ? [0, 1] : [Math.min(...values), Math.max(...values)];
  const room = high > low ? (high - low) * air : Math.max(Math.abs(high) * 0.1, 1e-3);
  return [low - room, high + room];
}
