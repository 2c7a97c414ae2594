import type { Analysis, MetricValue } from "../../src/protocols/Analysis.ts";
import type { Test } from "../../src/protocols/Protocol.ts";

/** The one number a list shows for each test; the others are a step away. */
const HEADLINES: Readonly<Record<Test, readonly string[]>> = {
  CMJ: ["jumpHeight", "jumpHeightFlightTime"],
  SJ: ["jumpHeight", "jumpHeightFlightTime"],
  DJ: ["rsi", "contactTime"],
  RH: ["bestFiveRsi", "meanHopRsi"],
  IMTP: ["peakForce"],
};

/** The headline number of a trial: the first of its test's that the trace gives. */
export function headline(analysis: Analysis): MetricValue | undefined {
  for (const id of HEADLINES[analysis.protocol.test]) {
    const metric = analysis.metrics.get(id);
    if (metric !== undefined) return metric;
  }
  return undefined;
}

/** The numbers that a trial's page shows first. */
export const FIRST_NUMBERS: Readonly<Record<Test, readonly string[]>> = {
  CMJ: ["jumpHeight", "jumpHeightFlightTime", "takeoffVelocity", "timeToTakeoff", "rsiModified", "countermovementDepth", "peakForce", "peakPower", "bodyMass"],
  SJ: ["jumpHeight", "jumpHeightFlightTime", "takeoffVelocity", "timeToTakeoff", "dipFraction", "peakForce", "peakPower", "bodyMass"],
  DJ: ["rsi", "contactTime", "jumpHeight", "flightTime", "measuredDropHeight", "touchdownVelocity", "peakForce", "bodyMass"],
  RH: ["bestFiveRsi", "hopCount", "meanContactTime", "meanFlightTime", "meanHopHeight", "hopStiffness"],
  IMTP: ["peakForce", "timeToPeakForce", "baselineForce", "force100ms", "force200ms", "rfd0to200", "impulse0to200"],
};
