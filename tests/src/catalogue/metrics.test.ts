import { describe, expect, test } from "vitest";
import { metricById, METRICS, metricsOf } from "../../../src/catalogue/metrics.ts";
import { REFERENCES } from "../../../src/catalogue/references.ts";
import { unitsOf } from "../../../src/catalogue/units.ts";
import { TESTS } from "../../../src/protocols/Protocol.ts";

/** The ids people's workbooks and scripts hold: a change here is a change of the contract, and belongs in docs/changes.md. */
const CONTRACT = `
  bodyWeight bodyMass weighingSd bodyWeightUncertainty flightOffset driftRate flightTime takeoffVelocity jumpHeight
  jumpHeightTakeoffVelocity jumpHeightFlightTime jumpHeightAboveStanding heightDifference peakVelocity minimumVelocity
  takeoffDisplacement endVelocity timeToTakeoff rsiModified flightTimeToTakeoffTimeRatio countermovementDepth pushOffDistance
  dipFraction unweightingTime brakingTime propulsionTime minimumForce peakForce peakForceBraking peakForcePropulsion
  meanForceUnweighting meanForceBraking meanForcePropulsion forceAtZeroVelocity meanVelocityBraking meanVelocityPropulsion
  brakingDisplacement propulsionDisplacement unweightingImpulse brakingImpulse propulsionImpulse peakPower meanPowerPropulsion
  meanPowerBraking minimumPowerBraking brakingRfd maximumRfd countermovementStiffness peakLandingForce timeToPeakLandingForce
  landingLoadingRate landingImpulse landingVelocity landingTime landingDepth timeToStabilisation contactTime touchdownVelocity
  measuredDropHeight nominalDropHeight rsi flightToContactRatio impactPeakForce secondPeakForce contactStiffness hopCount
  bestFiveRsi lastFiveRsi meanHopRsi meanContactTime meanFlightTime meanHopHeight hopStiffness hopPowerFromTimes baselineForce
  preTensionForce force50ms force90ms force100ms force150ms force200ms force250ms rfd0to50 rfd0to100 rfd0to150 rfd0to200
  rfd0to250 rfd50to100 rfd100to200 impulse0to100 impulse0to200 impulse0to250 timeToPeakForce`
  .trim()
  .split(/\s+/);

describe("METRICS", () => {
  test("holds exactly the ids of the contract, each once", () => {
    expect(METRICS.map(({ id }) => id).sort()).toEqual([...CONTRACT].sort());
  });

  test.each(METRICS.map((metric) => [metric.id, metric] as const))("%s says what it is", (_, metric) => {
    expect(metric.name).toMatch(/^\p{Lu}.*[^.]$/u);
    expect(metric.definition).toMatch(/^\p{Lu}.*\.$/u);
    expect(unitsOf(metric.unit).length).toBeGreaterThan(0);
    expect(metric.tests.length).toBeGreaterThan(0);
    expect(metric.sources.length).toBeGreaterThan(0);
    expect(metric.assumptions.length).toBeGreaterThan(0);
    expect(metric.watchFor.length).toBeGreaterThan(0);
    for (const sentence of [...metric.assumptions, ...metric.watchFor]) expect(sentence).toMatch(/^\p{Lu}.*\.$/u);
    expect(metricById(metric.id)).toBe(metric);
  });

  test("cites only sources that are in the references", () => {
    for (const { id, sources, range } of METRICS) {
      for (const key of sources) expect(REFERENCES, `${id} cites ${key}`).toHaveProperty(key);
      if (range && range.source !== "common practice") expect(REFERENCES).toHaveProperty(range.source);
    }
  });

  test("names both events of every duration", () => {
    for (const { id, unit, definition } of METRICS) {
      if (unit === "s") expect(definition, id).toMatch(/from .* to |between|in which/i);
    }
  });

  test("has no promise about injuries", () => {
    expect(JSON.stringify(METRICS)).not.toMatch(/injur/i);
  });

  test("gives each test its metrics", () => {
    for (const name of TESTS) expect(metricsOf(name).length).toBeGreaterThan(10);
    expect(metricsOf("DJ").map(({ id }) => id)).toContain("rsi");
    expect(metricsOf("DJ").map(({ id }) => id)).not.toContain("brakingRfd");
  });
});
