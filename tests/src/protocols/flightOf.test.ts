import { describe, expect, test } from "vitest";
import type { EmptyRuns } from "../../../src/events/findEmptyRuns.ts";
import { edgeDoubt, findClipping, flightRun, landingOf, posture, removeEmptyDrift, removeZero, takeoffOf, thresholdOf, touchdownOf } from "../../../src/protocols/flightOf.ts";
import type { ZeroReading } from "../../../src/trace/zero.ts";
import { LANDING, POSTURE, TAKEOFF, THRESHOLD, TOUCHDOWN } from "../../../src/uncertainty/sources.ts";
import { forceOf, type HandOptions, handTrial } from "../../support/handTrial.ts";

// All expected numbers are worked by hand from the forces, which are levels and straight lines.

const NOISY = () => 0.5;
const SILENT = () => 0;
/** Adds a and -a in turn to a force. */
const shaken = (force: Float64Array, by: number): Float64Array => force.map((f, i) => f + (i % 2 === 0 ? by : -by));

describe("removeZero", () => {
  const RUN = { start: 500, end: 900 };
  const jump = (empty: number): Float64Array => forceOf([500, 700], [400, empty], [500, 700]);

  test("reads the middle of the run, 40 ms inside both ends, and takes its mean off", () => {
    const force = shaken(jump(2), 1);
    // Ends that do not belong to the reading.
    force.fill(50, 500, 540);
    force.fill(50, 860, 900);
    const trial = handTrial({ total: force });
    const reading = removeZero(trial, RUN, NOISY)!;
    expect(reading).toMatchObject({ mean: 2, peak: 1, samples: 320 });
    expect(trial.facts).toMatchObject({ residual: 1, offset: 2, offsetRemoved: true });
    expect(trial.facts.zeroedUpstream).toBeUndefined();
    expect([trial.force[0], trial.force[600], trial.profile.sums[0]]).toEqual([699, 1, 6980]);
    // SD of plus and minus one in turn, n - 1, over the root of n.
    const u = Math.sqrt(320 / 319) / Math.sqrt(320);
    expect(trial.uZero).toBeCloseTo(u, 12);
    expect(trial.work.metrics.get("flightOffset")).toMatchObject({ value: 2 });
    expect(trial.work.metrics.get("flightOffset")!.budget).toEqual([{ source: "zero", u: trial.uZero }]);
    expect(trial.work.steps().find(({ gives }) => gives === "flightOffset")!.inputs.map(({ value }) => value)).toEqual([0.54, 0.86]);
    expect(force[0]).toBe(701);
  });

  test("keeps the zero of each side, in the middle of the reading", () => {
    const trial = handTrial({ left: jump(3), right: jump(-1) });
    expect(removeZero(trial, RUN, NOISY)).toMatchObject({ mean: 2 });
    expect(trial.facts).toMatchObject({ offset: 2, offsetLeft: 3, offsetRight: -1, offsetRemoved: true });
    expect([trial.left, trial.right].map((side) => [side!.offset, side!.middle])).toEqual([[3, 0.7], [-1, 0.7]]);
    expect(trial.force[0]).toBe(1398);
  });

  test("tells what the zero is and leaves it where the settings ask for it", () => {
    const trial = handTrial({ left: jump(3), right: jump(-1) }, { settings: [["zero-correction", "none"]] });
    expect(removeZero(trial, RUN, NOISY)).toMatchObject({ mean: 2 });
    expect(trial.facts).toMatchObject({ offset: 2, offsetLeft: 3, offsetRight: -1, offsetRemoved: false });
    expect([trial.left!.offset, trial.right!.offset, trial.force[0]]).toEqual([0, 0, 1400]);
    expect(removeZero(handTrial({ total: jump(2) }, { settings: [["zero-correction", "none"]] }), RUN, NOISY)).toMatchObject({ mean: 2 });
  });

  test("of a run too short for it reads nothing", () => {
    const trial = handTrial({ total: jump(2) });
    // The middle 60 % of 60 ms is 36 ms: less than 40.
    expect(removeZero(trial, { start: 500, end: 560 }, NOISY)).toBeUndefined();
    expect([trial.facts.offset, trial.facts.residual, trial.force[0]]).toEqual([undefined, undefined, 700]);
  });

  test("takes a plate that is exactly zero under a noisy load for one that was zeroed upstream", () => {
    const left = forceOf([1, 8], [499, 350], [400, 0], [500, 350]);
    const right = forceOf([1, -5], [499, 350], [400, 0], [500, 350]);
    const trial = handTrial({ left, right });
    expect(removeZero(trial, RUN, NOISY)).toMatchObject({ mean: 0, peak: 0 });
    // The smallest force that was left: of the sum 8 - 5, of the plates 8 and 5, each cut on its own.
    expect(trial.facts).toMatchObject({ zeroedUpstream: true, residual: 0, cutValue: 3 });
    expect(trial.cutLevel).toBe(16);
    expect([trial.facts.offset, trial.facts.offsetRemoved, trial.work.metrics.has("flightOffset")]).toEqual([undefined, undefined, false]);
  });

  test("does not take a cut for higher than the threshold can be set, and knows none of a plate without load", () => {
    const of = (plates: Parameters<typeof handTrial>[0]): number => {
      const trial = handTrial(plates);
      removeZero(trial, RUN, NOISY);
      return trial.cutLevel;
    };
    expect(of({ total: forceOf([500, 60], [400, 0], [500, 700]) })).toBe(60);
    expect(of({ left: forceOf([500, 60], [400, 0], [500, 700]), right: jump(0) })).toBe(100);
    expect(of({ left: forceOf([500, 30], [400, 0], [500, 700]), right: forceOf([1400, 0]) })).toBe(60);
    const empty = handTrial({ total: forceOf([1400, 0]) });
    removeZero(empty, RUN, NOISY);
    expect([empty.facts.zeroedUpstream, "cutValue" in empty.facts, empty.cutLevel]).toEqual([true, false, 0]);
  });

  test("takes a plate that is steady or rings about zero, or a trace without noise, for what it is", () => {
    const of = (force: Float64Array, noise: () => number): ReturnType<typeof handTrial>["facts"] => {
      const trial = handTrial({ total: force });
      removeZero(trial, RUN, noise);
      return trial.facts;
    };
    expect(of(jump(2), NOISY)).toMatchObject({ offset: 2, residual: 0 });
    expect(of(shaken(jump(0), 1), NOISY)).toMatchObject({ offset: 0, residual: 1 });
    expect(of(jump(0), SILENT)).toMatchObject({ offset: 0, offsetRemoved: true });
    // A thousandth of a newton is rounding, not noise.
    expect(of(jump(0), () => 0.001)).toMatchObject({ offset: 0 });
    expect(of(jump(0), () => 0.0011)).toMatchObject({ zeroedUpstream: true });
  });
});

