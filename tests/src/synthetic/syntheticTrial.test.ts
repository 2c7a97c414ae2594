import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import type { SyntheticOptions } from "../../../src/synthetic/SyntheticOptions.ts";
import { resolveMetricName } from "../../../src/catalogue/resolveMetricName.ts";
import { TESTS } from "../../../src/protocols/Protocol.ts";
import type { Trace } from "../../../src/trace/Trace.ts";

const totalOf = (trace: Trace) => trace.plates[0].force.map((value, i) => value + (trace.plates[1]?.force[i] ?? 0));

describe("syntheticTrial", () => {
  // By hand, the defaults of a countermovement jump: v 2.60 m/s gives 0.344664 m, flight 2 * 2.6 / 9.80665 s, depth
  // -(1.3 * 0.48 / 2 + 13 * 0.18^2 / 12) = -0.3471 m, time 0.3 + 0.18 + 0.235 + 0.03 = 0.745 s.
  test("has the default countermovement jump that can be worked by hand", () => {
    const { truth } = syntheticTrial({ test: "CMJ" });
    expect(truth.jumpHeightTakeoffVelocity).toBeCloseTo(0.34466408, 8);
    expect(truth.flightTime).toBeCloseTo(0.53025243, 8);
    expect(truth.countermovementDepth).toBeCloseTo(-0.3471, 12);
    expect(truth.timeToTakeoff).toBeCloseTo(0.745, 12);
    expect(truth.timeToStabilisation).toBeCloseTo(1.01192545, 8);
  });

  test("gives the same samples for the same options and others for another seed", () => {
    const options: SyntheticOptions = { test: "CMJ", seed: 7, faults: { noise: 1, sway: 3 } };
    expect(syntheticTrial(options).trace).toEqual(syntheticTrial(options).trace);
    expect(syntheticTrial(options).trace.plates[0].force[100]).not.toBe(syntheticTrial({ ...options, seed: 8 }).trace.plates[0].force[100]);
  });

  test("reaches the height, time to take-off and depth that were asked for, on moving plates too", () => {
    const target = fc.record({ height: fc.double({ min: 0.15, max: 0.6, noNaN: true }), timeToTakeoff: fc.double({ min: 0.65, max: 1, noNaN: true }), depth: fc.double({ min: 0.25, max: 0.42, noNaN: true }), seed: fc.nat() });
    let made = 0;
    fc.assert(
      fc.property(target, ({ height, timeToTakeoff, depth, seed }) => {
        let trial;
        try {
          trial = syntheticTrial({ test: "CMJ", height, timeToTakeoff, depth, seed, faults: { sway: 4 } });
        } catch (error) {
          expect(error).toMatchObject({ name: "InputError", code: "out-of-range" });
          return;
        }
        made++;
        expect(trial.truth.jumpHeightTakeoffVelocity).toBeCloseTo(height, 10);
        expect(trial.truth.timeToTakeoff).toBeCloseTo(timeToTakeoff, 10);
        expect(trial.truth.countermovementDepth).toBeCloseTo(-depth, 10);
      }),
      { numRuns: 60, seed: 1 },
    );
    expect(made).toBeGreaterThan(40);
  });

  test.each<SyntheticOptions>([
    { test: "SJ", height: 0.3, timeToTakeoff: 0.4 },
    { test: "SJ", height: 0.25, dip: 0.05 },
    { test: "DJ", height: 0.32, drop: 0.4, contactTime: 0.19 },
    { test: "DJ", height: 0.2, drop: 0.3, contactTime: 0.3, boxLeaveVelocity: 0.3 },
    { test: "CMJ", limb: "right", height: 0.16 },
    { test: "CMJ", arms: "swing", height: 0.45 },
    { test: "CMJ", load: 40, height: 0.2 },
  ])("reaches the targets of %j", (options) => {
    const { truth } = syntheticTrial(options);
    expect(truth.jumpHeightTakeoffVelocity).toBeCloseTo(options.height!, 10);
    if (options.timeToTakeoff !== undefined) expect(truth.timeToTakeoff).toBeCloseTo(options.timeToTakeoff, 10);
    if (options.contactTime !== undefined) expect(truth.contactTime).toBeCloseTo(options.contactTime, 10);
    if (options.drop !== undefined) expect(truth.measuredDropHeight).toBeCloseTo(options.drop, 10);
    if (options.dip !== undefined) expect(truth.dipFraction).toBeCloseTo(options.dip, 10);
    if (options.load !== undefined) expect([truth.bodyMass, truth.bodyWeight]).toEqual([75, 115 * 9.80665]);
  });

  // Newton's second law: the impulse of the samples over the push is m v; the trapezoid is good to 1e-4 m/s at 1000 Hz.
  test.each<SyntheticOptions>([{ test: "CMJ" }, { test: "SJ" }, { test: "CMJ", arms: "swing", seed: 3, faults: { sway: 4 } }, { test: "CMJ", load: 30 }])(
    "has samples whose impulse is the momentum at take-off: %j",
    (options) => {
      const { trace, truth, events } = syntheticTrial(options);
      const total = totalOf(trace);
      const mass = truth.bodyWeight / 9.80665;
      let velocity = 0;
      let previous = 0;
      for (let i = 1; i / trace.rate < events.takeoff!; i++) {
        previous = velocity;
        velocity += (((total[i] + total[i - 1]) / 2 - truth.bodyWeight) / mass) / trace.rate;
      }
      expect(previous).not.toBe(velocity);
      // Within what sway's starting velocity (at time zero) and the last part of a sample leave.
      expect(Math.abs(velocity - truth.takeoffVelocity)).toBeLessThan(options.faults === undefined ? 0.011 : 0.03);
    },
  );

  test("obeys work and energy, impulse and momentum, between every pair of events", () => {
    for (const options of [{ test: "CMJ" }, { test: "CMJ", arms: "swing" }, { test: "DJ", drop: 0.4 }] as const) {
      const { truth } = syntheticTrial(options);
      const mass = truth.bodyWeight / 9.80665;
      expect(truth.propulsionImpulse).toBeCloseTo(mass * truth.takeoffVelocity, 9);
      expect(truth.meanForcePropulsion * truth.propulsionTime).toBeCloseTo(truth.propulsionImpulse + truth.bodyWeight * truth.propulsionTime, 9);
      expect(truth.meanPowerPropulsion * truth.propulsionTime).toBeCloseTo(mass * (truth.takeoffVelocity ** 2 / 2 + 9.80665 * truth.propulsionDisplacement), 9);
      if (options.test === "CMJ") expect(truth.brakingImpulse).toBeCloseTo(-truth.unweightingImpulse, 9);
    }
  });

  test("lands lower than it took off, when asked, and flies longer for it", () => {
    // By hand: (2.6 + sqrt(2.6^2 + 2 g 0.06)) / g = 0.5524040 s; height by flight 0.374063 m.
    const { truth } = syntheticTrial({ test: "CMJ", landingLower: 0.06 });
    expect(truth.flightTime).toBeCloseTo(0.55240396, 8);
    expect(truth.jumpHeightFlightTime).toBeCloseTo(0.37406258, 8);
  });

  test("splits the force between the plates as asked, exactly", () => {
    const { trace, truth } = syntheticTrial({ test: "CMJ", leftShare: { braking: 0.6, propulsion: 0.4 } });
    const one = syntheticTrial({ test: "CMJ", plates: "total" });
    expect(one.trace.plates.map((plate) => plate.role)).toEqual(["total"]);
    const total = totalOf(trace);
    expect(total.every((value, i) => Math.abs(value - one.trace.plates[0].force[i]) < 1e-9)).toBe(true);
    expect(truth.meanForceBrakingLeft / truth.meanForceBraking).toBeCloseTo(0.6, 12);
    expect(truth.peakForcePropulsionRight / truth.peakForcePropulsion).toBeCloseTo(0.6, 12);
  });

  test("puts all force on the plate of the one leg, and the box under the step-off", () => {
    const single = syntheticTrial({ test: "CMJ", limb: "right" }).trace;
    expect(single.plates[0].force.every((value) => value === 0)).toBe(true);
    const boxed = syntheticTrial({ test: "DJ", boxLeaveVelocity: 0.45 }).trace;
    expect(boxed.plates.map((plate) => plate.role)).toEqual(["left", "right", "box"]);
    expect(boxed.plates[2].force[100]).toBeCloseTo(75 * 9.80665, 9);
    expect(boxed.plates[0].force[100]).toBe(0);
  });

  test("counts hops and their best five", () => {
    // By hand for the first hop: 0.222 s of contact, flight 2 * 2.3 / g.
    const { hops, truth } = syntheticTrial({ test: "RH", mass: 72 });
    expect(hops).toHaveLength(10);
    expect(hops[0].contactTime).toBeCloseTo(0.222, 12);
    expect(hops[0].flightTime).toBeCloseTo(4.6 / 9.80665, 12);
    expect(truth.bestFiveRsi).toBeCloseTo(1.78884066, 8);
    // Bosco et al. (1983) on these times: 43.3000665 W/kg.
    expect(truth.hopPowerFromTimes).toBeCloseTo(43.3000665, 6);
  });

  test.each<SyntheticOptions>([
    { test: "CMJ", mass: 0 },
    { test: "CMJ", rate: 0 },
    { test: "CMJ", leftShare: 1.2 },
    { test: "CMJ", landingLower: -0.4 },
    { test: "CMJ", load: -1 },
    { test: "CMJ", height: 0 },
    { test: "CMJ", timeToTakeoff: 0.1 },
    { test: "CMJ", depth: 0.05 },
    { test: "DJ", drop: -1 },
    { test: "DJ", drop: 0.1, boxLeaveVelocity: 2 },
    { test: "DJ", contactTime: 0.03 },
    { test: "SJ", timeToTakeoff: 0.05 },
    { test: "CMJ", faults: { cutStart: 100 } },
  ])("refuses %j, which nobody can do or record", (options) => {
    expect(() => syntheticTrial(options)).toThrow(expect.objectContaining({ name: "InputError", code: "out-of-range" }));
  });

  test("answers any options with finite samples and truths, or a sentence", () => {
    const any = (min: number, max: number) => fc.oneof({ weight: 40, arbitrary: fc.double({ min, max, noNaN: true }) }, { weight: 1, arbitrary: fc.constantFrom(0, -1, NaN, Infinity, 1e-9) });
    const options = fc.record<SyntheticOptions>(
      {
        test: fc.constantFrom(...TESTS),
        seed: fc.integer(),
        mass: any(20, 150),
        load: any(0, 100),
        rate: fc.oneof(fc.constantFrom(50, 100, 999.5, 1200), any(20, 2000)),
        arms: fc.constantFrom("hips", "swing"),
        limb: fc.constantFrom("both", "left", "right"),
        height: any(0.01, 0.8),
        timeToTakeoff: any(0.2, 2),
        depth: any(0.05, 0.6),
        dip: any(0, 0.3),
        drop: any(0.01, 1),
        contactTime: any(0.05, 1),
        boxLeaveVelocity: any(0, 2),
        landingLower: any(-0.1, 0.2),
        quietBefore: any(0.1, 3),
        leftShare: any(0, 1),
      },
      { requiredKeys: ["test"] },
    );
    let made = 0;
    fc.assert(
      fc.property(options, (given) => {
        try {
          const { trace, truth, events } = syntheticTrial(given);
          made++;
          for (const { force } of trace.plates) expect(force.every(Number.isFinite)).toBe(true);
          for (const [id, value] of [...Object.entries(truth), ...Object.entries(events)]) expect(Number.isFinite(value), `${id} of ${JSON.stringify(given)}`).toBe(true);
        } catch (error) {
          expect(error, JSON.stringify(given)).toMatchObject({ name: "InputError" });
        }
      }),
      { numRuns: 400, seed: 1 },
    );
    expect(made).toBeGreaterThan(50);
  });

  test.each<SyntheticOptions>([{ test: "CMJ", quietAfter: 1e6 }, { test: "IMTP", rate: 1e9 }, { test: "CMJ", rate: 1e7 }])("refuses %j, which is too much to hold", (options) => {
    expect(() => syntheticTrial(options)).toThrow(expect.objectContaining({ name: "InputError", code: "too-large" }));
  });

  test("refuses hops whose numbers do not match", () => {
    expect(() => syntheticTrial({ test: "RH", hops: { takeoffVelocities: [2, 2], contactTimes: [0.2, 0.2] } })).toThrow(expect.objectContaining({ code: "wrong-shape" }));
  });
});

