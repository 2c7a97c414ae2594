import { describe, expect, test } from "vitest";
import { weigh, type Weighing } from "../../../src/events/quietStanding.ts";
import { lowPass } from "../../../src/motion/lowPass.ts";
import { Trial } from "../../../src/protocols/Trial.ts";
import { TIMES, WEIGHT } from "../../../src/protocols/workings.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { ownMemory } from "../../../src/trace/memory.ts";
import type { PlateRole } from "../../../src/trace/Trace.ts";
import { BODY_WEIGHT, GAIN, GRAVITY, NOISE, ROUNDING, ZERO } from "../../../src/uncertainty/sources.ts";
import { type Asked, traceOf } from "../../support/secondOpinion.ts";
import { trialOf } from "../../support/trialOf.ts";

const RATE = 100;
const G = 9.80665;

/** A second of forces that tell which plate and which sample they are of. */
function column(of: number): number[] {
  return Array.from({ length: 101 }, (_, i) => of + i);
}

function trial(roles: readonly PlateRole[], asked: Asked, more: { step?: number; rounding?: number } = {}): Trial {
  const forces = Object.fromEntries(roles.map((role, k) => [role, column(1000 * (k + 1))]));
  return trialOf(traceOf(forces, RATE, more), asked);
}

describe("which plates carry the person", () => {
  test.each([
    [["left", "right"], "CMJ", ["left", "right"], undefined, 3000],
    [["right", "left"], "CMJ limb=both", ["left", "right"], undefined, 3000],
    [["left", "right"], "CMJ limb=left", ["left"], "right", 1000],
    [["left", "right"], "CMJ limb=right", ["right"], "left", 2000],
    [["total"], "CMJ", ["total"], undefined, 1000],
    [["total"], "CMJ limb=left", ["total"], undefined, 1000],
    [["left", "box"], "DJ", ["left"], undefined, 1000],
    [["box", "right"], "DJ", ["right"], undefined, 2000],
    [["left", "right", "box"], "DJ", ["left", "right"], undefined, 3000],
    [["total", "left"], "CMJ", ["total"], undefined, 1000],
  ] as const)("%j as %s", (roles: readonly PlateRole[], protocol, carrying, free, first) => {
    const one = trial(roles, { protocol });
    expect(one.plates.map(({ role }) => role)).toEqual(carrying);
    expect(one.unfilteredPlates).toEqual(one.plates);
    expect(one.freePlate?.role).toBe(free);
    expect(one.boxPlate?.role).toBe(roles.includes("box") ? "box" : undefined);
    expect(one.force[0]).toBe(first);
    expect(one.samples).toBe(101);
    expect(one.duration).toBeCloseTo(1.01, 12);
    const two = carrying.length === 2;
    expect(one.facts.twoPlates).toBe(two);
    expect([one.left?.force[0], one.right?.force[0]]).toEqual(two ? [1000 * (roles.indexOf("left") + 1), 1000 * (roles.indexOf("right") + 1)] : [undefined, undefined]);
    if (two) expect(one.left).toMatchObject({ offset: 0, slope: 0, middle: 0 });
  });

  test("none is refused", () => {
    expect(() => trial(["box"], { protocol: "DJ" })).toThrow("a trace requires at least one plate that carries the person");
  });
});

describe("what is known before anything is looked at", () => {
  test.each([
    ["CMJ", "stand"], ["CMJ limb=both", "stand"], ["CMJ limb=left", "unsteady"], ["CMJ limb=right", "unsteady"], ["SJ", "unsteady"], ["IMTP", "unsteady"], ["DJ", "stand"], ["RH", "stand"],
  ])("%s is %s", (protocol, stance) => {
    const { facts } = trial(["left", "right"], { protocol });
    expect(facts).toStrictEqual({ test: protocol.split(" ")[0], rate: RATE, stance, twoPlates: facts.twoPlates });
  });

  test("the mass that was entered, and the events that were moved", () => {
    const { facts, events } = trial(["total"], { protocol: "CMJ", adjust: "mass=80; onset=0; landing=1.01" });
    expect(facts.enteredMass).toBe(80);
    expect(facts.moved).toEqual([{ event: "onset", time: 0 }, { event: "landing", time: 1.01 }]);
    expect(events.size).toBe(0);
  });

  test.each([-0.01, 1.02, NaN])("an event at %s s is not within the record", (time) => {
    const made = (): Trial => new Trial(traceOf({ total: column(0) }, RATE), { test: "CMJ" }, DEFAULT_SETTINGS, { events: new Map([["onset", time]]) }, ownMemory, false);
    expect(made).toThrow("a moved event requires a time within the record; onset is not");
  });

  test("gravity, gain and rounding with their uncertainties", () => {
    const one = trial(["total"], { protocol: "CMJ", choices: [["gravity", 9.8], ["gravity-u", 0.5], ["plate-gain-u", 0.4]] }, { step: 3, rounding: 4 });
    expect([one.uGravity, one.uGain]).toEqual([0.005, 0.004]);
    expect([one.gravity.value, one.gravity.needs, one.work.part(one.gravity, GRAVITY)]).toEqual([9.8, 0, expect.closeTo(0.049, 12)]);
    // Both steps are rectangular (JCGM 100, 4.3.7): step / sqrt(12); two plates are rounded each on its own.
    expect(one.uRounding).toBeCloseTo(5 / Math.sqrt(12), 12);
    expect(trial(["left", "right"], { protocol: "CMJ" }, { step: 3, rounding: 4 }).uRounding).toBeCloseTo((5 / Math.sqrt(12)) * Math.SQRT2, 12);
  });
});

