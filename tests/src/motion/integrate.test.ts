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

  // By hand: from -1 m/s with 1.5 times body weight the velocity is zero after 2 / g = 0.204 s.
  test("may end at the first sample that does not move downward, from a given sample on", () => {
    const force = new Float64Array(1001).fill(1050);
    const whole = integrate(force, 700, G, 100, 1001, 1000, -1);
    const short = integrate(force, 700, G, 100, 1001, 1000, -1, 0, undefined, 150);
    expect(short.velocity).toHaveLength(205);
    expect(short.velocity[204]).toBeGreaterThanOrEqual(0);
    expect(short.velocity[203]).toBeLessThan(0);
    expect([...short.velocity]).toEqual([...whole.velocity.subarray(0, 205)]);
    expect([...short.displacement]).toEqual([...whole.displacement.subarray(0, 205)]);
    expect(integrate(force, 700, G, 100, 1001, 1000, -1, 0, undefined, 500).velocity).toHaveLength(401);
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

describe("integrate and shifted, sample for sample", () => {
  // By hand: W 700 N, forces 700, 1400, 0 at 10 Hz give accelerations 0, g, -g; trapezoids of 0.1 s.
  test("give as many samples as the stretch has, beginning with what was given", () => {
    const force = Float64Array.of(9999, 700, 1400, 0, 9999);
    const { start, rate, velocity, displacement } = integrate(force, 700, G, 1, 4, 10, 0.5, -0.2);
    expect([start, rate, velocity.length, displacement.length]).toEqual([1, 10, 3, 3]);
    const v = [0.5, 0.5 + 0.05 * G, 0.5 + 0.05 * G];
    expect([...velocity]).toEqual(v.map((value) => expect.closeTo(value, 12)));
    expect([...displacement]).toEqual([-0.2, -0.2 + (v[0]! + v[1]!) * 0.05, -0.2 + (v[0]! + v[1]!) * 0.05 + (v[1]! + v[2]!) * 0.05].map((value) => expect.closeTo(value, 12)));
  });

  test("are the trapezoids of any force, whatever the start, the length and where it may end", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -3000, max: 6000, noNaN: true }), { minLength: 1, maxLength: 40 }),
        fc.nat(12),
        fc.option(fc.nat(60), { nil: Infinity }),
        (forces, start, restFrom) => {
          fc.pre(start < forces.length);
          const { velocity, displacement } = integrate(Float64Array.from(forces), 700, G, start, forces.length, 50, -0.4, 0.3, undefined, restFrom);
          let [v, z] = [-0.4, 0.3];
          const expected = [[v, z]];
          for (let i = start + 1; i < forces.length; i++) {
            const before = v;
            v += (((forces[i - 1]! + forces[i]!) / 2 / 700 - 1) * G) / 50;
            z += (before + v) / 2 / 50;
            expected.push([v, z]);
            // Which side of zero a velocity of none lies on is a matter of rounding.
            fc.pre(Math.abs(v) > 1e-9);
            if (i >= restFrom && v >= 0) break;
          }
          expect([...velocity].map((one, k) => [one, displacement[k]])).toEqual(expected.map((pair) => pair.map((value) => expect.closeTo(value, 9))));
        },
      ),
    );
  });

  test("an empty stretch gives an empty motion", () => {
    for (const end of [5, 3]) expect(integrate(new Float64Array(9), 700, G, 5, end, 1000)).toMatchObject({ velocity: new Float64Array(0), displacement: new Float64Array(0) });
  });

  // By hand: another 0.1 m/s over 0.2 s is 2 cm more at the end; the start is where it is said to be, whatever it was.
  test("shifting a motion that did not begin at rest at zero", () => {
    const moved = shifted({ start: 7, rate: 10, velocity: Float64Array.of(1, 2, 3), displacement: Float64Array.of(0.5, 0.65, 0.9) }, 1.1, 0.3);
    expect([moved.start, moved.rate]).toEqual([7, 10]);
    expect([...moved.velocity]).toEqual([1.1, 2.1, 3.1].map((value) => expect.closeTo(value, 12)));
    expect([...moved.displacement]).toEqual([0.3, 0.46, 0.72].map((value) => expect.closeTo(value, 12)));
  });
});

describe("impulse", () => {
  const bent = Float64Array.of(100, 300, 200, 600);

  // By hand, at 10 Hz: straight lines between 100, 300, 200 and 600 N.
  test.each([
    ["between two samples", 0.12, 0.18, ((280 + 220) / 2) * 0.06],
    ["between two samples, from the first on", 0, 0.05, ((100 + 200) / 2) * 0.05],
    ["up to a sample", 0.05, 0.1, ((200 + 300) / 2) * 0.05],
    ["over a sample", 0.05, 0.15, ((200 + 300) / 2) * 0.05 + ((300 + 250) / 2) * 0.05],
    ["over two samples", 0.05, 0.25, ((200 + 300) / 2) * 0.05 + ((300 + 200) / 2) * 0.1 + ((200 + 400) / 2) * 0.05],
    ["of all", 0, 0.3, 20 + 25 + 40],
    ["at one instant", 0.12, 0.12, 0],
    ["at a sample", 0.1, 0.1, 0],
    ["of a stretch that ends before it begins", 0.27, 0.12, 0],
    ["of one that ends before it begins between the same samples", 0.18, 0.12, 0],
    // Where the record ends, nothing is made up.
    ["beyond the end of the record", 0.25, 0.37, ((400 + 600) / 2) * 0.05],
  ])("%s", (_what, start, end, expected) => {
    expect(impulse(bent, start, end, 10)).toBeCloseTo(expected, 10);
  });

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
