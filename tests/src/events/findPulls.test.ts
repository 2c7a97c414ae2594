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
});
