import { describe, expect, test } from "vitest";
import { correctedForce, zeroReading, zeroStretch } from "../../../src/trace/zero.ts";

describe("zeroStretch", () => {
  test("stays 40 ms inside a long flight", () => {
    expect(zeroStretch(1000, 1500, 1000)).toEqual({ start: 1040, end: 1460 });
  });

  test("takes the middle 60 % of a short one, and nothing of a very short one", () => {
    expect(zeroStretch(1000, 1100, 1000)).toEqual({ start: 1020, end: 1080 });
    expect(zeroStretch(1000, 1060, 1000)).toBeUndefined();
  });
});

describe("zeroReading", () => {
  // By hand: 3, 5, 4, 8 has mean 5, SD sqrt(14 / 3), largest distance 3.
  test("gives mean, standard deviation and peak residual", () => {
    const { mean, sd, peak } = zeroReading(Float64Array.of(99, 3, 5, 4, 8, 99), 1, 5);
    expect([mean, sd, peak]).toEqual([5, expect.closeTo(Math.sqrt(14 / 3), 12), 3]);
  });
});

describe("correctedForce", () => {
  test("takes off a constant and a drift around the time at which the constant holds", () => {
    const force = Float64Array.from({ length: 100 }, (_, i) => 700 + 12 + 3 * (i / 1000 - 0.05));
    for (const f of correctedForce(force, 12, 3, 0.05, 1000)) expect(f).toBeCloseTo(700, 9);
  });

  // By hand: 1, 2, ... less 10.
  test("takes off a constant alone, in place or into another array, and else leaves the force as it was", () => {
    const force = Float64Array.of(1, 2, 3, 4, 5, 6, 7);
    const expected = [-9, -8, -7, -6, -5, -4, -3];
    expect([...correctedForce(force, 10, 0, 5, 1000)]).toEqual(expected);
    expect([...force]).toEqual([1, 2, 3, 4, 5, 6, 7]);
    const into = new Float64Array(7);
    expect(correctedForce(force, 10, 0, 5, 1000, into)).toBe(into);
    expect([...into]).toEqual(expected);
    expect(correctedForce(force, 10, 0, 5, 1000, force)).toBe(force);
    expect([...force]).toEqual(expected);
  });
});
