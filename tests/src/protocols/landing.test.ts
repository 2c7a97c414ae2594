import { describe, expect, test } from "vitest";
import { integrate } from "../../../src/motion/integrate.ts";
import { finalStand, landingForces, landingMotion, lowAfterLanding, stabilisation, velocityAtEnd } from "../../../src/protocols/landing.ts";
import { Kinematics, restAt } from "../../../src/protocols/Kinematics.ts";
import type { Trial } from "../../../src/protocols/Trial.ts";
import { INTEGRAL, LANDING_GROUP, type Quantity, SIDES, TIMES, WEIGHT } from "../../../src/protocols/workings.ts";
import { LANDING } from "../../../src/uncertainty/sources.ts";
import { forceOf, type HandOptions, handTrial } from "../../support/handTrial.ts";

// All expected numbers are worked by hand from the forces, which are levels and straight lines.

const G = 9.80665;
const value = (trial: Trial, id: string): number | undefined => trial.work.metrics.get(id)?.value;
const part = (trial: Trial, id: string, source: string): number => trial.work.metrics.get(id)!.budget!.find((one) => one.source === source)?.u ?? 0;
const needs = (trial: Trial, id: string): number => trial.work.metrics.get(id)!.needs;
/** An instant whose standard uncertainty is 1 ms. */
const instant = (trial: Trial, time: number): Quantity => trial.work.quantity(time, TIMES, LANDING, 0.001);

/** A trial whose weight is given, N, with noise, N. */
function weighed(plates: Parameters<typeof handTrial>[0], weight: number, noise = 0, options: HandOptions = {}): Trial {
  const trial = handTrial(plates, options);
  trial.setWeight(undefined, weight);
  trial.noise = noise;
  return trial;
}

