import type { EventName } from "../protocols/Analysis.ts";
import type { Test } from "../protocols/Protocol.ts";

/** A force that was cut off at the end of the range. */
export interface Clipping {
  /** Side of the plate; absent where one plate carries everything. */
  readonly plate?: string;
  /** Force at which it is cut off, N. */
  readonly force: number;
  /** Which part of the trial it spoils. */
  readonly part: "push" | "landing";
}

/**
 * What the rules look at: measured by the analysis, judged by `rules.ts`. An absent fact could not be had from this
 * trial; a rule that needs it is reported as not checked.
 */
export interface Facts {
  test: Test;
  /** Hz. */
  rate: number;
  /** Unsteady: a stand on one leg, a held squat, taut straps. */
  stance: "stand" | "unsteady";
  filteredAt?: number;

  // Weighing: N, s, kg.
  bodyWeight?: number;
  bodyWeightGiven?: boolean;
  weighingSeconds?: number;
  weighingByHand?: boolean;
  /** SD of 50 ms means, and difference of the halves. */
  weighingSway?: number;
  weighingHalf?: number;
  noQuietStand?: boolean;
  quietSeconds?: number;
  /** True where the body was at rest at no instant from which to integrate. */
  noRest?: boolean;
  bodyMass?: number;
  enteredMass?: number;

  // Plates.
  /** Reading of the empty plates: of the sum and per side, N. */
  offset?: number;
  offsetLeft?: number;
  offsetRight?: number;
  offsetRemoved?: boolean;
  /** True where the force is exactly zero in flight though it has noise under load. */
  zeroedUpstream?: boolean;
  /** Smallest force that was left, N. */
  cutValue?: number;
  /** N/s. */
  drift?: number;
  driftRemoved?: boolean;
  clipping?: readonly Clipping[];
  threshold?: number;
  thresholdAsked?: number;
  /** Largest distance from zero of the empty plates, N. */
  residual?: number;
  /** Short excursions above the threshold in flight. */
  bridged?: number;
  onsetLimit?: number;
  onsetLimitUsed?: number;
  twoPlates?: boolean;
  /** Share of the left plate in standing. */
  leftShare?: number;
  /** True where the other foot, too, was on its plate after the landing of a test of one leg. */
  otherFootLands?: boolean;
  /** Leg that carried the load where the protocol names the other one. */
  otherLeg?: "left" | "right" | undefined;
  /** Largest mean of the plate that should be free, N. */
  freePlate?: number;

  // Jump: s, m, m/s.
  noFlight?: boolean;
  /** Jumps of the record, and which of them is analysed. */
  jumps?: number;
  jumpNumber?: number;
  noLanding?: boolean;
  /** Seconds recorded after touchdown, where that is too little for the landing. */
  recordEnds?: number;
  noOnset?: boolean;
  noLowest?: boolean;
  /** Take-off velocity that is not upward. */
  noTakeoffVelocity?: number;
  flight?: number;
  /** Largest force before take-off over body weight. */
  pushShare?: number;
  heightVelocity?: number;
  heightDifference?: number;
  endVelocity?: number;
  /** Change of height if the velocity left at the end came from body weight. */
  endVelocityHeight?: number;
  /** True where the velocity is zero at the end by construction. */
  endsBackward?: boolean;
  /** Longest time below the limit after landing, and final standing over body weight. */
  lowAfterLanding?: number;
  finalShare?: number;
  moved?: readonly { readonly event: EventName; readonly time: number }[];

  // Squat jump.
  dipRule?: string;
  /** Share of body weight, SDs of the hold, m. */
  dip?: number;
  dipDeviations?: number;
  dipDepth?: number;
  holdSeconds?: number;
  holdSway?: number;

  // Drop jump.
  emptyBefore?: number;
  emptyDifference?: number;
  doubleContact?: number;
  split?: number;
  measuredDrop?: number;
  nominalDrop?: number;
  contact?: number;
  finalStandSeconds?: number;
  route?: string;
  routeAsked?: string;
  peakOverLowest?: number;

  // Repeated hops.
  validHops?: number;
  droppedHops?: number;
  droppedWhy?: string;

  // Isometric pull.
  baseline?: number;
  baselineSway?: number;
  pretension?: number;
  pullDip?: number;
  peakAtEnd?: boolean;
  noPull?: boolean;
  pulls?: number;
}
