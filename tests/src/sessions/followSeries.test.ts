import { describe, expect, test } from "vitest";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import { followSeries } from "../../../src/sessions/followSeries.ts";
import { baselineBand } from "../../../src/statistics/baselineBand.ts";

const on = (protocol: string, ...values: number[]) =>
  values.map((value, index) => Object.freeze({ date: `day ${index + 1}`, value, protocol: parseProtocol(protocol) }));
const history = [37.8, 38.4, 38.1, 37.5, 38.9, 38.2];

describe("followSeries", () => {
  // By hand and SciPy: band 36.80 to 39.50 from the six earlier sessions, see baselineBand.
  test("sets each session against the band of the earlier ones, never its own", () => {
    const series = followSeries(on("CMJ arms=hips", ...history, 36.4));
    const last = series[6];
    expect(last.band).toEqual(baselineBand(history));
    expect(last.place).toBe("below");
    expect(last.weighted).toBeCloseTo(38.180988, 9);
    expect(series[5].place).toBe("inside");
  });

  test("has no band before two sessions, or before one with a typical error", () => {
    const own = followSeries(on("CMJ", 38, 38.2, 38.1));
    expect(own.map((point) => point.band === undefined)).toEqual([true, true, false]);
    expect(own[0].weighted).toBeUndefined();
    const group = followSeries(on("CMJ", 38, 38.2), { typicalError: 0.8 });
    expect(group.map((point) => point.band === undefined)).toEqual([true, false]);
  });

  test("marks a change of protocol and keeps unlike sessions out of the band", () => {
    const series = followSeries([...on("CMJ arms=hips", 38, 38.4), ...on("CMJ arms=swing", 44), ...on("CMJ arms=hips", 38.1)]);
    expect(series.map((point) => point.protocolChange !== undefined)).toEqual([false, false, true, true]);
    expect(series[2].protocolChange).toMatch(/arms/);
    expect(series[2].band).toBeUndefined();
    expect(series[3].band).toEqual(baselineBand([38, 38.4]));
  });

  test("keeps doubt and date of a session", () => {
    expect(followSeries([{ ...on("CMJ", 38)[0], doubtful: true }])[0]).toMatchObject({ date: "day 1", doubtful: true });
  });

  test("refuses what is not a number and an error of zero", () => {
    expect(() => followSeries(on("CMJ", 38, NaN))).toThrow(expect.objectContaining({ name: "InputError", code: "not-a-number" }));
    expect(() => followSeries(on("CMJ", 38, 39, 40), { typicalError: 0 })).toThrow(expect.objectContaining({ code: "out-of-range" }));
  });
});
