import { describe, expect, test } from "vitest";
import { analyse } from "../../../src/protocols/analyse.ts";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { seededRandom } from "../../../src/synthetic/seededRandom.ts";
import type { SyntheticFaults, SyntheticOptions } from "../../../src/synthetic/SyntheticOptions.ts";
import { type SyntheticTrial, syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import { randomJump, seeds } from "../../support/randomTrial.ts";

const QUIET: SyntheticFaults = { noise: 1, sway: 2 };

/** What can go wrong with a recording. None may change a number silently. */
const FAULTS: Readonly<Record<string, Partial<SyntheticOptions>>> = {
  "ordinary noise and sway": { faults: { noise: 2, sway: 4 } },
  "a noisy plate": { faults: { noise: 15 } },
  "plates not zeroed": { faults: { ...QUIET, offset: [15, -8] } },
  "plates not zeroed by far": { faults: { ...QUIET, offset: [-200, 40] } },
  "a plate that rings by 30 N": { faults: { ...QUIET, ringing: { amplitude: 30, frequency: 47 } } },
  "a plate that rings by 60 N, slowly": { faults: { ...QUIET, ringing: { amplitude: 60, frequency: 20 } } },
  "readings in steps of 2 N": { faults: { sway: 2, quantum: 2 } },
  "a force cut off at 600 N a plate": { faults: { noise: 1, clip: 600 } },
  "a landing beside the plate": { faults: { ...QUIET, landingOnPlate: 0 } },
  "a landing half on the plate": { faults: { ...QUIET, landingOnPlate: 0.5 } },
  "a restless stand": { faults: { noise: 1, sway: 15 } },
  "a very restless stand": { faults: { noise: 1, sway: 40 } },
  "100 Hz": { rate: 100, faults: QUIET },
  "240 Hz": { rate: 240, faults: QUIET },
  "10,000 Hz": { rate: 10000, faults: QUIET },
  "a child of 20 kg": { mass: 20, faults: { noise: 1, sway: 1 } },
  "legs bent by 8 cm at landing": { landingLower: 0.08, faults: QUIET },
  "readings below 25 N set to zero": { faults: { ...QUIET, zeroedBelow: 25 } },
  "plates that drift": { faults: { ...QUIET, drift: [1.2, 1.2] } },
  "plates that drift wildly": { faults: { ...QUIET, drift: [10, 5] } },
  "plates of unlike gain": { faults: { ...QUIET, gain: [1.01, 0.99] } },
};

/**
 * A number is acceptable if it is not given, if the trial says that it has to be looked at, or if it lies within four standard
 * uncertainties and 2 mm (or 1 per cent) of the truth.
 */
function expectHonest(trial: SyntheticTrial, protocol: string, ids: readonly string[], place: string): void {
  const analysis = analyse(trial.trace, parseProtocol(protocol), DEFAULT_SETTINGS);
  for (const [id, { value, u }] of analysis.metrics) {
    expect(Number.isFinite(value), `${id} of ${place}`).toBe(true);
    expect(u === undefined || (Number.isFinite(u) && u >= 0), `u of ${id} of ${place}`).toBe(true);
  }
  for (const id of ids) {
    const metric = analysis.metrics.get(id);
    if (metric === undefined) {
      expect(analysis.missing.get(id), `reason for ${id} of ${place}`).toMatch(/\w+ \w+/);
      continue;
    }
    if (analysis.verdict !== "keep") continue;
    const slack = metric.unit === "m" ? 0.002 : 0.01 * Math.abs(trial.truth[id]);
    expect(Math.abs(metric.value - trial.truth[id]), `${id} of ${place}: ${metric.value} against ${trial.truth[id]}, kept`).toBeLessThan(4 * (metric.u ?? 0) + slack);
  }
}

describe("no fault changes a number silently", () => {
  test.each(Object.entries(FAULTS))("in a countermovement jump with %s", (name, more) => {
    for (const seed of seeds(25)) {
      expectHonest(randomJump(seed, more), "CMJ", ["jumpHeightTakeoffVelocity", "bodyWeight", "peakForce", "propulsionImpulse", "flightTime"], `${name}, seed ${seed}`);
    }
  });

  test.each(Object.entries(FAULTS))("in a squat jump with %s", (name, more) => {
    for (const seed of seeds(12)) {
      const random = seededRandom(seed);
      const trial = syntheticTrial({ test: "SJ", seed, mass: random.between(50, 105), height: random.between(0.2, 0.4), timeToTakeoff: random.between(0.3, 0.4), ...more });
      expectHonest(trial, "SJ", ["jumpHeightTakeoffVelocity", "peakForce", "flightTime"], `${name}, seed ${seed}`);
    }
  });

  test.each(Object.entries(FAULTS))("in a drop jump with %s", (name, more) => {
    for (const seed of seeds(12)) {
      const random = seededRandom(seed);
      const drop = { test: "DJ" as const, seed, mass: random.between(50, 105), height: random.between(0.2, 0.4), drop: random.between(0.24, 0.32), contactTime: random.between(0.17, 0.24) };
      expectHonest(syntheticTrial({ ...drop, ...more }), "DJ drop=0.30", ["jumpHeightTakeoffVelocity", "flightTime", "contactTime", "rsi"], `${name}, seed ${seed}`);
    }
  });

  // 2.4 N/s between the fall and the flight.
  test("in a drop jump whose plates drift, which Q4 tells and corrects; a noisy one has no drift", () => {
    const rules = (faults: SyntheticFaults, seed: number) => analyse(syntheticTrial({ test: "DJ", seed, faults }).trace, parseProtocol("DJ drop=0.30"), DEFAULT_SETTINGS).findings.filter(({ rule }) => rule === "Q4").map(({ action }) => action);
    for (const seed of seeds(20)) {
      expect(rules({ ...QUIET, drift: [1.2, 1.2] }, seed)).toEqual(["corrected"]);
      expect(rules({ noise: 3, sway: 2, offset: [9, 4] }, seed)).toEqual([]);
    }
  });

  test.each(Object.entries(FAULTS))("in a series of hops with %s", (name, more) => {
    for (const seed of seeds(6)) expectHonest(syntheticTrial({ test: "RH", seed, ...more, landingLower: 0 }), "RH", ["bestFiveRsi"], `${name}, seed ${seed}`);
  });
});

describe("records that are cut", () => {
  // By hand: standing 1.5 s, take-off 0.8 s later, flight 2 sqrt(0.6 / 9.80665) s = 0.4947 s.
  const cut = (faults: SyntheticFaults) => syntheticTrial({ test: "CMJ", quietBefore: 1.5, timeToTakeoff: 0.8, height: 0.3, depth: 0.3, faults: { ...QUIET, ...faults } });
  const run = (trial: SyntheticTrial) => analyse(trial.trace, parseProtocol("CMJ"), DEFAULT_SETTINGS);

  test("give the flight and its height where nobody stands still at first, and say why there is no more", () => {
    for (const cutStart of [1.45, 1.9]) {
      const trial = cut({ cutStart });
      const analysis = run(trial);
      expect(Math.abs(analysis.metrics.get("jumpHeightFlightTime")!.value - trial.truth.jumpHeightFlightTime)).toBeLessThan(0.002);
      expect(analysis.metrics.has("jumpHeightTakeoffVelocity")).toBe(false);
      expect(analysis.missing.get("jumpHeightTakeoffVelocity")).toMatch(/\w+ \w+/);
      expect(analysis.verdict).not.toBe("leave out");
    }
  });

  test("weigh on 0.7 s of standing, flagged, with a larger uncertainty", () => {
    const whole = run(cut({}));
    const short = run(cut({ cutStart: 0.8 }));
    expect(short.findings.map(({ rule }) => rule)).toContain("shortWeighing");
    expect(Math.abs(short.metrics.get("jumpHeightTakeoffVelocity")!.value - 0.3)).toBeLessThan(4 * short.metrics.get("jumpHeightTakeoffVelocity")!.u! + 0.002);
    expect(whole.findings.map(({ rule }) => rule)).not.toContain("shortWeighing");
  });

  test("give the height by velocity where the record ends in the air", () => {
    const analysis = run(cut({ cutEnd: 2.5 }));
    expect(Math.abs(analysis.metrics.get("jumpHeightTakeoffVelocity")!.value - 0.3)).toBeLessThan(0.006);
    expect(analysis.missing.get("flightTime")).toMatch(/\w+ \w+/);
  });

  test("give both heights where the record ends 0.1 s after landing, and no time to stabilisation", () => {
    const analysis = run(cut({ cutEnd: 2.92 }));
    for (const id of ["jumpHeightTakeoffVelocity", "jumpHeightFlightTime"]) expect(Math.abs(analysis.metrics.get(id)!.value - 0.3), id).toBeLessThan(0.006);
    expect(analysis.metrics.has("timeToStabilisation")).toBe(false);
    expect(analysis.missing.get("timeToStabilisation")).toMatch(/\w+ \w+/);
  });
});
