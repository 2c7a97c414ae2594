import { describe, expect, test } from "vitest";
import { findOnset, firstOutside } from "../../../src/events/findOnset.ts";

const RATE = 1000;
/** 700 N, then from sample 500 on a fall by 1 N a sample. */
const ramp = (direction: 1 | -1): Float64Array => Float64Array.from({ length: 700 }, (_, i) => 700 + direction * Math.max(0, i - 500));
const rule = { limit: 10, duration: 0.01, stepBack: 0 };

describe("findOnset", () => {
  // By hand: the ramp is 10 N away at sample 510, so 511 is the first outside.
  test.each([1, -1] as const)("finds the first sample outside the limit, whichever way the force starts (%d)", (direction) => {
    expect(findOnset(ramp(direction), 700, 600, 0, 690, rule, RATE)).toBe(511);
    expect(findOnset(ramp(direction), 700, 480, 0, 690, rule, RATE)).toBe(511);
  });

  test("goes on to a tighter limit where the rule has one", () => {
    expect(findOnset(ramp(-1), 700, 600, 0, 690, { ...rule, inner: 2 }, RATE)).toBe(503);
  });

  test("is not stopped by one sample that noise throws back inside", () => {
    const force = ramp(-1);
    force[540] = 700;
    expect(findOnset(force, 700, 600, 0, 690, rule, RATE)).toBe(511);
  });

  test("is not tripped by sway that stays outside for less than the duration", () => {
    const force = ramp(-1);
    force.fill(720, 200, 208);
    expect(firstOutside(force, 700, 0, 690, 10, 10)).toBe(511);
    force.fill(720, 200, 215);
    expect(firstOutside(force, 700, 0, 690, 10, 10)).toBe(200);
  });

  test("finds nothing in a force that never leaves the limit", () => {
    expect(findOnset(new Float64Array(700).fill(700), 700, 480, 0, 690, rule, RATE)).toBeUndefined();
  });
});
