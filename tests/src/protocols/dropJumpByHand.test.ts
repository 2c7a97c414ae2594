import { describe, expect, test } from "vitest";
import { analyseDropJump } from "../../../src/protocols/dropJump.ts";
import type { Trial } from "../../../src/protocols/Trial.ts";
import type { PlateRole } from "../../../src/trace/Trace.ts";
import { forceOf, type HandOptions, type HandStretch, handTrial } from "../../support/handTrial.ts";

// All expected numbers are worked by hand. A body of 700 N falls for a quarter of a second, is pushed up by three and a half times its weight
// for 0.2 s, flies for half a second, and is stopped by the same force in 0.1 s: velocities of g / 4 at touchdown, take-off and landing.

const G = 9.80665;
const W = 700;
const P = 3.5 * W;
const EMPTY: HandStretch = [500, 0];
const CONTACT: HandStretch = [200, P];
const FLIGHT: HandStretch = [500, 0];
const LANDING: HandStretch = [100, P];
const STAND: HandStretch = [1800, W];
const JUMP = [EMPTY, CONTACT, FLIGHT, LANDING, STAND] as const;
/** 0 to P cross 20 N so far after the last empty sample, and before the first one, s. */
const INTO = 0.001 * (20 / P);
const TOUCHDOWN = 0.499 + INTO;
const TAKEOFF = 0.7 - INTO;
const LANDED = 1.199 + INTO;

function dropped(plates: Float64Array | Partial<Record<PlateRole, Float64Array>>, options: HandOptions = {}): Trial {
  const trial = handTrial(plates instanceof Float64Array ? { total: plates } : plates, { protocol: "DJ", ...options });
  analyseDropJump(trial);
  return trial;
}
const jump = (...stretches: readonly HandStretch[]): Float64Array => forceOf(...(stretches.length === 0 ? JUMP : stretches));
const value = (trial: Trial, id: string): number | undefined => trial.work.metrics.get(id)?.value;
const at = (trial: Trial, name: Parameters<Trial["events"]["get"]>[0]): number | undefined => trial.events.get(name)?.time;
const by = (...settings: readonly (readonly [string, string | number])[]): HandOptions => ({ settings });

describe("a drop jump by hand", () => {
  test("has its events, times and phases", () => {
    const trial = dropped(jump());
    expect([at(trial, "touchdown"), at(trial, "takeoff"), at(trial, "landing")]).toEqual([expect.closeTo(TOUCHDOWN, 12), expect.closeTo(TAKEOFF, 12), expect.closeTo(LANDED, 12)]);
    expect(value(trial, "contactTime")).toBeCloseTo(TAKEOFF - TOUCHDOWN, 12);
    expect(value(trial, "flightTime")).toBeCloseTo(LANDED - TAKEOFF, 12);
    const height = (G * (LANDED - TAKEOFF) ** 2) / 8;
    expect(value(trial, "jumpHeightFlightTime")).toBeCloseTo(height, 12);
    expect(value(trial, "flightToContactRatio")).toBeCloseTo((LANDED - TAKEOFF) / (TAKEOFF - TOUCHDOWN), 12);
    expect(value(trial, "rsi")).toBeCloseTo(height / (TAKEOFF - TOUCHDOWN), 12);
    const phase = (name: string): readonly number[] => trial.phases.filter((one) => one.name === name).flatMap(({ start, end }) => [start, end]);
    expect(phase("fall")).toEqual([0, expect.closeTo(TOUCHDOWN, 12)]);
    expect(phase("contact")).toEqual([expect.closeTo(TOUCHDOWN, 12), expect.closeTo(TAKEOFF, 12)]);
    expect(phase("flight")).toEqual([expect.closeTo(TAKEOFF, 12), expect.closeTo(LANDED, 12)]);
    expect(trial.facts).toMatchObject({
      emptyBefore: 0.5, emptyDifference: 0, contact: expect.closeTo(TAKEOFF - TOUCHDOWN, 12), flight: expect.closeTo(LANDED - TAKEOFF, 12),
      route: "backward", endsBackward: true, finalStandSeconds: 1, finalShare: 1, lowAfterLanding: 0, bodyWeight: W, twoPlates: false,
    });
    for (const fact of ["nominalDrop", "noFlight", "noLanding", "doubleContact", "split", "routeAsked", "noTakeoffVelocity", "noLowest", "weighingByHand", "jumps"]) expect(fact in trial.facts, fact).toBe(false);
  });

  test("begins its fall where the plate was left by whoever stood there before", () => {
    const trial = dropped(jump([300, W], [400, 0], CONTACT, FLIGHT, LANDING, STAND));
    expect(trial.facts.emptyBefore).toBe(0.4);
    expect(trial.phases.find(({ name }) => name === "fall")!.start).toBeCloseTo(0.699 + INTO - 0.4, 12);
  });

  test("has its velocities, its drop and its lowest point", () => {
    const trial = dropped(jump());
    // To a hundredth of the millisecond's fall that a corner between two samples leaves open.
    expect(value(trial, "touchdownVelocity")).toBeCloseTo(-G / 4, 1);
    expect(value(trial, "takeoffVelocity")).toBeCloseTo(G / 4, 1);
    expect(value(trial, "measuredDropHeight")).toBeCloseTo(G / 32, 2);
    expect(value(trial, "jumpHeight")).toBe(value(trial, "jumpHeightTakeoffVelocity"));
    expect(value(trial, "jumpHeightTakeoffVelocity")).toBeCloseTo(value(trial, "takeoffVelocity")! ** 2 / (2 * G), 12);
    expect(value(trial, "heightDifference")).toBeCloseTo(value(trial, "jumpHeightFlightTime")! - value(trial, "jumpHeightTakeoffVelocity")!, 12);
    expect(at(trial, "lowest")).toBeCloseTo(0.6, 2);
    // Braked by 2.5 g over 0.1 s: g / 80.
    expect(value(trial, "brakingDisplacement")).toBeCloseTo(-G / 80, 2);
    expect(value(trial, "contactStiffness")).toBeCloseTo(P / -value(trial, "brakingDisplacement")!, 6);
    expect(at(trial, "peakVelocity")).toBeCloseTo(0.699, 12);
    expect(trial.facts).toMatchObject({ measuredDrop: value(trial, "measuredDropHeight"), heightVelocity: value(trial, "jumpHeightTakeoffVelocity"), heightDifference: value(trial, "heightDifference"), peakOverLowest: 0 });
    expect(trial.reasons.get("endVelocity")).toMatch(/zero by construction/);
    expect(trial.anchor).toMatchObject({ sample: 499, displacement: 0, restBefore: false });
    const lowest = dropped(jump(), by(["contact-stiffness-force", "lowest point"]));
    expect(value(lowest, "contactStiffness")).toBeCloseTo(P / -value(lowest, "brakingDisplacement")!, 6);
    // A peak of 2 P in the middle, at which the body is lowest; with an impact before it the largest force lies elsewhere.
    const struck = (setting: string): Trial => dropped(jump(EMPTY, [10, 0, 3 * P], [10, 3 * P, P], [160, P], [20, P, 0], FLIGHT, LANDING, STAND), by(["contact-stiffness-force", setting]));
    expect(value(struck("peak"), "contactStiffness")).toBeCloseTo((3 * P) / -value(struck("peak"), "brakingDisplacement")!, 6);
    expect(value(struck("lowest point"), "contactStiffness")).toBeCloseTo(P / -value(struck("lowest point"), "brakingDisplacement")!, 6);
    expect(struck("peak").facts.peakOverLowest).toBeCloseTo(2, 9);
  });

  test("knows the nominal height where it was stated", () => {
    const trial = dropped(jump(), { protocol: "DJ drop=0.4" });
    expect([value(trial, "nominalDropHeight"), trial.facts.nominalDrop]).toEqual([0.4, 0.4]);
    expect(value(dropped(jump()), "nominalDropHeight")).toBeUndefined();
  });
});

