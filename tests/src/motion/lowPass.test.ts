import { describe, expect, test } from "vitest";
import { lowPass } from "../../../src/motion/lowPass.ts";

const RATE = 1000;
const sine = (hertz: number): Float64Array => Float64Array.from({ length: 4000 }, (_, i) => Math.sin((2 * Math.PI * hertz * i) / RATE));
const amplitude = (values: Float64Array): number => Math.max(...values.slice(1500, 2500));

describe("lowPass", () => {
  // A Butterworth of second order passes 1 / sqrt(2) at its cut-off; forward and backward that is a half.
  test("halves a sine at the cut-off, leaves a slow one and removes a fast one", () => {
    expect(amplitude(lowPass(sine(50), RATE, 50))).toBeCloseTo(0.5, 2);
    expect(amplitude(lowPass(sine(2), RATE, 50))).toBeCloseTo(1, 4);
    expect(amplitude(lowPass(sine(300), RATE, 50))).toBeLessThan(0.001);
  });

  test("does not shift a slow sine in time", () => {
    const filtered = lowPass(sine(2), RATE, 50);
    // Crosses zero where the sine does, at 2 s.
    expect(Math.abs(filtered[2000]!)).toBeLessThan(1e-3);
  });

  test("leaves a constant as it is, and a record alone where the cut-off is above half the rate", () => {
    for (const f of lowPass(new Float64Array(100).fill(700), RATE, 50)) expect(f).toBeCloseTo(700, 9);
    const force = sine(3);
    expect(lowPass(force, RATE, 500)).toBe(force);
  });
});
