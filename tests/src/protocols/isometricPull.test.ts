import { describe, expect, test } from "vitest";
import { analysePull } from "../../../src/protocols/isometricPull.ts";
import type { Trial } from "../../../src/protocols/Trial.ts";
import { SIDES, TIMES, WEIGHT } from "../../../src/protocols/workings.ts";
import { pullOf } from "../../../src/synthetic/pull.ts";
import { seededRandom } from "../../../src/synthetic/seededRandom.ts";
import { plainPull, plainSteepest } from "../../reference/plainTests.ts";
import { less, meanInside, plainForceOf } from "../../support/secondOpinion.ts";
import { forceOf, type HandOptions, handTrial } from "../../support/handTrial.ts";

const BASE = 800;
/** A baseline, a rise of 5 N a sample to 2800 N, a hold, and a release. All expected numbers are worked by hand from these lines. */
const PULL = forceOf([1500, BASE], [400, BASE, 2800], [1600, 2800], [100, 2800, 700], [500, 700]);
/** The first sample more than a newton above the baseline, of a rise that begins at sample 1500. */
const ONSET = 1.501;

function pulled(plates: Float64Array | Parameters<typeof handTrial>[0], options: HandOptions = {}): Trial {
  const trial = handTrial(plates instanceof Float64Array ? { total: plates } : plates, { protocol: "IMTP", ...options });
  analysePull(trial);
  return trial;
}
const value = (trial: Trial, id: string): number | undefined => trial.work.metrics.get(id)?.value;
const part = (trial: Trial, id: string, source: string): number => trial.work.metrics.get(id)!.budget?.find((one) => one.source === source)?.u ?? 0;
const needs = (trial: Trial, id: string): number => trial.work.metrics.get(id)!.needs;
const onset = (trial: Trial): number | undefined => trial.events.get("pullOnset")?.time;
/** Adds a and -a in turn: an SD of a. */
const shaken = (force: Float64Array, by: number): Float64Array => force.map((f, i) => f + (i % 2 === 0 ? by : -by));