describe("which contact it is", () => {
  const takeoff = (trial: Trial): number => Math.round(1000 * at(trial, "takeoff")!);

  test("the first between an empty plate and a flight", () => {
    const twice = dropped(jump(EMPTY, CONTACT, FLIGHT, LANDING, STAND, [400, 0], CONTACT, [450, 0], LANDING, STAND));
    expect(takeoff(twice)).toBe(700);
    // Somebody stands on the plate for more than two seconds: that was no contact.
    expect(takeoff(dropped(jump(EMPTY, [2010, W], [300, 0], CONTACT, FLIGHT, LANDING, STAND)))).toBe(3010);
    expect(takeoff(dropped(jump(EMPTY, [2000, W], [300, 0], CONTACT, FLIGHT, LANDING, STAND)))).toBe(2500);
    // A flight is 40 ms long at least.
    expect(takeoff(dropped(jump(EMPTY, [150, P], [30, 0], [100, P], FLIGHT, LANDING, STAND)))).toBe(780);
    expect(takeoff(dropped(jump(EMPTY, [150, P], [40, 0], [100, P], FLIGHT, LANDING, STAND)))).toBe(650);
    // Nothing under 50 ms is a plate that was empty before.
    const brief = dropped(jump([1000, W], [40, 0], CONTACT, FLIGHT, LANDING, STAND));
    expect([takeoff(brief), at(brief, "touchdown")]).toEqual([1240, undefined]);
    expect(Math.round(1000 * at(dropped(jump([1000, W], [50, 0], CONTACT, FLIGHT, LANDING, STAND)), "touchdown")!)).toBe(1049);
  });

  test("one that is broken by less than 50 ms, early, is a double one", () => {
    const broken = (first: number, gap: number): Trial => dropped(jump(EMPTY, [first, P], [gap, 0], [150, P], FLIGHT, LANDING, STAND));
    expect([broken(90, 20).facts.doubleContact, takeoff(broken(90, 20))]).toEqual([0.02, 760]);
    expect([broken(100, 20).facts.doubleContact, takeoff(broken(100, 20))]).toEqual([undefined, 770]);
    expect(broken(90, 40).facts.doubleContact).toBe(0.04);
    expect([broken(90, 50).facts.doubleContact, takeoff(broken(90, 50))]).toEqual([undefined, 590]);
    // What came before another empty stretch does not count.
    const before = dropped(jump(EMPTY, [90, P], [20, 0], [2100, W], [300, 0], CONTACT, FLIGHT, LANDING, STAND));
    expect([takeoff(before), before.facts.doubleContact]).toEqual([3210, undefined]);
  });

  test("else the first before a flight that is too long, or that the record cuts", () => {
    expect(takeoff(dropped(jump(EMPTY, CONTACT, [1010, 0], LANDING, STAND)))).toBe(700);
    expect(takeoff(dropped(jump(EMPTY, CONTACT, [1010, 0], CONTACT, FLIGHT, LANDING, STAND)))).toBe(1910);
    expect(takeoff(dropped(jump(EMPTY, CONTACT, [1000, 0], CONTACT, FLIGHT, LANDING, STAND)))).toBe(700);
    expect(takeoff(dropped(jump(EMPTY, CONTACT, [1010, 0], CONTACT, [1010, 0], STAND)))).toBe(700);
    expect(takeoff(dropped(jump(EMPTY, CONTACT, [1010, 0], CONTACT, FLIGHT)))).toBe(700);
    const cut = dropped(jump(EMPTY, CONTACT, FLIGHT));
    expect([takeoff(cut), cut.facts.noLanding, at(cut, "landing"), value(cut, "flightTime"), value(cut, "contactTime") !== undefined]).toEqual([700, true, undefined, undefined, true]);
    expect(value(cut, "rsi")).toBeUndefined();
  });

  test("without an empty plate before has a flight and no contact", () => {
    const trial = dropped(jump([800, W], CONTACT, FLIGHT, LANDING, STAND));
    expect([takeoff(trial), at(trial, "touchdown"), value(trial, "contactTime"), trial.facts.emptyBefore, trial.facts.route]).toEqual([1000, undefined, undefined, undefined, undefined]);
    expect(value(trial, "jumpHeightFlightTime")).toBeGreaterThan(0.2);
    expect([value(trial, "peakForce"), value(trial, "takeoffVelocity"), value(trial, "flightToContactRatio")]).toEqual([undefined, undefined, undefined]);
    expect([value(trial, "peakLandingForce"), value(trial, "timeToStabilisation") !== undefined, trial.facts.finalShare]).toEqual([P, true, 1]);
  });

  test("without a flight is none", () => {
    for (const force of [forceOf([3000, W]), forceOf([800, 0], [2000, W])]) {
      const trial = dropped(force);
      expect([trial.facts.noFlight, trial.events.size, trial.work.metrics.size]).toEqual([true, 0, 0]);
    }
    // Ten samples that are less than a tenth of the load are nobody.
    const nobody = dropped(forceOf([10, 50], [300, 0], [1500, W]));
    expect([nobody.facts.noFlight, at(nobody, "takeoff"), value(nobody, "flightTime")]).toEqual([true, undefined, undefined]);
  });

  test("a force cut off is looked for, with a flight or without", () => {
    // Entered at a corner: the whole contact is flat.
    expect(dropped(jump()).facts.clipping).toEqual([{ force: P, part: "push" }]);
    expect(dropped(jump(EMPTY, CONTACT, FLIGHT, [50, P + 100], STAND)).facts.clipping).toEqual([{ force: P + 100, part: "landing" }]);
    expect(dropped(forceOf([1000, W], [50, 2000], [1000, W])).facts.clipping).toEqual([{ force: 2000, part: "push" }]);
  });
});

