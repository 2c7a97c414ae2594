import { describe, expect, test } from "vitest";
import type { ExplanationPart } from "../../../taskpane/explain/explanationParts.ts";
import { layOutParts, type Look } from "../../../taskpane/explain/layOutParts.ts";

/** Every character half as wide as it is high: enough to count with. */
const measure = (text: string, look: Look): number => text.length * look.size * 0.5;
const WIDTH = 240;
const PARTS: readonly ExplanationPart[] = [
  { kind: "cell", lines: ["Results!F2"] },
  { kind: "formula", lines: ["=LEAP.METRIC(Trials!$Q2:$T2,Trials!$I2,Results!$E$1:$S$1,LeapSettings)"] },
  { kind: "text", lines: ["Rise of the centre of mass above its height at take-off, in the unit of the head."] },
  { kind: "working", heading: "Working", lines: ["Height = v_TO^2 / (2 g) = 0.3536 m", "\tv_TO = 2.634 m/s; g = 9.807 m/s"] },
  { kind: "list", heading: "Watch for", lines: ["The three methods differ.", "Compare a person with the same protocol, the same settings and their own noise."] },
];

describe("layOutParts", () => {
  const { lines, bottom } = layOutParts(PARTS, WIDTH, 10, measure);
  const textOf = (line: (typeof lines)[number]): string => line.pieces.map((piece) => piece.text).join("");

  // Law: breaking into lines loses no letter and adds none; only blanks go, at the breaks.
  test("writes every letter of every part, in order", () => {
    const letters = (text: string): string => text.replace(/[\s_^]/g, "");
    const said = PARTS.flatMap(({ heading, lines: texts }) => [...(heading === undefined ? [] : [heading]), ...texts]).join("");
    expect(letters(lines.map(textOf).join(""))).toBe(letters(said));
  });

  test("keeps each line within the width, also a formula without blanks", () => {
    for (const line of lines) expect(line.x + measure(textOf(line), line.look)).toBeLessThanOrEqual(WIDTH);
    expect(lines.filter(({ look }) => look.fixed === true).length).toBeGreaterThan(1);
  });

  test("puts each line below the one before, and ends below the last", () => {
    for (let i = 1; i < lines.length; i++) expect(lines[i].y).toBeGreaterThan(lines[i - 1].y);
    expect(bottom).toBeGreaterThan(lines.at(-1)!.y);
  });

  test("marks the first line of an entry alone, and what stands under a step is smaller", () => {
    expect(lines.filter(({ look }) => look.bullet === true)).toHaveLength(2);
    const [step, inputs] = lines.filter(({ pieces }) => pieces.some(({ shift }) => shift === "lowered"));
    expect(inputs.look.size).toBeLessThan(step.look.size);
  });
});
