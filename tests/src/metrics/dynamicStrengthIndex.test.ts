import { describe, expect, test } from "vitest";
import fc from "fast-check";
import { dynamicStrengthIndex } from "../../../src/metrics/dynamicStrengthIndex.ts";

describe("dynamicStrengthIndex", () => {
  // By hand: 2000 / 2450; net of 735.5 N 1264.5 / 1714.5.
  test("gives 0.8163 gross and 0.7375 net for the same person", () => {
    expect(dynamicStrengthIndex(2000, 2450)).toBeCloseTo(0.8163265306122449, 14);
    expect(dynamicStrengthIndex(2000, 2450, 735.5)).toBeCloseTo(0.7375328083989501, 14);
  });

  test("is smaller net than gross wherever the jump stays below the pull", () => {
    fc.assert(
      fc.property(fc.double({ min: 900, max: 2400, noNaN: true }), fc.double({ min: 300, max: 890, noNaN: true }), (jump, weight) => {
        expect(dynamicStrengthIndex(jump, 2500, weight)).toBeLessThan(dynamicStrengthIndex(jump, 2500));
      }),
    );
  });

  test("is one where both peaks are equal, gross or net", () => {
    expect(dynamicStrengthIndex(2100, 2100)).toBe(1);
    expect(dynamicStrengthIndex(2100, 2100, 700)).toBe(1);
  });

  test.each([
    [NaN, 2450, 735, "not-a-number"],
    [0, 2450, 735, "out-of-range"],
    [2000, 0, 735, "out-of-range"],
    [700, 2450, 735, "out-of-range"],
    [2000, 2450, 2450, "out-of-range"],
    [735, 2450, 735, "out-of-range"],
    [3000, 2450, 2450, "out-of-range"],
    [3000, 2400, 2450, "out-of-range"],
    [2000, 2450, 0, "out-of-range"],
  ])("refuses %d %d %d: %s", (jump: number, pull: number, weight: number, code: string) => {
    expect(() => dynamicStrengthIndex(jump, pull, weight)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
