import { describe, expect, test } from "vitest";
import { bilateralIndex } from "../../../src/metrics/bilateralIndex.ts";

describe("bilateralIndex", () => {
  // By hand: 100 * 38 / 41 - 100 and 100 * 2000 / 2250 - 100.
  test("gives a deficit of 7.317 per cent for 38 against 20 and 21 cm, 11.111 for 2000 against 1150 and 1100 N", () => {
    expect(bilateralIndex(38, 20, 21)).toBeCloseTo(-7.317073170731703, 12);
    expect(bilateralIndex(2000, 1150, 1100)).toBeCloseTo(-11.111111111111114, 12);
  });

  test("does not care which limb is called left", () => {
    expect(bilateralIndex(2000, 1150, 1100)).toBe(bilateralIndex(2000, 1100, 1150));
  });

  test.each([
    [NaN, 20, 21, "not-a-number"],
    [0, 20, 21, "out-of-range"],
    [38, 0, 21, "out-of-range"],
    [38, 20, 0, "out-of-range"],
  ])("refuses %d %d %d: %s", (both: number, left: number, right: number, code: string) => {
    expect(() => bilateralIndex(both, left, right)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