describe("its plates", () => {
  test("are zeroed in flight, else before the contact", () => {
    const trial = dropped(jump().map((f) => f + 6));
    expect([trial.facts.offset, value(trial, "bodyWeight")]).toEqual([6, W]);
    // A flight that the record cuts after 50 ms is too short for it: 30 of them remain.
    const cut = dropped(jump(EMPTY, CONTACT, [50, 0]).map((f) => f + 6));
    expect([cut.facts.offset, at(cut, "takeoff") !== undefined]).toEqual([6, true]);
    const nowhere = dropped(jump([800, W], CONTACT, [50, 0]).map((f) => f + 6));
    expect(nowhere.facts.offset).toBeUndefined();
  });

  test("differ before the contact and in flight", () => {
    const trial = dropped(jump([500, 5], CONTACT, FLIGHT, LANDING, STAND), by(["q4-drift", 20]));
    expect([trial.facts.emptyDifference, trial.facts.driftRemoved]).toEqual([5, undefined]);
    expect(dropped(jump([500, -5], CONTACT, FLIGHT, LANDING, STAND), by(["q4-drift", 20])).facts.emptyDifference).toBe(-5);
    expect("emptyDifference" in dropped(jump([60, 0], CONTACT, FLIGHT, LANDING, STAND)).facts).toBe(false);
    expect("emptyDifference" in dropped(jump(EMPTY, CONTACT, [60, 0], LANDING, STAND)).facts).toBe(false);
  });

  test("may drift", () => {
    const drifting = dropped(jump().map((f, i) => f + (4 * i) / 1000));
    expect([drifting.facts.drift, drifting.facts.driftRemoved, value(drifting, "bodyWeight")]).toEqual([expect.closeTo(4, 6), true, expect.closeTo(W, 6)]);
    expect(drifting.facts.emptyDifference).toBeCloseTo(0, 6);
  });
});