describe("removeEmptyDrift", () => {
  const FIRST = { start: 0, end: 500 };
  const LAST = { start: 1000, end: 1500 };
  /** Load between two empty stretches that read `a` and `b`; their middles lie 1 s apart. */
  const between = (a: number, b: number): Float64Array => forceOf([500, a], [500, 700], [500, b], [100, 700]);

  test("takes a straight line off that is zero in the middle of the last stretch", () => {
    const trial = handTrial({ total: forceOf([500, 0, 1.5], [500, 701.5, 703], [500, 3, 4.5], [100, 704.5, 704.8]) });
    expect(removeEmptyDrift(trial, FIRST, LAST)).toBe(true);
    expect(trial.facts.driftRemoved).toBe(true);
    expect(trial.facts.drift).toBeCloseTo(3, 9);
    // 3 N/s up to the middle of the last stretch at 1.25 s.
    for (const i of [0, 250, 1250]) expect(trial.force[i]).toBeCloseTo(3.75, 9);
    expect(trial.force[700]).toBeCloseTo(703.75, 9);
    expect(trial.unfiltered.force).toBe(trial.force);
  });

  test("knows the drift of each side", () => {
    const trial = handTrial({ left: between(0, 2), right: between(1, 0) });
    expect(removeEmptyDrift(trial, FIRST, LAST)).toBe(false);
    expect(trial.facts.drift).toBe(1);
    expect([trial.left!.slope, trial.left!.middle, trial.right!.slope]).toEqual([0, 0, 0]);
    const more = handTrial({ left: between(0, 4), right: between(1, 0) });
    expect(removeEmptyDrift(more, FIRST, LAST)).toBe(true);
    expect([more.left, more.right].map((side) => [side!.slope, side!.middle])).toEqual([[4, 1.25], [-1, 1.25]]);
  });

  test("is one beyond the limit and beyond four times its own doubt, up or down", () => {
    const found = (force: Float64Array, limit = 1): boolean => removeEmptyDrift(handTrial({ total: force }, { settings: [["q4-drift", limit]] }), FIRST, LAST);
    expect([found(between(0, 1)), found(between(0, 1.01)), found(between(1.01, 0)), found(between(1, 0)), found(between(0, 1.01), 2)]).toEqual([false, true, true, false, false]);
    // SD of plus and minus a in turn is a sqrt(420 / 419); two means of 420 samples, 1 s apart: u = a sqrt(2 / 419).
    const a = (3 / 4) * Math.sqrt(419 / 2);
    expect([found(shaken(between(0, 3), 0.99 * a)), found(shaken(between(0, 3), 1.01 * a))]).toEqual([true, false]);
    // Each stretch counts: where only one is noisy, u = a / sqrt(419).
    const once = (by: number): Float64Array => Float64Array.from([...shaken(between(0, 3), by).slice(0, 700), ...between(0, 3).slice(700)]);
    const again = (by: number): Float64Array => Float64Array.from([...between(0, 3).slice(0, 700), ...shaken(between(0, 3), by).slice(700)]);
    const b = (3 / 4) * Math.sqrt(419);
    for (const noisy of [once, again]) expect([found(noisy(0.99 * b)), found(noisy(1.01 * b))]).toEqual([true, false]);
    // Twice as far apart, the same doubt of both means is half the doubt of the slope, and 3 N are half the slope.
    const far = (by: number): boolean => {
      const trial = handTrial({ total: shaken(forceOf([500, 0], [1500, 700], [500, 3], [100, 700]), by) });
      return removeEmptyDrift(trial, FIRST, { start: 2000, end: 2500 });
    };
    expect([far(0.99 * a), far(1.01 * a)]).toEqual([true, false]);
  });

  test("is not read from stretches too near each other or too short, or where the zero is to stay", () => {
    const trial = (options: HandOptions = {}): ReturnType<typeof handTrial> => handTrial({ total: between(0, 9) }, options);
    for (const [one, first, last] of [
      [trial({ settings: [["zero-correction", "none"]] }), FIRST, LAST],
      [trial(), { start: 0, end: 60 }, LAST],
      [trial(), FIRST, { start: 1000, end: 1060 }],
      [trial(), { start: 0, end: 500 }, { start: 298, end: 798 }],
    ] as const) {
      expect(removeEmptyDrift(one, first, last)).toBe(false);
      expect([one.facts.drift, one.facts.driftRemoved, one.force[0]]).toEqual([undefined, undefined, 0]);
    }
    const apart = trial();
    removeEmptyDrift(apart, { start: 0, end: 500 }, { start: 302, end: 802 });
    expect(apart.facts.drift).toBeDefined();
    // The distance of the middles counts, not that from the beginning of the record.
    const late = handTrial({ total: forceOf([1000, 0], [500, 0], [100, 700]) });
    expect([removeEmptyDrift(late, { start: 500, end: 1000 }, { start: 700, end: 1200 }), late.facts.drift]).toEqual([false, undefined]);
  });

  test("reads what was recorded, before a filter, over the time between the middles", () => {
    const trial = handTrial({ total: forceOf([500, 0], [1500, 700], [500, 4], [100, 700]) });
    expect(removeEmptyDrift(trial, FIRST, { start: 2000, end: 2500 })).toBe(true);
    expect(trial.facts.drift).toBe(2);
  });
});

