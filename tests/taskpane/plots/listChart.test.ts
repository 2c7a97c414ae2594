import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { listChartHeight, listChartLayout } from "../../../taskpane/plots/listChart.ts";

const rows = fc.array(fc.record({ label: fc.string({ maxLength: 60 }), value: fc.double({ min: -1e4, max: 1e4, noNaN: true }), half: fc.option(fc.double({ min: 0, max: 100, noNaN: true }), { nil: undefined }) }), { maxLength: 40 });

describe("listChartLayout", () => {
  // Law: every mark with its bar lies inside the frame, lines run downwards, names have room.
  test("holds every mark and bar between the names and the right edge", () => {
    fc.assert(
      fc.property(rows, (list) => {
        const { x, y, left, right } = listChartLayout({ xLabel: "x", rows: list }, 560);
        list.forEach(({ value, half = 0 }, row) => {
          expect(x(value - half)).toBeGreaterThanOrEqual(left - 1e-6);
          expect(x(value + half)).toBeLessThanOrEqual(right + 1e-6);
          expect(y(row)).toBeLessThan(listChartHeight(list.length));
          if (row > 0) expect(y(row)).toBeGreaterThan(y(row - 1));
        });
        expect(left).toBeGreaterThan(50);
        expect(left).toBeLessThan(0.43 * 560);
      }),
    );
  });
  test("grows by a line for each person", () => {
    expect(listChartHeight(40) - listChartHeight(39)).toBe(listChartHeight(3) - listChartHeight(2));
  });
  test("has a scale where all values are equal, and where there is none", () => {
    for (const list of [[], [{ label: "A", value: 3 }, { label: "B", value: 3 }]]) expect(listChartLayout({ xLabel: "x", rows: list }, 560).ticks.length).toBeGreaterThan(1);
  });
});
