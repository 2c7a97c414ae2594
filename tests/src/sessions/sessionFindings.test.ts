import { describe, expect, test } from "vitest";
import { findingSentence } from "../../../src/wording/findingSentence.ts";
import { isometricSpread, trialsFarFromSession } from "../../../src/sessions/sessionFindings.ts";

describe("isometricSpread", () => {
  test("asks for another pull where the two highest peaks differ by more than 250 N", () => {
    expect(isometricSpread([2500, 2240, 1500])).toMatchObject({ rule: "Q20", action: "look", values: { difference: 260, limit: 250 } });
    expect(isometricSpread([2500, 2251, 1500])).toBeUndefined();
  });

  test("is not checked with one pull, and takes another limit", () => {
    expect(isometricSpread([2500])).toMatchObject({ action: "not checked" });
    expect(isometricSpread([2500, 2390], 100)).toMatchObject({ action: "look" });
    expect(() => isometricSpread([2500, NaN])).toThrow(expect.objectContaining({ code: "not-a-number" }));
  });

  test("has a whole sentence for both cases", () => {
    for (const peaks of [[2500, 2200], [2500]]) {
      const finding = isometricSpread(peaks)!;
      expect(findingSentence(finding.rule, finding.values)).not.toMatch(/unknown|undefined|\{/);
    }
  });
});

describe("trialsFarFromSession", () => {
  // By hand: mean of the others 38, distance -4 / 0.8 = -5.
  test("measures a trial against the mean of the others", () => {
    const [finding, ...rest] = trialsFarFromSession(Object.freeze([38.5, 34, 37.5]), 0.8);
    expect(rest).toEqual([]);
    expect(finding).toMatchObject({ rule: "Q25", action: "look", trial: 1, values: { value: 34, others: 38, multiple: 3 } });
    expect(finding.values.distance).toBeCloseTo(-5, 10);
  });

  test("would not see the same trial against a mean that holds it", () => {
    // By hand: 35.1 against 37.033 is 2.4 typical errors; against the mean 38 of the others 3.6.
    expect(trialsFarFromSession([38.5, 35.1, 37.5], 0.8)).toHaveLength(1);
  });

  test("sets the farthest trial aside before it looks at the rest", () => {
    // By hand: 30 and 45 lie far from 38, 38.2, 37.9, 38.1; without both the rest agree.
    const far = trialsFarFromSession([38, 30, 38.2, 37.9, 45, 38.1], 0.8);
    expect(far.map((finding) => finding.trial)).toEqual([1, 4]);
    expect(far[1].values.others).toBeCloseTo(38.05, 10);
  });

  test("a trial at the limit itself is not far", () => {
    // By hand: 38 + 3 is three typical errors of 1 from the others' mean of 38.
    expect(trialsFarFromSession([38, 41, 38], 1)).toEqual([]);
  });

  test("never removes anything, and is not checked with two trials", () => {
    expect(trialsFarFromSession([38.5, 30, 37.5], 0.8).every((finding) => finding.removes.length === 0)).toBe(true);
    expect(trialsFarFromSession([38, 30], 0.8)).toMatchObject([{ action: "not checked" }]);
    expect(findingSentence("Q25", trialsFarFromSession([38, 30], 0.8)[0].values)).toMatch(/three valid trials/);
    expect(() => trialsFarFromSession([38, 30, 31], 0)).toThrow(expect.objectContaining({ code: "out-of-range" }));
  });
});