describe("a filter", () => {
  const asked = (cutOff: number, filter = "low-pass"): Asked => ({ protocol: "CMJ", choices: [["filter", filter], ["filter-cut-off", cutOff]] });

  test("goes over each plate, and what was before it is kept beside", () => {
    const one = trial(["left", "right"], asked(10));
    const expected = lowPass(Float64Array.from(column(1000)), RATE, 10);
    expect([...one.left!.force]).toEqual([...expected]);
    expect([...one.left!.unfiltered]).toEqual(column(1000));
    expect([...one.right!.unfiltered]).toEqual(column(2000));
    expect(one.before(one.plates[1]!).force[3]).toBe(2003);
    expect(one.unfilteredPlates.map(({ force }) => force[0])).toEqual([1000, 2000]);
    expect(one.unfiltered).not.toBe(one.profile);
    expect(one.unfiltered.force[50]).toBe(3100);
    expect(one.force[0]).toBeCloseTo(expected[0]! + lowPass(Float64Array.from(column(2000)), RATE, 10)[0]!, 9);
    expect(one.facts.filteredAt).toBe(10);
  });

  test.each([["at half the rate or above", asked(50)], ["that is not asked for", asked(10, "none")]] as const)("%s is none", (_, choice) => {
    const one = trial(["left", "right"], choice);
    expect(one.unfiltered).toBe(one.profile);
    expect(one.left!.force[7]).toBe(1007);
    expect("filteredAt" in one.facts).toBe(false);
  });
});

describe("events and phases", () => {
  test("an event by hand stands over the one that was found", () => {
    const one = trial(["total"], { protocol: "CMJ", adjust: "onset=0.4" });
    expect([one.event("onset", 0.3), one.event("takeoff", 0.8)]).toEqual([0.4, 0.8]);
    expect([...one.events.values()]).toEqual([{ name: "onset", time: 0.4, byHand: true }, { name: "takeoff", time: 0.8, byHand: false }]);
  });

  test("events that a person turned around are refused; those that were found are not", () => {
    const order = (adjust: string, times: readonly (readonly ["onset" | "takeoff" | "landing", number])[]): (() => void) => {
      const one = trial(["total"], { protocol: "CMJ", adjust });
      for (const [name, time] of times) one.event(name, time);
      return () => one.requireOrder("onset", "takeoff", "landing");
    };
    const found = [["onset", 0.4], ["takeoff", 0.5], ["landing", 0.8]] as const;
    expect(order("", found)).not.toThrow();
    expect(order("onset=0.5", found)).not.toThrow();
    expect(order("onset=0.51", found)).toThrow("moved events require their order; onset is not before takeoff");
    expect(order("landing=0.45", found)).toThrow("takeoff is not before landing");
    expect(order("landing=0.3", [["onset", 0.4], ["landing", 0.8]])).toThrow("onset is not before landing");
    expect(order("", [["onset", 0.6], ["takeoff", 0.5]])).not.toThrow();
    expect(order("landing=0.9", [["onset", 0.6], ["takeoff", 0.5], ["landing", 0.9]])).not.toThrow();
  });

  test("phases stand in the order of their starts, later ones after equal ones, and empty ones nowhere", () => {
    const one = trial(["total"], { protocol: "CMJ" });
    for (const [name, start, end] of [["flight", 0.6, 0.9], ["weighing", 0, 0.2], ["braking", 0.3, 0.4], ["hold", 0.3, 0.35], ["landing", 0.5, 0.5], ["fall", 0.5, 0.4], ["pull", 0.1, 0.2]] as const) one.phase(name, start, end);
    expect(one.phases.map(({ name }) => name)).toEqual(["weighing", "pull", "braking", "hold", "flight"]);
    expect(one.phases[1]).toEqual({ name: "pull", start: 0.1, end: 0.2 });
  });
});

