import { describe, expect, test } from "vitest";
import { bodyWeightUncertainty } from "../../../src/uncertainty/bodyWeightUncertainty.ts";

describe("bodyWeightUncertainty", () => {
  // By hand: half of 0.6 N, and 2 N of noise over 400 samples is 0.1 N; sqrt(0.09 + 0.01).
  test("adds half of the half-window difference and the noise of the mean in quadrature", () => {
    expect(bodyWeightUncertainty({ halfDifference: 0.6, noise: 2, samples: 400 })).toBeCloseTo(Math.sqrt(0.1), 12);
  });

  test("does not care which half is the heavier", () => {
    expect(bodyWeightUncertainty({ halfDifference: -0.6, noise: 2, samples: 400 })).toBe(bodyWeightUncertainty({ halfDifference: 0.6, noise: 2, samples: 400 }));
  });

  test("does not treat the samples of a second as 3 independent ones: 5 N of noise in 1000 samples leaves 0.16 N", () => {
    expect(bodyWeightUncertainty({ halfDifference: 0, noise: 5, samples: 1000 })).toBeCloseTo(0.158, 3);
  });
});