describe("its weight", () => {
  const RESTLESS: HandStretch[] = Array.from({ length: 18 }, (_, k) => [100, k % 2 === 0 ? 500 : 900]);
  const restless = jump(EMPTY, CONTACT, FLIGHT, LANDING, ...RESTLESS);

  test("comes from the stand after the landing", () => {
    const trial = dropped(jump());
    expect([at(trial, "weighingStart"), at(trial, "weighingEnd")]).toEqual([2.1, 3.1]);
    // As long as the settings want it before they ask for a look, and a second at least.
    expect(dropped(jump(), by(["q17-quiet-look", 1.2])).facts.finalStandSeconds).toBeCloseTo(1.2, 12);
    expect(dropped(jump(), by(["q17-quiet-look", 0.7])).facts.finalStandSeconds).toBe(1);
    // Only after the landing has settled for half a second.
    expect(dropped(jump(EMPTY, CONTACT, FLIGHT, LANDING, [900, W])).facts.finalStandSeconds).toBeCloseTo(0.5, 12);
  });

  test("or from a person", () => {
    const given = dropped(jump(), { adjust: "bodyWeight=710" });
    expect([value(given, "bodyWeight"), given.facts.bodyWeightGiven, given.facts.finalShare]).toEqual([710, true, expect.closeTo(700 / 710, 12)]);
    const without = dropped(restless, { adjust: "bodyWeight=700" });
    expect([value(without, "bodyWeight"), without.facts.finalStandSeconds, without.facts.route, without.facts.finalShare]).toEqual([700, undefined, "flight", undefined]);
    expect(dropped(restless, { adjust: "bodyWeight=2000" }).facts.finalStandSeconds).toBeUndefined();
  });

  test("or from a window that a person set", () => {
    const adjust = "weighingStart=2.2; weighingEnd=2.5";
    const trial = dropped(jump(), { adjust });
    expect([at(trial, "weighingStart"), at(trial, "weighingEnd"), trial.facts.weighingByHand, value(trial, "bodyWeight"), trial.facts.route]).toEqual([2.2, 2.5, true, W, "backward"]);
    // Rest after the contact is rest to integrate from; a window before it is not.
    const noRest = jump([500, 0], CONTACT, FLIGHT, LANDING, ...RESTLESS).map((f, i) => (i >= 2400 && i < 2600 ? W : f));
    expect(dropped(noRest, { adjust: "weighingStart=2.4; weighingEnd=2.6" }).facts.route).toBe("backward");
    const before = dropped(jump([1000, W], [500, 0], CONTACT, FLIGHT, LANDING, ...RESTLESS), { adjust: "weighingStart=0.2; weighingEnd=0.8" });
    expect([before.facts.route, value(before, "bodyWeight")]).toEqual(["flight", W]);
    // And not even where a stand was found.
    expect(dropped(jump([1000, W], [500, 0], CONTACT, FLIGHT, LANDING, STAND), { adjust: "weighingStart=0.2; weighingEnd=0.8" }).facts.route).toBe("flight");
    const both = dropped(jump(), { adjust: `${adjust}; bodyWeight=710` });
    expect([value(both, "bodyWeight"), both.facts.weighingByHand]).toEqual([710, true]);
  });

  test("or from nobody, and then what needs it says why", () => {
    const trial = dropped(restless);
    expect([value(trial, "bodyWeight"), value(trial, "touchdownVelocity"), value(trial, "rsi") !== undefined, value(trial, "peakLandingForce")]).toEqual([undefined, undefined, true, P]);
    for (const id of ["bodyWeight", "bodyMass", "weighingSd", "bodyWeightUncertainty", "timeToStabilisation"]) expect(trial.reasons.get(id)).toMatch(/nobody stands still/);
    expect("lowAfterLanding" in trial.facts).toBe(false);
  });
});

describe("its times", () => {
  test("give reactive strength by height or by flight, and by which height", () => {
    const [contact, flight] = [TAKEOFF - TOUCHDOWN, LANDED - TAKEOFF];
    const rsi = (...settings: readonly (readonly [string, string])[]): number | undefined => value(dropped(jump(), by(...settings)), "rsi");
    expect(rsi(["rsi-basis", "flight"])).toBeCloseTo(flight / contact, 12);
    expect(rsi(["rsi-basis", "flight"], ["rsi-height", "take-off velocity"])).toBeCloseTo(flight / contact, 12);
    const velocity = value(dropped(jump()), "takeoffVelocity")!;
    expect(rsi(["rsi-height", "take-off velocity"])).toBeCloseTo(velocity ** 2 / (2 * G) / contact, 12);
    expect(rsi()).toBeCloseTo((G * flight ** 2) / 8 / contact, 12);
    // By the height of a velocity that is not known there is none.
    expect(value(dropped(jump(EMPTY, CONTACT, FLIGHT, LANDING, [300, W]), by(["rsi-height", "take-off velocity"])), "rsi")).toBeUndefined();
  });

  test("of no length give no height and no strength", () => {
    const still = dropped(jump(), { adjust: "takeoff=1.2; landing=1.2" });
    expect([value(still, "flightTime"), still.facts.flight, value(still, "jumpHeightFlightTime"), value(still, "rsi")]).toEqual([0, 0, undefined, undefined]);
    const touched = dropped(jump(), { adjust: "touchdown=0.6; takeoff=0.6" });
    expect([value(touched, "contactTime"), value(touched, "jumpHeightFlightTime") !== undefined, value(touched, "flightToContactRatio"), value(touched, "rsi")]).toEqual([0, true, undefined, undefined]);
    expect(() => dropped(jump(), { adjust: "touchdown=0.8; takeoff=0.7" })).toThrow(/order/);
  });

  test("jump height is asked for by take-off velocity, flight time or above standing", () => {
    const asked = (method: string, force = jump()): Trial => dropped(force, by(["height-method", method]));
    expect(value(asked("flight time"), "jumpHeight")).toBe(value(asked("flight time"), "jumpHeightFlightTime"));
    expect([value(asked("above standing"), "jumpHeight"), asked("above standing").reasons.get("jumpHeight")]).toEqual([undefined, expect.stringMatching(/no height above standing/)]);
    const cut = dropped(jump(EMPTY, CONTACT, FLIGHT), { settings: [["height-method", "flight time"], ["drop-velocity", "box"]], adjust: "bodyWeight=700", protocol: "DJ drop=0.3" });
    expect([value(cut, "jumpHeight"), cut.reasons.get("jumpHeight"), value(cut, "jumpHeightTakeoffVelocity") !== undefined]).toEqual([undefined, "the landing is not in the record", true]);
    expect(value(cut, "heightDifference")).toBeUndefined();
    expect(dropped(jump()).reasons.has("jumpHeight")).toBe(false);
  });
});

