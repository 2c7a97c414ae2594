import { describe, expect, test } from "vitest";
import { smallestWorthwhileChange } from "../../../src/statistics/smallestWorthwhileChange.ts";

describe("smallestWorthwhileChange", () => {
  // By hand: 0.2 * 4.918242.
  test("is a fifth of the standard deviation between people", () => {
    expect(smallestWorthwhileChange(4.918242281837806)).toBeCloseTo(0.9836484563675612, 12);
  });

  test("grows in proportion to the factor", () => {
    expect(smallestWorthwhileChange(5, 0.6)).toBeCloseTo(3 * smallestWorthwhileChange(5, 0.2), 12);
  });

  test("refuses a negative spread and a factor of zero", () => {
    expect(() => smallestWorthwhileChange(-1)).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => smallestWorthwhileChange(5, 0)).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => smallestWorthwhileChange(NaN)).toThrow(expect.objectContaining({ code: "not-a-number" }));
  });
});
