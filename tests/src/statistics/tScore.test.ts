import { describe, expect, test } from "vitest";
import { mean, standardDeviation } from "../../../src/statistics/moments.ts";
import { tScore } from "../../../src/statistics/tScore.ts";

describe("tScore", () => {
  const squad = Object.freeze([34.1, 38.6, 41.2, 29.8, 45.0, 36.7, 33.0, 40.3]);

  // By hand: mean 37.3375, SD 4.935567.
  test("gives the eight scores of an invented squad", () => {
    const expected = [43.44046993556127, 52.55796346142206, 57.82584860969719, 34.72819834418317, 65.52506536486852, 48.708355083836395, 41.2117492959064, 56.00234990452502];
    squad.forEach((value, index) => expect(tScore(value, squad)).toBeCloseTo(expected[index], 9));
  });

  test("scores of a squad average 50 with a standard deviation of 10", () => {
    const scores = squad.map((value) => tScore(value, squad, "lower"));
    expect(mean(scores)).toBeCloseTo(50, 10);
    expect(standardDeviation(scores)).toBeCloseTo(10, 10);
  });

  test("refuses a squad without spread", () => {
    expect(() => tScore(1, [2, 2])).toThrow(expect.objectContaining({ name: "InputError", code: "not-available" }));
  });
});
