import { describe, expect, test } from "vitest";
import { otherLegCarries } from "../../../src/protocols/otherLegCarries.ts";
import type { Trial } from "../../../src/protocols/Trial.ts";

/** What is looked at: the stated leg's plate, and the one beside it. */
const trial = (stated: number, free?: { role: string; force: number }): Trial =>
  ({ plates: [{ role: "left", force: new Float64Array(10).fill(stated) }], freePlate: free && { role: free.role, force: new Float64Array(10).fill(free.force) } }) as unknown as Trial;

describe("otherLegCarries", () => {
  // By hand: three times the load, and not a newton less.
  test.each([
    [100, 301, "right"],
    [100, 300, undefined],
    [300, 100, undefined],
    // A plate that reads below zero carries nothing.
    [-100, 299, undefined],
    [-100, 301, "right"],
    [0, 1, "right"],
  ])("with %d N on the stated leg and %d N beside it: %s", (stated, force, role) => {
    expect(otherLegCarries(trial(stated, { role: "right", force }))).toBe(role);
  });

  test("names the leg by its plate, and nothing without a leg beside it", () => {
    expect(otherLegCarries(trial(0, { role: "left", force: 700 }))).toBe("left");
    expect(otherLegCarries(trial(0, { role: "box", force: 700 }))).toBeUndefined();
    expect(otherLegCarries(trial(0))).toBeUndefined();
  });

  test("compares means, not sums: the plates may be of unequal length", () => {
    const unequal = { plates: [{ role: "left", force: new Float64Array(1000).fill(100) }], freePlate: { role: "right", force: new Float64Array(10).fill(400) } } as unknown as Trial;
    expect(otherLegCarries(unequal)).toBe("right");
  });
});
