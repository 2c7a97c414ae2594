import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { extremePower } from "../../../src/synthetic/extremePower.ts";
import { SegmentChain, accelerationAt, displacementAt, extremeAcceleration, velocityAt } from "../../../src/synthetic/segments.ts";

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true, noDefaultInfinity: true });
const stretch = fc.record({ duration: number(0.02, 0.5), v1: number(-3, 3), a1: number(-9, 40) });

describe("SegmentChain", () => {
  test("is continuous in acceleration, velocity and displacement", () => {
    fc.assert(
      fc.property(fc.array(stretch, { minLength: 2, maxLength: 6 }), (stretches) => {
        const chain = new SegmentChain(0, 0, 0, 0);
        for (const { duration, v1, a1 } of stretches) chain.add("quiet", duration, v1, a1);
        for (const [i, segment] of chain.segments.entries()) {
          expect(accelerationAt(segment, 1)).toBeCloseTo(segment.a1, 8);
          expect(velocityAt(segment, 1)).toBeCloseTo(segment.v1, 10);
          expect(displacementAt(segment, 1)).toBeCloseTo(segment.z1, 10);
          const next = chain.segments[i + 1];
          if (next === undefined) continue;
          expect([next.v0, next.a0, next.z0]).toEqual([segment.v1, segment.a1, segment.z1]);
        }
      }),
    );
  });

  // Independent route: Simpson's rule is exact for the cubic velocity and, over two half-steps, close for the rest.
  test("integrates to its own velocity and displacement by Simpson's rule", () => {
    fc.assert(
      fc.property(stretch, number(-2, 2), number(-9, 20), ({ duration, v1, a1 }, v0, a0) => {
        const segment = new SegmentChain(0, v0, a0, 0).add("quiet", duration, v1, a1).segments[0];
        const simpson = (f: (s: number) => number) => (f(0) + 4 * f(0.5) + f(1)) / 6;
        expect(v0 + duration * simpson((s) => accelerationAt(segment, s))).toBeCloseTo(v1, 9);
        expect(duration * simpson((s) => velocityAt(segment, s))).toBeCloseTo(segment.z1, 9);
      }),
    );
  });
});

describe("extremeAcceleration and extremePower", () => {
  // Brute force over 20,000 instants can miss the top by second order only.
  test("agree with brute force", () => {
    fc.assert(
      fc.property(fc.array(stretch, { minLength: 1, maxLength: 3 }), fc.constantFrom(1 as const, -1 as const), (stretches, sign) => {
        const chain = new SegmentChain(0, 0, 0, 0);
        for (const { duration, v1, a1 } of stretches) chain.add("quiet", duration, v1, a1);
        const brute = (f: (segment: (typeof chain.segments)[number], s: number) => number) =>
          sign * Math.max(...chain.segments.map((segment) => {
            let best = -Infinity;
            for (let i = 0; i <= 20000; i++) best = Math.max(best, sign * f(segment, i / 20000));
            return best;
          }));
        const acceleration = brute(accelerationAt);
        const power = brute((segment, s) => (9.80665 + accelerationAt(segment, s)) * velocityAt(segment, s));
        expect(extremeAcceleration(chain.segments, sign).value).toBeCloseTo(acceleration, 4);
        expect(extremePower(chain.segments, sign, 9.80665).value / (1 + Math.abs(power))).toBeCloseTo(power / (1 + Math.abs(power)), 6);
      }),
      { numRuns: 30 },
    );
  });

  test("say when the extreme occurs", () => {
    // By hand: a = 1 - (2 s - 1)^2 over [2, 4] s has its top, 1, in the middle: ends 0, mean 2/3.
    const chain = new SegmentChain(2, 0, 0, 0).add("quiet", 2, (2 * 2) / 3, 0);
    const top = extremeAcceleration(chain.segments, 1);
    expect(top.value).toBeCloseTo(1, 12);
    expect(top.time).toBeCloseTo(3, 12);
  });
});
