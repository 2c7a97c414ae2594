/** What the mistakes of one trial are worked from. */
export interface MistakeFacts {
  /** Exact answers of the trial by metric id, SI units. */
  readonly truth: Readonly<Record<string, number>>;
  /** m/s^2. */
  readonly gravity: number;
  /** Empty reading of the sum, N. */
  readonly offset: number;
  /** Take-off counted from the start of the record, s. */
  readonly takeoff?: number;
}

type Wrong = readonly [id: string, value: number];

/**
 * The answers that usual mistakes lead to, for one metric of one trial.
 *
 * @param metric Metric id, plain or in the `Asymmetry` form.
 * @param facts Exact answers and circumstances of the trial, SI units.
 * @returns Mistake ids of `src/wording` with the value each gives, in the unit of the metric; the most telling first.
 */
export function mistakesOf(metric: string, facts: MistakeFacts): readonly Wrong[] {
  const particular = metric.endsWith("Asymmetry") ? asymmetryMistakes(metric.slice(0, -"Asymmetry".length), facts) : (MISTAKES[metric]?.(facts) ?? []);
  const right = valueOf(metric, facts.truth);
  const slips: Wrong[] = [
    ["sign", -right],
    ["timesHundred", right * 100],
    ["timesThousand", right * 1000],
    ["overHundred", right / 100],
    ["overThousand", right / 1000],
  ];
  return [...particular, ...slips].filter(([, value]) => Number.isFinite(value));
}

/**
 * The exact answer to a question.
 *
 * @param metric Metric id, plain or in the `Asymmetry` form.
 * @param truth Exact answers by id.
 * @returns The value in the unit of the metric; asymmetry in per cent of the sum, positive when left is higher; NaN where there is none.
 */
export function valueOf(metric: string, truth: Readonly<Record<string, number>>): number {
  if (!metric.endsWith("Asymmetry")) return truth[metric] ?? NaN;
  const [left, right] = sidesOf(metric.slice(0, -"Asymmetry".length), truth);
  return (100 * (left - right)) / (left + right);
}

function sidesOf(metric: string, truth: Readonly<Record<string, number>>): [number, number] {
  return [truth[`${metric}Left`] ?? NaN, truth[`${metric}Right`] ?? NaN];
}

function asymmetryMistakes(metric: string, { truth }: MistakeFacts): Wrong[] {
  const [left, right] = sidesOf(metric, truth);
  const difference = left - right;
  return [
    ["ratioForPercent", difference / (left + right)],
    ["denominatorLarger", (100 * difference) / Math.max(left, right)],
    ["denominatorMean", (200 * difference) / (left + right)],
    ["shareForAsymmetry", (100 * left) / (left + right)],
    ["differenceOnly", difference],
  ];
}

/** Force above body weight, per kilogram, in body weights. */
function forceMistakes(force: number, { truth }: MistakeFacts): Wrong[] {
  return [
    ["netForGross", force - truth.bodyWeight],
    ["perKilogram", force / truth.bodyMass],
    ["inBodyWeights", force / truth.bodyWeight],
  ];
}

const MISTAKES: Readonly<Record<string, (facts: MistakeFacts) => Wrong[]>> = {
  bodyWeight: ({ truth, offset }) => [
    ["massForWeight", truth.bodyMass],
    ["zeroNotTaken", truth.bodyWeight + offset],
  ],
  bodyMass: ({ truth, offset, gravity }) => [
    ["gravityLeftOut", truth.bodyWeight],
    ["zeroNotTaken", truth.bodyMass + offset / gravity],
  ],
  flightTime: ({ truth }) => [
    ["halfOfFlight", truth.flightTime / 2],
    ["contactForFlight", truth.contactTime ?? truth.timeToTakeoff],
  ],
  jumpHeightFlightTime: ({ truth, gravity }) => [
    ["gravityLeftOut", truth.jumpHeightFlightTime / gravity],
    ["wholeFlightAsRise", 4 * truth.jumpHeightFlightTime],
    ["halvedTwice", truth.jumpHeightFlightTime / 4],
    ["otherHeight", truth.jumpHeightTakeoffVelocity],
    ["heightAboveStanding", truth.jumpHeightAboveStanding],
  ],
  jumpHeightTakeoffVelocity: ({ truth, gravity }) => [
    ["gravityLeftOut", truth.takeoffVelocity ** 2 / 2],
    ["factorTwoLeftOut", truth.takeoffVelocity ** 2 / gravity],
    ["heightAboveStanding", truth.jumpHeightAboveStanding],
    ["peakForTakeoff", truth.peakVelocity ** 2 / (2 * gravity)],
    ["otherHeight", truth.jumpHeightFlightTime],
  ],
  takeoffVelocity: ({ truth, gravity }) => [
    ["peakForTakeoff", truth.peakVelocity],
    ["wholeFlightAsRise", gravity * truth.flightTime],
    ["gravityLeftOut", truth.flightTime / 2],
    ["grossForNet", (truth.propulsionImpulse + truth.bodyWeight * truth.propulsionTime) / (truth.bodyWeight / gravity)],
  ],
  peakForce: (facts) => [...forceMistakes(facts.truth.peakForce, facts), ["landingForPush", facts.truth.peakLandingForce]],
  force100ms: (facts) => forceMistakes(facts.truth.force100ms, facts),
  force200ms: (facts) => forceMistakes(facts.truth.force200ms, facts),
  propulsionImpulse: ({ truth, gravity }) => [
    ["grossForNet", truth.propulsionImpulse + truth.bodyWeight * truth.propulsionTime],
    ["perKilogram", (truth.propulsionImpulse / truth.bodyWeight) * gravity],
  ],
  timeToTakeoff: ({ truth, takeoff }) => [
    ["fromStartOfRecord", takeoff ?? NaN],
    ["flightForContact", truth.flightTime],
  ],
  rsiModified: ({ truth }) => [
    ["flightForHeight", truth.flightTimeToTakeoffTimeRatio],
    ["wrongDenominator", truth.jumpHeightTakeoffVelocity / truth.flightTime],
    ["upsideDown", 1 / truth.rsiModified],
  ],
  peakPower: ({ truth, gravity }) => [["perKilogram", (truth.peakPower / truth.bodyWeight) * gravity]],
  countermovementDepth: ({ truth }) => [["pushOffForDepth", truth.pushOffDistance]],
  contactTime: ({ truth }) => [["flightForContact", truth.flightTime]],
  rsi: ({ truth }) => [
    ["flightForHeight", truth.flightToContactRatio],
    ["wrongDenominator", truth.jumpHeightFlightTime / (truth.contactTime + truth.flightTime)],
    ["otherHeight", truth.jumpHeightTakeoffVelocity / truth.contactTime],
    ["upsideDown", 1 / truth.rsi],
  ],
  flightToContactRatio: ({ truth }) => [
    ["heightForFlight", truth.rsi],
    ["upsideDown", 1 / truth.flightToContactRatio],
  ],
  measuredDropHeight: ({ truth, gravity }) => [
    ["gravityLeftOut", truth.touchdownVelocity ** 2 / 2],
    ["factorTwoLeftOut", truth.touchdownVelocity ** 2 / gravity],
  ],
  bestFiveRsi: ({ truth }) => [
    ["meanOfAll", truth.meanHopRsi],
    ["lastForBest", truth.lastFiveRsi],
  ],
  preTensionForce: ({ truth }) => [["grossForNet", truth.baselineForce]],
  rfd0to200: ({ truth }) => [
    ["startNotSubtracted", truth.force200ms / 0.2],
    ["timeLeftOut", truth.force200ms - truth.baselineForce],
  ],
};