/** A window over a stand of known mean, halves and noise. */
function standing(mean: number): Weighing {
  return { start: 10, end: 74, mean, sd: 3, sway: 1.5, halfDifference: 4, noise: 8, impulseSd: 0.6 };
}

describe("a weight", () => {
  test("from a window has its doubt: half the difference of the halves and the noise over 64 samples; the zero and the gain of the plates", () => {
    const one = trial(["total"], { protocol: "CMJ load=10", choices: [["plate-gain-u", 0.4]] }, { step: Math.sqrt(12) * 0.5 });
    one.uZero = 0.7;
    one.setWeight(standing(800), undefined);
    const weight = one.weight!;
    const u = Math.sqrt(2 ** 2 + 8 ** 2 / 64);
    expect([weight.value, weight.needs, one.noise, one.weighing!.mean]).toEqual([800, WEIGHT, 8, 800]);
    expect([BODY_WEIGHT, ZERO, GAIN, ROUNDING, NOISE].map((source) => one.work.part(weight, source))).toEqual([expect.closeTo(u, 12), -0.7, expect.closeTo(3.2, 12), expect.closeTo(0.5, 12), 0]);
    expect(one.uWeight).toBeCloseTo(u, 12);
    expect(one.uStart).toBeCloseTo((G * 0.6) / 800, 12);
    const value = (id: string): number | undefined => one.work.metrics.get(id)?.value;
    expect([value("bodyWeight"), value("weighingSd"), value("bodyMass")]).toEqual([800, 3, expect.closeTo(800 / G - 10, 12)]);
    expect(value("bodyWeightUncertainty")).toBeCloseTo(Math.sqrt(u * u + 0.7 ** 2 + 0.5 ** 2), 12);
    expect(one.mass!.value).toBeCloseTo(800 / G, 12);
    expect(one.work.steps().find(({ gives }) => gives === "bodyWeight")!.inputs.map((input) => input.value)).toEqual([0.1, 0.74]);
    expect(one.events.get("weighingStart")!.time).toBe(0.1);
    expect(one.events.get("weighingEnd")!.time).toBe(0.74);
    expect(one.phases).toEqual([{ name: "weighing", start: 0.1, end: 0.74 }]);
    expect(one.facts).toMatchObject({ weighingSeconds: 0.64, weighingSway: 1.5, weighingHalf: 4, bodyWeight: 800, bodyMass: one.work.metrics.get("bodyMass")!.value });
    expect("bodyWeightGiven" in one.facts).toBe(false);
  });

  test("by hand stands over the window, as well known as a scale", () => {
    const one = trial(["total"], { protocol: "CMJ" });
    one.setWeight(standing(800), 790);
    expect([one.weight!.value, one.work.part(one.weight!, BODY_WEIGHT), one.work.part(one.weight!, GAIN)]).toEqual([790, expect.closeTo(790 * 0.0025, 12), 0]);
    expect(one.facts).toMatchObject({ bodyWeightGiven: true, bodyWeight: 790, weighingSway: 1.5 });
    expect([...one.work.metrics.keys()]).toEqual(["bodyWeight", "bodyMass"]);
    expect(one.uStart).toBeCloseTo((G * 0.6) / 790, 12);
    // A gain that is known better than a thousandth does not make the scale better.
    const fine = trial(["total"], { protocol: "CMJ", choices: [["plate-gain-u", 0.05]] });
    fine.setWeight(undefined, 700);
    expect(fine.uWeight).toBeCloseTo(0.7, 12);
    expect([fine.noise, fine.uStart, fine.weighing, fine.events.size, fine.phases.length]).toEqual([0, 0, undefined, 0, 0]);
    expect("weighingSway" in fine.facts).toBe(false);
  });

  test("of nobody is none: the window is kept, nothing is weighed", () => {
    for (const [mean, weighs] of [[20, false], [20.1, true]] as const) {
      const one = trial(["left", "right"], { protocol: "CMJ" });
      one.setWeight(standing(mean), undefined);
      expect([one.weight !== undefined, one.mass !== undefined, one.work.metrics.size > 0, one.facts.bodyWeight !== undefined]).toEqual([weighs, weighs, weighs, weighs]);
      expect(one.events.size).toBe(2);
    }
    const none = trial(["total"], { protocol: "CMJ" });
    none.setWeight(undefined, undefined);
    expect([none.weight, none.facts.bodyWeight]).toEqual([undefined, undefined]);
  });

  test("tells the share of the left plate, its zero taken off", () => {
    const one = trial(["left", "right"], { protocol: "CMJ" });
    one.left!.offset = 100;
    one.right!.offset = -50;
    const window = weigh(one.force, 10, 74, RATE);
    one.setWeight(window, undefined);
    // Means over samples 10 to 73: 41.5 above the first.
    expect(one.facts.leftShare).toBeCloseTo((1041.5 - 100) / (1041.5 - 100 + 2041.5 + 50), 12);
    // Sides that together are not even half of the weight tell nothing.
    const [light, heavy] = [trial(["left", "right"], { protocol: "CMJ" }), trial(["left", "right"], { protocol: "CMJ" })];
    light.setWeight({ ...window, mean: 2 * (1041.5 + 2041.5) }, undefined);
    heavy.setWeight({ ...window, mean: 2 * (1041.5 + 2041.5) - 1 }, undefined);
    expect([light.facts.leftShare, heavy.facts.leftShare]).toEqual([undefined, expect.closeTo(1041.5 / 3083, 9)]);
    const byHand = trial(["left", "right"], { protocol: "CMJ" });
    byHand.setWeight(undefined, 3083);
    expect(byHand.facts.leftShare).toBeUndefined();
    const single = trial(["total"], { protocol: "CMJ" });
    single.setWeight(window, undefined);
    expect(single.facts.leftShare).toBeUndefined();
  });

  test("is needed for the doubt of the start", () => {
    const one = trial(["total"], { protocol: "CMJ" });
    one.setStartDoubt(standing(800));
    expect(one.uStart).toBe(0);
  });
});

