import { describe, expect, test } from "vitest";
import { lowPass } from "../../../src/motion/lowPass.ts";

const RATE = 1000;
/** SciPy 1.17.1: see the test that reads it. */
const EXPECTED = [109.74548104982051, 105.74070539231873, 49.53113902629908, 2.1069168915952154, -1.5750406997850475];
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

  // The first pass carries a pulse only forward: what stands before it comes from the second, to the very first sample.
  test("runs backward to the first sample", () => {
    const pulse = new Float64Array(40);
    pulse[3] = 1000;
    const filtered = lowPass(pulse, RATE, 50);
    for (const i of [0, 1, 2]) expect(filtered[i]).toBeGreaterThan(50);
    expect(filtered[0]).toBeLessThan(filtered[1]!);
    expect(pulse[3]).toBe(1000);
  });

  // SciPy 1.17.1: filtfilt(*butter(2, 50 / 500), x, padtype=None) on a pulse in the middle, far from both ends.
  test("gives the response of a filter run twice", () => {
    const pulse = new Float64Array(401);
    pulse[200] = 1000;
    const filtered = lowPass(pulse, RATE, 50);
    expect([0, 1, 5, 10, 20].map((off) => filtered[200 + off])).toEqual(EXPECTED.map((value) => expect.closeTo(value, 8)));
    expect([1, 5, 10, 20].map((off) => filtered[200 - off])).toEqual(EXPECTED.slice(1).map((value) => expect.closeTo(value, 8)));
  });
});
