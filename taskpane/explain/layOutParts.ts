import type { ExplanationPart } from "./explanationParts.ts";
import { symbolPieces, type SymbolPiece } from "./symbolPieces.ts";

/** How the lines of a part look. Sizes in px before magnification. */
export interface Look {
  readonly size: number;
  readonly bold?: boolean;
  readonly fixed?: boolean;
  readonly quiet?: boolean;
  readonly ground?: "plain" | "warning";
  readonly indent?: number;
  readonly bullet?: boolean;
}

/** A line ready to draw; `x` and `y` of its baseline, px. */
export interface LaidLine {
  readonly pieces: readonly SymbolPiece[];
  readonly x: number;
  readonly y: number;
  readonly look: Look;
  /** Height of the line, px: the ground reaches over it. */
  readonly height: number;
}

const LINE = 1.4;
const HEADING: Look = { size: 13, bold: true };
const LOOKS: Readonly<Record<ExplanationPart["kind"], Look>> = {
  cell: { size: 16, bold: true },
  formula: { size: 12, fixed: true, ground: "plain", indent: 6 },
  error: { size: 13, ground: "warning", indent: 6 },
  name: { size: 15, bold: true },
  value: { size: 24, bold: true },
  text: { size: 13 },
  working: { size: 13, indent: 10 },
  list: { size: 13, indent: 12, bullet: true },
  quiet: { size: 11, quiet: true },
};

/** Share of the size with which lowered and raised figures are written. */
export const SMALL = 0.75;

/**
 * Breaks parts into lines of at most `width` and puts them under each other.
 *
 * @param parts What to write.
 * @param width Room for a line, px.
 * @param top Where the first line begins, px.
 * @param measure Width of a text in a look, px.
 * @returns The lines, and where the next thing may begin, px.
 */
export function layOutParts(parts: readonly ExplanationPart[], width: number, top: number, measure: (text: string, look: Look) => number): { readonly lines: readonly LaidLine[]; readonly bottom: number } {
  const lines: LaidLine[] = [];
  let y = top;
  const add = (text: string, look: Look, symbols: boolean): void => {
    const height = look.size * LINE;
    const indent = look.indent ?? 0;
    const rows = wrap(text, width - indent * 2, look, measure);
    for (const [place, row] of rows.entries()) {
      const shown = look.bullet === true && place > 0 ? { ...look, bullet: false } : look;
      lines.push({ pieces: symbols ? symbolPieces(row) : [{ text: row, shift: "none" }], x: indent, y: y + look.size * 1.1, look: shown, height });
      y += height;
    }
  };
  for (const { kind, heading, lines: texts } of parts) {
    if (heading !== undefined) {
      y += 8;
      add(heading, HEADING, false);
    }
    for (const text of texts) {
      const under = text.startsWith("\t");
      add(under ? text.slice(1) : text, under ? { ...LOOKS[kind], size: LOOKS[kind].size - 1.5, quiet: true } : LOOKS[kind], kind === "working");
    }
    y += kind === "value" || kind === "name" || kind === "cell" ? 2 : 8;
  }
  return { lines, bottom: y };
}

/** Breaks at blanks; a word that is too long by itself is cut. */
function wrap(text: string, width: number, look: Look, measure: (text: string, look: Look) => number): readonly string[] {
  const rows: string[] = [];
  let row = "";
  for (const word of text.split(" ")) {
    const longer = row === "" ? word : `${row} ${word}`;
    if (measure(longer, look) <= width) {
      row = longer;
      continue;
    }
    if (row !== "") rows.push(row);
    row = word;
    while (measure(row, look) > width && row.length > 1) {
      let fits = row.length - 1;
      while (fits > 1 && measure(row.slice(0, fits), look) > width) fits--;
      rows.push(row.slice(0, fits));
      row = row.slice(fits);
    }
  }
  rows.push(row);
  return rows;
}
