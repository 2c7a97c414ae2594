import { describe, expect, test } from "vitest";
import { findPulls } from "../../../src/events/findPulls.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import { loadProfile } from "../../../src/trace/loadProfile.ts";

const profileOf = (force: Float64Array) => loadProfile([force], 1000);
const onePull = (): Float64Array => syntheticTrial({ test: "IMTP", plates: "total", faults: { noise: 2 } }).trace.plates[0]!.force;

describe("findPulls", () => {
  test("finds one pull, its middle of the rise after its onset", () => {
    const { trace, events } = syntheticTrial({ test: "IMTP", plates: "total", faults: { noise: 2 } });
    const pulls = findPulls(profileOf(trace.plates[0]!.force));
    expect(pulls).toHaveLength(1);
    expect(pulls[0]!.start / 1000).toBeGreaterThan(events.pullOnset!);
    expect(pulls[0]!.start / 1000).toBeLessThan(events.pullOnset! + 0.3);
  });

  test("finds both pulls of a record that holds two, and where the second baseline may begin", () => {
    const once = onePull();
    const twice = new Float64Array(once.length * 2);
    twice.set(once);
    twice.set(once, once.length);
    const pulls = findPulls(profileOf(twice));
    expect(pulls).toHaveLength(2);
    // To a block of 10 ms.
    expect(Math.abs(pulls[1]!.start - pulls[0]!.start - once.length)).toBeLessThanOrEqual(10);
    expect(pulls[1]!.after).toBe(pulls[0]!.end);
  });

  test("finds none in quiet standing, nor in stepping on", () => {
    expect(findPulls(profileOf(new Float64Array(4000).fill(800)))).toEqual([]);
    expect(findPulls(profileOf(Float64Array.from({ length: 4000 }, (_, i) => (i < 1000 ? 0 : 800))))).toEqual([]);
  });

  /** Stretches of one force each, in samples at 1000 Hz. */
  const steps = (...parts: readonly (readonly [number, number])[]) => findPulls(profileOf(Float64Array.from(parts.flatMap(([force, samples]) => Array.from({ length: samples }, () => force)))));

  // By hand, from the limits of the docblock.
  test("takes 0.3 s above the middle of the rise for a pull, and nothing shorter", () => {
    expect(steps([800, 1000], [1600, 300], [800, 1000])).toEqual([{ start: 1000, end: 1300, peak: 1600, after: 0 }]);
    expect(steps([800, 1000], [1600, 290], [800, 1000])).toEqual([]);
  });

  test("takes a rise of a fifth of the quiet force for a pull, and nothing smaller", () => {
    expect(steps([800, 1000], [960, 500], [800, 1000])).toHaveLength(1);
    expect(steps([800, 1000], [959, 500], [800, 1000])).toEqual([]);
  });

  test("begins and ends in the middle of the rise", () => {
    expect(steps([800, 1000], [1190, 200], [1600, 500], [1190, 200], [800, 1000])).toMatchObject([{ start: 1200, end: 1700 }]);
    expect(steps([800, 1000], [1210, 200], [1600, 500], [1210, 200], [800, 1000])).toMatchObject([{ start: 1000, end: 1900 }]);
    // The middle itself is not above it.
    expect(steps([800, 1000], [1200, 200], [1600, 500], [1200, 200], [800, 1000])).toMatchObject([{ start: 1200, end: 1700 }]);
  });

  test("gives each pull its own peak, and the end of the one before", () => {
    expect(steps([800, 1000], [2000, 500], [800, 1000], [1700, 500], [800, 1000])).toEqual([
      { start: 1000, end: 1500, peak: 2000, after: 0 },
      { start: 2500, end: 3000, peak: 1700, after: 1500 },
    ]);
    expect(steps([800, 1000], [1600, 200], [2000, 100], [1600, 200], [800, 1000])).toEqual([{ start: 1000, end: 1500, peak: 2000, after: 0 }]);
  });

  test("a rise that is too short moves no baseline", () => {
    expect(steps([800, 1000], [2000, 200], [800, 1000], [2000, 500], [800, 1000])).toEqual([{ start: 2200, end: 2700, peak: 2000, after: 0 }]);
  });

  test("begins a pull that the record begins with at its first sample, and ends one that it ends with at its last", () => {
    expect(steps([1600, 500], [800, 1000])).toEqual([{ start: 0, end: 500, peak: 1600, after: 0 }]);
    expect(steps([800, 1000], [1600, 503])).toEqual([{ start: 1000, end: 1503, peak: 1600, after: 0 }]);
  });

  test("the quiet force is that of somebody on the plate", () => {
    // A plate that is empty first: half way from 800 N is 1200 N, not 800 N.
    expect(steps([5, 1000], [800, 1000], [1150, 600], [1600, 500], [800, 500])).toMatchObject([{ start: 2600, end: 3100 }]);
    // From 15 % of the peak on somebody may be there.
    expect(steps([250, 1000], [1600, 500], [250, 500])).toHaveLength(1);
    expect(steps([240, 1000], [1600, 500], [240, 500])).toHaveLength(1);
    expect(steps([239, 1000], [1600, 500], [239, 500])).toEqual([]);
  });

  // By hand: a pull of 1600 N begins above the middle between it and the quiet force.
  test("the quiet force is the lowest mean of half a second, wherever it is", () => {
    // Half a second with 50 ms of 300 N has a mean of 750 N, and the middle is 1175 N.
    expect(steps([800, 1000], [300, 50], [800, 1000], [1170, 200], [1600, 500], [800, 1000])).toMatchObject([{ start: 2250, end: 2750 }]);
    expect(steps([800, 1000], [300, 50], [800, 1000], [1180, 200], [1600, 500], [800, 1000])).toMatchObject([{ start: 2050, end: 2750 }]);
    // The first half second, and no more.
    expect(steps([800, 500], [1202, 200], [1600, 500])).toMatchObject([{ start: 500 }]);
    // The last, after others and after 10 ms at 15 % of the peak: the middle is 1200 N.
    expect(steps([1000, 600], [240, 10], [1000, 600], [800, 1000], [1210, 200], [1600, 500])).toMatchObject([{ start: 2210 }]);
    expect(steps([1000, 600], [239, 10], [1000, 600], [800, 1000], [1210, 200], [1600, 500])).toMatchObject([{ start: 2210 }]);
  });
});
