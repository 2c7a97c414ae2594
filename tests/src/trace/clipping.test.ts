import { describe, expect, test } from "vitest";
import { clippedSamples } from "../../../src/trace/clipping.ts";

const at = (force: Float64Array): number => force.indexOf(Math.max(...force));
const clipped = (force: Float64Array, quantum = 0): number => clippedSamples(force, at(force), quantum, 3, 10);

describe("clippedSamples", () => {
  test("counts a flat top that is entered at a corner", () => {
    const force = Float64Array.from({ length: 200 }, (_, i) => Math.min(2000, 700 + 30 * Math.abs(100 - Math.abs(i - 100))));
    expect(clipped(force)).toBeGreaterThan(10);
  });

  // Near a rounded peak many rounded values are equal, but they are entered gently.
  test.each([0.1, 0.25, 0.5, 1])("passes a rounded peak in steps of %d N", (quantum) => {
    const force = Float64Array.from({ length: 400 }, (_, i) => Math.round((1900 - 0.02 * (i - 200) ** 2) / quantum) * quantum);
    expect(clipped(force, quantum)).toBe(0);
  });

  test("passes the plateau of a pull that is reached gently", () => {
    const force = Float64Array.from({ length: 3000 }, (_, i) => 800 + 1750 * (1 - (1 + i / 95) * Math.exp(-i / 95)));
    expect(clipped(Float64Array.from(force, (f) => Math.round(f * 1e6) / 1e6))).toBe(0);
  });
});
