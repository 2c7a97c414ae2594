import { describe, expect, test } from "vitest";
import { normalFrom, seededRandom } from "../../support/seededRandom.ts";
import { bestOfBias } from "../../../src/statistics/bestOfBias.ts";

describe("bestOfBias", () => {
  // SciPy 1.17.1: integrate.quad of k x pdf(x) cdf(x)^(k-1); two is 1 / sqrt(pi) exactly.
  test.each([
    [1, 0],
    [2, 0.5641895835477562],
    [3, 0.8462843753216346],
    [5, 1.16296447364052],
    [10, 1.5387527308351734],
  ])("the best of %d leads the mean by %d standard deviations", (count, bias) => {
    expect(bestOfBias(count)).toBeCloseTo(bias, 9);
  });

  test("agrees with the mean of simulated best trials", () => {
    const normal = normalFrom(seededRandom(5));
    let sum = 0;
    for (let run = 0; run < 40000; run++) sum += Math.max(normal(), normal(), normal(), normal());
    expect(Math.abs(sum / 40000 - bestOfBias(4))).toBeLessThan(0.015);
  });

  test("refuses no trial and half a trial", () => {
    expect(() => bestOfBias(0)).toThrow(expect.objectContaining({ name: "InputError", code: "out-of-range" }));
    expect(() => bestOfBias(2.5)).toThrow(expect.objectContaining({ code: "out-of-range" }));
  });
});
