import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { findQuietEnd, findQuietStand, meanOf, weigh } from "../../../src/events/quietStanding.ts";
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

  /** The same from the definitions, one sum at a time. */
  function plainly(force: readonly number[], rate: number): Record<string, number> {
    const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
    const level = mean(force);
    const half = Math.floor(force.length / 2);
    const width = Math.round(0.05 * rate);
    const blocks = Array.from({ length: Math.floor(force.length / width) }, (_, k) => force.slice(k * width, (k + 1) * width).reduce((sum, value) => sum + value - level, 0));
    const impulses = blocks.map((_, k) => blocks.slice(0, k + 1).reduce((sum, block) => sum + block, 0) / rate);
    return {
      mean: level,
      sd: Math.sqrt(force.reduce((sum, value) => sum + (value - level) ** 2, 0) / (force.length - 1)),
      sway: Math.sqrt(blocks.reduce((sum, block) => sum + (block / width) ** 2, 0) / (blocks.length - 1)),
      halfDifference: mean(force.slice(half)) - mean(force.slice(0, half)),
      noise: Math.sqrt(force.slice(1).reduce((sum, value, i) => sum + (value - force[i]!) ** 2, 0) / (force.length - 1) / 2),
      impulseSd: Math.sqrt(mean(impulses.map((impulse) => (impulse - mean(impulses)) ** 2))),
    };
  }

  test.each([[100, 40], [100, 43], [200, 101], [1000, 777], [20, 9]])("is what its definitions say, at %d Hz over %d samples of a longer record", (rate, length) => {
    const random = seededRandom(rate + length);
    const force = Float64Array.from({ length: length + 30 }, (_, i) => 700 + 4 * Math.sin(i / 9) + random.normal());
    const found = weigh(force, 20, 20 + length, rate);
    expect([found.start, found.end]).toEqual([20, 20 + length]);
    for (const [name, value] of Object.entries(plainly([...force.slice(20, 20 + length)], rate))) expect(found[name as "mean"], name).toBeCloseTo(value, 9);
  });

  test("has no spread to speak of in one sample, and no sway in one block", () => {
    expect(weigh(Float64Array.of(1, 700, 2), 1, 2, 1000)).toEqual({ start: 1, end: 2, mean: 700, sd: 0, sway: 0, halfDifference: 0, noise: 0, impulseSd: 0 });
    expect(weigh(Float64Array.from({ length: 9 }, (_, i) => 700 + i), 0, 9, 100)).toMatchObject({ sway: 0, impulseSd: 0, halfDifference: 4.5 });
    // Not one whole block, and one alone.
    expect(weigh(Float64Array.of(700, 703), 0, 2, 1000)).toMatchObject({ mean: 701.5, sway: 0, impulseSd: 0, halfDifference: 3 });
    expect(weigh(Float64Array.from({ length: 6 }, (_, i) => 700 + i), 0, 6, 100)).toMatchObject({ sway: 0, impulseSd: 0 });
  });
});

/** Stretches of one force each, in samples at 1000 Hz: blocks of 10. A pair of forces alternates every 50 ms. */
type Part = readonly [force: number | readonly [number, number], samples: number];
const record = (...parts: readonly Part[]) => loadProfile([Float64Array.from(parts.flatMap(([force, samples]) => Array.from({ length: samples }, (_, i) => (typeof force === "number" ? force : force[Math.floor(i / 50) % 2]!))))], 1000);

