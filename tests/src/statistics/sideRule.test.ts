import { describe, expect, test } from "vitest";
import { sideRule, SIDE_RULES } from "../../../src/statistics/sideRule.ts";
import { normalFrom, seededRandom } from "../../support/seededRandom.ts";

const left = Object.freeze([812, 790, 805, 780, 813]);
const right = Object.freeze([688, 705, 715, 690, 702]);
const close = Object.freeze([812, 761, 835, 700, 792]);
const other = Object.freeze([740, 775, 815, 690, 760]);

describe("sideRule", () => {
  test.each(SIDE_RULES)("%s calls a clear difference real and a small one noise", (rule) => {
    expect(sideRule(rule, left, right, "singleLeg").real).toBe(true);
    expect(sideRule(rule, close, other, "singleLeg").real).toBe(false);
  });

  // By hand: 8 of 252 ways with five a side; the simulated table for the larger variation.
  test("states how often each rule is wrong about equal sides", () => {
    expect(SIDE_RULES.map((rule) => sideRule(rule, left, right, "singleLeg").falsePositivePercent)).toEqual([
      expect.closeTo(5, 10),
      10,
      expect.closeTo(800 / 252, 10),
    ]);
  });

  test("a rank test of three trials a side can never call a difference real, and says so by a rate of zero", () => {
    expect(sideRule("rank test", [900, 910, 920], [1, 2, 3], "singleLeg")).toMatchObject({ real: false, falsePositivePercent: 0, trials: 3 });
  });

  // Independent of the stated rate: equal sides in simulated sessions of four trials. Binomial scatter about 0.5 points.
  test.each(SIDE_RULES)("%s keeps its stated rate in simulated sessions of equal sides", (rule) => {
    const normal = normalFrom(seededRandom(83));
    const side = (): number[] => [0, 1, 2, 3].map(() => 800 + 40 * normal());
    const runs = 4000;
    let real = 0;
    let stated = 0;
    for (let run = 0; run < runs; run++) {
      const answer = sideRule(rule, side(), side(), "singleLeg");
      stated = answer.falsePositivePercent;
      if (answer.real) real++;
    }
    expect(Math.abs((100 * real) / runs - stated)).toBeLessThan(2);
  });

  test("refuses an unknown rule", () => {
    expect(() => sideRule("odd" as "interval", left, right, "singleLeg")).toThrow(
      expect.objectContaining({ name: "InputError", code: "unknown-name" }),
    );
  });

  test.each(SIDE_RULES)("%s counts the side with fewer trials", (rule) => {
    expect(sideRule(rule, left, right.slice(0, 3), "singleLeg").trials).toBe(3);
    expect(sideRule(rule, left.slice(0, 3), right, "singleLeg").trials).toBe(3);
  });
});
