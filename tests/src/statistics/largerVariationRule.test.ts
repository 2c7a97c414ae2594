import { describe, expect, test } from "vitest";
import { normalFrom, seededRandom } from "../../support/seededRandom.ts";
import { largerVariationRule } from "../../../src/statistics/largerVariationRule.ts";

describe("largerVariationRule", () => {
  // By hand: means 800 and 700, coefficients of variation 1.81 and 1.59 %.
  test("calls 12.5 per cent real against 1.8 per cent of variation", () => {
    const rule = largerVariationRule(Object.freeze([812, 790, 805, 780, 813]), Object.freeze([688, 705, 715, 690, 702]));
    expect(rule.percentage).toBeCloseTo(12.5, 10);
    expect(rule.leftVariation).toBeCloseTo(1.809264353266266, 9);
    expect(rule.rightVariation).toBeCloseTo(1.5939938288872426, 9);
    expect(rule.real).toBe(true);
  });

  test("calls 3.1 per cent noise against 6.7 per cent of variation", () => {
    const rule = largerVariationRule([812, 761, 835, 700, 792], [740, 775, 815, 690, 760]);
    expect(rule.percentage).toBeCloseTo(3.076923076923077, 10);
    expect(rule.real).toBe(false);
  });

  // Independent of the stored table: simulated equal sides, coefficient of variation 5 %. Scatter of 8000 runs below 0.6 points.
  test.each([2, 3, 5, 8])("states the false-positive rate it really has with %d trials a side", (trials) => {
    const normal = normalFrom(seededRandom(100 + trials));
    const side = (): number[] => Array.from({ length: trials }, () => 800 + 40 * normal());
    let real = 0;
    for (let run = 0; run < 8000; run++) if (largerVariationRule(side(), side()).real) real++;
    const { falsePositivePercent } = largerVariationRule(side(), side());
    expect(Math.abs((100 * real) / 8000 - falsePositivePercent)).toBeLessThan(1.8);
  });

  test("takes the rate of the side with fewer trials and stops at the end of the table", () => {
    expect(largerVariationRule([1, 2], [1, 2, 3, 4]).falsePositivePercent).toBe(32);
    const many = Array.from({ length: 30 }, (_, index) => 50 + index);
    expect(largerVariationRule(many, many).falsePositivePercent).toBe(1);
  });

  test("refuses single trials and a mean that is not above zero", () => {
    expect(() => largerVariationRule([1], [2, 3])).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => largerVariationRule([-1, 1], [2, 3])).toThrow(expect.objectContaining({ code: "out-of-range" }));
  });

  // By hand: means 95 and 100, 5 %; variations 14.9 and 1.4 %: more than the smaller, less than the larger.
  test("heeds the larger of the two variations, whichever side has it", () => {
    expect(largerVariationRule([85, 105], [99, 101])).toMatchObject({ percentage: -5, real: false });
    expect(largerVariationRule([99, 101], [85, 105])).toMatchObject({ percentage: 5, real: false });
  });

  test("calls nothing real where nothing differs and nothing scatters", () => {
    expect(largerVariationRule([100, 100], [100, 100])).toMatchObject({ percentage: 0, leftVariation: 0, rightVariation: 0, real: false });
  });

  test("names itself where one side has a single trial", () => {
    for (const [one, other] of [[[1], [2, 3]], [[2, 3], [1]], [[1], [2]]]) expect(() => largerVariationRule(one!, other!)).toThrow("larger-variation rule requires at least two trials of each side");
  });
});
