import { describe, expect, test } from "vitest";
import { armSwingGain } from "../../../src/metrics/armSwingGain.ts";

describe("armSwingGain", () => {
  // By hand: 100 * 6 / 38.
  test("gives 15.79 per cent for 44 against 38 cm", () => {
    expect(armSwingGain(44, 38)).toBeCloseTo(15.789473684210526, 12);
  });

  test("is negative where the arms do not help", () => {
    expect(armSwingGain(36, 38)).toBeLessThan(0);
  });

  test.each([
    [NaN, 38, "not-a-number"],
    [0, 38, "out-of-range"],
    [44, 0, "out-of-range"],
  ])("refuses %d %d: %s", (withArms: number, without: number, code: string) => {
    expect(() => armSwingGain(withArms, without)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
