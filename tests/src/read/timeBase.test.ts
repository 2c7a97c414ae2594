import { describe, expect, test } from "vitest";
import { rateOf, timeBase } from "../../../src/read/timeBase.ts";

/** Times of a correctly sampled recording, written with some decimals. */
function written(rate: number, decimals: number, samples = 2000, start = 0): Float64Array {
  return Float64Array.from({ length: samples }, (_, i) => Number((start + i / rate).toFixed(decimals)));
}

describe("timeBase", () => {
  // The jitter of such a column reaches 0.45 to 2.0 of the interval, so a rule of 10 % would refuse all of these.
  test.each([450, 600, 1000, 1200, 2000, 512])("accepts times of %d Hz written to the millisecond, and finds the rate", (rate) => {
    const base = timeBase(written(rate, 3), 0.001)!;
    expect(base.fault).toBeUndefined();
    expect(rateOf(base, 1)).toBe(rate);
  });

  test("says whether times stand on several rows", () => {
    expect(timeBase(written(2000, 3), 0.001)?.repeats).toBe(true);
    expect(timeBase(written(500, 3), 0.001)?.repeats).toBe(false);
  });

  test("keeps a rate that is not round where the column can tell", () => {
    expect(rateOf(timeBase(written(999.7, 9, 5000), 1e-9)!, 1)).toBeCloseTo(999.7, 3);
  });

  test("gives the rate in hertz for times in milliseconds", () => {
    const times = written(600, 6).map((seconds) => Number((1000 * seconds).toFixed(2)));
    expect(rateOf(timeBase(times, 0.01)!, 1e-3)).toBe(600);
  });

  test.each([
    ["a gap", (t: Float64Array) => t.map((v, i) => (i >= 700 ? v + 0.004 : v)), "gap", 700],
    ["one lost sample", (t: Float64Array) => t.map((v, i) => (i >= 700 ? v + 0.001 : v)), "gap", 700],
    ["a step back", (t: Float64Array) => t.map((v, i) => (i >= 900 ? v - 0.5 : v)), "back", 900],
    ["a sample written twice", (t: Float64Array) => t.map((v, i) => (i >= 900 ? t[i - 1] : v)), "repeat", 900],
  ])("finds %s and its row", (_what, change, kind, row) => {
    const fault = timeBase(change(written(1000, 6)), 1e-6)?.fault;
    expect([fault?.kind, fault?.row]).toEqual([kind, row]);
  });

  test("gives nothing for times that do not rise", () => {
    expect(timeBase(new Float64Array(100), 1)).toBeUndefined();
    expect(timeBase(Float64Array.of(1, 2), 1)).toBeUndefined();
  });
});
