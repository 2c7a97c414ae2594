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
    expect(findOnset(new Float64Array(700).fill(700), 700, 480, 0, 690, { ...rule, inner: 2 }, RATE)).toBeUndefined();
  });

  // By hand: 11 N away is outside of a limit of 10 N, 10 N are not.
  test("a force at the limit is inside", () => {
    const force = new Float64Array(100).fill(700);
    force.fill(710, 40);
    expect(firstOutside(force, 700, 0, 100, 10, 5)).toBeUndefined();
    force.fill(711, 40);
    expect(firstOutside(force, 700, 0, 100, 10, 5)).toBe(40);
    force.fill(689, 40);
    expect(firstOutside(force, 700, 0, 100, 10, 5)).toBe(40);
  });

  test("needs the whole duration before the end", () => {
    const force = new Float64Array(100).fill(700);
    force.fill(730, 90);
    expect(firstOutside(force, 700, 0, 95, 10, 5)).toBe(90);
    expect(firstOutside(force, 700, 0, 94, 10, 5)).toBeUndefined();
    expect(firstOutside(force, 700, 92, 100, 10, 5)).toBe(92);
  });

  test("is the start where the force was never inside for as long as it must be", () => {
    const force = new Float64Array(300).fill(740);
    force.fill(700, 100, 109);
    expect(findOnset(force, 700, 200, 50, 290, rule, RATE)).toBe(50);
    force.fill(700, 100, 110);
    expect(findOnset(force, 700, 200, 50, 290, rule, RATE)).toBe(110);
    expect(findOnset(force, 700, 200, 100, 290, rule, RATE)).toBe(110);
    expect(findOnset(force, 700, 200, 101, 290, rule, RATE)).toBe(101);
  });

  test("looks no further back than the start", () => {
    const force = ramp(-1);
    expect(findOnset(force, 700, 600, 540, 690, rule, RATE)).toBe(540);
    expect(findOnset(force, 700, 600, 540, 690, { ...rule, inner: 2 }, RATE)).toBe(540);
  });

  test("asks no sample before the start whether the force is inside", () => {
    const force = new Float64Array(300).fill(740);
    force.fill(700, 100, 120);
    expect(findOnset(force, 700, 105, 100, 290, rule, RATE)).toBe(120);
    expect(findOnset(force, 700, 105, 99, 290, rule, RATE)).toBe(99);
  });

  test("searches forward from a force at the limit", () => {
    const force = new Float64Array(300).fill(710);
    force.fill(711, 200);
    expect(findOnset(force, 700, 150, 0, 290, rule, RATE)).toBe(200);
  });

  test("searches forward where the force at hand was inside for long enough, and backward where it was not", () => {
    const force = new Float64Array(300).fill(700);
    force.fill(740, 100, 120);
    force.fill(740, 200);
    // Nine samples inside before sample 128, ten before 129.
    expect(findOnset(force, 700, 128, 0, 290, rule, RATE)).toBe(100);
    expect(findOnset(force, 700, 129, 0, 290, rule, RATE)).toBe(200);
  });
});