describe("landingForces", () => {
  /** From 0 to 2000 N in 50 ms, steepest between 20 and 80 %; down to 700 N in 100 ms. */
  const STRIKE = [[100, 0], [10, 0, 400], [20, 400, 1600], [20, 1600, 2000], [100, 2000, 700]] as const;
  const of = (force: Float64Array, settings: HandOptions["settings"] = [], at = 0.1): Trial => {
    const trial = handTrial({ total: force }, { settings });
    landingForces(trial, instant(trial, at));
    return trial;
  };

  test("give the peak, its time after the landing, and the loading rate up to it", () => {
    const trial = of(forceOf(...STRIKE, [500, 700]));
    expect(value(trial, "peakLandingForce")).toBe(2000);
    expect(value(trial, "timeToPeakLandingForce")).toBeCloseTo(0.05, 12);
    expect(value(trial, "landingLoadingRate")).toBeCloseTo(40000, 6);
    expect(trial.facts.recordEnds).toBeUndefined();
    expect(needs(trial, "peakLandingForce")).toBe(LANDING_GROUP);
    expect(needs(trial, "timeToPeakLandingForce")).toBe(TIMES | LANDING_GROUP);
    expect(part(trial, "timeToPeakLandingForce", "landing")).toBeCloseTo(0.001, 9);
    expect(trial.work.steps().find(({ gives }) => gives === "peakLandingForce")!.inputs.map((input) => input.value)).toEqual([0.1, 0.4]);
  });

  test("or the slope between 20 and 80 % of the peak", () => {
    const trial = handTrial({ total: forceOf(...STRIKE, [500, 700]) }, { settings: [["loading-rate-form", "20 to 80 %"]], step: 0.6 });
    trial.noise = 3;
    landingForces(trial, instant(trial, 0.1));
    // From the first sample at 400 N or more to the first at 1600 N or more.
    expect(value(trial, "landingLoadingRate")).toBeCloseTo(1200 / 0.02, 6);
    expect(needs(trial, "landingLoadingRate")).toBe(TIMES | LANDING_GROUP);
    // Two samples with their own noise, neither chosen among others; 0.25 % of gain; two roundings of 0.6 / sqrt(12) N.
    expect(part(trial, "landingLoadingRate", "noise")).toBeCloseTo((Math.SQRT2 * 3) / 0.02, 6);
    expect(part(trial, "landingLoadingRate", "gain")).toBeCloseTo(150, 6);
    expect(part(trial, "landingLoadingRate", "rounding")).toBeCloseTo((Math.SQRT2 * 0.6) / Math.sqrt(12) / 0.02, 6);
    const bent = of(forceOf([100, 0], [5, 0, 300], [10, 300, 390], [3, 401], [20, 500, 1590], [10, 1590, 1590], [1, 1601], [9, 1610, 2000], [100, 2000, 700], [400, 700]), [["loading-rate-form", "20 to 80 %"]]);
    expect(value(bent, "landingLoadingRate")).toBeCloseTo((1601 - 401) / 0.033, 6);
    // What was on the plate before the landing does not count.
    const stood = of(forceOf([50, 900], [50, 0], ...STRIKE.slice(1), [500, 700]), [["loading-rate-form", "20 to 80 %"]]);
    expect(value(stood, "landingLoadingRate")).toBeCloseTo(1200 / 0.02, 6);
  });

  test("of a force that is there at once has no rate", () => {
    const once = forceOf([100, 0], [50, 2000], [500, 700]);
    expect(value(of(once), "peakLandingForce")).toBe(2000);
    expect(value(of(once), "timeToPeakLandingForce")).toBe(0);
    for (const settings of [[], [["loading-rate-form", "20 to 80 %"]]] as const) {
      expect(value(of(once, settings), "landingLoadingRate")).toBeUndefined();
      expect(of(once, settings).work.steps().map(({ gives }) => gives)).not.toContain("landingLoadingRate");
    }
    // A landing between two samples: the first sample after it.
    expect(value(of(once, [["loading-rate-form", "20 to 80 %"]], 0.0995), "landingLoadingRate")).toBeUndefined();
    expect(value(of(once, [], 0.0995), "landingLoadingRate")).toBeCloseTo(2000 / 0.0005, 3);
  });

  test("look 0.3 s ahead, and need a record that goes on for so long", () => {
    const second = (after: number): Float64Array => forceOf(...STRIKE, [after, 700], [1, 2500], [500, 700]);
    expect(value(of(second(149)), "peakLandingForce")).toBe(2500);
    expect(value(of(second(151)), "peakLandingForce")).toBe(2000);
    const short = of(forceOf(...STRIKE, [149, 700]));
    expect(short.facts.recordEnds).toBeCloseTo(0.299, 12);
    expect(short.work.metrics.size).toBe(0);
    // 0.6 s less 0.3 s are exactly 0.3 s.
    const whole = of(forceOf([300, 0], ...STRIKE.slice(1), [150, 700]), [], 0.3);
    expect([whole.facts.recordEnds, value(whole, "peakLandingForce")]).toEqual([undefined, 2000]);
  });
});

