import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { impulse, integrate, shifted } from "../../../src/motion/integrate.ts";

const G = 9.80665;

describe("integrate", () => {
  // By hand: 1.5 times body weight from rest is an acceleration of g / 2.
  test("gives a constant acceleration its velocity and displacement", () => {
    const { velocity, displacement } = integrate(new Float64Array(1001).fill(1050), 700, G, 0, 1001, 1000);
    expect(velocity[1000]).toBeCloseTo(G / 2, 10);
    expect(displacement[1000]).toBeCloseTo(G / 4, 6);
  });

  test("leaves a body in the air to gravity", () => {
    const { velocity, displacement } = integrate(new Float64Array(501), 700, G, 0, 501, 1000, 2.5, 0.1);
    expect(velocity[500]).toBeCloseTo(2.5 - G / 2, 10);
    expect(displacement[500]).toBeCloseTo(0.1 + 2.5 / 2 - G / 8, 10);
  });

  test("started from another velocity, gives the same motion as shifting does", () => {
    const force = Float64Array.from({ length: 300 }, (_, i) => 700 + 400 * Math.sin(i / 40));
    const direct = integrate(force, 700, G, 20, 280, 1000, -2.3, 0.2);
    const moved = shifted(integrate(force, 700, G, 20, 280, 1000), -2.3, 0.2);
    for (const k of [0, 100, 259]) {
      expect(moved.velocity[k]).toBeCloseTo(direct.velocity[k]!, 10);
      expect(moved.displacement[k]).toBeCloseTo(direct.displacement[k]!, 10);
    }
  });
});

describe("impulse", () => {
  // Exact for a straight line: the area of a trapezium.
  test("of a straight line is the area under it, between samples too", () => {
    const force = Float64Array.from({ length: 101 }, (_, i) => 100 + 3 * i);
    fc.assert(
      fc.property(fc.double({ min: 0, max: 0.099, noNaN: true }), fc.double({ min: 0, max: 0.099, noNaN: true }), (a, b) => {
        const [start, end] = a < b ? [a, b] : [b, a];
        const at = (t: number): number => 100 + 3000 * t;
        expect(impulse(force, start, end, 1000)).toBeCloseTo(((at(start) + at(end)) / 2) * (end - start), 9);
      }),
    );
  });

  test("adds up over neighbouring stretches", () => {
    const force = Float64Array.from({ length: 400 }, (_, i) => 700 + 300 * Math.cos(i / 30));
    const whole = impulse(force, 0.0127, 0.3519, 1000);
    expect(impulse(force, 0.0127, 0.2003, 1000) + impulse(force, 0.2003, 0.3519, 1000)).toBeCloseTo(whole, 9);
  });
});