describe("findQuietStand, by hand", () => {
  const unknown = { before: 4000, length: 1, accept: () => 0.1 };
  const search = { ...unknown, bodyWeight: 700 };

  test("ends 0.15 s before the movement and is as long as was asked", () => {
    expect(findQuietStand(record([700, 3000], [900, 1000]), search)).toEqual({ window: { start: 1850, end: 2850 }, steadyUntil: 3000 });
    expect(findQuietStand(record([700, 3000], [900, 1000]), { ...search, length: 0.5 })).toEqual({ window: { start: 2350, end: 2850 }, steadyUntil: 3000 });
    // Not beyond where the search begins or ends.
    expect(findQuietStand(record([700, 3000], [900, 1000]), { ...search, from: 2500 })).toEqual({ window: { start: 2500, end: 2850 }, steadyUntil: 3000 });
    expect(findQuietStand(record([700, 3000], [900, 1000]), { ...search, before: 2000 })).toEqual({ window: { start: 850, end: 1850 }, steadyUntil: 2000 });
  });

  test("weighs the person itself where no body weight is known", () => {
    expect(findQuietStand(record([700, 3000], [900, 1000]), { ...unknown, before: 3400 })).toEqual({ window: { start: 1850, end: 2850 }, steadyUntil: 3000 });
    expect(findQuietStand(record([0, 4000]), unknown)).toBeUndefined();
    // What is left of a second, where less than two are searched.
    expect(findQuietStand(record([700, 3000], [900, 1000]), { ...unknown, from: 2400, before: 3000 })).toEqual({ window: { start: 2400, end: 2850 }, steadyUntil: 3000 });
    // Three samples at 10 Hz: 0.3 s, of which 0.2 s are kept.
    expect(findQuietStand(loadProfile([Float64Array.of(700, 700, 700)], 10), { ...unknown, before: 3 })).toEqual({ window: { start: 0, end: 2 }, steadyUntil: 3 });
  });

  test("weighs the second that is stillest for the load it carries, the last of those that are alike, and none after the search", () => {
    // A second at 700 N among five that sway by 20 N.
    expect(findQuietStand(record([[880, 920], 5000], [700, 1000], [900, 1000]), { ...unknown, before: 6000 })).toMatchObject({ steadyUntil: 6000 });
    // An empty plate that reads 20 N sways by a twentieth of that, a person of 700 N by a 140th.
    expect(findQuietStand(record([[19, 21], 2000], [[695, 705], 2000], [900, 1000]), unknown)).toMatchObject({ steadyUntil: 4000 });
    expect(findQuietStand(record([700, 2000], [900, 2000]), unknown)).toMatchObject({ steadyUntil: 4000 });
    expect(findQuietStand(record([[899, 901], 1000], [1000, 10], [700, 2000]), { ...unknown, before: 2000 })).toMatchObject({ steadyUntil: 1000 });
  });

  test("finds no stand of nobody", () => {
    expect(findQuietStand(record([0, 4000]), { ...search, bodyWeight: 0 })).toBeUndefined();
  });

  test("takes a force within 5 % of body weight for steady, and no other", () => {
    expect(findQuietStand(record([735, 1000], [900, 1000]), search)).toMatchObject({ steadyUntil: 1000 });
    expect(findQuietStand(record([665, 1000], [900, 1000]), search)).toMatchObject({ steadyUntil: 1000 });
    expect(findQuietStand(record([736, 1000], [900, 1000]), search)).toBeUndefined();
    expect(findQuietStand(record([664, 1000], [900, 1000]), search)).toBeUndefined();
    expect(findQuietStand(record([800, 1000], [900, 1000]), { ...search, band: 0.15 })).toMatchObject({ steadyUntil: 1000 });
  });

  test("needs a quarter of a second, of which it keeps a fifth", () => {
    expect(findQuietStand(record([900, 1000], [700, 250], [900, 1000]), search)).toEqual({ window: { start: 1000, end: 1200 }, steadyUntil: 1250 });
    expect(findQuietStand(record([900, 1000], [700, 240], [900, 1000]), search)).toBeUndefined();
    expect(findQuietStand(record([900, 1000], [700, 400], [900, 1000]), search)).toEqual({ window: { start: 1000, end: 1250 }, steadyUntil: 1400 });
    expect(findQuietStand(record([600, 1000], [700, 400], [900, 1000]), search)).toEqual({ window: { start: 1000, end: 1250 }, steadyUntil: 1400 });
    // At the limits of the band the stand goes on.
    for (const limit of [665, 735]) expect(findQuietStand(record([limit, 1000], [700, 400], [900, 1000]), { ...search, accept: () => 40 })).toMatchObject({ window: { start: 250, end: 1250 } });
    // A quarter of a second with which the record begins, or the search.
    expect(findQuietStand(record([700, 250], [900, 1000]), search)).toEqual({ window: { start: 0, end: 200 }, steadyUntil: 250 });
    expect(findQuietStand(record([700, 1250], [900, 1000]), { ...search, from: 1000 })).toEqual({ window: { start: 1000, end: 1200 }, steadyUntil: 1250 });
  });

  // By hand: the means over 50 ms are what each part holds; three that are 10 N above, 10 N below and at their mean have an SD of 10 N.
  test("accepts as much movement as it is told to, and no more", () => {
    const stand = record([700, 1850], [710, 50], [690, 50], [700, 200], [900, 1000]);
    expect(findQuietStand(stand, { ...search, length: 0.15, accept: () => 10 })!.window).toEqual({ start: 1850, end: 2000 });
    // 10 ms earlier: 708, 694 and 698 N.
    expect(findQuietStand(stand, { ...search, length: 0.15, accept: () => 9.99 })!.window).toEqual({ start: 1840, end: 1990 });
  });

  test("where nothing is still enough, takes the last of the stillest windows that do not reach before the stand", () => {
    const still = [[698, 50], [702, 50], [700, 50]] as const;
    const parts = [[680, 50], [720, 50], [680, 50], ...still, [720, 50], [680, 50]] as const;
    expect(findQuietStand(record(...parts, ...parts, [720, 150], [900, 1000]), { ...search, length: 0.15 })!.window).toEqual({ start: 550, end: 700 });
    expect(findQuietStand(record([900, 2000], [[690, 710], 1000], [1200, 1000]), search)!.window).toEqual({ start: 2000, end: 2850 });
  });

  // By hand: five parts of 10 ms, 10 N above and below in turn, have a mean 2 N above or below.
  test("takes what is faster than 50 ms for no movement", () => {
    const humming = Array.from({ length: 115 }, (_, k) => [k % 2 === 0 ? 710 : 690, 10] as const);
    expect(findQuietStand(record([700, 1850], ...humming, [900, 1000]), { ...search, accept: () => 3 })!.window).toEqual({ start: 1850, end: 2850 });
  });

  test("goes back to where the person stands still, by two seconds at most", () => {
    const moved = findQuietStand(record([700, 1850], [[690, 710], 1150], [900, 1000]), search)!;
    expect(moved).toEqual({ window: { start: 850, end: 1850 }, steadyUntil: 3000 });
    // What is accepted is taken as it is.
    expect(findQuietStand(record([700, 1850], [[690, 710], 1150], [900, 1000]), { ...search, accept: () => 20 })!.window).toEqual({ start: 1850, end: 2850 });
    // Three seconds ago is too long ago: of the windows in reach the stillest.
    const far = findQuietStand(record([700, 3000], [[690, 710], 3000], [900, 1000]), { ...search, before: 7000 })!;
    expect(far.window.end).toBeGreaterThanOrEqual(3850);
    expect(far.window.end - far.window.start).toBe(1000);
    // Two seconds ago is in reach.
    expect(findQuietStand(record([700, 3850], [[690, 710], 2150], [900, 1000]), { ...search, before: 7000 })!.window).toEqual({ start: 2850, end: 3850 });
  });

  test("accepts by the body weight it found", () => {
    const seen: number[] = [];
    findQuietStand(record([700, 3000], [900, 1000]), { ...search, accept: (w) => (seen.push(w), 5) });
    expect(seen).toEqual([700]);
  });
});

