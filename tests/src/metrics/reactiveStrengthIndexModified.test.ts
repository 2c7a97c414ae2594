import { describe, expect, test } from "vitest";
import { reactiveStrengthIndexModified } from "../../../src/metrics/reactiveStrengthIndexModified.ts";

describe("reactiveStrengthIndexModified", () => {
  // By hand: 0.3446640799865398 / 0.745.
  test("gives 0.4626 m/s for 0.34466 m after 0.745 s", () => {
    expect(reactiveStrengthIndexModified(0.3446640799865398, 0.745)).toBeCloseTo(0.46263635, 8);
  });

  // By hand: 0.030 / 0.775 of the index.
  test("falls by 3.9 per cent where the onset is taken 30 ms earlier", () => {
    const late = reactiveStrengthIndexModified(0.34, 0.745);
    const early = reactiveStrengthIndexModified(0.34, 0.775);
    expect((100 * (late - early)) / late).toBeCloseTo(3.871, 3);
  });

  test.each([
    [NaN, 0.7, "not-a-number"],
    [-0.3, 0.7, "out-of-range"],
    [0.3, 0, "out-of-range"],
  ])("refuses %d %d: %s", (height: number, time: number, code: string) => {
    expect(() => reactiveStrengthIndexModified(height, time)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
