import { movementView } from "../plots/plotDataOf.ts";
import { tracePlot, type PlotAxes } from "../plots/tracePlot.ts";
import type { TracePlotData } from "../plots/TracePlotData.ts";
import { formatValue } from "../pane/format.ts";
import { words } from "../pane/words.ts";
import type { ExplanationPart } from "./explanationParts.ts";
import { layOutParts, SMALL, type LaidLine, type Look } from "./layOutParts.ts";

/** Width of the text and of the plot, and the white around them, px. */
const WIDTH = 720;
const MARGIN = 24;
/** Pixels of the picture to each px: sharp on paper and on fine screens. */
const SHARPNESS = 2;
const FAMILY = '"Segoe UI", system-ui, sans-serif';
const FIXED = "Consolas, ui-monospace, monospace";
const INK = "#1b1b1b";
const QUIET = "#505050";
const GROUNDS = { plain: "#f3f3f3", warning: "#fff4ce" } as const;

/**
 * Draws an explanation as a picture, black on white whatever the theme of the pane: the head, the trace, then the rest.
 *
 * @param parts What the text of the explanation says.
 * @param axes Axes of the plot, in the units that are chosen.
 * @param plot The trace behind it, where there is one.
 * @returns PNG.
 */
export async function explanationPicture(parts: readonly ExplanationPart[], axes: PlotAxes, plot?: TracePlotData): Promise<Blob> {
  const canvas = document.createElement("canvas");
  const context = canvas.getContext("2d")!;
  const measure = (text: string, look: Look): number => {
    context.font = fontOf(look, 1);
    return context.measureText(text).width;
  };
  // The trace stands below what the cell is, above how it came about.
  const cut = plot === undefined ? 0 : parts.findIndex(({ heading }) => heading !== undefined);
  const head = layOutParts(parts.slice(0, cut), WIDTH, MARGIN, measure);
  const panels = plot === undefined ? [] : await panelsOf(plot, axes);
  const scale = panels.length === 0 ? 1 : (WIDTH * SHARPNESS) / panels[0].width;
  const plotHeight = panels.reduce((sum, panel) => sum + (panel.height * scale) / SHARPNESS, 0);
  const under = layOutParts(plot === undefined ? [] : [eventsPart(plot, axes)], WIDTH, head.bottom + plotHeight, measure);
  const rest = layOutParts(parts.slice(cut), WIDTH, under.bottom, measure);

  canvas.width = (WIDTH + 2 * MARGIN) * SHARPNESS;
  canvas.height = Math.ceil((rest.bottom + MARGIN) * SHARPNESS);
  context.fillStyle = "#ffffff";
  context.fillRect(0, 0, canvas.width, canvas.height);
  let y = head.bottom * SHARPNESS;
  for (const panel of panels) {
    context.drawImage(panel, MARGIN * SHARPNESS, y, WIDTH * SHARPNESS, panel.height * scale);
    y += panel.height * scale;
  }
  for (const line of [...head.lines, ...under.lines, ...rest.lines]) paint(context, line);
  return new Promise((resolve, reject) => canvas.toBlob((blob) => (blob === null ? reject(new Error(words.explain.pictureTooLarge)) : resolve(blob)), "image/png"));
}

/** The panels of the plot on white, outside the theme of the pane. */
async function panelsOf(plot: TracePlotData, axes: PlotAxes): Promise<readonly HTMLCanvasElement[]> {
  const magnify = SHARPNESS / Math.max(devicePixelRatio, 0.1);
  const stage = document.createElement("div");
  stage.setAttribute("aria-hidden", "true");
  stage.style.cssText = `position:fixed;left:-10000px;top:0;width:${WIDTH * magnify}px;visibility:hidden`;
  document.body.append(stage);
  const drawn = tracePlot(stage, plot, { axes, view: movementView(plot), height: 220, magnify });
  try {
    // The library draws once the present work is done.
    await new Promise((resolve) => setTimeout(resolve));
    return drawn.panels().map(copyOf);
  } finally {
    drawn.destroy();
    stage.remove();
  }
}

/** What was drawn, kept after the plot has gone. */
function copyOf(panel: HTMLCanvasElement): HTMLCanvasElement {
  const copy = document.createElement("canvas");
  copy.width = panel.width;
  copy.height = panel.height;
  copy.getContext("2d")!.drawImage(panel, 0, 0);
  return copy;
}

/** Key of the lines, and what the numbers of the events on the plot stand for. */
function eventsPart(plot: TracePlotData, { time: { unit, factor } }: PlotAxes): ExplanationPart {
  const sides = plot.series.some(({ side }) => side === "left" || side === "right") ? [`\u25c0 ${words.sides.left}, \u25b6 ${words.sides.right}`] : [];
  const events = plot.events.map((event, place) => `${place + 1}\u00a0${event.label}\u00a0${formatValue(event.time * factor, unit)}${event.byHand ? ` (${words.plot.byHand})` : ""}`);
  return { kind: "quiet", lines: [...sides, ...(events.length > 0 ? [events.join(" \u00b7 ")] : [])] };
}

function fontOf({ size, bold, fixed }: Look, share: number): string {
  return `${bold === true ? "600 " : ""}${size * share}px ${fixed === true ? FIXED : FAMILY}`;
}

function paint(context: CanvasRenderingContext2D, { pieces, x, y, look, height }: LaidLine): void {
  context.save();
  context.scale(SHARPNESS, SHARPNESS);
  context.translate(MARGIN, 0);
  if (look.ground !== undefined) {
    context.fillStyle = GROUNDS[look.ground];
    context.fillRect(0, y - look.size * 1.1 - 1, WIDTH, height + 2);
  }
  context.fillStyle = look.quiet === true ? QUIET : INK;
  if (look.bullet === true) {
    context.beginPath();
    context.arc(x - 7, y - look.size * 0.32, 1.8, 0, 2 * Math.PI);
    context.fill();
  }
  let at = x;
  for (const { text, shift } of pieces) {
    context.font = fontOf(look, shift === "none" ? 1 : SMALL);
    context.fillText(text, at, y + (shift === "lowered" ? look.size * 0.2 : shift === "raised" ? -look.size * 0.35 : 0));
    at += context.measureText(text).width;
  }
  context.restore();
}