describe("landingMotion", () => {
  const W = 700;
  /** Lands with 2 m/s on a force of twice the weight, which brakes by g: to rest in 2 / g s, over 2 / g m. */
  const TIME = 2 / G;
  const landed = (plates: Parameters<typeof handTrial>[0], { at = 0.1, from = 100, samples = 400, velocity = -2, noise = 0 } = {}): { trial: Trial; kinematics: Kinematics } => {
    const trial = weighed(plates, W, noise);
    const kinematics = new Kinematics(trial, integrate(trial.force, W, G, from, from + samples, 1000, velocity), from / 1000, restAt(trial));
    landingMotion(trial, kinematics, instant(trial, at));
    return { trial, kinematics };
  };

  test("follows the body from touchdown to where it stops", () => {
    const { trial } = landed({ total: forceOf([300, 0], [700, 2 * W]) }, { at: 0.3, from: 300 });
    expect(value(trial, "landingVelocity")).toBe(-2);
    expect(value(trial, "landingTime")).toBeCloseTo(TIME, 9);
    // To the trapezoid's half step.
    expect(value(trial, "landingDepth")).toBeCloseTo(-2 / G, 6);
    expect(value(trial, "landingImpulse")).toBeCloseTo((W / G) * 2, 9);
    expect(trial.events.get("landingLowest")!.time).toBeCloseTo(0.3 + TIME, 9);
    expect(trial.phases).toEqual([{ name: "landing", start: 0.3, end: trial.events.get("landingLowest")!.time }]);
    expect(trial.facts.recordEnds).toBeUndefined();
    expect(value(trial, "landingImpulseLeft")).toBeUndefined();
    for (const id of ["landingVelocity", "landingTime", "landingDepth", "landingImpulse"]) expect(needs(trial, id), id).toBe(TIMES | WEIGHT | INTEGRAL | LANDING_GROUP);
  });

  test("knows the gross impulse of each side", () => {
    const { trial } = landed({ left: forceOf([100, 0], [900, 800]), right: forceOf([100, 0], [900, 600]) });
    expect(value(trial, "landingImpulseLeft")).toBeCloseTo(800 * TIME, 6);
    expect(value(trial, "landingImpulseRight")).toBeCloseTo(600 * TIME, 6);
    expect(needs(trial, "landingImpulseLeft")).toBe(TIMES | WEIGHT | INTEGRAL | LANDING_GROUP | SIDES);
  });

  // Slopes by hand. A millisecond later the body falls by g ms faster; it comes to rest as much later as its velocity is more.
  test("doubts the instant of the landing in all of them", () => {
    const { trial } = landed({ total: forceOf([100, 0], [900, 2 * W]) });
    const signed = (id: string): number => trial.work.metrics.get(id)!.parts[LANDING]!;
    expect(signed("landingVelocity")).toBeCloseTo(-G * 0.001, 9);
    expect(signed("landingImpulse")).toBeCloseTo((W / G) * G * 0.001, 9);
    // What it falls before it lands is not part of the way down from there.
    expect(signed("landingDepth")).toBeCloseTo(2 * 0.001, 9);
    expect(signed("landingTime")).toBeCloseTo(-0.001, 9);
  });

  test("doubts the lowest point by what is not known of the velocity there, over the acceleration", () => {
    const { trial } = landed({ total: forceOf([100, 0], [900, 2 * W]) }, { noise: 5 });
    // Noise of a velocity t after its start: g / W s sqrt(t / rate); braked by g.
    expect(part(trial, "landingTime", "noise")).toBeCloseTo(((G / W) * 5 * Math.sqrt(TIME / 1000)) / G, 9);
  });

  test("begins at the landing, wherever the motion begins, on the sample or between two", () => {
    // Falls for 50 ms more before it lands: 2 + 0.05 g.
    const force = forceOf([150, 0], [900, 2 * W]);
    const { trial } = landed({ total: force }, { at: 0.15 });
    const v = value(trial, "landingVelocity")!;
    // The force is there at once: the trapezoid has half of it over the last millisecond.
    expect(v).toBeCloseTo(-2 - 0.05 * G + 0.001 * G, 9);
    expect(value(trial, "landingTime")).toBeCloseTo(-v / G, 9);
    const between = landed({ total: force }, { at: 0.1496 }).trial;
    expect(value(between, "landingVelocity")).toBeCloseTo(-2 - 0.049 * G - 0.0006 * 0, 2);
    expect(between.events.get("landingLowest")!.time).toBeCloseTo(trial.events.get("landingLowest")!.time, 12);
  });

  test("has no end where the record ends before it, or the body does not come down", () => {
    const cut = landed({ total: forceOf([100, 0], [200, 2 * W]) }, { samples: 200 }).trial;
    expect(cut.facts.recordEnds).toBeCloseTo(0.2, 12);
    expect([...cut.work.metrics.keys()].filter((id) => id.startsWith("landing"))).toEqual(["landingVelocity"]);
    expect([cut.events.has("landingLowest"), cut.phases]).toEqual([false, []]);
    // At rest after 204 samples: one fewer is not enough.
    expect(landed({ total: forceOf([100, 0], [300, 2 * W]) }, { samples: 204 }).trial.events.has("landingLowest")).toBe(false);
    expect(landed({ total: forceOf([100, 0], [300, 2 * W]) }, { samples: 205 }).trial.events.has("landingLowest")).toBe(true);
    for (const velocity of [0, 1]) {
      const up = landed({ total: forceOf([100, 0], [900, 2 * W]) }, { velocity }).trial;
      expect(up.facts.recordEnds).toBeCloseTo(0.9, 12);
      expect(value(up, "landingTime")).toBeUndefined();
    }
  });

  test("keeps what was known of the end of the record", () => {
    const trial = weighed({ total: forceOf([100, 0], [200, 2 * W]) }, W);
    trial.facts.recordEnds = 0.123;
    landingMotion(trial, new Kinematics(trial, integrate(trial.force, W, G, 100, 300, 1000, -2), 0.1, restAt(trial)), instant(trial, 0.1));
    expect(trial.facts.recordEnds).toBe(0.123);
  });
});

