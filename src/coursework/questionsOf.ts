import type { Test } from "../protocols/Protocol.ts";

/** How far an answer may be from the truth: the larger of a distance in the unit and a share of the value. */
export interface Leeway {
  readonly metric: string;
  readonly distance: number;
  readonly share: number;
}

/**
 * Leeways hold what published choices change (onset rule 30 ms, threshold 10 to 50 N, sampling) and ordinary noise; common practice.
 */
const HEIGHTS: readonly Leeway[] = [
  { metric: "flightTime", distance: 0.005, share: 0 },
  { metric: "jumpHeightFlightTime", distance: 0.007, share: 0 },
];
const WEIGHTS: readonly Leeway[] = [
  { metric: "bodyWeight", distance: 2, share: 0.003 },
  { metric: "bodyMass", distance: 0.2, share: 0.003 },
];
const PUSH: readonly Leeway[] = [
  { metric: "takeoffVelocity", distance: 0.03, share: 0.01 },
  { metric: "jumpHeightTakeoffVelocity", distance: 0.009, share: 0 },
  { metric: "peakForce", distance: 5, share: 0.01 },
  { metric: "propulsionImpulse", distance: 2, share: 0.015 },
  { metric: "timeToTakeoff", distance: 0.045, share: 0 },
  { metric: "rsiModified", distance: 0.01, share: 0.06 },
  { metric: "peakPower", distance: 20, share: 0.015 },
];

const QUESTIONS: Readonly<Record<Test, readonly Leeway[]>> = {
  CMJ: [...WEIGHTS, ...HEIGHTS, ...PUSH, { metric: "countermovementDepth", distance: 0.012, share: 0 }, { metric: "meanForcePropulsionAsymmetry", distance: 0.6, share: 0 }],
  SJ: [...WEIGHTS, ...HEIGHTS, ...PUSH],
  DJ: [
    ...HEIGHTS,
    { metric: "contactTime", distance: 0.005, share: 0 },
    { metric: "rsi", distance: 0.01, share: 0.04 },
    { metric: "flightToContactRatio", distance: 0.01, share: 0.03 },
    { metric: "touchdownVelocity", distance: 0.06, share: 0 },
    { metric: "measuredDropHeight", distance: 0.014, share: 0 },
  ],
  RH: [
    { metric: "meanContactTime", distance: 0.004, share: 0 },
    { metric: "meanFlightTime", distance: 0.004, share: 0 },
    { metric: "bestFiveRsi", distance: 0.01, share: 0.03 },
  ],
  IMTP: [
    { metric: "preTensionForce", distance: 3, share: 0.05 },
    { metric: "peakForce", distance: 5, share: 0.005 },
    { metric: "force100ms", distance: 5, share: 0.04 },
    { metric: "force200ms", distance: 5, share: 0.025 },
    { metric: "rfd0to200", distance: 50, share: 0.06 },
  ],
};

/**
 * The usual questions of a test with their leeway.
 *
 * @param test Which test.
 * @returns Metric ids; distances in the SI unit of the metric, shares without a unit.
 */
export function questionsOf(test: Test): readonly Leeway[] {
  return QUESTIONS[test];
}
