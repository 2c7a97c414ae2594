import { describe, expect, test } from "vitest";
import { normalFrom, seededRandom } from "../../support/seededRandom.ts";
import { typicalError } from "../../../src/statistics/typicalError.ts";
import { individualChange } from "../../../src/statistics/individualChange.ts";

describe("individualChange", () => {
  // By hand and SciPy 1.17.1: change 1.9, typical error 0.80, smallest worthwhile change 0.95; SE 0.8 sqrt(2).
  test("gives interval and probabilities with the normal quantile", () => {
    const change = individualChange(36, 37.9, 0.8, { smallestWorthwhile: 0.95 });
    expect(change.standardError).toBeCloseTo(1.1313708498984762, 10);
    expect(change.low).toBeCloseTo(0.03906055411732168, 9);
    expect(change.high).toBeCloseTo(3.760939445882678, 9);
    expect(change.probabilities!.up).toBeCloseTo(0.7994586932971753, 9);
    expect(change.probabilities!.trivial).toBeCloseTo(0.19465800865897226, 9);
    expect(change.probabilities!.down).toBeCloseTo(0.005883298043852393, 9);
  });

  test("gives wider limits with Student's t where the error is known from eight people", () => {
    const change = individualChange(36, 37.9, 0.8, { smallestWorthwhile: 0.95, degreesOfFreedom: 7 });
    expect(change.low).toBeCloseTo(-0.2434710066076784, 9);
    expect(change.high).toBeCloseTo(4.043471006607678, 9);
    expect(change.probabilities!.up).toBeCloseTo(0.7855874263219726, 9);
    expect(change.probabilities!.down).toBeCloseTo(0.019932410595367454, 9);
  });

  test("with three results a side the probability of a rise is 0.9271", () => {
    const change = individualChange(36, 37.9, 0.8, { smallestWorthwhile: 0.95, countBefore: 3, countAfter: 3 });
    expect(change.probabilities!.up).toBeCloseTo(0.927080137406021, 9);
  });

  test("a fall mirrors a rise and the probabilities add up to one", () => {
    const rise = individualChange(36, 37.9, 0.8, { smallestWorthwhile: 0.5 });
    const fall = individualChange(37.9, 36, 0.8, { smallestWorthwhile: 0.5 });
    expect(fall.low).toBeCloseTo(-rise.high, 12);
    expect(fall.probabilities!.down).toBeCloseTo(rise.probabilities!.up, 10);
    const { up, trivial, down } = rise.probabilities!;
    expect(up + trivial + down).toBeCloseTo(1, 12);
  });

  // The typical error is estimated anew in every run from twenty people with two trials, as a practitioner would; the true
  // change is drawn at random. Binomial scatter of 6000 runs: 0.3 percentage points.
  test.each([
    [0.95, 0.93, 0.97],
    [0.9, 0.88, 0.92],
  ])("the %d interval covers the true change between %d and %d of the time", (level, least, most) => {
    const normal = normalFrom(seededRandom(2024));
    const runs = 6000;
    let inside = 0;
    for (let run = 0; run < runs; run++) {
      const squad = Array.from({ length: 20 }, () => {
        const person = 36 + 5 * normal();
        return [person + 0.8 * normal(), person + 0.3 + 0.8 * normal()];
      });
      const { value, degreesOfFreedom } = typicalError(squad);
      const truth = 1.5 * normal();
      const before = 36 + 0.8 * normal();
      const after = 36 + truth + 0.8 * normal();
      const { low, high } = individualChange(before, after, value, { degreesOfFreedom, level });
      if (low <= truth && truth <= high) inside++;
    }
    expect(inside / runs).toBeGreaterThan(least);
    expect(inside / runs).toBeLessThan(most);
  });

  test("refuses a typical error of zero, a level in per cent and no trials", () => {
    expect(() => individualChange(36, 37, 0)).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => individualChange(36, 37, 1, { level: 90 })).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => individualChange(36, 37, 1, { countBefore: 0 })).toThrow(expect.objectContaining({ code: "out-of-range" }));
    expect(() => individualChange(NaN, 37, 1)).toThrow(expect.objectContaining({ code: "not-a-number" }));
  });
});
