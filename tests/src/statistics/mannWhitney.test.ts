import { describe, expect, test } from "vitest";
import { mannWhitney } from "../../../src/statistics/mannWhitney.ts";

describe("mannWhitney", () => {
  // SciPy 1.17.1: mannwhitneyu(left, right, method="exact").
  test("gives U 25 and p 0.0079 where every left trial is higher", () => {
    const { u, p } = mannWhitney(Object.freeze([812, 790, 805, 780, 813]), Object.freeze([688, 705, 715, 690, 702]));
    expect(u).toBe(25);
    expect(p).toBeCloseTo(0.007936507936507936, 12);
  });

  test("gives U 17 and p 0.421 where the sides overlap", () => {
    const { u, p } = mannWhitney([812, 761, 835, 700, 792], [740, 775, 815, 690, 760]);
    expect(u).toBe(17);
    expect(p).toBeCloseTo(0.42063492063492064, 12);
  });

  // SciPy 1.17.1: permutation_test over all 35 ways of the rank statistic: 4 of U, two-sided 0.62857.
  test("counts ties with mid-ranks", () => {
    const { u, p } = mannWhitney([1, 2, 2, 5], [2, 3, 4]);
    expect(u).toBe(4);
    expect(p).toBeCloseTo(0.6285714285714286, 12);
  });

  // By hand: U is 2 of 4, the middle of six ways.
  test("gives a p of one where the groups interlock evenly", () => {
    expect(mannWhitney([1, 4], [2, 3])).toMatchObject({ u: 2, p: 1 });
  });

  // By hand: 20 ways, two of them extreme.
  test("cannot give less than 0.10 with three trials a side", () => {
    expect(mannWhitney([7, 8, 9], [1, 2, 3])).toEqual({ u: 9, p: 0.1, leastP: 0.1, size: 0 });
  });

  // By hand: of 252 ways with five a side, U of 0, 1 and 2 have 1, 1 and 2 ways; doubled, p 8/252 = 0.032; U of 3 (3 more ways) gives 0.056.
  test("errs in 8 of 252 cases with five trials a side at 5 per cent", () => {
    expect(mannWhitney([1, 2, 3, 4, 5], [6, 7, 8, 9, 10]).size).toBeCloseTo(8 / 252, 12);
  });

  test("gives one p for either order of the groups", () => {
    const [one, other] = [mannWhitney([3, 9, 4, 6], [5, 2, 8]), mannWhitney([5, 2, 8], [3, 9, 4, 6])];
    expect(other.p).toBeCloseTo(one.p, 12);
    expect(one.u + other.u).toBe(12);
  });

  test("refuses an empty side and too many trials", () => {
    expect(() => mannWhitney([], [1])).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => mannWhitney(new Array(40).fill(1), new Array(40).fill(2))).toThrow(expect.objectContaining({ code: "too-large" }));
    expect(() => mannWhitney([NaN], [1])).toThrow(expect.objectContaining({ code: "not-a-number" }));
  });
});