describe("thresholdOf", () => {
  const READING: ZeroReading = { mean: 3, sd: 6, peak: 10, samples: 100 };
  const of = (reading: ZeroReading | undefined, asked?: string | number, more: Partial<ReturnType<typeof handTrial>["facts"]> = {}, options: HandOptions = {}) => {
    const trial = handTrial({ total: forceOf([100, 700]) }, { ...options, ...(asked === undefined ? {} : { settings: [["take-off-threshold", asked]] }) });
    Object.assign(trial.facts, more);
    const threshold = thresholdOf(trial, reading);
    expect(trial.facts.threshold).toBe(threshold);
    return [threshold, trial.facts.thresholdAsked];
  };

  test("is what was asked for, and above the residual of the empty plate", () => {
    expect(of(READING)).toEqual([20, 20]);
    expect(of(READING, 10)).toEqual([12, 10]);
    expect(of({ ...READING, peak: 20 })).toEqual([24, 20]);
    // A zero that was not taken off is part of the residual.
    expect(of({ ...READING, peak: 17 }, 20, { offsetRemoved: false })).toEqual([24, 20]);
    expect(of({ ...READING, peak: 17 }, 20, { offsetRemoved: true })).toEqual([20.4, 20]);
  });

  test("is five SD or the peak residual of the empty plate, and never below a newton or the step of the values", () => {
    expect(of(READING, "5 SD")).toEqual([30, 30]);
    expect(of(READING, "peak residual")).toEqual([10, 10]);
    const silent = { ...READING, sd: 0, peak: 0 };
    for (const rule of ["5 SD", "peak residual"]) {
      expect(of(silent, rule)).toEqual([1, 1]);
      expect(of(silent, rule, {}, { step: 2, rounding: 0.5 })).toEqual([2, 2]);
      expect(of(silent, rule, {}, { step: 0.5, rounding: 3 })).toEqual([3, 3]);
    }
  });

  test("without a reading, or of a plate zeroed upstream, is the newtons asked for, or 20 for a rule that needs a reading", () => {
    expect(of(undefined)).toEqual([20, 20]);
    expect(of(undefined, 35)).toEqual([35, 35]);
    expect(of(undefined, "5 SD")).toEqual([20, 20]);
    const cut = { zeroedUpstream: true, cutValue: 25 };
    expect(of({ ...READING, peak: 200 }, 10, cut)).toEqual([25, 10]);
    expect(of(READING, 30, cut)).toEqual([30, 30]);
    expect(of(READING, "peak residual", cut)).toEqual([25, 20]);
    expect(of(READING, 5, { zeroedUpstream: true })).toEqual([5, 5]);
  });
});