describe("its contact", () => {
  /** A contact in straight lines: peaks and valleys by their times, ms, and forces, N. */
  const shaped = (...corners: readonly (readonly [number, number])[]): Float64Array => {
    const stretches = corners.map(([time, level], k): HandStretch => [time - (k === 0 ? 0 : corners[k - 1]![0]), k === 0 ? 0 : corners[k - 1]![1], level]);
    return jump(EMPTY, ...stretches, FLIGHT, LANDING, STAND);
  };

  test("has an impact and a second peak where the force falls and rises again", () => {
    const trial = dropped(shaped([20, 3000], [60, 1500], [120, 2500], [200, 0]));
    expect([value(trial, "impactPeakForce"), value(trial, "secondPeakForce"), value(trial, "peakForce"), at(trial, "peakForce")]).toEqual([3000, 2500, 3000, 0.52]);
    const later = dropped(shaped([20, 2000], [60, 1500], [120, 2500], [200, 0]));
    expect([value(later, "impactPeakForce"), value(later, "secondPeakForce"), value(later, "peakForce"), at(later, "peakForce")]).toEqual([2000, 2500, 2500, 0.62]);
    expect([later.reasons.has("impactPeakForce"), later.reasons.has("secondPeakForce")]).toEqual([false, false]);
    expect(later.work.metrics.get("impactPeakForce")!.needs).toBe(1);
    const inputs = (id: string): number[] => later.work.steps().find(({ gives }) => gives === id)!.inputs.map((input) => input.value);
    expect(inputs("impactPeakForce")).toEqual([at(later, "touchdown"), at(later, "touchdown")! + 0.05]);
    // From the valley on.
    expect(inputs("secondPeakForce")).toEqual([0.56, at(later, "takeoff")]);
  });

  test("has one peak where it only rises, or falls and does not rise by 3 % of the impact", () => {
    const single = dropped(shaped([100, 3000], [200, 0]));
    expect([value(single, "impactPeakForce"), single.reasons.get("impactPeakForce"), single.reasons.get("secondPeakForce")]).toEqual([undefined, expect.stringMatching(/no peak in the first 50 ms/), "the contact has one peak"]);
    const rise = (by: number): Trial => dropped(shaped([20, 3000], [60, 1500], [120, 1500 + by], [200, 0]));
    expect([value(rise(85), "secondPeakForce"), rise(85).reasons.get("secondPeakForce"), value(rise(85), "impactPeakForce")]).toEqual([undefined, "the contact has one peak", 3000]);
    expect(value(rise(95), "secondPeakForce")).toBe(1595);
    // The last of the first 50 ms is still on the way up; one sample earlier it is a peak.
    expect(value(dropped(shaped([51, 3000], [90, 1500], [120, 2500], [200, 0])), "impactPeakForce")).toBeUndefined();
    expect(value(dropped(shaped([48, 3000], [90, 1500], [120, 2500], [200, 0])), "impactPeakForce")).toBe(3000);
    // A plateau is no peak: the force 10 ms later is as large.
    expect(value(dropped(shaped([20, 3000], [80, 3000], [120, 2000], [200, 0])), "impactPeakForce")).toBeUndefined();
    expect(value(dropped(shaped([20, 3000], [29, 3000], [120, 2000], [200, 0])), "impactPeakForce")).toBe(3000);
  });

  test("that ends within 50 ms is looked at to its end", () => {
    const brief = dropped(shaped([20, 3000], [45, 0]));
    expect([value(brief, "impactPeakForce"), value(brief, "peakForce")]).toEqual([3000, 3000]);
  });

  test("may be left again within its first 50 ms", () => {
    const gaps = (...stretches: HandStretch[]): number | undefined => dropped(jump(EMPTY, ...stretches, [150, P], FLIGHT, LANDING, STAND)).facts.doubleContact;
    expect(gaps([20, P], [8, 0])).toBe(0.008);
    expect(gaps([20, P], [8, 19])).toBe(0.008);
    expect(gaps([20, P], [8, 20])).toBeUndefined();
    // The longest of several; one that begins within the 50 ms and goes on counts as a whole.
    expect(gaps([10, P], [4, 0], [6, P], [7, 0], [6, P], [5, 0])).toBe(0.007);
    expect(gaps([46, P], [9, 0])).toBe(0.009);
    expect([gaps([49, P], [9, 0]), gaps([50, P], [9, 0])]).toEqual([0.009, undefined]);
    // A sample at the threshold is on the plate again.
    expect(gaps([20, P], [8, 0], [1, 20], [1, 0])).toBe(0.008);
    expect(gaps([60, P], [9, 0])).toBeUndefined();
  });

  test("has two feet that may come down apart", () => {
    const late = (ms: number): Float64Array => forceOf([500 + ms, 0], [200 - ms, P / 2], FLIGHT, [100, P / 2], [1800, W / 2]);
    const split = (left: number, right: number): number | undefined => dropped({ left: late(left), right: late(right) }).facts.split;
    expect([split(0, 30), split(30, 0), split(0, 0), split(15, 17)]).toEqual([0.03, 0.03, 0, 0.002]);
    // A foot that has its plate's own zero; and one that never comes down.
    const raised = dropped({ left: late(0).map((f) => f + 30), right: late(20) });
    expect(raised.facts.split).toBe(0.02);
    expect(dropped({ left: late(0), right: late(20).map((f) => f + 30) }).facts.split).toBe(0.02);
    // Who stood there before does not count.
    const stood = (ms: number): Float64Array => forceOf([ms, 0], [300 - ms, W / 2], [400, 0], [200, P / 2], FLIGHT, [100, P / 2], [1800, W / 2]);
    expect(dropped({ left: stood(0), right: stood(100) }).facts.split).toBe(0);
    expect(dropped({ left: late(0).map((f) => 2 * f), right: forceOf([3100, 0]) }).facts.split).toBeUndefined();
    expect(dropped({ left: forceOf([3100, 0]), right: late(0).map((f) => 2 * f) }).facts.split).toBeUndefined();
    // Within 200 ms only.
    const wide = (ms: number): Float64Array => forceOf([500 + ms, 0], [400 - ms, P / 2], FLIGHT, [100, P / 2], [1800, W / 2]);
    expect([dropped({ left: wide(0), right: wide(199) }).facts.split, dropped({ left: wide(0), right: wide(201) }).facts.split]).toEqual([0.199, undefined]);
    expect("split" in dropped(jump()).facts).toBe(false);
  });
});

