import { describe, expect, test } from "vitest";
import { errorLimits } from "../../../src/statistics/errorLimits.ts";

describe("errorLimits", () => {
  // SciPy: 0.604448 * sqrt(7 / scipy.stats.chi2.ppf([0.975, 0.025], 7)).
  test("gives the 95 % limits of a standard deviation with seven degrees of freedom", () => {
    const { low, high } = errorLimits(0.604448, 7, 0.95);
    expect(low).toBeCloseTo(0.3996453919, 8);
    expect(high).toBeCloseTo(1.2302161447, 8);
  });

  test("scales with the error and narrows towards it as degrees of freedom grow", () => {
    expect(errorLimits(2, 7, 0.95).low).toBeCloseTo(2 * errorLimits(1, 7, 0.95).low, 12);
    expect(errorLimits(1, 100000, 0.95).low).toBeCloseTo(1, 2);
    expect(errorLimits(1, 100000, 0.95).high).toBeCloseTo(1, 2);
  });

  test.each([0, -1, NaN])("refuses %d degrees of freedom", (degreesOfFreedom) => {
    expect(() => errorLimits(1, degreesOfFreedom, 0.95)).toThrow(expect.objectContaining({ name: "InputError", code: "out-of-range" }));
  });
});
