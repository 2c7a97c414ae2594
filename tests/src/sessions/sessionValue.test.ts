import { describe, expect, test } from "vitest";
import { sessionValue } from "../../../src/sessions/sessionValue.ts";

describe("sessionValue", () => {
  const trials = Object.freeze([38.1, 37.4, 38.6, 39.9]);

  // By hand: mean of the first three 38.0333, SD 0.602771, over sqrt(3).
  test("is the mean of the first k valid trials with its uncertainty", () => {
    const session = sessionValue(trials, { rule: "mean", trials: 3 });
    expect(session.value).toBeCloseTo(38.03333333333333, 10);
    expect(session.sd).toBeCloseTo(0.6027713773341708, 10);
    expect(session.u).toBeCloseTo(0.6027713773341708 / Math.sqrt(3), 10);
    expect([session.count, session.short, session.single]).toEqual([3, false, false]);
  });

  test("is the best of the first k, in the direction of the metric, without an uncertainty of a mean", () => {
    expect(sessionValue(trials, { rule: "best", trials: 3 }).value).toBe(38.6);
    expect(sessionValue(trials, { rule: "best", trials: 3 }, "lower").value).toBe(37.4);
    expect(sessionValue(trials, { rule: "best", trials: 3 }).u).toBeUndefined();
  });

  test("a fourth trial never changes a session of three", () => {
    expect(sessionValue([...trials.slice(0, 3), 99], { rule: "best", trials: 3 })).toEqual(sessionValue(trials, { rule: "best", trials: 3 }));
  });

  // By hand: SD of two numbers 1 apart is 1 / sqrt(2), over sqrt(2).
  test("two trials have a scatter and an uncertainty", () => {
    const session = sessionValue([38, 39], { rule: "mean", trials: 3 });
    expect(session.sd).toBeCloseTo(Math.SQRT1_2, 12);
    expect(session.u).toBeCloseTo(0.5, 12);
  });

  test("says when fewer trials are there than asked, and when one stands alone", () => {
    const session = sessionValue([38.1], { rule: "mean", trials: 3 });
    expect(session).toMatchObject({ value: 38.1, short: true, single: true, count: 1 });
    expect(session.u).toBeUndefined();
  });

  test("refuses no trial, the best of a metric without direction, and a k of zero", () => {
    expect(() => sessionValue([], { rule: "mean", trials: 3 })).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => sessionValue(trials, { rule: "best", trials: 3 }, "neither")).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => sessionValue(trials, { rule: "mean", trials: 0 })).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => sessionValue([NaN], { rule: "mean", trials: 1 })).toThrow(expect.objectContaining({ code: "not-a-number" }));
  });
});