describe("a pull by hand", () => {
  test("has its baseline, start, peak and phase", () => {
    const trial = pulled(PULL, { adjust: "bodyWeight=700" });
    expect(value(trial, "baselineForce")).toBe(BASE);
    expect(value(trial, "preTensionForce")).toBe(100);
    expect([value(trial, "bodyWeight"), value(trial, "bodyMass")]).toEqual([700, 700 / 9.80665]);
    expect(onset(trial)).toBe(ONSET);
    expect(value(trial, "peakForce")).toBe(2800);
    expect(trial.events.get("peakForce")!.time).toBe(1.9);
    expect(value(trial, "timeToPeakForce")).toBeCloseTo(0.399, 12);
    // Steady for 150 ms before the movement, which the search places to a block of 10 ms.
    const window = ["weighingStart", "weighingEnd"].map((name) => trial.events.get(name as "weighingStart")!.time);
    expect(window).toEqual([0.37, 1.37]);
    // The pull ends with the last block above half of its rise: 1800 N, 47.6 samples down.
    expect(trial.phases).toEqual([{ name: "weighing", start: 0.37, end: 1.37 }, { name: "pull", start: ONSET, end: 3.55 }]);
    expect(trial.facts).toMatchObject({ pulls: 1, baseline: BASE, baselineSway: 0, weighingSeconds: 1, pretension: 100, peakAtEnd: false, onsetLimit: 1, onsetLimitUsed: 1 });
    for (const fact of ["pullDip", "weighingByHand", "leftShare", "noQuietStand", "noPull"]) expect(fact in trial.facts, fact).toBe(false);
    expect([needs(trial, "timeToPeakForce"), needs(trial, "maximumRfd"), needs(trial, "peakForce"), needs(trial, "baselineForce")]).toEqual([TIMES, TIMES, 0, 0]);
  });

  test("has forces, rates and impulses from its start", () => {
    const trial = pulled(PULL, { adjust: "bodyWeight=700" });
    for (const ms of [50, 90, 100, 150, 200, 250]) expect(value(trial, `force${ms}ms`)).toBeCloseTo(805 + 5 * ms, 9);
    for (const span of ["0to50", "0to100", "0to150", "0to200", "0to250", "50to100", "100to200"]) expect(value(trial, `rfd${span}`)).toBeCloseTo(5000, 6);
    expect(value(trial, "maximumRfd")).toBeCloseTo(5000, 9);
    // Mean force above body weight, times its time.
    for (const ms of [100, 200, 250]) expect(value(trial, `impulse0to${ms}`)).toBeCloseTo(((105 + 105 + 5 * ms) / 2) * (ms / 1000), 9);
    expect(needs(trial, "impulse0to100")).toBe(TIMES | WEIGHT);
    const above = pulled(PULL, { settings: [["isometric-impulse-baseline", "baseline"]] });
    for (const ms of [100, 200, 250]) expect(value(above, `impulse0to${ms}`)).toBeCloseTo(((5 + 5 + 5 * ms) / 2) * (ms / 1000), 9);
    expect(needs(above, "impulse0to100")).toBe(TIMES | WEIGHT);
    expect(trial.work.steps().find(({ gives }) => gives === "forceAtPullOnset")!.value).toBe(805);
    expect(trial.work.steps().find(({ gives }) => gives === "maximumRfd")!.inputs.map((input) => input.value)).toEqual([0.02, ONSET, 1.9]);
    expect(trial.work.steps().find(({ gives }) => gives === "baselineForce")!.inputs.map((input) => input.value)).toEqual([0.37, 1.37]);
  });

  test("rises most before its peak, in a window that may end there", () => {
    // Ever steeper up to the peak; after it, lower down, steeper still.
    const bent = Float64Array.from([...Array<number>(1500).fill(BASE), ...Array.from({ length: 401 }, (_, i) => BASE + 2000 * (i / 400) ** 2), ...forceOf([1, 1900], [10, 1900, 2700], [800, 2700], [300, 700])]);
    const trial = pulled(bent);
    expect(trial.events.get("peakForce")!.time).toBe(1.9);
    expect(value(trial, "maximumRfd")).toBeCloseTo((2000 * (1 - 0.95 ** 2)) / 0.02, 6);
  });

  test("has no impulse above a body weight that nobody knows, and no pretension", () => {
    const trial = pulled(PULL);
    for (const ms of [100, 200, 250]) {
      expect(value(trial, `impulse0to${ms}`)).toBeUndefined();
      expect(trial.reasons.get(`impulse0to${ms}`)).toMatch(/body weight was not weighed/);
    }
    expect([value(trial, "preTensionForce"), "pretension" in trial.facts, value(trial, "bodyWeight")]).toEqual([undefined, false, undefined]);
    expect(value(trial, "force100ms")).toBeCloseTo(1305, 9);
    for (const id of ["weighingSd", "bodyWeightUncertainty"]) expect(trial.reasons.get(id)).toMatch(/a pull is not weighed/);
    expect(pulled(PULL, { adjust: "bodyWeight=700" }).reasons.has("impulse0to100")).toBe(false);
  });

  test("has each side's share", () => {
    const trial = pulled({ left: PULL.map((f) => 0.6 * f), right: PULL.map((f) => 0.4 * f) });
    const sides = (id: string): (number | undefined)[] => [value(trial, `${id}Left`), value(trial, `${id}Right`)];
    const close = (id: string, whole: number): void => expect(sides(id)).toEqual([expect.closeTo(0.6 * whole, 9), expect.closeTo(0.4 * whole, 9)]);
    close("baselineForce", BASE);
    close("peakForce", 2800);
    for (const ms of [50, 90, 100, 150, 200, 250]) close(`force${ms}ms`, 805 + 5 * ms);
    // Gross.
    for (const ms of [100, 200, 250]) close(`impulse0to${ms}`, ((805 + 805 + 5 * ms) / 2) * (ms / 1000));
    expect(trial.facts.leftShare).toBeCloseTo(0.6, 12);
    expect([needs(trial, "baselineForceLeft"), needs(trial, "force50msRight"), needs(trial, "impulse0to100Left")]).toEqual([SIDES, TIMES | SIDES, TIMES | SIDES]);
  });

  test("is the strongest of several, with the baseline after the one before", () => {
    const weaker = forceOf([1500, 900], [300, 900, 2400], [700, 2400], [100, 2400, 800]);
    const twice = Float64Array.from([...weaker, ...PULL]);
    const trial = pulled(twice);
    expect(trial.facts.pulls).toBe(2);
    expect([onset(trial), value(trial, "baselineForce"), value(trial, "peakForce")]).toEqual([2.6 + ONSET, BASE, 2800]);
    const first = pulled(Float64Array.from([...PULL, ...weaker]));
    expect([onset(first), value(first, "baselineForce"), value(first, "peakForce")]).toEqual([ONSET, BASE, 2800]);
    // The first of equal ones.
    expect(onset(pulled(Float64Array.from([...PULL, ...PULL])))).toBe(ONSET);
    // Less than half a second between two pulls: no baseline for the second, though there is one before the first.
    const close = pulled(Float64Array.from([...weaker, ...PULL.slice(1150)]));
    expect([close.facts.noQuietStand, value(close, "peakForce"), close.facts.weighingSeconds]).toEqual([true, 2800, undefined]);
  });

  test("without a rise is none", () => {
    const trial = pulled(forceOf([3000, BASE]));
    expect([trial.facts.noPull, "pulls" in trial.facts, trial.work.metrics.size]).toEqual([true, false, 0]);
    expect(value(pulled(forceOf([3000, BASE]), { adjust: "bodyWeight=700" }), "bodyWeight")).toBe(700);
  });

  test("reaches its peak at the end of the record where that is cut within 50 ms of it", () => {
    const rising = (after: number): boolean | undefined => pulled(forceOf([1500, BASE], [600, BASE, 2800], [1, 2800], [after, 2700])).facts.peakAtEnd;
    expect([rising(10), rising(49), rising(50), rising(51)]).toEqual([true, true, false, false]);
    const slow = (after: number): boolean | undefined => pulled(forceOf([30, BASE], [12, BASE, 2800], [1, 2800], [after, 2700]), { rate: 20 }).facts.peakAtEnd;
    expect([slow(1), slow(2)]).toEqual([true, false]);
  });

  test("that ends early lacks what comes later, and says so", () => {
    // Half of the way down is reached at 1.97 s; the record goes on.
    const short = forceOf([1500, BASE], [20, BASE, 2800], [400, 2800], [100, 2800, BASE], [400, BASE]);
    const cut = pulled(short, { adjust: "bodyWeight=700; pullOnset=1.7" });
    const end = 1.97;
    expect(cut.phases.at(-1)!.end).toBe(end);
    expect([value(cut, "force250ms"), value(cut, "impulse0to250"), value(cut, "rfd0to250")].map((v) => v !== undefined)).toEqual([true, true, true]);
    const late = pulled(short, { adjust: "bodyWeight=700; pullOnset=1.85" });
    expect([50, 90, 100, 150, 200, 250].map((ms) => value(late, `force${ms}ms`) !== undefined)).toEqual([true, true, true, false, false, false]);
    expect(["0to50", "0to100", "0to150", "0to200", "0to250", "50to100", "100to200"].map((span) => value(late, `rfd${span}`) !== undefined)).toEqual([true, true, false, false, false, true, false]);
    expect([100, 200, 250].map((ms) => value(late, `impulse0to${ms}`) !== undefined)).toEqual([true, false, false]);
    expect(late.reasons.get("force150ms")).toBe("the pull ends less than 150 ms after its start");
    expect(late.reasons.get("impulse0to250")).toBe("the pull ends less than 250 ms after its start");
    expect(late.reasons.get("rfd100to200")).toBe("the pull ends less than 200 ms after its start");
    // Cut by the end of the record: its last sample is still the pull's.
    const open = pulled(forceOf([1500, BASE], [20, BASE, 2800], [400, 2800]), { adjust: "pullOnset=1.819" });
    expect([90, 100, 150].map((ms) => value(open, `force${ms}ms`) !== undefined)).toEqual([true, true, false]);
    expect(value(pulled(forceOf([1500, BASE], [20, BASE, 2800], [400, 2800]), { adjust: "pullOnset=1.8191" }), "force100ms")).toBeUndefined();
  });
});

