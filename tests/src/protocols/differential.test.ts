import { describe, expect, test } from "vitest";
import { analyse } from "../../../src/protocols/analyse.ts";
import type { EventName } from "../../../src/protocols/Analysis.ts";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { plainCountermovement, plainJump, plainZero } from "../../reference/plainAnalysis.ts";
import { randomJump, seeds } from "../../support/randomTrial.ts";

const CMJ = parseProtocol("CMJ");

/** Noisy, swaying jumps at 1000 and 500 Hz, with an offset in every fourth. */
const TRIALS = seeds(120).map((seed) =>
  randomJump(seed, {
    rate: seed % 3 === 0 ? 500 : 1000,
    faults: { noise: seed % 4, sway: seed % 5, ...(seed % 4 === 0 ? { offset: [seed % 7, -(seed % 3)] as const } : {}) },
  }),
);
const RUNS = TRIALS.map((trial) => ({
  trial,
  analysis: analyse(trial.trace, CMJ, DEFAULT_SETTINGS),
  raw: Array.from(trial.trace.plates[0].force, (value, i) => value + trial.trace.plates[1].force[i]),
}));

describe("analyse and a second opinion written apart from it", () => {
  test("agree on every metric, given the product's weighing window, onset, take-off and landing", () => {
    for (const { trial, analysis, raw } of RUNS) {
      const { rate } = trial.trace;
      const at = (name: EventName): number => analysis.events.get(name)!.time;
      const { force } = plainZero(raw, rate);
      const window = force.samples.slice(Math.round(at("weighingStart") * rate), Math.round(at("weighingEnd") * rate));
      const bodyWeight = window.reduce((sum, value) => sum + value, 0) / window.length;
      const plain = plainCountermovement(force, bodyWeight, { onset: at("onset"), takeoff: at("takeoff"), landing: at("landing") });
      for (const [id, value] of Object.entries(plain)) {
        const got = analysis.metrics.get(id)?.value;
        expect(got, `${id} of trial ${trial.options.seed}`).toBeDefined();
        const difference = Math.abs(got! - value);
        const place = `${id} of trial ${trial.options.seed}: ${got} against ${value}`;
        if (id === "heightDifference") expect(difference, place).toBeLessThan(0.0005);
        // Extremes are taken over samples here and over a line through them there: one sample of a steep force at a phase's end.
        else if (id === "peakForceBraking" || id === "minimumForce") expect(difference / Math.abs(value), place).toBeLessThan(0.02);
        else expect(difference, place).toBeLessThan(0.0008 * Math.abs(value) + 2e-5);
      }
    }
  });

  test("agree on body weight, events and height, each finding its own", () => {
    for (const { trial, analysis, raw } of RUNS) {
      const plain = plainJump(raw, trial.trace.rate);
      const place = `trial ${trial.options.seed}`;
      // Windows may differ by a few samples of sway.
      expect(Math.abs(plain.bodyWeight - analysis.metrics.get("bodyWeight")!.value), place).toBeLessThan(0.5);
      for (const name of ["onset", "takeoff", "landing"] as const) {
        const difference = Math.abs(plain.events[name] - analysis.events.get(name)!.time);
        expect(difference, `${name} of ${place}`).toBeLessThan(name === "onset" ? 0.006 : 0.002);
      }
      expect(Math.abs(plain.metrics.jumpHeightTakeoffVelocity - analysis.metrics.get("jumpHeightTakeoffVelocity")!.value), place).toBeLessThan(0.005);
    }
  });
});