describe("stabilisation", () => {
  const W = 700;
  const of = (force: Float64Array, at = 0, options: HandOptions & { noise?: number } = {}): Trial => {
    const trial = weighed({ total: force }, W, options.noise ?? 0, options);
    stabilisation(trial, instant(trial, at));
    return trial;
  };

  test("is the first instant from which the force stays within 5 % of the weight for a second", () => {
    // Out of the band by a newton for one sample within the first try; 665 and 735 N are still inside.
    const trial = of(forceOf([300, 800], [500, 700], [1, 736], [200, 735], [200, 665], [700, 700]), 0.05);
    expect(value(trial, "timeToStabilisation")).toBeCloseTo(0.801 - 0.05, 12);
    expect(trial.events.get("stabilised")!.time).toBeCloseTo(0.801, 12);
    expect(value(of(forceOf([300, 800], [500, 700], [1, 664], [1000, 700])), "timeToStabilisation")).toBeCloseTo(0.801, 12);
    expect(trial.reasons.has("timeToStabilisation")).toBe(false);
    expect(needs(trial, "timeToStabilisation")).toBe(TIMES | WEIGHT | LANDING_GROUP);
  });

  test("begins at the landing where the force is within from there on", () => {
    expect(value(of(forceOf([1500, 700]), 0.2), "timeToStabilisation")).toBeCloseTo(0, 12);
    // A first sample outside is one too many.
    expect(value(of(forceOf([1, 800], [1500, 700])), "timeToStabilisation")).toBeCloseTo(0.001, 12);
    // The first sample after an instant between two.
    expect(value(of(forceOf([1500, 700]), 0.2004), "timeToStabilisation")).toBeCloseTo(0.0006, 12);
  });

  test("is not known where the record ends before", () => {
    const cut = of(forceOf([300, 800], [999, 700]));
    expect([value(cut, "timeToStabilisation"), cut.events.has("stabilised")]).toEqual([undefined, false]);
    expect(cut.reasons.get("timeToStabilisation")).toMatch(/band around body weight/);
    expect(value(of(forceOf([300, 800], [1000, 700])), "timeToStabilisation")).toBeCloseTo(0.3, 12);
    // Several departures, each of which rules out what lies before it.
    expect(value(of(forceOf([300, 800], [400, 700], [1, 800], [400, 700], [1, 800], [900, 700], [1, 800], [999, 700])), "timeToStabilisation")).toBeUndefined();
    expect(value(of(forceOf([300, 800], [400, 700], [1, 800], [400, 700], [1, 800], [900, 700], [1, 800], [1000, 700])), "timeToStabilisation")).toBeCloseTo(2.003, 12);
  });

  test("goes by the band and the length of the settings", () => {
    const force = forceOf([300, 800], [300, 760], [1000, 700]);
    const at = (band: number, length: number): number | undefined => value(of(force, 0, { settings: [["stabilisation-band", band], ["stabilisation-length", length]] }), "timeToStabilisation");
    expect([at(5, 1), at(8, 1), at(10, 0.2), at(20, 0.2)].map((t) => Math.round(1000 * t!))).toEqual([600, 600, 300, 0]);
    expect(value(of(forceOf([300, 800], [1000, 700]), 0, { settings: [["stabilisation-length", 1.1]] }), "timeToStabilisation")).toBeUndefined();
  });

  // Two noises from the force, over its slope between 20 ms before and after; at most these 20 ms.
  test("is as sharp as the force is steep where it comes in", () => {
    const doubt = (force: Float64Array, noise: number, at = 0): number => part(of(force, at, { noise }), "timeToStabilisation", "noise");
    // 800 to 700 N in 100 ms: 1 N a sample, into 735 N at sample 365.
    const ramp = forceOf([300, 800], [100, 800, 700], [1000, 700]);
    expect(value(of(ramp), "timeToStabilisation")).toBeCloseTo(0.365, 12);
    expect(doubt(ramp, 3)).toBeCloseTo((2 * 3) / 1000, 9);
    expect(doubt(ramp, 30)).toBeCloseTo(0.02, 9);
    for (const noise of [0, 3]) expect(doubt(forceOf([1500, 700]), noise, 0.2)).toBeCloseTo(0.02, 9);
    expect(doubt(ramp.map((f) => 1400 - f), 3)).toBeCloseTo((2 * 3) / 1000, 9);
    // Two samples after the record begins: only what was recorded is looked at.
    expect(doubt(forceOf([2, 740], [1020, 700]), 1)).toBeCloseTo(2 / ((40 * 1000) / 22), 9);
    expect(part(of(ramp, 0, { noise: 3 }), "timeToStabilisation", "sampling")).toBeCloseTo(0.001 / Math.sqrt(12), 12);
    expect(part(of(ramp), "timeToStabilisation", "landing")).toBeCloseTo(0.001, 9);
  });

  test("reaches 20 ms at any rate, and a sample at least", () => {
    const slow = of(forceOf([30, 800], [10, 800, 700], [150, 700]), 0, { rate: 100, noise: 3 });
    // 10 N a sample of 10 ms; into 735 N at sample 37.
    expect(value(slow, "timeToStabilisation")).toBeCloseTo(0.37, 12);
    expect(part(slow, "timeToStabilisation", "noise")).toBeCloseTo(6 / 1000, 9);
    const slowest = of(forceOf([6, 800], [2, 800, 700], [40, 700]), 0, { rate: 20, noise: 3 });
    expect(value(slowest, "timeToStabilisation")).toBeCloseTo(0.4, 12);
    expect(part(slowest, "timeToStabilisation", "noise")).toBeCloseTo(6 / ((50 * 20) / 2), 9);
  });
});

