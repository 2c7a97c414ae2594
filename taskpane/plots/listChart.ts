import { formatTick } from "../pane/format.ts";
import { axisTicks, blankCanvas, PAPER } from "./chart.ts";
import type { PlotColours } from "./plotColours.ts";

/** One value a line, with its name at the left: a squad in one quantity. */
export interface ListChartSpec {
  readonly xLabel: string;
  readonly rows: readonly { readonly label: string; readonly value: number; /** Half length of the bar through the mark. */ readonly half?: number }[];
  /** An upright dashed line, for instance the mean. */
  readonly line?: { readonly at: number; readonly label: string };
}

const FONT = "12px system-ui, sans-serif";
const LINE = 19;
const FRAME = { top: 20, bottom: 40, right: 16, air: 12 } as const;
/** Letters of a name before it is cut, the width of one, px, and the share of the chart that names may take. */
const NAME = { longest: 34, letter: 6.6, share: 0.42 } as const;

/** Height that a chart of so many lines takes, px. */
export function listChartHeight(rows: number): number {
  return FRAME.top + FRAME.bottom + LINE * Math.max(rows, 1);
}

/** Scale and ticks of a list: every mark and bar inside, with a little air. It does not begin at zero: what matters is who differs from whom. */
export function listChartLayout({ rows, line }: ListChartSpec, width: number): { readonly x: (value: number) => number; readonly y: (row: number) => number; readonly ticks: readonly number[]; readonly left: number; readonly right: number } {
  const ends = [...rows.flatMap(({ value, half = 0 }) => [value - half, value + half]), ...(line === undefined ? [] : [line.at])];
  const [low, high] = ends.length === 0 ? [0, 1] : [Math.min(...ends), Math.max(...ends)];
  const air = high > low ? 0.06 * (high - low) : Math.max(Math.abs(high) * 0.1, 1e-3);
  const [from, to] = [low - air, high + air];
  const [left, right] = [Math.min(NAME.letter * Math.max(8, ...rows.map(({ label }) => Math.min(label.length, NAME.longest))) + FRAME.air, NAME.share * width), width - FRAME.right];
  return { x: (value) => left + ((value - from) / (to - from)) * (right - left), y: (row) => FRAME.top + LINE * (row + 0.5), ticks: axisTicks(from, to), left, right };
}

/** Draws a list into a canvas of `width` × `height` pixels, at `scale` device pixels each. */
export function drawListChart(canvas: HTMLCanvasElement, spec: ListChartSpec, colours: PlotColours, width: number, height: number, scale: number): void {
  const pen = blankCanvas(canvas, colours, width, height, scale);
  if (pen === null) return;
  const { x, y, ticks, left, right } = listChartLayout(spec, width);
  const bottom = FRAME.top + LINE * Math.max(spec.rows.length, 1);
  const stroke = (fromX: number, fromY: number, toX: number, toY: number): void => {
    pen.beginPath();
    pen.moveTo(fromX, fromY);
    pen.lineTo(toX, toY);
    pen.stroke();
  };
  pen.font = FONT;
  pen.lineWidth = 1;
  pen.strokeStyle = colours.grid;
  pen.fillStyle = colours.quiet;
  pen.textAlign = "center";
  pen.textBaseline = "top";
  for (const tick of ticks) {
    stroke(x(tick), FRAME.top, x(tick), bottom);
    pen.fillText(formatTick(tick), x(tick), bottom + 6);
  }
  pen.fillText(spec.xLabel, (left + right) / 2, bottom + 22);
  if (spec.line !== undefined) {
    pen.strokeStyle = colours.event;
    pen.fillStyle = colours.event;
    pen.setLineDash([5, 4]);
    stroke(x(spec.line.at), FRAME.top, x(spec.line.at), bottom);
    pen.setLineDash([]);
    pen.fillText(spec.line.label, x(spec.line.at), 4);
  }
  pen.textBaseline = "middle";
  pen.strokeStyle = colours.total;
  pen.lineWidth = 1.5;
  spec.rows.forEach(({ label, value, half }, row) => {
    pen.textAlign = "right";
    pen.fillStyle = colours.text;
    pen.fillText(label.length > NAME.longest ? `${label.slice(0, NAME.longest - 1)}…` : label, left - FRAME.air / 2, y(row), left - FRAME.air);
    if (half !== undefined) stroke(x(value - half), y(row), x(value + half), y(row));
    pen.beginPath();
    pen.arc(x(value), y(row), 4.5, 0, 2 * Math.PI);
    pen.fillStyle = colours.total;
    pen.fill();
  });
}

/** PNG of a list as a data address, twice as fine as a screen. */
export function listChartPicture(spec: ListChartSpec, width: number): { readonly dataUrl: string; readonly width: number; readonly height: number } {
  const canvas = document.createElement("canvas");
  const height = listChartHeight(spec.rows.length);
  drawListChart(canvas, spec, PAPER, width, height, 2);
  return { dataUrl: canvas.toDataURL("image/png"), width, height };
}