describe("the edges of a flight", () => {
  const RUN = { start: 500, end: 900 };
  /** Out of 700 N by 35 N a sample, into it by 70 N a sample; a shoulder of 60 N on both sides is no load; two excursions in flight. */
  const force = (): Float64Array => {
    const made = forceOf([480, 700], [20, 700, 0], [400, 0], [10, 0, 700], [500, 700]);
    for (const [at, level] of [[520, 30], [521, 30], [540, 25], [880, 40]] as const) made[at] = level;
    return made;
  };
  const EDGES = [[takeoffOf, "takeoff", TAKEOFF], [landingOf, "landing", LANDING], [touchdownOf, "touchdown", TOUCHDOWN]] as const;

  test("are the crossings of the threshold, by a straight line", () => {
    const trial = handTrial({ total: force() });
    // 700 - 35 k = 20 at k = 19.43; 70 k = 20 at k = 0.286.
    expect(takeoffOf(trial, RUN, 20, 690)!.time).toBeCloseTo((480 + 680 / 35) / 1000, 12);
    expect(trial.facts.bridged).toBe(2);
    expect(landingOf(trial, RUN, 20, 690)!.time).toBeCloseTo((900 + 20 / 70) / 1000, 12);
    expect(trial.facts.bridged).toBe(3);
    expect(touchdownOf(trial, RUN, 20, 690)!.time).toBeCloseTo((900 + 20 / 70) / 1000, 12);
    expect([...trial.events.keys()]).toEqual(["takeoff", "landing", "touchdown"]);
    const landed = handTrial({ total: force() });
    landingOf(landed, RUN, 20, 690);
    expect(landed.facts.bridged).toBe(1);
    const calm = handTrial({ total: forceOf([500, 700], [400, 0], [500, 700]) });
    for (const [edge] of EDGES) edge(calm, RUN, 20, 690);
    expect("bridged" in calm.facts).toBe(false);
  });

  test("lie where a tenth of the load is surely on the plate, not at a foot that touches", () => {
    // 60 N for 20 samples: on the plate, but less than a tenth of 690 N. 700 N to 0 in one sample cross 20 N after 680 / 700 of it.
    const touched = forceOf([500, 700], [130, 0], [20, 60], [100, 0], [20, 60], [130, 0], [500, 700]);
    for (const [edge, name] of EDGES) {
      expect(edge(handTrial({ total: touched }), RUN, 20, 690)!.time).toBeCloseTo(name === "takeoff" ? (499 + 680 / 700) / 1000 : (899 + 20 / 700) / 1000, 12);
      // More than a tenth of 500 N: somebody stood there. 60 N to 0 cross 20 N after 40 / 60.
      expect(edge(handTrial({ total: touched }), RUN, 20, 500)!.time).toBeCloseTo(name === "takeoff" ? (649 + 40 / 60) / 1000 : (749 + 20 / 60) / 1000, 12);
    }
  });

  test("are doubted by noise and sampling on their own, and by the threshold early at take-off and late at landing", () => {
    for (const [edge, name, source] of EDGES) {
      const trial = handTrial({ total: force() });
      trial.noise = 7;
      const { quantity } = edge(trial, RUN, 20, 690)!;
      const slope = name === "takeoff" ? 35000 : 70000;
      expect(trial.work.part(quantity, source)).toBeCloseTo(Math.hypot(1 / 1000 / Math.sqrt(12), 7 / slope), 12);
      expect(trial.work.part(quantity, THRESHOLD)).toBeCloseTo((name === "takeoff" ? 1 : -1) * (20 / slope / Math.sqrt(3)), 12);
    }
  });

  test("are not there where the record begins or ends in the flight, unless a person set them", () => {
    const [begun, ended] = [forceOf([900, 0], [500, 700]), forceOf([500, 700], [900, 0])];
    for (const [edge, name, source] of EDGES) {
      const open = name === "takeoff" ? begun : ended;
      const trial = handTrial({ total: open });
      expect(edge(trial, RUN, 20, 690)).toBeUndefined();
      expect(trial.events.size).toBe(0);
      const set = handTrial({ total: open }, { adjust: `${name}=0.61` });
      const crossing = edge(set, RUN, 20, 690)!;
      expect(crossing.time).toBe(0.61);
      expect([set.work.part(crossing.quantity, source), set.work.part(crossing.quantity, THRESHOLD)]).toEqual([1 / 1000 / Math.sqrt(12), 0]);
      expect("bridged" in set.facts).toBe(false);
      // A person's instant counts where the force has one of its own, too.
      expect(edge(handTrial({ total: force() }, { adjust: `${name}=0.61` }), RUN, 20, 690)!.time).toBe(0.61);
    }
  });
});