describe("the baseline of a pull", () => {
  const moving = (samples: number): Float64Array => forceOf([samples, BASE], [400, BASE, 2800], [1600, 2800], [100, 2800, 700], [500, 700]);

  test("is half a second long at least, or as the settings ask", () => {
    // Within a tenth of the force for 16 samples of the rise; the 150 ms before that do not belong to it.
    expect(pulled(moving(620)).facts.weighingSeconds).toBeUndefined();
    expect(pulled(moving(630)).facts.weighingSeconds).toBeCloseTo(0.5, 12);
    expect(pulled(moving(660)).facts.weighingSeconds).toBeGreaterThanOrEqual(0.5);
    expect(pulled(moving(660)).facts.weighingSeconds).toBeLessThan(0.55);
    expect(pulled(moving(660), { settings: [["q1-shortest", 0.8]] }).facts.weighingSeconds).toBeUndefined();
    expect(pulled(PULL, { settings: [["weighing-length", 0.7]] }).facts.weighingSeconds).toBeCloseTo(0.7, 12);
  });

  test("without one, the peak is known and the start is not", () => {
    const trial = pulled(moving(300), { adjust: "bodyWeight=700" });
    expect([...trial.work.metrics.keys()].sort()).toEqual(["bodyMass", "bodyWeight", "peakForce"]);
    expect([value(trial, "peakForce"), trial.facts.noQuietStand, onset(trial)]).toEqual([2800, true, undefined]);
    for (const id of ["force50ms", "force250ms", "rfd0to50", "rfd100to200", "impulse0to100", "impulse0to250", "timeToPeakForce", "maximumRfd", "baselineForce"]) expect(trial.reasons.get(id), id).toMatch(/no quiet baseline/);
    expect(trial.phases).toEqual([]);
    expect(trial.events.get("peakForce")!.time).toBe(0.7);
    // What was pulled before the middle of the rise is not looked at.
    const spiked = moving(300);
    spiked[100] = 3000;
    expect(value(pulled(spiked), "peakForce")).toBe(2800);
  });

  test("can be set by a person, be it as short as it may, and so can the start", () => {
    const trial = pulled(moving(300), { adjust: "weighingStart=0.05; weighingEnd=0.15" });
    expect(trial.facts).toMatchObject({ weighingByHand: true, baseline: BASE, weighingSeconds: expect.closeTo(0.1, 12) });
    expect(onset(trial)).toBeCloseTo(0.301, 12);
    const set = pulled(moving(300), { adjust: "pullOnset=0.32" });
    expect([onset(set), value(set, "force50ms"), value(set, "baselineForce"), set.facts.noQuietStand]).toEqual([0.32, expect.closeTo(1150, 9), undefined, undefined]);
    // Ten milliseconds for what a person sees.
    expect(part(set, "timeToPeakForce", "onset")).toBeCloseTo(0.01, 12);
    expect("onsetLimit" in set.facts).toBe(false);
  });

  test("with a start that a person set after the pull, has no peak", () => {
    const trial = pulled(PULL, { adjust: "pullOnset=3.9" });
    expect([value(trial, "peakForce"), trial.events.has("peakForce"), value(trial, "timeToPeakForce"), trial.phases.map(({ name }) => name)]).toEqual([undefined, false, undefined, ["weighing"]]);
  });

  test("may tremble twice as much as a stand, within a tenth of the force", () => {
    // 100 ms by turns above and below, before it a quiet second: means of 50 ms have an SD between 0.7 and 1.03 times as much, as they come to lie.
    const quiet = forceOf([2500, BASE], [400, BASE, 2800], [1600, 2800], [500, 700]);
    const swayed = (share: number, by: number, options: HandOptions = {}): number => {
      const force = quiet.map((f, i) => share * f + (i >= 1200 && i < 2500 ? (Math.floor(i / 100) % 2 === 0 ? by : -by) : 0));
      return pulled(force, options).events.get("weighingEnd")!.time;
    };
    // 2 x 1 % of 800 N.
    expect(swayed(1, 15)).toBeGreaterThan(2.3);
    expect(swayed(1, 30)).toBeLessThan(2);
    expect(swayed(1, 30, { settings: [["q1-sd-look", 2]] })).toBeGreaterThan(2.3);
    // 2 x 5 N of 200 N.
    expect(swayed(0.25, 9)).toBeGreaterThan(2.3);
    expect(swayed(0.25, 19)).toBeLessThan(2);
    expect(swayed(0.25, 9, { settings: [["q1-sd-look-force", 2]] })).toBeLessThan(2);
    expect(swayed(0.25, 9, { settings: [["q1-unsteady-factor", 1]] })).toBeLessThan(2);
  });

  test("has the doubt of a weighing, and of the gain", () => {
    const trial = pulled(shaken(PULL, 3), { step: 0.6 });
    // Alternating by 3 N: the noise from first differences is 6 / sqrt(2) N; n = 1000.
    expect(part(trial, "baselineForce", "bodyWeight")).toBeCloseTo(6 / Math.SQRT2 / Math.sqrt(1000), 3);
    expect(part(trial, "baselineForce", "gain")).toBeCloseTo(0.0025 * BASE, 9);
    expect(part(trial, "baselineForce", "rounding")).toBeCloseTo(0.6 / Math.sqrt(12), 9);
    expect(trial.noise).toBeCloseTo(6 / Math.SQRT2, 2);
    const sides = pulled({ left: shaken(PULL.map((f) => f / 2), 3), right: PULL.map((f) => f / 2) });
    expect(part(sides, "baselineForceLeft", "noise")).toBeCloseTo(6 / Math.SQRT2 / Math.sqrt(1000), 3);
  });
});

