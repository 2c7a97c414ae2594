import { describe, expect, test } from "vitest";
import { analyse } from "../../../src/protocols/analyse.ts";
import type { Analysis, EventName } from "../../../src/protocols/Analysis.ts";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { settingsFrom } from "../../../src/settings/settingsFrom.ts";
import { seededRandom } from "../../../src/synthetic/seededRandom.ts";
import type { SyntheticOptions } from "../../../src/synthetic/SyntheticOptions.ts";
import { type SyntheticTrial, syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import { randomJump, seeds } from "../../support/randomTrial.ts";

const HEIGHTS = ["jumpHeightTakeoffVelocity", "jumpHeightFlightTime"];
const RELATIVE = /^(peakForce|meanForcePropulsion|forceAtZeroVelocity|peakPower|meanPowerPropulsion|minimumPowerBraking|propulsionImpulse|peakForcePropulsion)(Left|Right)?$/;

/** Greatest absolute and relative error over the trials, by metric and event. */
function worstErrors(trials: readonly SyntheticTrial[], analyses: readonly Analysis[]): Map<string, { absolute: number; relative: number }> {
  const worst = new Map<string, { absolute: number; relative: number }>();
  const note = (name: string, got: number | undefined, truth: number): void => {
    const before = worst.get(name) ?? { absolute: 0, relative: 0 };
    const absolute = got === undefined ? Infinity : Math.abs(got - truth);
    worst.set(name, { absolute: Math.max(before.absolute, absolute), relative: Math.max(before.relative, absolute / Math.abs(truth)) });
  };
  trials.forEach((trial, i) => {
    for (const [id, value] of Object.entries(trial.truth)) note(id, analyses[i].metrics.get(id)?.value, value);
    for (const [name, time] of Object.entries(trial.events)) note(`event ${name}`, analyses[i].events.get(name as EventName)?.time, time);
  });
  return worst;
}

describe("analyse on clean countermovement jumps at 1000 Hz against exact truth", () => {
  const trials = seeds(150).map((seed) => randomJump(seed));

  // 5 N: what is left is sampling; a higher threshold is an earlier take-off by definition (next test).
  test("finds heights within 1.5 mm, events within 2 ms, peak force and power within half a per cent", () => {
    const settings = settingsFrom([["take-off-threshold", 5], ["onset-rule", "5 SD"]]);
    const worst = worstErrors(trials, trials.map((trial) => analyse(trial.trace, parseProtocol("CMJ"), settings)));
    for (const name of [...HEIGHTS, "jumpHeightAboveStanding"]) expect(worst.get(name)!.absolute, name).toBeLessThan(0.0015);
    for (const [name, { absolute, relative }] of worst) {
      // The onset of a smooth movement is found where it has grown to 1 N.
      if (name.startsWith("event ")) expect(absolute, name).toBeLessThan(0.002);
      if (RELATIVE.test(name)) expect(relative, name).toBeLessThan(0.005);
    }
    expect(worst.get("countermovementDepth")!.absolute).toBeLessThan(0.001);
    // Impact corners fall between samples.
    expect(worst.get("peakLandingForce")!.relative).toBeLessThan(0.02);
    // Samples before the lowest point only: one sample of rise is missing.
    expect(worst.get("peakForceBraking")!.relative).toBeLessThan(0.01);
  });

  // 20 N before force zero at 45 kg: the tolerance of the published vectors, 3 mm and 3 ms.
  test("stays within 3 mm and 3 ms with the default threshold of 20 N, for light athletes and high jumps too", () => {
    const worst = worstErrors(trials, trials.map((trial) => analyse(trial.trace, parseProtocol("CMJ"), DEFAULT_SETTINGS)));
    for (const name of [...HEIGHTS, "jumpHeightAboveStanding"]) expect(worst.get(name)!.absolute, name).toBeLessThan(0.003);
    for (const name of ["event takeoff", "event landing", "flightTime"]) expect(worst.get(name)!.absolute, name).toBeLessThan(0.003);
    // Owen et al. (2014): 30 ms before the exit, which comes up to 4 ms late.
    expect(worst.get("event onset")!.absolute).toBeLessThan(0.031);
  });

  test("finds nothing wrong with any of them but how they land", () => {
    for (const trial of trials) {
      const { findings, verdict } = analyse(trial.trace, parseProtocol("CMJ"), DEFAULT_SETTINGS);
      expect(findings.filter(({ action, rule }) => action !== "not checked" && rule !== "Q9").map(({ message }) => message)).toEqual([]);
      expect(verdict).toBe("keep");
    }
  });
});

describe("analyse on clean squat jumps at 1000 Hz against exact truth", () => {
  test("finds heights within 1.5 mm and events within 2 ms", () => {
    const trials = seeds(60).map((seed) => randomJump(seed, { test: "SJ", height: 0.2 + 0.002 * seed, timeToTakeoff: 0.34, depth: undefined }));
    const settings = settingsFrom([["take-off-threshold", 5]]);
    const worst = worstErrors(trials, trials.map((trial) => analyse(trial.trace, parseProtocol("SJ"), settings)));
    for (const name of HEIGHTS) expect(worst.get(name)!.absolute, name).toBeLessThan(0.0015);
    for (const name of ["event takeoff", "event landing", "event onset"]) expect(worst.get(name)!.absolute, name).toBeLessThan(0.002);
    for (const name of ["peakForce", "peakPower"]) expect(worst.get(name)!.relative, name).toBeLessThan(0.005);
  });
});

describe("analyse on clean drop jumps at 1000 Hz against exact truth", () => {
  const drop = (seed: number, more: Partial<SyntheticOptions> = {}) => {
    const random = seededRandom(seed);
    return syntheticTrial({ test: "DJ", mass: random.between(45, 110), height: random.between(0.15, 0.45), drop: random.between(0.2, 0.5), contactTime: random.between(0.17, 0.35), landingLower: 0, ...more });
  };

  // Backward from standing, from two plates, and from a flight that lands as it left: every route knows the same drop.
  test.each([
    ["backward", {}],
    ["two plates", { boxLeaveVelocity: 0.4 }],
    ["flight", {}],
  ] as const)("finds drop, heights and times by the route %s", (route, more) => {
    const trials = seeds(60).map((seed) => drop(seed, more));
    const settings = settingsFrom([["drop-velocity", route]]);
    const worst = worstErrors(trials, trials.map((trial) => analyse(trial.trace, parseProtocol("DJ drop=0.30"), settings)));
    for (const name of ["event touchdown", "event takeoff", "event landing", "contactTime", "flightTime"]) expect(worst.get(name)!.absolute, name).toBeLessThan(0.002);
    // Take-off is a corner at 50 N a sample: known to 0.7 ms, in which gravity takes 7 mm/s, 1.7 mm of height.
    for (const name of HEIGHTS) expect(worst.get(name)!.absolute, name).toBeLessThan(0.002);
    // Likewise at touchdown, at up to 3.1 m/s.
    expect(worst.get("measuredDropHeight")!.absolute).toBeLessThan(0.0025);
    for (const name of ["peakPower", "meanForcePropulsion"]) expect(worst.get(name)!.relative, name).toBeLessThan(0.01);
    // The impact has a corner, which falls between samples.
    expect(worst.get("peakForce")!.relative).toBeLessThan(0.02);
  });
});