describe("edgeDoubt", () => {
  const EDGE = { time: 0.5, slope: 40000, loadedSlope: 10000, bridged: 0 };
  const SAMPLING = 1 / 500 / Math.sqrt(12);
  const of = (change: (trial: ReturnType<typeof handTrial>) => void, edge: typeof EDGE | undefined = EDGE) => {
    const trial = handTrial({ total: forceOf([100, 700]) }, { rate: 500 });
    change(trial);
    return edgeDoubt(trial, edge, 20);
  };

  test("is that of a rectangle between the crossing and zero force (JCGM 100, 4.3.7), with noise and sampling beside it", () => {
    expect(of(() => {})).toEqual({ threshold: 20 / 40000 / Math.sqrt(3), instant: SAMPLING });
    expect(of((trial) => (trial.noise = 30)).instant).toBeCloseTo(Math.hypot(SAMPLING, 30 / 40000), 15);
  });

  test("of a plate zeroed upstream goes by the slope of the load, and by what may have been cut", () => {
    const cut = (trial: ReturnType<typeof handTrial>): void => void (trial.facts.zeroedUpstream = true);
    expect(of(cut).threshold).toBeCloseTo(20 / 10000 / Math.sqrt(3), 15);
    expect(of(cut, { ...EDGE, loadedSlope: 50000 }).threshold).toBeCloseTo(20 / 40000 / Math.sqrt(3), 15);
    expect(of(cut, { ...EDGE, loadedSlope: 0 }).threshold).toBeCloseTo(20 / 40000 / Math.sqrt(3), 15);
    expect(of((trial) => (cut(trial), (trial.cutLevel = 60))).threshold).toBeCloseTo(60 / 10000 / Math.sqrt(3), 15);
    expect(of((trial) => (trial.cutLevel = 10)).threshold).toBeCloseTo(20 / 40000 / Math.sqrt(3), 15);
  });

  test("of an instant without a crossing is that of sampling alone", () => {
    const trial = handTrial({ total: forceOf([100, 700]) }, { rate: 500 });
    expect(edgeDoubt(trial, undefined, 20)).toEqual({ threshold: 0, instant: SAMPLING });
    expect(of(() => {}, { ...EDGE, slope: 0 })).toEqual({ threshold: 0, instant: SAMPLING });
  });
});

