import { describe, expect, test } from "vitest";
import fc from "fast-check";
import { axisRange } from "../../../taskpane/plots/axisRange.ts";
import { luminance } from "../../../taskpane/plots/plotColours.ts";
import { staggerRows } from "../../../taskpane/plots/staggerRows.ts";
import { tracePicture } from "../../../taskpane/plots/tracePicture.ts";

describe("axisRange", () => {
  test("holds zero and every value, and starts at zero where nothing is below", () => {
    fc.assert(
      fc.property(fc.double({ min: -1e5, max: 1e5, noNaN: true }), fc.double({ min: 0, max: 1e5, noNaN: true }), (low, span) => {
        const [from, to] = axisRange(low, low + span);
        expect(from).toBeLessThanOrEqual(Math.min(0, low));
        expect(to).toBeGreaterThanOrEqual(Math.max(0, low + span));
        if (low >= 0) expect(from).toBe(0);
      }),
    );
  });
});

describe("staggerRows", () => {
  // By hand: 0 and 5 are closer than 10, 8 is closer than 10 to both, 30 is free again.
  test("moves a close neighbour one row down and returns to the first row when there is room", () => {
    expect(staggerRows([0, 5, 8, 30], 10)).toEqual([0, 1, 2, 0]);
  });
  test("keeps to three rows however many events crowd", () => {
    expect(Math.max(...staggerRows([0, 1, 2, 3, 4, 5], 10))).toBe(2);
  });
});

describe("luminance", () => {
  // WCAG 2.2, definition of relative luminance: white 1, black 0; #808080 is 0.2159 by its formula.
  test("agrees with the definition of WCAG", () => {
    expect(luminance("#ffffff")).toBeCloseTo(1, 12);
    expect(luminance("#000")).toBe(0);
    expect(luminance("#808080")).toBeCloseTo(0.21586, 5);
  });
});

describe("tracePicture", () => {
  const heights = (path: string): number[] => [...path.matchAll(/[ML][\d.]+ ([\d.]+)/g)].map((match) => Number(match[1]));

  test("keeps a peak of a single sample", () => {
    const force = new Float64Array(5000).fill(700);
    force[3217] = 2100;
    const ys = heights(tracePicture(force, 60, 30));
    expect(Math.min(...ys)).toBe(0);
    // By hand: 700 of 2100 leaves two thirds of 30 px above.
    expect(Math.max(...ys)).toBe(20);
  });

  test("stays inside its box for any samples", () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: -500, max: 5000, noNaN: true }), { minLength: 1, maxLength: 300 }), (samples) => {
        for (const y of heights(tracePicture(Float64Array.from(samples), 40, 20))) {
          expect(y).toBeGreaterThanOrEqual(0);
          expect(y).toBeLessThanOrEqual(20);
        }
      }),
    );
  });

  test("draws nothing for no samples", () => {
    expect(tracePicture(new Float64Array(0), 40, 20)).toBe("");
  });
});