describe("faults of a synthetic trial", () => {
  const clean = syntheticTrial({ test: "CMJ" });
  const faulty = (faults: SyntheticOptions["faults"]) => syntheticTrial({ test: "CMJ", faults });

  test("leave the truths of the body as they are", () => {
    expect(faulty({ noise: 5, offset: [9, 5], drift: [1, 1], clip: 900, quantum: 1 }).truth).toEqual(clean.truth);
  });

  test("add offset and drift to each plate, also in flight", () => {
    const { trace } = faulty({ offset: [9, 5], drift: [0.9, 0.6] });
    expect(trace.plates[0].force[2700]).toBeCloseTo(9 + 0.9 * 2.7, 9);
    expect(trace.plates[1].force[2700]).toBeCloseTo(5 + 0.6 * 2.7, 9);
  });

  test("clip, round and zero the readings", () => {
    expect(Math.max(...faulty({ clip: 900 }).trace.plates[0].force)).toBe(900);
    const rounded = faulty({ quantum: 0.25 }).trace;
    expect(rounded.step).toBe(0.25);
    expect(rounded.plates[0].force.every((value) => Number.isInteger(value * 4))).toBe(true);
    expect(faulty({ noise: 3, zeroedBelow: 25 }).trace.plates[0].force.every((value) => value === 0 || value >= 25)).toBe(true);
  });

  test("take a step of 0 for none, and refuse one below", () => {
    expect(faulty({ quantum: 0 }).trace).toEqual(clean.trace);
    expect(() => faulty({ quantum: -0.1 })).toThrow(expect.objectContaining({ code: "out-of-range" }));
  });

  test("add white noise of the size that was asked for", () => {
    const { trace } = faulty({ noise: 2 });
    const difference = trace.plates[1].force.map((value, i) => value - clean.trace.plates[1].force[i]);
    const deviation = Math.sqrt(difference.reduce((sum, value) => sum + value * value, 0) / difference.length);
    // Five standard errors of a standard deviation at n = 5654.
    expect(Math.abs(deviation - 2)).toBeLessThan((5 * 2) / Math.sqrt(2 * 5654));
  });

  test("let the plates ring after take-off only", () => {
    const { trace } = faulty({ ringing: { amplitude: 30, frequency: 47 } });
    const total = totalOf(trace);
    const before = totalOf(clean.trace);
    expect(total[2400]).toBeCloseTo(before[2400], 9);
    const flight = total.slice(2500, 2990);
    expect(Math.max(...flight)).toBeGreaterThan(28);
    expect(Math.min(...flight)).toBeLessThan(-28);
  });

  test("sway only in the quiet stands, without moving their mean much", () => {
    const { trace, events } = faulty({ sway: 4 });
    const total = totalOf(trace);
    const first = total.slice(300, 1300);
    const mean = first.reduce((sum, value) => sum + value, 0) / first.length;
    const deviation = Math.sqrt(first.reduce((sum, value) => sum + (value - mean) ** 2, 0) / first.length);
    expect(deviation).toBeGreaterThan(2);
    expect(deviation).toBeLessThan(6);
    expect(Math.abs(mean - 735.49875)).toBeLessThan(2);
    // Continuous at the onset: the movement itself starts with 75 * 6 * 1.3 / 0.3^2 = 6500 N/s, sway adds up to 1 N a sample.
    const onset = Math.round(events.onset! * 1000);
    for (let i = onset - 5; i < onset + 5; i++) expect(Math.abs(total[i + 1] - total[i])).toBeLessThan(8);
  });

  test("cut the start and the end, and count times from the first sample left", () => {
    const { trace, events } = faulty({ cutStart: 1.5, cutEnd: 3.1 });
    expect(trace.plates[0].force.length).toBe(1600);
    expect(events.takeoff).toBeCloseTo(clean.events.takeoff! - 1.5, 12);
    expect(trace.plates[0].force[0]).toBe(clean.trace.plates[0].force[1500]);
  });

  test("let the landing miss the plate, and the gain differ", () => {
    expect(faulty({ landingOnPlate: 0 }).trace.plates[0].force.slice(3100).every((value) => value === 0)).toBe(true);
    const { trace } = faulty({ gain: [1.02, 1] });
    expect(trace.plates[0].force[100] / trace.plates[1].force[100]).toBeCloseTo(1.02, 12);
  });
});

describe("truths of a synthetic trial", () => {
  test.each(TESTS)("of %s have ids of the catalogue", (name) => {
    const { truth } = syntheticTrial({ test: name });
    for (const id of Object.keys(truth)) {
      const { base, side } = resolveMetricName(id);
      expect(base.tests, id).toContain(name);
      if (side !== undefined) expect(base.forms.sides, id).toBe(true);
      expect(Number.isFinite(truth[id]), id).toBe(true);
    }
  });
});
