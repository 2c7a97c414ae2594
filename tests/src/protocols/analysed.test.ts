import { describe, expect, test } from "vitest";
import { analyse } from "../../../src/protocols/analyse.ts";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import type { SyntheticOptions } from "../../../src/synthetic/SyntheticOptions.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import type { Trace } from "../../../src/trace/Trace.ts";
import { analysed, changed, findingsOf } from "../../support/secondOpinion.ts";

const made = (test: SyntheticOptions["test"], more: Partial<SyntheticOptions> = {}): ReturnType<typeof syntheticTrial> => syntheticTrial({ rate: 500, seed: 3, test, ...more });

describe("each test is analysed as what it is", () => {
  test.each([
    ["CMJ", "CMJ", "countermovementDepth", 0],
    ["SJ", "SJ", "dipFraction", 0],
    ["DJ", "DJ", "contactTime", 0],
    ["RH", "RH", "hopCount", 10],
    ["IMTP", "IMTP", "rfd0to100", 0],
  ] as const)("%s", (kind, protocol, own, hops) => {
    const { trace, truth } = made(kind);
    const analysis = analysed(trace, { protocol });
    expect(analysis.hops).toHaveLength(hops);
    expect(analysis.metrics.get(own)?.value).toBeCloseTo(truth[own]!, own === "rfd0to100" ? -3 : 2);
    expect([...analysis.missing.keys()].every((id) => !analysis.metrics.has(id))).toBe(true);
    expect(analysis.verdict).toBe("keep");
    // What is asked for again is the very same, and what explains it has its very numbers.
    expect(analysis.missing).toBe(analysis.missing);
    expect(analysis.steps).toBe(analysis.steps);
    expect(analysis.timeSeries()).toBe(analysis.timeSeries());
    expect(analysis.steps.find(({ gives }) => gives === own)?.value).toBe(analysis.metrics.get(own)!.value);
    expect([analysis.trace, analysis.protocol.test, analysis.settings]).toEqual([trace, kind, DEFAULT_SETTINGS]);
  });
});

describe("what a finding takes out", () => {
  const { trace, events } = made("CMJ");
  const clipped = (most: number, from = 0): Trace => changed(trace, (f, t) => (t > from ? Math.min(f, most) : f));
  const FORCES = ["peakForce", "peakForceBraking", "peakForcePropulsion", "maximumRfd"];

  test("of a push that was cut off: what needs velocity, the landing, and the peaks of force with their sides", () => {
    const whole = analysed(trace, { protocol: "CMJ" });
    const cut = analysed(clipped(800), { protocol: "CMJ" });
    for (const id of [...FORCES, "peakForceLeft", "peakForceRight", "takeoffVelocity", "peakPower", "minimumForce", "minimumForceLeft", "peakLandingForce"]) expect([id, whole.metrics.has(id), cut.metrics.has(id)]).toEqual([id, true, false]);
    for (const id of ["flightTime", "bodyWeight", "timeToTakeoff", "jumpHeightFlightTime"]) expect([id, cut.metrics.has(id)]).toEqual([id, true]);
    expect(cut.verdict).toBe("look");
    expect(cut.missing.get("takeoffVelocity")).toMatch(/cut off at 800 N/);
    // A force that is one of those, and needs nothing that was taken out, stays where only the landing was cut.
    const landing = analysed(clipped(1000, events.takeoff!), { protocol: "CMJ" });
    expect(findingsOf(landing)).toContain("Q5 look");
    for (const id of [...FORCES, "peakForceLeft", "takeoffVelocity", "minimumForce"]) expect([id, landing.metrics.has(id)]).toEqual([id, true]);
    expect(landing.metrics.has("peakLandingForce")).toBe(false);
  });

  test("of a push cut off on one plate and a landing on the other: both", () => {
    const cut = analysed(changed(trace, (f, t, role) => (role === "left" ? Math.min(f, 800) : t > events.takeoff! ? Math.min(f, 1000) : f)), { protocol: "CMJ" });
    expect(cut.findings.filter(({ rule }) => rule === "Q5").map(({ removes }) => removes)).toEqual(expect.arrayContaining([["V", "L"], ["L"]]));
    for (const id of [...FORCES, "peakForceRight"]) expect([id, cut.metrics.has(id)]).toEqual([id, false]);
  });

  test("of a person who never stood still: what needs body weight, with the reason", () => {
    const restless = changed(trace, (f, t) => (t < events.onset! ? f + 30 * Math.sign(Math.sin(10 * Math.PI * t)) : f));
    const analysis = analysed(restless, { protocol: "CMJ" });
    expect(analysis.metrics.has("bodyWeight")).toBe(false);
    expect(analysis.metrics.has("flightTime")).toBe(true);
    const finding = analysis.findings.find(({ removes }) => removes.includes("B"))!;
    expect(analysis.missing.get("bodyWeight")).toBe(finding.message);
    expect(analysis.missing.get("takeoffVelocity")).toBe(finding.message);
  });

  test("is nothing where nothing was found", () => {
    const analysis = analysed(trace, { protocol: "CMJ" });
    expect(analysis.findings.filter(({ action }) => action !== "not checked")).toEqual([]);
    expect(analysis.missing.size).toBe(0);
  });

  test("tells the other leg where the protocol names one that carries nothing", () => {
    const left = made("CMJ", { limb: "left", height: 0.16, timeToTakeoff: 0.8, depth: 0.2 }).trace;
    const analysis = analysed(left, { protocol: "CMJ limb=right" });
    expect(analysis.findings.some(({ values }) => values.case === "otherLeg" && values.leg === "left")).toBe(true);
    expect(analysed(left, { protocol: "CMJ limb=left" }).findings.some(({ values }) => values.case === "otherLeg")).toBe(false);
  });
});

test("columns are used again by the next trial, and what was said before stays", () => {
  const [first, second] = [made("CMJ"), made("CMJ", { mass: 50, height: 0.2 })];
  const one = analyse(first.trace, parseProtocol("CMJ"), DEFAULT_SETTINGS);
  const before = [...one.metrics.values()].map(({ id, value, u, budget }) => [id, value, u, budget]);
  const two = analyse(second.trace, parseProtocol("CMJ"), DEFAULT_SETTINGS);
  expect([...one.metrics.values()].map(({ id, value, u, budget }) => [id, value, u, budget])).toEqual(before);
  expect(one.timeSeries().force[0]).toBeCloseTo(75 * 9.80665, 6);
  expect(two.metrics.get("bodyWeight")!.value).toBeCloseTo(50 * 9.80665, 6);
});
