import { describe, expect, test } from "vitest";
import { reliableChangeIndex } from "../../../src/statistics/reliableChangeIndex.ts";

describe("reliableChangeIndex", () => {
  // By hand: 2.5 / (sqrt(2) * 0.6044478).
  test("gives 2.9246 for 38.0 to 40.5 cm", () => {
    expect(reliableChangeIndex(38.0, 40.5, 0.6044477999440001)).toBeCloseTo(2.9245982086958477, 10);
  });

  test("changes sign with the order and not with the unit", () => {
    expect(reliableChangeIndex(40.5, 38, 0.6)).toBeCloseTo(-reliableChangeIndex(38, 40.5, 0.6), 12);
    expect(reliableChangeIndex(0.38, 0.405, 0.006)).toBeCloseTo(reliableChangeIndex(38, 40.5, 0.6), 10);
  });

  test("refuses an error of zero", () => {
    expect(() => reliableChangeIndex(38, 40, 0)).toThrow(expect.objectContaining({ name: "InputError", code: "out-of-range" }));
    expect(() => reliableChangeIndex(NaN, 40, 1)).toThrow(expect.objectContaining({ code: "not-a-number" }));
  });
});