describe("findClipping", () => {
  /** A push with a flat top and a landing with another. */
  const tops = (push: number, landing: number): Float64Array => forceOf([500, 700], [50, push], [450, 700], [300, 0], [50, landing], [500, 700]);
  const clipping = (plates: Parameters<typeof handTrial>[0], takeoff?: number, options: HandOptions = {}) => {
    const trial = handTrial(plates, options);
    findClipping(trial, takeoff);
    return trial.facts.clipping;
  };

  test("finds the plate, the force and the part of the trial", () => {
    expect(clipping({ total: tops(2000, 1900) }, 1)).toEqual([{ force: 2000, part: "push" }]);
    expect(clipping({ total: tops(1900, 2000) }, 1)).toEqual([{ force: 2000, part: "landing" }]);
    // Without a take-off all of it is the push.
    expect(clipping({ total: tops(1900, 2000) })).toEqual([{ force: 2000, part: "push" }]);
    // The sample at which the flat top begins: at the take-off itself it is the landing's.
    expect([0.5, 0.501].map((takeoff) => clipping({ total: tops(2000, 1900) }, takeoff)![0]!.part)).toEqual(["landing", "push"]);
    const smooth = forceOf([500, 350], [50, 350, 900], [50, 900, 350], [1250, 350]);
    expect(clipping({ left: tops(2000, 700), right: smooth }, 1)).toEqual([{ plate: "left", force: 2000, part: "push" }]);
    expect(clipping({ left: smooth, right: tops(700, 2000) }, 1)).toEqual([{ plate: "right", force: 2000, part: "landing" }]);
    expect(clipping({ left: tops(2000, 700), right: tops(700, 1500) }, 1)).toEqual([
      { plate: "left", force: 2000, part: "push" },
      { plate: "right", force: 1500, part: "landing" },
    ]);
  });

  test("finds none in a rounded peak", () => {
    const smooth = forceOf([500, 700], [50, 700, 1800], [50, 1800, 700], [900, 700]);
    expect(clipping({ total: smooth }, 1)).toBeUndefined();
    expect(handTrial({ total: smooth }).facts).not.toHaveProperty("clipping");
  });

  test("needs so many flat samples, entered so steeply, by the step of the values", () => {
    const flat = (samples: number, rise = 1300): Float64Array => forceOf([500, 700], [samples, 700 + rise], [900, 700]);
    expect([2, 3].map((samples) => clipping({ total: flat(samples) }, 1) !== undefined)).toEqual([false, true]);
    expect([4, 5].map((samples) => clipping({ total: flat(samples) }, 1, { settings: [["q5-samples", 5]] }) !== undefined)).toEqual([false, true]);
    // A rise in one sample is a third of it a sample: 30 N are ten steps of 1 N.
    for (const step of [{ step: 1, rounding: 0.2 }, { step: 0.2, rounding: 1 }]) {
      expect([29.9, 30.1].map((rise) => clipping({ total: flat(5, rise) }, 1, step) !== undefined)).toEqual([false, true]);
      expect([14.9, 15.1].map((rise) => clipping({ total: flat(5, rise) }, 1, { ...step, settings: [["q5-entry", 5]] }) !== undefined)).toEqual([false, true]);
    }
  });

  test("takes a force at the end of a declared range for cut off, however it came there", () => {
    const smooth = forceOf([500, 700], [50, 700, 1800], [50, 1800, 700], [900, 700]);
    // 99.5 % of 1809 N is just below 1800 N, of 1810 N just above.
    expect(clipping({ total: smooth.map((f) => Math.min(f, 1790)) }, 1, { settings: [["q5-range", 2000], ["q5-samples", 1000]] })).toBeUndefined();
    expect(clipping({ total: smooth.map((f) => (f === 1800 ? 1990 : f)) }, 1, { settings: [["q5-range", 2000]] })).toHaveLength(1);
    expect([1809, 1810].map((range) => clipping({ total: smooth }, 1, { settings: [["q5-range", range]] }))).toEqual([[{ force: 1800, part: "push" }], undefined]);
  });

  test("looks at the lower rail where a plate reads far below zero for 10 ms", () => {
    const low = (level: number, samples: number): Float64Array => forceOf([500, 700], [30, 1000, 2000], [30, 2000, 1000], [440, 700], [300, 0], [samples, level], [500, 700]);
    // 5 % of 2000 N.
    expect(clipping({ total: low(-101, 50) }, 1)).toEqual([{ force: -101, part: "landing" }]);
    expect(clipping({ total: low(-100, 50) }, 1)).toBeUndefined();
    expect(clipping({ total: low(-500, 2) }, 1)).toBeUndefined();
    expect(clipping({ total: low(-101, 50) }, 1, { settings: [["q5-range", 101]] })).toHaveLength(2);
    // A trace upside down has no force above zero: any force below it is low.
    expect(clipping({ total: low(-50, 50).map((f) => Math.min(f, 0) - 1) }, 1)).toEqual([{ force: -51, part: "landing" }]);
  });

  test("goes by the largest sample of each plate, the first of equal ones, wherever it lies", () => {
    // The left plate peaks alone while the right one reads little: the sum is larger elsewhere.
    const left = forceOf([300, 350], [5, 1400], [695, 350], [5, 1200], [295, 350]);
    const right = forceOf([300, 350], [5, 0], [695, 350], [5, 900], [295, 350]);
    expect(clipping({ left, right }, 0.5)).toEqual([
      { plate: "left", force: 1400, part: "push" },
      { plate: "right", force: 900, part: "landing" },
    ]);
    const twice = forceOf([300, 350], [5, 1400], [695, 350], [5, 1400], [295, 350]);
    expect(clipping({ left: twice, right: forceOf([1300, 350]) }, 0.5)).toEqual([{ plate: "left", force: 1400, part: "push" }]);
    // The largest of the right plate where the sum is far below its own largest.
    const apart = { left: forceOf([300, 350], [20, 2000], [980, 350]), right: forceOf([300, 350], [20, 0], [480, 350], [20, 500], [480, 350]) };
    expect(clipping(apart, 0.5)).toEqual([
      { plate: "left", force: 2000, part: "push" },
      { plate: "right", force: 500, part: "landing" },
    ]);
    // A single high sample in a block of a low sum.
    const spike = forceOf([303, 100], [1, 1500], [696, 100], [5, 1200], [295, 100]);
    expect(clipping({ total: spike }, 0.5)).toBeUndefined();
    expect(clipping({ total: spike }, 0.5, { settings: [["q5-range", 1500]] })).toEqual([{ force: 1500, part: "push" }]);
  });
});

