import { describe, expect, test } from "vitest";
import { normalFrom, seededRandom } from "../../support/seededRandom.ts";
import { asymmetryVerdict } from "../../../src/statistics/asymmetryVerdict.ts";

describe("asymmetryVerdict", () => {
  const left = Object.freeze([812, 790, 805, 780, 813]);
  const right = Object.freeze([688, 705, 715, 690, 702]);
  const leftClose = Object.freeze([812, 761, 835, 700, 792]);
  const rightClose = Object.freeze([740, 775, 815, 690, 760]);

  // SciPy 1.17.1: ttest_ind(100 log(left), 100 log(right), equal_var=False).confidence_interval(0.95).
  test("calls a clear single-leg difference real", () => {
    const verdict = asymmetryVerdict(left, right, "singleLeg");
    expect(verdict.low).toBeCloseTo(10.851695032876576, 8);
    expect(verdict.high).toBeCloseTo(15.848561255764155, 8);
    expect([verdict.real, verdict.side]).toEqual([true, "left"]);
  });

  test("calls a small single-leg difference within the scatter of trials", () => {
    const verdict = asymmetryVerdict(leftClose, rightClose, "singleLeg");
    expect(verdict.low).toBeCloseTo(-6.420452916965601, 8);
    expect(verdict.high).toBeCloseTo(12.60028451968357, 8);
    expect(verdict.real).toBe(false);
  });

  // SciPy 1.17.1: ttest_rel of the logarithms.
  test("pairs bilateral trials, which narrows the interval", () => {
    const verdict = asymmetryVerdict(leftClose, rightClose, "bilateral");
    expect(verdict.low).toBeCloseTo(-1.982495263679192, 8);
    expect(verdict.high).toBeCloseTo(8.162326866396977, 8);
  });

  test("turns round with the sides", () => {
    const verdict = asymmetryVerdict(right, left, "bilateral");
    expect(verdict.side).toBe("right");
    expect(verdict.low).toBeCloseTo(-asymmetryVerdict(left, right, "bilateral").high, 10);
  });

  test("calls nothing real, and no side higher, where both sides are the same", () => {
    expect(asymmetryVerdict([800, 800], [800, 800], "bilateral")).toMatchObject({ real: false, side: "neither", low: 0, high: 0 });
  });

  // Equal sides with a coefficient of variation of 5 %: an interval at 95 % errs in one of twenty. Binomial scatter 0.3 points.
  test.each(["bilateral", "singleLeg"] as const)("calls equal sides different in about 5 of 100 %s sessions of three trials", (design) => {
    const normal = normalFrom(seededRandom(31));
    const trials = (): number[] => [0, 1, 2].map(() => 800 * Math.exp(0.05 * normal()));
    let real = 0;
    const runs = 6000;
    for (let run = 0; run < runs; run++) if (asymmetryVerdict(trials(), trials(), design).real) real++;
    expect(real / runs).toBeLessThan(0.06);
    // Welch's interval errs on the safe side with so few trials.
    expect(real / runs).toBeGreaterThan(0.03);
  });

  test("refuses unpaired bilateral trials, single trials and sides at or below zero", () => {
    expect(() => asymmetryVerdict([1, 2], [1, 2, 3], "bilateral")).toThrow(expect.objectContaining({ code: "wrong-shape" }));
    expect(() => asymmetryVerdict([1], [2], "singleLeg")).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => asymmetryVerdict([1, 0], [2, 3], "singleLeg")).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => asymmetryVerdict([1, NaN], [2, 3], "singleLeg")).toThrow(expect.objectContaining({ code: "not-a-number" }));
  });

  test("calls a clear difference to the right real too, with the means and counts behind it", () => {
    expect(asymmetryVerdict(right, left.slice(0, 4), "singleLeg")).toMatchObject({ real: true, side: "right", design: "singleLeg", level: 0.95, leftMean: 700, rightMean: 796.75, leftCount: 5, rightCount: 4 });
  });

  test("says which condition is not met", () => {
    expect(() => asymmetryVerdict([1, 2], [3, 0], "singleLeg")).toThrow("both sides above zero in every trial");
    expect(() => asymmetryVerdict([1, 2], [-3, -4], "singleLeg")).toThrow("both sides above zero in every trial");
    expect(() => asymmetryVerdict([1, 2], [1, 2, 3], "bilateral")).toThrow("left and right of the same trials");
    for (const design of ["bilateral", "singleLeg"] as const) expect(() => asymmetryVerdict([1], [2], design)).toThrow("asymmetry verdict requires at least two trials of each side");
    expect(() => asymmetryVerdict([1, 2], [2], "singleLeg")).toThrow("asymmetry verdict requires at least two trials of each side");
    expect(() => asymmetryVerdict([1], [2, 3], "singleLeg")).toThrow("asymmetry verdict requires at least two trials of each side");
  });
});