describe("a correction", () => {
  const expected = (k: number, i: number): number => k + i - 5 - 2 * (i / RATE - 0.3);

  test("of one plate leaves the recording as it is", () => {
    const trace = traceOf({ total: column(1000) }, RATE);
    const one = trialOf(trace, { protocol: "CMJ" });
    one.correct(5, 2, 0.3);
    for (const i of [0, 50, 100]) expect(one.force[i]).toBeCloseTo(expected(1000, i), 9);
    expect([...trace.plates[0]!.force]).toEqual(column(1000));
    expect(one.profile.force).toBe(one.force);
    expect(one.unfiltered).toBe(one.profile);
    // The blocks of 10 ms, one sample at this rate, follow.
    expect(one.profile.sums[50]).toBeCloseTo(expected(1000, 50), 9);
  });

  test("of two plates is that of their sum, in the array that it has", () => {
    const one = trial(["left", "right"], { protocol: "CMJ" });
    const { force } = one;
    one.correct(5, 0, 0);
    expect(one.force).toBe(force);
    expect(one.force[10]).toBe(3020 - 5);
    expect(one.left!.force[10]).toBe(1010);
  });

  test("is one of the force before a filter, too", () => {
    const one = trial(["total"], { protocol: "CMJ", choices: [["filter", "low-pass"], ["filter-cut-off", 10]] });
    const filtered = one.force[40]!;
    one.correct(5, 0, 0);
    expect(one.force[40]).toBeCloseTo(filtered - 5, 9);
    expect(one.unfiltered.force[40]).toBe(1040 - 5);
    expect(one.before(one.plates[0]!).force[40]).toBe(1040);
    expect(one.unfiltered).not.toBe(one.profile);
  });
});

test("a force has the zero, the noise, the gain and the rounding of one sample, and of a mean of several less noise and rounding", () => {
  const one = trial(["total"], { protocol: "CMJ", choices: [["plate-gain-u", 0.4]] }, { step: Math.sqrt(12) });
  Object.assign(one, { uZero: 0.3, noise: 2 });
  for (const [count, share] of [[1, 1], [4, 0.5]] as const) {
    const force = one.forceQuantity(500, TIMES, count);
    expect([force.value, force.needs]).toEqual([500, TIMES]);
    expect([ZERO, NOISE, GAIN, ROUNDING, BODY_WEIGHT].map((source) => one.work.part(force, source))).toEqual([-0.3, 2 * share, 2, expect.closeTo(share, 12), 0]);
  }
  expect(one.work.part(one.forceQuantity(500, 0), NOISE)).toBe(2);
});