describe("finalStand", () => {
  const W = 700;
  /** Adds a slow sway in blocks of 50 ms, by turns above and below. */
  const swaying = (force: Float64Array, from: number, by: number): Float64Array => force.map((f, i) => (i < from ? f : f + (Math.floor(i / 50) % 2 === 0 ? by : -by)));
  const window = (force: Float64Array, { landing = 0.1, length = 1, reference, options = {} }: { landing?: number; length?: number; reference?: number; options?: HandOptions } = {}): readonly number[] | undefined => {
    const stand = finalStand(handTrial({ total: force }, options), landing, length, reference);
    return stand && [stand.start, stand.end];
  };

  test("is the last second of the record where that is quiet", () => {
    expect(window(forceOf([600, 900], [2000, W]))).toEqual([1600, 2600]);
    expect(window(forceOf([600, 900], [1000, W]))).toEqual([600, 1600]);
  });

  test("is else the quietest second after the landing and half a second for settling, then shorter ones", () => {
    // Quiet from 700 to 1800 ms, then on the move: of the seconds there the last.
    expect(window(forceOf([700, 900], [1100, W], [400, 900]))).toEqual([800, 1800]);
    // The last three quarters of a second.
    expect(window(forceOf([700, 900], [760, W]))).toEqual([710, 1460]);
    // Half a second.
    expect(window(forceOf([700, 900], [510, W]))).toEqual([710, 1210]);
    expect(window(forceOf([700, 900], [490, W]))).toBeUndefined();
    // The quietest half second in the middle.
    expect(window(forceOf([700, 900], [520, W], [300, 900]))).toEqual([720, 1220]);
    // As short as was asked for.
    expect(window(forceOf([700, 900], [510, W]), { length: 0.4 })).toEqual([810, 1210]);
    expect(window(forceOf([700, 900], [300, W]), { length: 0.3 })).toEqual([700, 1000]);
    expect(window(forceOf([700, 900], [600, W]), { options: { settings: [["q17-quiet", 0.7]] } })).toBeUndefined();
    expect(window(forceOf([700, 900], [700, W]), { options: { settings: [["q17-quiet", 0.7]] } })).toEqual([700, 1400]);
    expect(window(forceOf([700, 900], [490, W]), { options: { settings: [["q17-quiet", 0.2]] } })).toBeUndefined();
  });

  test("begins half a second after the landing at the earliest", () => {
    expect(window(forceOf([1100, W]), { landing: 0.1, length: 0.5 })).toEqual([600, 1100]);
    expect(window(forceOf([1099, W]), { landing: 0.1, length: 0.5 })).toBeUndefined();
    expect(window(forceOf([1150, W], [60, 900]), { landing: 0.1, length: 0.5 })).toEqual([650, 1150]);
    // The record ends in it.
    expect(window(forceOf([1600, W]), { landing: 0.1 })).toEqual([600, 1600]);
    expect(window(forceOf([1599, W]), { landing: 0.1 })).toEqual([849, 1599]);
  });

  test("needs two samples", () => {
    expect(window(forceOf([10, W]), { options: { rate: 1 } })).toBeUndefined();
    expect(window(forceOf([10, W]), { options: { rate: 2 } })).toEqual([8, 10]);
  });

  test("sways by no more than 2 % of the weight or 10 N, and differs by no more than 1 % or 4 N between its halves", () => {
    const sway = (by: number, weight = W): boolean => window(swaying(forceOf([600, 900], [1000, weight]), 600, by)) !== undefined;
    // SD of 20 means that are 14 N above and below by turns is 14 sqrt(20 / 19).
    const root = Math.sqrt(19 / 20);
    expect([sway(13.99 * root), sway(14.01 * root)]).toEqual([true, false]);
    expect([sway(9.99 * root, 300), sway(10.01 * root, 300)]).toEqual([true, false]);
    const halves = (by: number, weight = W): boolean => window(forceOf([600, 900], [500, weight], [500, weight + by]), { length: 1, options: { settings: [["q17-quiet", 1], ["q17-sd", 20]] } }) !== undefined;
    // The mean lies in the middle: 1 % of 700 + by / 2.
    expect([halves(7.03), halves(7.05), halves(-6.96), halves(-6.98)]).toEqual([true, false, true, false]);
    expect([halves(3.99, 300), halves(4.01, 300)]).toEqual([true, false]);
    // On one leg both may be twice as much; a squat jump lands on two.
    const wide = (protocol: string, by: number): boolean => window(swaying(forceOf([600, 900], [1000, W]), 600, by), { options: { protocol } }) !== undefined;
    expect([wide("DJ limb=left", 20), wide("DJ", 20), wide("SJ", 20)]).toEqual([true, false, false]);
    const apart = (protocol: string, by: number): boolean => window(forceOf([600, 900], [500, W], [500, W + by]), { options: { protocol, settings: [["q17-quiet", 1], ["q17-sd", 20]] } }) !== undefined;
    expect([apart("DJ limb=left", 14), apart("DJ limb=left", 14.2), apart("SJ", 8)]).toEqual([true, false, false]);
  });

  test("is a stand: half of the known weight at least, and somebody at all", () => {
    expect(window(forceOf([600, 900], [1000, 0]))).toBeUndefined();
    expect([window(forceOf([600, 900], [1000, 19])), window(forceOf([600, 900], [1000, 20]))]).toEqual([undefined, [600, 1600]]);
    expect(window(forceOf([600, 900], [1000, 349]), { reference: 700 })).toBeUndefined();
    expect(window(forceOf([600, 900], [1000, 350]), { reference: 700 })).toBeUndefined();
    expect(window(forceOf([600, 900], [1000, 351]), { reference: 700 })).toEqual([600, 1600]);
    // The quietest second is one with the weight on the plates, not the empty plate after it.
    expect(window(swaying(forceOf([600, 900], [1000, W], [1500, 0]), 0, 3).map((f, i) => (i < 1600 ? f : 5)), { reference: 700 })).toEqual([600, 1600]);
    // The limits go by the known weight.
    expect(window(swaying(forceOf([600, 900], [1000, W]), 600, 15), { reference: 1000 })).toEqual([600, 1600]);
    expect(window(forceOf([600, 900], [500, W], [500, W + 8]), { reference: 900, options: { settings: [["q17-quiet", 1]] } })).toEqual([600, 1600]);
  });
});