describe("the start of a pull", () => {
  /** SD of the baseline, N. */
  const noisy = (by: number): Float64Array => PULL.map((f, i) => (i < 1400 ? f + (i % 2 === 0 ? by : -by) : f));

  test("is five SD above the baseline, a newton or the step at least, and 5 % of the weight at most", () => {
    expect(onset(pulled(noisy(8), { adjust: "bodyWeight=900" }))).toBe(1.509);
    expect(pulled(noisy(8), { adjust: "bodyWeight=900" }).facts).toMatchObject({ onsetLimit: expect.closeTo(40, 1), onsetLimitUsed: expect.closeTo(40, 1) });
    // 5 SD are 100 N: 5 % of 700 N are 35 N, without a body weight those of the baseline 40 N.
    expect(onset(pulled(noisy(20), { adjust: "bodyWeight=700" }))).toBe(1.508);
    expect(onset(pulled(noisy(20)))).toBe(1.509);
    expect(pulled(noisy(20)).facts).toMatchObject({ onsetLimit: expect.closeTo(100, 0), onsetLimitUsed: 40 });
    expect([onset(pulled(PULL, { step: 12 })), onset(pulled(PULL, { rounding: 12 }))]).toEqual([1.503, 1.503]);
    expect(pulled(PULL, { step: 60 }).facts.onsetLimitUsed).toBe(60);
  });

  test("is else 2.5 % of the weight, or newtons", () => {
    const by = (rule: string, more: HandOptions = {}) => pulled(PULL, { ...more, settings: [["isometric-onset-rule", rule], ["onset-force", 52]] });
    // 2.5 % of 800 N is 20 N, of 900 N 22.5 N.
    expect([onset(by("2.5 % BW")), onset(by("2.5 % BW", { adjust: "bodyWeight=900" })), onset(by("fixed force"))]).toEqual([1.505, 1.505, 1.511]);
    expect(onset(by("2.5 % BW", { adjust: "bodyWeight=1001" }))).toBe(1.506);
    for (const rule of ["2.5 % BW", "fixed force"]) expect(["onsetLimit" in by(rule).facts, "onsetLimitUsed" in by(rule).facts]).toEqual([false, false]);
  });

  test("is the last rise that is kept, for 10 ms or as long as the settings ask; or, searching forward, the first", () => {
    const twitch = PULL.slice();
    twitch.fill(BASE + 30, 1400, 1415);
    expect(onset(pulled(twitch))).toBe(ONSET);
    expect(onset(pulled(twitch, { settings: [["onset-search", "forward"]] }))).toBe(1.4);
    expect(onset(pulled(twitch, { settings: [["onset-search", "forward"], ["onset-duration", 0.016]] }))).toBe(ONSET);
    // A rest of nine samples in the rise is no rest.
    const stepped = PULL.slice();
    stepped.fill(BASE, 1520, 1529);
    expect(onset(pulled(stepped))).toBe(ONSET);
    stepped.fill(BASE, 1520, 1530);
    expect(onset(pulled(stepped))).toBe(1.53);
    expect(onset(pulled(stepped, { settings: [["onset-duration", 0.011]] }))).toBe(ONSET);
    // Where nothing was at rest since the baseline, the end of the baseline.
    expect(onset(pulled(PULL.map((f, i) => (i > 1370 && i < 1501 ? BASE + 2 : f))))).toBe(1.37);
  });

  test("knows of a dip before it that is deeper than the baseline trembles, and than a newton or the step", () => {
    const dipped = (by: number, noise = 0): Float64Array => noisy(noise).map((f, i) => (i >= 1480 && i < 1490 ? BASE - by : f));
    expect([0.9, 1.1].map((by) => pulled(dipped(by)).facts.pullDip)).toEqual([undefined, expect.closeTo(1.1, 9)]);
    expect([1.9, 2.1].map((by) => pulled(dipped(by), { step: 2 }).facts.pullDip !== undefined)).toEqual([false, true]);
    expect([1.9, 2.1].map((by) => pulled(dipped(by), { rounding: 2 }).facts.pullDip !== undefined)).toEqual([false, true]);
    // Five SD of 4 N.
    expect([19.5, 20.5].map((by) => pulled(dipped(by, 4)).facts.pullDip !== undefined)).toEqual([false, true]);
    // In the baseline and after the start there are no dips.
    const elsewhere = PULL.slice();
    elsewhere.fill(BASE - 30, 1366, 1369);
    expect("pullDip" in pulled(elsewhere, { adjust: "weighingStart=0.3; weighingEnd=1.37" }).facts).toBe(false);
  });

  // A force that begins as k t^2 passes its limit t after its true start: growth tells t.
  test("is late by the time since a smooth rise began", () => {
    const begun = (k: number, after = 500): Float64Array => forceOf([1500, BASE], [after, 0], [1600, 0], [500, 700]).map((f, i) => (i < 1500 || i >= 3100 ? f : BASE + Math.min(2000, k * (i - 1500) ** 2)));
    // More than 1 N with 0.02 t^2 at the eighth sample, with 0.3 at the second.
    for (const [k, late] of [[0.02, 8], [0.3, 2]] as const) {
      const trial = pulled(begun(k));
      expect(onset(trial)).toBe((1500 + late) / 1000);
      expect(part(trial, "timeToPeakForce", "onset")).toBeCloseTo(Math.hypot(0.001, late / 1000), 12);
    }
    // At most 50 ms, and so where the force does not grow, is below the baseline, or at it.
    const sunk = PULL.map((f, i) => (i >= 1480 && i < 1500 ? BASE - 2 * (i - 1479) ** 2 : f));
    expect(part(pulled(sunk, { adjust: "pullOnset=1.482" }), "timeToPeakForce", "onset")).toBeCloseTo(Math.hypot(0.001, 0.05), 12);
    expect(part(pulled(PULL, { adjust: "pullOnset=1.5" }), "timeToPeakForce", "onset")).toBeCloseTo(Math.hypot(0.001, 0.05), 12);
    const flat = pulled(PULL, { adjust: "pullOnset=1.45" });
    expect(part(flat, "timeToPeakForce", "onset")).toBeCloseTo(Math.hypot(0.001, 0.05), 12);
    const slow = pulled(PULL, { adjust: "pullOnset=1.8" });
    expect(part(slow, "timeToPeakForce", "onset")).toBeCloseTo(Math.hypot(0.001, 0.05), 12);
    // 105 N after 21 ms of a straight line and 155 N ten later: sqrt(155 / 105) - 1 = 0.215.
    const line = pulled(PULL, { adjust: "pullOnset=1.521" });
    expect(part(line, "timeToPeakForce", "onset")).toBeCloseTo(Math.hypot(0.001, 0.01 / (Math.sqrt(155 / 105) - 1)), 12);
  });

  test("enters what is timed from it by the rise just before", () => {
    const trial = pulled({ left: PULL.map((f) => 0.6 * f), right: PULL.map((f) => 0.4 * f) }, { adjust: "pullOnset=1.521; bodyWeight=700" });
    const u = part(trial, "timeToPeakForce", "onset");
    expect(part(trial, "force100ms", "onset")).toBeCloseTo(5000 * u, 6);
    expect(part(trial, "force100msLeft", "onset")).toBeCloseTo(3000 * u, 6);
    // The start itself lies 105 N above the baseline, from which the force rose within that time.
    expect(part(trial, "rfd0to100", "onset")).toBeCloseTo((5000 * u - 105) / 0.1, 4);
    expect(part(trial, "rfd50to100", "onset")).toBeLessThan(1e-3);
    // Later by u, the first 100 ms hold 500 N more for u seconds.
    expect(part(trial, "impulse0to100", "onset")).toBeCloseTo(500 * u, 6);
    expect(part(trial, "impulse0to100Left", "onset")).toBeCloseTo(300 * u, 6);
    expect(part(trial, "impulse0to100", "bodyWeight")).toBeCloseTo(0.1 * part(trial, "bodyWeight", "bodyWeight"), 12);
  });

  test("and the noise of two samples enters their difference", () => {
    const trial = pulled(shaken(PULL, 3), { adjust: "bodyWeight=700" });
    const { noise } = trial;
    expect(part(trial, "rfd0to50", "noise")).toBeCloseTo((Math.SQRT2 * noise) / 0.05, 3);
    expect(part(trial, "rfd100to200", "noise")).toBeCloseTo((Math.SQRT2 * noise) / 0.1, 3);
    expect(part(trial, "force100ms", "noise")).toBeCloseTo(noise, 9);
    expect(part(trial, "impulse0to100", "noise")).toBeCloseTo((noise / Math.sqrt(100)) * 0.1, 9);
    expect(part(trial, "rfd0to100", "gain")).toBeCloseTo(0.0025 * value(trial, "rfd0to100")!, 6);
    // Above body weight by hand, that has a tenth of a per cent, or the gain, of its own.
    expect(part(trial, "impulse0to100", "gain")).toBeCloseTo(0.0025 * (value(trial, "impulse0to100")! + 70), 6);
    // Above the baseline, of the same plates, the gain is that of the difference.
    const above = pulled(shaken(PULL, 3), { settings: [["isometric-impulse-baseline", "baseline"]] });
    expect(part(above, "impulse0to100", "gain")).toBeCloseTo(0.0025 * value(above, "impulse0to100")!, 6);
  });
});

