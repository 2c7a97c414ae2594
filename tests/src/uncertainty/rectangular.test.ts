import { describe, expect, test } from "vitest";
import { seededRandom } from "../../../src/synthetic/seededRandom.ts";
import { rectangular } from "../../../src/uncertainty/rectangular.ts";

describe("rectangular", () => {
  // JCGM 100 (2008), 4.3.7: a half-width of 15 ms gives 8.66 ms.
  test("divides the half-width by the root of three", () => {
    expect(rectangular(0.015)).toBeCloseTo(0.00866025, 8);
  });

  test("is the standard deviation of values that are all alike likely", () => {
    const random = seededRandom(11);
    const values = Array.from({ length: 20000 }, () => random.between(-2, 2));
    expect(Math.sqrt(values.reduce((sum, x) => sum + x * x, 0) / values.length)).toBeCloseTo(rectangular(2), 1);
  });
});
