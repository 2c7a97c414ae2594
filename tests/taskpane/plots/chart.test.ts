import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { axisTicks, chartLayout } from "../../../taskpane/plots/chart.ts";

const AXES = { xLabel: "Date", yLabel: "Height, cm" };

describe("axisTicks", () => {
  test.each([[0, 10, [0, 2, 4, 6, 8, 10]], [34.2, 36.1, [34.5, 35, 35.5, 36]], [-0.3, 0.3, [-0.2, 0, 0.2]]] as const)("from %d to %d are round numbers", (low, high, ticks) => {
    expect(axisTicks(low, high)).toEqual([...ticks]);
  });
  // Law: inside the limits, evenly spaced, and few.
  test("lie inside, evenly, and are never many", () => {
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), fc.double({ min: 1e-6, max: 1e6, noNaN: true }), (low, size) => {
        fc.pre(size > 1e-9 * Math.abs(low));
        const ticks = axisTicks(low, low + size);
        expect(ticks.length).toBeLessThanOrEqual(6);
        for (const tick of ticks) expect(tick >= low - 1e-6 * size && tick <= low + size * (1 + 1e-6)).toBe(true);
      }),
    );
  });
});

describe("chartLayout", () => {
  test("keeps every mark, bar and band inside the area, larger values higher", () => {
    const spec = { ...AXES, marks: [{ x: 1, y: 35, half: 1 }, { x: 9, y: 38, look: "hollow" as const }], bands: [{ at: 9, low: 30, high: 44 }] };
    const { x, y, area } = chartLayout(spec, 320, 230);
    for (const value of [34, 36, 38, 30, 44]) expect(y(value) > area.top && y(value) < area.bottom).toBe(true);
    for (const value of [1, 9]) expect(x(value) > area.left && x(value) < area.right).toBe(true);
    expect(y(38)).toBeLessThan(y(35));
    expect(x(9)).toBeGreaterThan(x(1));
  });
  test("leaves out names that would run into each other, never the marks", () => {
    const marks = Array.from({ length: 40 }, (_, at) => ({ x: at, y: at }));
    const { xTicks } = chartLayout({ ...AXES, marks, ticks: marks.map(({ x }) => ({ at: x, label: "2026-03-14" })) }, 320, 230);
    expect(xTicks.length).toBeGreaterThan(1);
    expect(xTicks.length).toBeLessThan(6);
  });
  test("stands on one mark alone", () => {
    const { y, area } = chartLayout({ ...AXES, marks: [{ x: 5, y: 35 }] }, 320, 230);
    expect(y(35) > area.top && y(35) < area.bottom).toBe(true);
  });
});
