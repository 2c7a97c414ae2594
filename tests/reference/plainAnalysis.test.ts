import { describe, expect, test } from "vitest";
import type { SyntheticOptions } from "../../src/synthetic/SyntheticOptions.ts";
import { syntheticTrial } from "../../src/synthetic/syntheticTrial.ts";
import { plainJump } from "./plainAnalysis.ts";

describe("the plain analysis", () => {
  // The second opinion must itself be right: heights within 1.5 mm of exact truth on clean traces.
  test.each<SyntheticOptions>([
    { test: "CMJ" },
    { test: "CMJ", height: 0.25, timeToTakeoff: 0.9, depth: 0.3 },
    { test: "CMJ", arms: "swing" },
    { test: "CMJ", mass: 55, faults: { noise: 1, sway: 2, offset: [9, 5] }, seed: 5 },
  ])("finds the truth of %j", (options) => {
    const { trace, truth, events } = syntheticTrial(options);
    const raw = Array.from(trace.plates[0].force, (value, i) => value + trace.plates[1].force[i]);
    const plain = plainJump(raw, trace.rate);
    expect(Math.abs(plain.bodyWeight - truth.bodyWeight)).toBeLessThan(0.7);
    expect(Math.abs(plain.events.takeoff - events.takeoff!)).toBeLessThan(0.002);
    expect(Math.abs(plain.events.landing - events.landing!)).toBeLessThan(0.002);
    // Owen et al. (2014): 30 ms before the exit of 5 SD, which itself comes a few milliseconds late.
    expect(plain.events.onset).toBeGreaterThan(events.onset! - 0.031);
    expect(plain.events.onset).toBeLessThan(events.onset! - 0.02);
    // An error of body weight e moves the velocity by (v + g T) e / BW and the displacement by g T^2 / 2 e / BW.
    const error = Math.abs(plain.bodyWeight - truth.bodyWeight) / truth.bodyWeight;
    const time = plain.metrics.timeToTakeoff;
    const fromVelocity = (truth.takeoffVelocity / 9.80665) * (truth.takeoffVelocity + 9.80665 * time) * error;
    // Six sines of sway, each at least 1 Hz, leave at most this velocity at the start, which integration takes for rest.
    const started = ((options.faults?.sway ?? 0) * Math.sqrt(12)) / (2 * Math.PI) / (options.mass ?? 75);
    expect(Math.abs(plain.metrics.jumpHeightTakeoffVelocity - truth.jumpHeightTakeoffVelocity)).toBeLessThan(0.0015 + fromVelocity + (started * truth.takeoffVelocity) / 9.80665);
    expect(Math.abs(plain.metrics.jumpHeightAboveStanding - truth.jumpHeightAboveStanding)).toBeLessThan(0.0015 + fromVelocity + (started * truth.takeoffVelocity) / 9.80665 + started * time + (9.80665 * time ** 2 * error) / 2);
    expect(Math.abs(plain.metrics.jumpHeightFlightTime - truth.jumpHeightFlightTime)).toBeLessThan(0.0015);
    for (const name of ["peakForcePropulsion", "peakPower", "meanForcePropulsion", "meanPowerPropulsion", "propulsionImpulse", "brakingImpulse"]) {
      expect(Math.abs(plain.metrics[name] / truth[name] - 1), name).toBeLessThan(0.01);
    }
  });
});