describe("the way to its velocity", () => {
  const BOX = forceOf([350, W], [2750, 0]);
  const route = (asked: string, plates: Parameters<typeof dropped>[0] = jump(), more: HandOptions = {}): (string | undefined)[] => {
    const { facts } = dropped(plates, { ...more, settings: [["drop-velocity", asked]] });
    return [facts.route, facts.routeAsked];
  };

  test("is what was asked for where it can be had, else the best that can", () => {
    expect([route("automatic"), route("backward"), route("flight"), route("box"), route("two plates")]).toEqual([["backward", undefined], ["backward", "backward"], ["flight", "flight"], ["backward", "box"], ["backward", "two plates"]]);
    expect(route("box", jump(), { protocol: "DJ drop=0.3" })).toEqual(["box", "box"]);
    // The box is never taken without being asked for.
    const moving = jump(EMPTY, CONTACT, FLIGHT, LANDING, [300, W]);
    expect(route("automatic", moving, { protocol: "DJ drop=0.3", adjust: "bodyWeight=700" })).toEqual(["flight", undefined]);
    expect(route("backward", moving, { adjust: "bodyWeight=700" })).toEqual(["flight", "backward"]);
    const cut = jump(EMPTY, CONTACT, FLIGHT);
    expect(route("automatic", cut, { protocol: "DJ drop=0.3", adjust: "bodyWeight=700" })).toEqual([undefined, undefined]);
    expect(route("flight", cut, { adjust: "bodyWeight=700" })).toEqual([undefined, "flight"]);
    expect(route("box", cut, { protocol: "DJ drop=0.3", adjust: "bodyWeight=700" })).toEqual(["box", "box"]);
    const long = forceOf([1200, W], [3100, 0]);
    const later = forceOf([1450, 0], CONTACT, FLIGHT, LANDING, STAND);
    expect(route("automatic", { total: later, box: long.slice(0, later.length) })).toEqual(["two plates", undefined]);
    expect(route("backward", { total: later, box: long.slice(0, later.length) })).toEqual(["backward", "backward"]);
    // Nobody stood still on the box.
    expect(route("two plates", { total: jump(), box: forceOf([80, W], [3020, 0]) })).toEqual(["backward", "two plates"]);
    expect(route("two plates", { total: jump(), box: BOX })).toEqual(["two plates", "two plates"]);
  });

  test("is told in its steps", () => {
    const plates = { total: forceOf([1540, 0], CONTACT, FLIGHT, LANDING, STAND), box: forceOf([1300, W], [80, W / 2], [2760, 0]) };
    const step = (asked: string, gives: string) => dropped(plates, { protocol: "DJ drop=0.3", settings: [["drop-velocity", asked]] }).work.steps().find((one) => one.gives === gives)!;
    const symbols = (asked: string, gives: string): string => step(asked, gives).inputs.map(({ symbol }) => symbol).join(" ");
    expect(["backward", "flight", "box", "two plates"].map((asked) => symbols(asked, "touchdownVelocity"))).toEqual(["g BW t_TD t_E", "v_TO g BW t_TD t_TO", "h_box g", "v_leave g t_TD t_leave"]);
    expect(["backward", "flight", "box", "two plates"].map((asked) => symbols(asked, "takeoffVelocity"))).toEqual(["v_TD g BW t_TD t_TO", "t_f g posture", "v_TD g BW t_TD t_TO", "v_TD g BW t_TD t_TO"]);
    // At rest in the middle of the final stand's samples.
    expect(step("backward", "touchdownVelocity").inputs.at(-1)!.value).toBeCloseTo((3.14 + 4.139) / 2, 12);
  });

  test("says what it cannot know", () => {
    const flight = dropped(jump(), by(["drop-velocity", "flight"]));
    expect([flight.reasons.get("heightDifference"), value(flight, "heightDifference"), value(flight, "measuredDropHeight") !== undefined, flight.facts.measuredDrop, flight.facts.heightDifference]).toEqual([expect.stringMatching(/both heights/), undefined, true, undefined, undefined]);
    expect(flight.reasons.has("endVelocity")).toBe(false);
    const box = dropped(jump(), { protocol: "DJ drop=0.3", settings: [["drop-velocity", "box"]] });
    expect([box.reasons.get("measuredDropHeight"), value(box, "measuredDropHeight"), value(box, "heightDifference") !== undefined, box.facts.heightDifference]).toEqual([expect.stringMatching(/height of the box/), undefined, true, undefined]);
    expect("endsBackward" in box.facts).toBe(false);
  });

  test("shows the velocity that is left at the end, but not where a force was cut off", () => {
    // The flat contact counts as cut off.
    expect(value(dropped(jump(), by(["drop-velocity", "flight"])), "endVelocity")).toBeUndefined();
    const soft = dropped(jump(EMPTY, [100, 0, 2 * P], [100, 2 * P, 0], FLIGHT, [50, 0, 2 * P], [50, 2 * P, 0], STAND), by(["drop-velocity", "flight"]));
    expect([soft.facts.clipping, value(soft, "endVelocity") !== undefined]).toEqual([undefined, true]);
    // Read as an error of body weight since touchdown, and as the height that this makes (method 8.2).
    const error = (value(soft, "endVelocity")! * W) / (G * (3.1 - 0.2505 - at(soft, "touchdown")!));
    const [v, contact] = [value(soft, "takeoffVelocity")!, value(soft, "contactTime")!];
    expect(soft.facts.endVelocityHeight).toBeCloseTo((error * (v / G) * (v + G * contact)) / W, 6);
    // A record that ends in the landing has no lowest point there.
    const cut = dropped(jump(EMPTY, [100, 0, 2 * P], [100, 2 * P, 0], FLIGHT, [40, 0, 2 * P]), { adjust: "bodyWeight=700" });
    expect([cut.facts.route, cut.facts.recordEnds !== undefined, at(cut, "landingLowest"), value(cut, "landingTime")]).toEqual(["flight", true, undefined, undefined]);
    const alone = dropped(jump(EMPTY, [100, 0, 2 * P], [100, 2 * P, 0], FLIGHT, [50, 0, 2 * P], [50, 2 * P, 0], [300, W]), { adjust: "bodyWeight=700" });
    expect([alone.facts.route, value(alone, "endVelocity")]).toEqual(["flight", undefined]);
  });

  test("gives nothing where it leads downward at take-off, or upward at touchdown", () => {
    // By the height of a tower the body is never turned round.
    const deep = dropped(jump(), { protocol: "DJ drop=1.5", settings: [["drop-velocity", "box"]] });
    expect([deep.facts.noTakeoffVelocity! < 0, value(deep, "jumpHeightTakeoffVelocity"), value(deep, "touchdownVelocity")]).toEqual([true, undefined, expect.closeTo(-Math.sqrt(2 * G * 1.5), 9)]);
    // By a long flight after a weak push it came up.
    const light = dropped(jump(EMPTY, [200, 800], FLIGHT, LANDING, STAND), by(["drop-velocity", "flight"]));
    expect([light.facts.noTakeoffVelocity! > 0, value(light, "touchdownVelocity")! > 0, value(light, "measuredDropHeight")]).toEqual([true, true, undefined]);
  });
});

