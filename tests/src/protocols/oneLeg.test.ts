import { describe, expect, test } from "vitest";
import { analyse } from "../../../src/protocols/analyse.ts";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";

/** A few hops on one leg: slower contacts and lower flights than on two (an invented series). */
const HOPS = { takeoffVelocities: [1.5, 1.4, 1.45, 1.42, 1.38, 1.4, 1.41], contactTimes: [0.27, 0.265, 0.26, 0.262, 0.27, 0.268] };

describe("tests on one leg, against exact truth", () => {
  test.each(["left", "right"] as const)("repeated hops on the %s leg: contacts, flights and reactive strength, with the other plate left out", (limb) => {
    const trial = syntheticTrial({ test: "RH", limb, mass: 68, hops: HOPS, faults: { noise: 0.5 } });
    const analysis = analyse(trial.trace, parseProtocol(`RH limb=${limb}`), DEFAULT_SETTINGS);
    expect(analysis.hops).toHaveLength(HOPS.contactTimes.length);
    analysis.hops.forEach((hop, index) => {
      // 20 N is crossed within two samples of the exact instants at 1000 Hz.
      expect(Math.abs(hop.contactTime - HOPS.contactTimes[index])).toBeLessThan(0.004);
      expect(Math.abs(hop.flightTime - trial.hops[index].flightTime)).toBeLessThan(0.004);
    });
    expect(Math.abs(analysis.metrics.get("meanHopRsi")!.value / trial.truth.meanHopRsi - 1)).toBeLessThan(0.04);
    expect([...analysis.metrics.keys()].filter((id) => /Left$|Right$/.test(id))).toEqual([]);
  });

  test.each(["left", "right"] as const)("a drop jump on the %s leg: contact, flight, drop and height", (limb) => {
    const trial = syntheticTrial({ test: "DJ", limb, mass: 68, drop: 0.16, contactTime: 0.3, height: 0.14, faults: { noise: 0.5 } });
    const { metrics, verdict } = analyse(trial.trace, parseProtocol(`DJ drop=0.20 limb=${limb}`), DEFAULT_SETTINGS);
    for (const [id, limit] of [["contactTime", 0.003], ["flightTime", 0.003], ["measuredDropHeight", 0.003], ["jumpHeightTakeoffVelocity", 0.004]] as const) {
      expect(Math.abs(metrics.get(id)!.value - trial.truth[id]), id).toBeLessThan(limit);
    }
    expect(verdict).not.toBe("leave out");
  });

  test("says which leg carried the load where the stated one did not", () => {
    const trial = syntheticTrial({ test: "CMJ", limb: "left", height: 0.15 });
    const analysis = analyse(trial.trace, parseProtocol("CMJ limb=right"), DEFAULT_SETTINGS);
    expect(analysis.metrics.has("jumpHeight")).toBe(false);
    expect(analysis.findings.map(({ message }) => message).join(" ")).toMatch(/left/);
  });
});