describe("findQuietEnd, by hand", () => {
  test("is the last of the stillest stretches after the movement", () => {
    expect(findQuietEnd(record([900, 500], [700, 3000]), 500, 1, 0.5, 100)).toEqual({ start: 2500, end: 3500 });
    expect(findQuietEnd(record([900, 500], [700, 1500], [[690, 710], 1500]), 500, 1, 0.5, 100)).toEqual({ start: 1000, end: 2000 });
    expect(findQuietEnd(record([900, 500], [[690, 710], 1500], [700, 1500]), 500, 0.5, 0.5, 100)).toEqual({ start: 3000, end: 3500 });
    // Each second of a steady sway is like the others; so is each of a stand whose sums are rounded.
    expect(findQuietEnd(record([900, 500], [[690, 710], 3000]), 500, 1, 0.5, 100)).toEqual({ start: 2500, end: 3500 });
    expect(findQuietEnd(record([900, 500], [700.1, 3000]), 500, 1, 0.5, 100)).toEqual({ start: 2500, end: 3500 });
    // In newtons, not for the load: 3 N of 200 N are stiller than 5 N of 700 N.
    expect(findQuietEnd(record([900, 500], [[197, 203], 1500], [[695, 705], 1500]), 500, 1, 0.5, 100)!.end).toBeLessThanOrEqual(2000);
    // No window begins before the search, however the rest sways.
    expect(findQuietEnd(record([900, 500], [[300, 1100], 2000]), 500, 1, 0.5, 100)).toEqual({ start: 1500, end: 2500 });
  });

  test("takes what is left where it is enough", () => {
    expect(findQuietEnd(record([900, 500], [700, 700]), 500, 1, 0.5, 100)).toEqual({ start: 500, end: 1200 });
    expect(findQuietEnd(record([900, 500], [700, 500]), 500, 1, 0.5, 100)).toEqual({ start: 500, end: 1000 });
    expect(findQuietEnd(record([900, 500], [700, 490]), 500, 1, 0.5, 100)).toBeUndefined();
    // The first whole block after the movement.
    expect(findQuietEnd(record([900, 500], [700, 700]), 501, 1, 0.5, 100)).toEqual({ start: 510, end: 1200 });
  });

  test("counts only what somebody stands on", () => {
    expect(findQuietEnd(record([900, 500], [[690, 710], 1500], [0, 1500]), 500, 1, 0.5, 100)!.end).toBeLessThanOrEqual(2200);
    expect(findQuietEnd(record([900, 500], [90, 3000]), 500, 1, 0.5, 100)).toBeUndefined();
    expect(findQuietEnd(record([900, 500], [100, 3000]), 500, 1, 0.5, 100)).toBeUndefined();
    expect(findQuietEnd(record([900, 500], [101, 3000]), 500, 1, 0.5, 100)).toEqual({ start: 2500, end: 3500 });
  });
});

test("meanOf is the mean from the first sample to before the last", () => {
  expect(meanOf(Float64Array.of(1, 2, 4, 9, 100), { start: 1, end: 4 })).toBe(5);
});