describe("flightRun", () => {
  const TRIAL = handTrial({ total: forceOf([3000, 700]) });
  const of = (...runs: readonly (readonly [number, number])[]): readonly number[] | undefined => {
    const empty: EmptyRuns = { loaded: 700, level: 0, brief: false, runs: runs.map(([start, end]) => ({ start, end })) };
    const run = flightRun(empty, TRIAL);
    return run && [run.start, run.end];
  };

  test("is the longest run that could be a flight between two loads, the first of equal ones", () => {
    expect(of([500, 700], [900, 1300], [1500, 1800])).toEqual([900, 1300]);
    expect(of([500, 700], [900, 1100])).toEqual([500, 700]);
    expect(of([500, 700], [800, 2000])).toEqual([500, 700]);
    expect(of([500, 1500], [1600, 1700])).toEqual([500, 1500]);
    expect(of([500, 1501], [1600, 1700])).toEqual([1600, 1700]);
    expect(of([500, 540])).toEqual([500, 540]);
    expect(of([100, 1500], [1600, 1640])).toEqual([1600, 1640]);
    expect(of([500, 539])).toBeUndefined();
  });

  test("is, where there is none, the first that is too long or cut by the end of the record", () => {
    expect(of([500, 2000], [2100, 3000])).toEqual([500, 2000]);
    expect(of([2100, 3000])).toEqual([2100, 3000]);
    expect(of([2961, 3000])).toBeUndefined();
    expect(of([2960, 3000])).toEqual([2960, 3000]);
    expect(of([2100, 3000], [500, 600])).toEqual([500, 600]);
  });

  test("is never a run with which the record begins", () => {
    expect(of([0, 400])).toBeUndefined();
    expect(of([0, 400], [500, 600])).toEqual([500, 600]);
    expect(of([0, 2000])).toBeUndefined();
  });
});

test("posture lowers a landing by half of its height, in the doubt alone", () => {
  const trial = handTrial({ total: forceOf([100, 700]) }, { settings: [["landing-posture-mean", 0.03], ["landing-posture-u", 0.04]] });
  const quantity = posture(trial);
  // h = v^2 / (2 g) + d / 2 (method 8.1); 3, 4, 5.
  expect([quantity.value, trial.work.part(quantity, POSTURE)]).toEqual([0, 0.025]);
});
