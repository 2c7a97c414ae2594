import { describe, expect, test } from "vitest";
import { analyse } from "../../src/protocols/analyse.ts";
import type { Analysis } from "../../src/protocols/Analysis.ts";
import { DEFAULT_SETTINGS } from "../../src/settings/defaultSettings.ts";
import { packTrace } from "../../src/trace/packTrace.ts";
import type { Trace } from "../../src/trace/Trace.ts";
import { unpackTrace } from "../../src/trace/unpackTrace.ts";
import { describeWithData, hasData } from "../support/data.ts";
import { randomJump, seeds } from "../support/randomTrial.ts";
import { type GivenTrial, recordedTrials, vectorTrials } from "../support/realTrials.ts";

/** 0.05 mm and 0.1 ms: what the text of a cell may take from a file. */
const HEIGHT = 0.00005;
const TIME = 0.0001;

/** Instants of an extreme. On a flat top any of its samples is the extreme: there, the force or velocity itself is what must agree. */
const EXTREMES = new Set(["minimumForce", "minimumVelocity", "peakForce", "peakVelocity", "landingLowest", "lowest"]);
const TIMES_OF_EXTREMES = new Set(["timeToPeakForce", "timeToPeakLandingForce"]);

function throughText(trace: Trace): Trace {
  const back = unpackTrace(packTrace(trace));
  if (!("plates" in back)) throw new Error("a trace came back as times");
  return back;
}

/** Compares the analysis of a file with that of its packed text. */
function expectSame(file: Analysis, text: Analysis): void {
  expect(text.verdict).toBe(file.verdict);
  expect(text.findings.map(({ rule, action }) => `${rule} ${action}`)).toEqual(file.findings.map(({ rule, action }) => `${rule} ${action}`));
  expect([...text.metrics.keys()]).toEqual([...file.metrics.keys()]);
  let compared = 0;
  for (const [id, { unit, value }] of file.metrics) {
    const difference = Math.abs(text.metrics.get(id)!.value - value);
    if (unit === "m") expect(difference, id).toBeLessThan(HEIGHT);
    else if (unit === "s" && !TIMES_OF_EXTREMES.has(id)) expect(difference, id).toBeLessThan(TIME);
    else if (unit === "N" && id !== "bodyWeightUncertainty") expect(difference, id).toBeLessThan(2 * text.trace.rounding + 1e-4 * Math.abs(value));
    else continue;
    compared++;
  }
  expect(compared).toBeGreaterThan(2);
  const forces = file.timeSeries().force;
  for (const [name, { time }] of file.events) {
    const other = text.events.get(name)!.time;
    if (!EXTREMES.has(name) || Math.abs(other - time) < TIME) expect(Math.abs(other - time), name).toBeLessThan(TIME);
    else if (name === "peakForce" || name === "minimumForce") {
      const at = (seconds: number): number => forces[Math.round(seconds * file.trace.rate)]!;
      expect(Math.abs(at(other) - at(time)), `${name} ${time} ${other}`).toBeLessThanOrEqual(2 * text.trace.rounding);
    } else expect(Math.abs(other - time), name).toBeLessThanOrEqual(1.01 / file.trace.rate);
  }
}

const TRIALS: ReadonlyMap<string, GivenTrial> = new Map((hasData ? [...vectorTrials(), ...recordedTrials()] : []).map((trial) => [trial.name, trial]));

describeWithData("a recording and its packed text", () => {
  test.each([...TRIALS.keys()])("%s: heights agree within 0.05 mm, times within 0.1 ms, and every finding is the same", (name) => {
    const { trace, protocol, adjust } = TRIALS.get(name)!;
    const packed = throughText(trace);
    expect(packed.rounding).toBeLessThanOrEqual(0.05);
    expectSame(analyse(trace, protocol, DEFAULT_SETTINGS, adjust), analyse(packed, protocol, DEFAULT_SETTINGS, adjust));
  });
});

describe("made trials and their packed text", () => {
  test.each([0, 0.5, 2])("with a noise of %d N, heights agree within 0.05 mm and times within 0.1 ms", (noise) => {
    for (const seed of seeds(20)) {
      const { trace } = randomJump(seed, { faults: { noise } });
      const packed = throughText(trace);
      const [file, text] = [trace, packed].map((given) => analyse(given, { test: "CMJ" }, DEFAULT_SETTINGS)) as [Analysis, Analysis];
      expect(Math.abs(text.metrics.get("jumpHeightTakeoffVelocity")!.value - file.metrics.get("jumpHeightTakeoffVelocity")!.value), `seed ${seed}`).toBeLessThan(HEIGHT);
      expect(Math.abs(text.metrics.get("jumpHeightFlightTime")!.value - file.metrics.get("jumpHeightFlightTime")!.value), `seed ${seed}`).toBeLessThan(HEIGHT);
      for (const name of ["takeoff", "landing", "onset"] as const) expect(Math.abs(text.events.get(name)!.time - file.events.get(name)!.time), `${name} of seed ${seed}, rounded to ${packed.rounding}`).toBeLessThan(TIME);
    }
  });
});