describe("a pull against its closed form and a second opinion", () => {
  const random = seededRandom(3);
  const made = Float64Array.from({ length: 4000 }, (_, i) => pullOf(700, 1.6, { pretension: 30, rise: 1600, timeConstant: 0.09, hold: 1.6 }).force(i / 1000));

  test("has the forces, rates and impulses of the closed form where its start is known", () => {
    const trial = pulled(made, { adjust: "bodyWeight=700; pullOnset=1.6" });
    const exact = pullOf(700, 1.6, { pretension: 30, rise: 1600, timeConstant: 0.09, hold: 1.6 });
    for (const ms of [50, 90, 100, 150, 200, 250]) expect(value(trial, `force${ms}ms`)).toBeCloseTo(exact.force(1.6 + ms / 1000), 6);
    for (const [from, to] of [[0, 50], [0, 250], [50, 100], [100, 200]] as const) expect(value(trial, `rfd${from}to${to}`)).toBeCloseTo(exact.slope(from / 1000, to / 1000), 6);
    // Trapezoids give h^2 / 12 times the change of slope too much: at most 6500 N/s.
    for (const ms of [100, 200, 250]) expect(Math.abs(value(trial, `impulse0to${ms}`)! - (exact.riseImpulse(ms / 1000) + 0.03 * ms))).toBeLessThan(5.5e-4);
    expect(Math.abs(value(trial, "maximumRfd")! / exact.greatestSlope(0.02) - 1)).toBeLessThan(1e-3);
    for (const window of [0.005, 0.05]) {
      const other = pulled(made, { adjust: "pullOnset=1.6", settings: [["isometric-rfd-window", window]] });
      expect(Math.abs(value(other, "maximumRfd")! / exact.greatestSlope(window) - 1)).toBeLessThan(1e-3);
    }
  });

  test("agrees with the second opinion where it is noisy", () => {
    const force = made.map((f) => f + 0.8 * random.normal());
    const trial = pulled({ left: force.map((f) => 0.45 * f), right: force.map((f) => 0.55 * f) }, { adjust: "bodyWeight=700" });
    const window = [trial.events.get("weighingStart")!.time, trial.events.get("weighingEnd")!.time] as const;
    const sum = less(plainForceOf(trial.trace), 0);
    const plain = plainPull(sum, onset(trial)!, window, 700);
    for (const [id, number] of Object.entries(plain)) if (id !== "maximumRfd") expect(Math.abs(value(trial, id)! - number), id).toBeLessThan(0.0005 * Math.abs(number) + 1e-6);
    expect(Math.abs(value(trial, "maximumRfd")! / plainSteepest(sum, onset(trial)!, trial.events.get("peakForce")!.time, 0.02) - 1)).toBeLessThan(1e-3);
    expect(value(trial, "baselineForce")).toBeCloseTo(meanInside(sum, ...window), 9);
  });
});
