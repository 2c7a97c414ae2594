import { describe, expect, test } from "vitest";
import { sliceTrace } from "../../../src/trace/sliceTrace.ts";
import type { Trace } from "../../../src/trace/Trace.ts";

const trace: Trace = {
  rate: 1000,
  plates: [{ role: "total", force: Float64Array.from({ length: 1000 }, (_, i) => i) }],
  start: 5,
  step: 1,
  rounding: 0,
};

describe("sliceTrace", () => {
  test("takes the samples from start on, and not the one at the end", () => {
    const part = sliceTrace(trace, 0.1, 0.103);
    expect([...part.plates[0].force]).toEqual([100, 101, 102]);
    expect(part.start).toBeCloseTo(5.1, 12);
  });

  test("splits a trace in two without losing or doubling a sample, at any cut", () => {
    for (const cut of [0.001, 0.29, 0.3, 0.57, 0.999, 0.0005, 0.12345]) {
      const parts = [sliceTrace(trace, 0, cut), sliceTrace(trace, cut, 1)];
      expect(parts.flatMap((part) => [...part.plates[0].force])).toEqual([...trace.plates[0].force]);
    }
  });

  test("cuts times outside the trace at its ends, and copies", () => {
    const part = sliceTrace(trace, -3, 9);
    expect(part.plates[0].force).toEqual(trace.plates[0].force);
    expect(part.plates[0].force.buffer).not.toBe(trace.plates[0].force.buffer);
    expect(part.start).toBe(5);
  });

  test("refuses times between which there is no sample", () => {
    expect(() => sliceTrace(trace, 0.5, 0.5)).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => sliceTrace(trace, 2, 3)).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => sliceTrace(trace, NaN, 3)).toThrow(expect.objectContaining({ code: "not-a-number" }));
  });
});