describe("velocityAtEnd", () => {
  const W = 700;
  /** A body that stands on a plate which reads 1 % too much from 0.2 s on: it seems to gain 0.01 g every second. */
  const ENDED = { from: 0.2, takeoffVelocity: 2.5, takeoffSeconds: 0.3 };
  const of = (samples: number, stand: readonly [number, number], motionSamples: number, force?: Float64Array): Trial => {
    const trial = weighed({ total: force ?? forceOf([200, W], [samples - 200, 1.01 * W]) }, W, 2);
    const kinematics = new Kinematics(trial, integrate(trial.force, W, G, 100, 100 + motionSamples, 1000), 0.1, restAt(trial));
    velocityAtEnd(trial, kinematics, { start: stand[0], end: stand[1], mean: W, sd: 0, sway: 0, halfDifference: 0, noise: 0, impulseSd: 0 }, ENDED.from, ENDED.takeoffVelocity, ENDED.takeoffSeconds);
    return trial;
  };
  /** Mean of a velocity that begins half a sample before 0.2 s and grows by 0.01 g, over the last 501 samples or the stand. */
  const mean = (stand: readonly [number, number]): number => {
    const length = Math.min(stand[1] - stand[0], 501);
    return 0.01 * G * ((stand[1] - 1 - (length - 1) / 2) / 1000 - 0.1995);
  };

  test("is the mean over the last half second of the stand, from a motion that ends before it, in it, or goes beyond it", () => {
    for (const motion of [300, 1100, 1450, 1900]) {
      for (const stand of [[1000, 2000], [1700, 2000]] as const) {
        const trial = of(2000, stand, motion);
        expect(value(trial, "endVelocity"), `${motion}`).toBeCloseTo(mean(stand), 9);
        expect(trial.facts.endVelocity).toBe(value(trial, "endVelocity"));
      }
    }
    // The force between the end of the motion and the stand counts.
    const pushed = forceOf([200, W], [1800, 1.01 * W]);
    pushed[900] = W * 3;
    expect(value(of(2000, [1000, 2000], 300, pushed), "endVelocity")).toBeCloseTo(mean([1000, 2000]) + 1.99 * G * 0.001, 9);
    expect(of(2000, [1000, 2000], 300).work.steps().find(({ gives }) => gives === "endVelocity")!.inputs.map((input) => input.value)).toEqual([1.499, 2]);
  });

  test("is read as an error of body weight, and as the height that such an error makes", () => {
    const trial = of(2000, [1000, 2000], 300);
    // The mean lies in the middle of the last 501 samples, at their middle instant in time.
    const time = (2000 - 501 / 2) / 1000;
    const error = (mean([1000, 2000]) * W) / (G * (time - 0.2));
    // Method 8.2: (v / g) (v + g T) / BW for each newton.
    expect(trial.facts.endVelocityHeight).toBeCloseTo((error * (2.5 / G) * (2.5 + G * 0.3)) / W, 12);
    expect(error).toBeCloseTo(0.01 * W, 1);
    // Noise of a velocity so long after its start.
    expect(part(trial, "endVelocity", "noise")).toBeCloseTo((G / W) * 2 * Math.sqrt((time - 0.1) / 1000), 9);
  });
});

