import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { findQuietStand, weigh } from "../../../src/events/quietStanding.ts";
import { seededRandom } from "../../../src/synthetic/seededRandom.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import { loadProfile } from "../../../src/trace/loadProfile.ts";

const accept = (w: number): number => Math.max(0.01 * w, 5);

describe("findQuietStand", () => {
  // The window that reaches into the movement is the error that moves body weight by a newton and height by millimetres.
  test("never reaches into the movement, whatever the athlete, the rate and the sway", () => {
    fc.assert(
      fc.property(
        fc.record({ test: fc.constantFrom("CMJ" as const, "SJ" as const), arms: fc.constantFrom("hips" as const, "swing" as const), mass: fc.double({ min: 30, max: 120, noNaN: true }), rate: fc.constantFrom(200, 500, 1000, 2000), seed: fc.integer({ min: 1, max: 1e6 }), sway: fc.double({ min: 0, max: 4, noNaN: true }) }),
        ({ sway, ...options }) => {
          const { trace, events, truth } = syntheticTrial({ ...options, faults: { noise: 1, sway } });
          const profile = loadProfile(trace.plates.map(({ force }) => force), trace.rate);
          const stand = findQuietStand(profile, { before: Math.floor(events.takeoff! * trace.rate), length: 1, accept })!;
          expect(stand.window.end / trace.rate).toBeLessThanOrEqual(events.onset! + 1e-9);
          const { mean } = weigh(profile.force, stand.window.start, stand.window.end, trace.rate);
          expect(Math.abs(mean - truth.bodyWeight!)).toBeLessThan(0.6 + 0.4 * sway);
        },
      ),
      { numRuns: 40, seed: 20 },
    );
  });

  test("uses the half second there is, and tells its length", () => {
    const { trace, events } = syntheticTrial({ test: "CMJ", quietBefore: 0.75 });
    const { window } = findQuietStand(loadProfile(trace.plates.map(({ force }) => force), trace.rate), { before: Math.floor(events.takeoff! * trace.rate), length: 1, accept })!;
    expect(window.end - window.start).toBeGreaterThanOrEqual(500);
    expect(window.end / trace.rate).toBeLessThanOrEqual(events.onset!);
  });

  test("finds none where the record begins in movement", () => {
    const { trace, events } = syntheticTrial({ test: "CMJ", faults: { cutStart: 1.8 } });
    expect(findQuietStand(loadProfile(trace.plates.map(({ force }) => force), trace.rate), { before: Math.floor(events.takeoff! * trace.rate), length: 1, accept })).toBeUndefined();
  });
});

describe("weigh", () => {
  // Independent route: the textbook sums, in two passes.
  test("gives mean and standard deviation of the samples, and their noise", () => {
    const random = seededRandom(3);
    const force = Float64Array.from({ length: 1000 }, () => 700 + 2 * random.normal());
    const { mean, sd, noise, sway } = weigh(force, 0, 1000, 1000);
    const plainMean = force.reduce((sum, f) => sum + f, 0) / 1000;
    expect(mean).toBeCloseTo(plainMean, 10);
    expect(sd).toBeCloseTo(Math.sqrt(force.reduce((sum, f) => sum + (f - plainMean) ** 2, 0) / 999), 10);
    expect(noise).toBeGreaterThan(1.85);
    expect(noise).toBeLessThan(2.15);
    // White noise of 2 N has means over 50 samples that vary by 2 / sqrt(50) = 0.28 N.
    expect(sway).toBeLessThan(0.5);
  });

  test("sees a step of 3 N between the halves", () => {
    const force = Float64Array.from({ length: 1000 }, (_, i) => (i < 500 ? 700 : 703));
    expect(weigh(force, 0, 1000, 1000).halfDifference).toBeCloseTo(3, 10);
  });

  // By hand: a sine of 5 N at 2 Hz has the impulse 5 / (2 pi 2) (1 - cos), whose SD is 5 / (4 pi sqrt 2) = 0.281 N s.
  test("reads the velocity of a swaying body", () => {
    const force = Float64Array.from({ length: 1000 }, (_, i) => 700 + 5 * Math.sin((4 * Math.PI * i) / 1000));
    expect(weigh(force, 0, 1000, 1000).impulseSd).toBeCloseTo(5 / (4 * Math.PI * Math.SQRT2), 1);
  });
});
