import { describe, expect, test } from "vitest";
import { syntheticTrace } from "../../../src/synthetic/syntheticTrace.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import { TESTS } from "../../../src/protocols/Protocol.ts";

describe("syntheticTrace", () => {
  test.each(TESTS)("gives the samples of the trial with its exact answers, for %s", (name) => {
    const options = { test: name, seed: 3, faults: { noise: 1, sway: 2, ringing: { amplitude: 8, frequency: 90, decay: 0.1 }, cutStart: 0.25 } };
    expect(syntheticTrace(options).trace).toEqual(syntheticTrial(options).trace);
  });

  test("says what was cut off before the first sample, in whole samples", () => {
    // By hand: 0.2504 s are 250.4 samples at 1000 Hz, so 250 of them.
    expect(syntheticTrace({ test: "CMJ", faults: { cutStart: 0.2504 } }).shift).toBe(0.25);
    expect(syntheticTrace({ test: "CMJ" }).shift).toBe(0);
  });

  test("rings from take-off on, in every test that has one", () => {
    for (const name of TESTS) {
      const plain = syntheticTrace({ test: name }).trace.plates[0]!.force;
      const ringing = syntheticTrace({ test: name, faults: { ringing: { amplitude: 8, frequency: 90 } } }).trace.plates[0]!.force;
      const first = plain.findIndex((force, i) => force !== ringing[i]);
      const takeoff = syntheticTrial({ test: name }).events.takeoff;
      expect(first, name).toBe(takeoff === undefined ? -1 : Math.ceil(takeoff * 1000));
    }
  });
});