describe("a plate under the box", () => {
  /** Stands on the box, is lowered by half its weight for 80 ms, leaves it at 1.38 s with 0.04 g, touches down 0.16 s later with 0.2 g. */
  const made = (more: { before?: HandStretch; lowered?: number } = {}) => {
    const { before = [1300, W], lowered = W / 2 } = more;
    const box = forceOf(before, [80, lowered], [3000, 0]);
    const total = forceOf([1540, 0], CONTACT, FLIGHT, LANDING, STAND);
    return { total, box: box.slice(0, total.length) };
  };

  test("gives the velocity at which it is left, and with the fall the one at touchdown", () => {
    const trial = dropped(made());
    expect(at(trial, "stepOff")).toBeCloseTo(1.38, 2);
    const leaving = trial.work.steps().find(({ gives }) => gives === "leavingVelocity")!;
    // A body lowered by half of its weight for 80 ms; a corner between samples leaves a millisecond of fall open.
    expect(Math.abs(leaving.value - -0.5 * G * 0.08)).toBeLessThan(0.011);
    expect(value(trial, "touchdownVelocity")).toBeCloseTo(leaving.value - G * (at(trial, "touchdown")! - at(trial, "stepOff")!), 12);
    // Integration begins 30 ms before the movement, or at the end of the weighing window.
    expect(leaving.inputs.map((input) => input.value)).toEqual([G, W, 1.27, at(trial, "stepOff")]);
    expect(trial.facts.route).toBe("two plates");
  });

  test("weighs, where nobody stands still after the landing", () => {
    const { total, box } = made();
    const trial = dropped({ total: total.slice(0, 2400), box: box.slice(0, 2400) });
    expect([value(trial, "bodyWeight"), trial.facts.route, trial.facts.finalStandSeconds]).toEqual([W, "two plates", undefined]);
    expect([at(trial, "weighingStart"), at(trial, "weighingEnd")]).toEqual([0.15, 1.15]);
    expect(dropped({ total: total.slice(0, 2400), box: box.slice(0, 2400) }, by(["weighing-length", 0.6])).events.get("weighingStart")!.time).toBe(0.55);
  });

  test("has a zero of its own", () => {
    const { total, box } = made();
    const raised = dropped({ total: total.slice(0, 2400), box: box.slice(0, 2400).map((f) => f + 30) });
    expect(value(raised, "bodyWeight")).toBe(W);
    expect(value(raised, "touchdownVelocity")).toBeCloseTo(value(dropped({ total: total.slice(0, 2400), box: box.slice(0, 2400) }), "touchdownVelocity")!, 9);
    const left = dropped({ total: total.slice(0, 2400), box: box.slice(0, 2400).map((f) => f + 15) }, by(["zero-correction", "none"]));
    expect(value(left, "bodyWeight")).toBe(W + 15);
  });

  test("is one that is empty only after somebody stood there, before the contact", () => {
    const { total } = made();
    const never = forceOf([total.length, 0]);
    expect(dropped({ total, box: never }).facts.route).toBe("backward");
    expect(dropped({ total, box: forceOf([total.length, W]) }).facts.route).toBe("backward");
    // Steps on it again after the jump: the last time it was left before the contact counts.
    const again = forceOf([400, W], [300, 0], [680, W], [1800, 0], [1000, W]).slice(0, total.length);
    expect(at(dropped({ total, box: again }), "stepOff")).toBeCloseTo(1.38, 3);
    expect(at(dropped({ total, box: forceOf([1600, W], [3000, 0]).slice(0, total.length) }), "stepOff")).toBeUndefined();
    // Without an empty plate before the contact there is no fall.
    const standing = { total: forceOf([800, W], CONTACT, FLIGHT, LANDING, STAND), box: forceOf([500, W], [2900, 0]) };
    expect([at(dropped(standing), "stepOff"), dropped(standing).facts.route]).toEqual([undefined, undefined]);
  });

  test("is not held back by a toe on it, nor by one who steps on it at once", () => {
    const { total } = made();
    // 60 N are less than a tenth of 700 N.
    const toe = forceOf([1300, W], [80, W / 2], [30, 0], [20, 60], [3000, 0]).slice(0, total.length);
    expect(at(dropped({ total, box: toe }), "stepOff")).toBeCloseTo(1.38, 3);
    // Empty for 60 ms: too short to read a zero from.
    const next = forceOf([1300, W], [80, W / 2], [60, 0], [3000, W]).slice(0, total.length);
    expect([at(dropped({ total, box: next }), "stepOff"), dropped({ total, box: next }).facts.route]).toEqual([expect.closeTo(1.38, 3), "two plates"]);
  });

  test("may sway as a stand may, by 1 % of the weight or 5 N", () => {
    const swayed = (weight: number, by: number, options: HandOptions = {}): number => {
      const total = forceOf([2840, 0], CONTACT, FLIGHT, LANDING, [300, W]);
      const box = forceOf([2600, weight], [80, weight / 2], [3000, 0]).slice(0, total.length);
      return at(dropped({ total, box: box.map((f, i) => (i >= 1300 && i < 2600 ? f + (Math.floor(i / 100) % 2 === 0 ? by : -by) : f)) }, options), "weighingEnd")!;
    };
    // By turns of 100 ms; means of 50 ms have an SD between 0.7 and 1.03 times as much.
    expect([swayed(W, 6.7), swayed(W, 15)]).toEqual([expect.closeTo(2.45, 1), expect.closeTo(1.8, 0)]);
    expect(swayed(W, 15)).toBeLessThan(2.2);
    expect(swayed(W, 15, by(["q1-sd-look", 2.5]))).toBeGreaterThan(2.4);
    expect(swayed(200, 4.8)).toBeGreaterThan(2.4);
    expect(swayed(200, 4.8, by(["q1-sd-look-force", 1]))).toBeLessThan(2.2);
  });

  test("is left when a person says so, and weighed where a person says", () => {
    const { total, box } = made();
    expect(at(dropped({ total, box }, { adjust: "stepOff=1.39" }), "stepOff")).toBe(1.39);
    const window = dropped({ total: total.slice(0, 2400), box: box.slice(0, 2400).map((f, i) => (i < 600 ? f + 2 : f)) }, { adjust: "boxWeighingStart=0.2; boxWeighingEnd=0.5" });
    expect([value(window, "bodyWeight"), at(window, "weighingStart")]).toEqual([W + 2, 0.2]);
    const leaving = window.work.steps().find(({ gives }) => gives === "leavingVelocity")!;
    expect(leaving.inputs[2]!.value).toBe(0.2);
  });
});
