import { describe, expect, test } from "vitest";
import { quietStandardDeviation } from "../../../src/trace/quietStandardDeviation.ts";
import { normalFrom, seededRandom } from "../../support/seededRandom.ts";
import { jumpLike } from "./traces.ts";

describe("quietStandardDeviation", () => {
  test("finds the noise of standing, not that of the flight or the push", () => {
    for (const noise of [1, 3]) {
      const found = quietStandardDeviation(jumpLike(8, noise).plates[0].force, 1000);
      expect(found).toBeGreaterThan(0.85 * noise);
      expect(found).toBeLessThan(1.1 * noise);
    }
  });

  test("does not take the silence of a plate set to zero for quiet standing", () => {
    const normal = normalFrom(seededRandom(4));
    const force = Float64Array.from({ length: 4000 }, (_, i) => (i < 2000 ? 0 : 600 + 2 * normal()));
    expect(quietStandardDeviation(force, 1000)).toBeGreaterThan(1.8);
  });

  test("gives infinity for a plate that never changes and zero for one too short to tell", () => {
    expect(quietStandardDeviation(new Float64Array(5000), 1000)).toBe(Infinity);
    expect(quietStandardDeviation(Float64Array.of(1, 2, 3), 1000)).toBe(0);
  });
});