describe("lowAfterLanding", () => {
  const of = (force: Float64Array, landing = 0.1, weight = 700, options: HandOptions = {}): number => lowAfterLanding(weighed({ total: force }, weight, 0, options), landing);

  test("is the longest time with less than a share of the weight on the plates", () => {
    // 80 % of 700 N is 560 N.
    expect(of(forceOf([100, 0], [300, 700], [150, 559], [200, 700], [100, 0], [1000, 700]))).toBeCloseTo(0.15, 12);
    expect(of(forceOf([100, 0], [300, 700], [100, 0], [200, 700], [150, 559], [1000, 700]))).toBeCloseTo(0.15, 12);
    expect(of(forceOf([100, 0], [300, 700], [150, 560], [200, 700]))).toBe(0);
    expect(of(forceOf([100, 0], [300, 700], [150, 240], [200, 700]), 0.1, 700, { settings: [["q24-share", 0.4]] })).toBeCloseTo(0.15, 12);
    expect(of(forceOf([100, 0], [700, 700]))).toBe(0);
  });

  test("within two and a half seconds after the landing, or to the end of the record", () => {
    expect(of(forceOf([2550, 700], [500, 0]))).toBeCloseTo(0.05, 12);
    expect(of(forceOf([300, 700], [200, 0]))).toBeCloseTo(0.2, 12);
    // The block of 10 ms in which the landing lies does not count.
    expect(of(forceOf([300, 0], [500, 700]), 0.1)).toBeCloseTo(0.2, 12);
    expect(of(forceOf([300, 0], [500, 700]), 0.101)).toBeCloseTo(0.19, 12);
  });
});
