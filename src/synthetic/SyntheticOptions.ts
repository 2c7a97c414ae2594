import type { Test } from "../protocols/Protocol.ts";
import type { SegmentTag } from "./segments.ts";

/** What a synthetic trial is made of. Everything but the test has a default; without faults the trace is noise-free. */
export interface SyntheticOptions {
  readonly test: Test;
  /** Seed of noise, sway and the phase of ringing; whole number. @default 1 */
  readonly seed?: number;
  /** Body mass, kg. @default 75 */
  readonly mass?: number;
  /** External load, kg. @default 0 */
  readonly load?: number;
  /** m/s^2. @default 9.80665 */
  readonly gravity?: number;
  /** Sampling rate, Hz. @default 1000 */
  readonly rate?: number;
  readonly arms?: "hips" | "swing";
  /** Left or right: all force on that plate. */
  readonly limb?: "both" | "left" | "right";

  /** Jump height from take-off velocity to reach, m. */
  readonly height?: number;
  /** Time from onset to take-off to reach, s (CMJ, SJ). */
  readonly timeToTakeoff?: number;
  /** Depth of the countermovement to reach, m, as a positive number (CMJ). */
  readonly depth?: number;
  /** Unloading before the push of a squat jump, share of body weight, for instance 0.12. @default 0 */
  readonly dip?: number;
  /** True drop of a drop jump, m: v_touchdown^2 / (2 g). @default 0.26 */
  readonly drop?: number;
  /** Contact time of a drop jump, s. @default 0.21 */
  readonly contactTime?: number;
  /** Adds a plate under the box of a drop jump; the athlete leaves it with this downward velocity, m/s. */
  readonly boxLeaveVelocity?: number;
  /** How much lower the centre of mass is at landing than at take-off, m. @default 0 (0.02 in a drop jump) */
  readonly landingLower?: number;
  /** The first jump and the hops after it (RH). @default a 10/5 series */
  readonly hops?: SyntheticHops;
  /** The isometric pull (IMTP). */
  readonly pull?: SyntheticPull;

  /** Quiet standing (or hold) before the movement, s. @default 1.7337 (SJ 2.0173, RH 1.5119, IMTP 1.8041) */
  readonly quietBefore?: number;
  /** Quiet standing after the movement, s. @default 1.6 (DJ 2.2, RH 2, IMTP 1.8) */
  readonly quietAfter?: number;
  /** Height of the final stand above the starting posture, m. @default 0 (SJ 0.3) */
  readonly standingAbove?: number;
  /** Share of the force on the left plate, one for all or by stretch. @default 0.5 */
  readonly leftShare?: number | Readonly<Partial<Record<SegmentTag, number>>>;
  /** `sides`: left and right; `total`: one plate. @default "sides" */
  readonly plates?: "sides" | "total";
  /** Shape of the push-off, over the defaults and targets. */
  readonly shape?: Partial<PushOffShape>;
  readonly faults?: SyntheticFaults;
}

/** Nodes of a countermovement jump; the squat jump and the drop jump use the velocities only. */
export interface PushOffShape {
  /** s. */
  readonly unweightingTime: number;
  /** s. */
  readonly brakingTime: number;
  /** From the lowest point to the peak of velocity, s. */
  readonly propulsionTime: number;
  /** From the peak of velocity to take-off, s. */
  readonly releaseTime: number;
  /** Greatest downward velocity, m/s, as a positive number. */
  readonly downwardVelocity: number;
  /** Acceleration at the lowest point, m/s^2. */
  readonly lowestAcceleration: number;
  /** m/s. */
  readonly peakVelocity: number;
  /** m/s. */
  readonly takeoffVelocity: number;
}

export interface SyntheticHops {
  /** Take-off velocities of the first jump and of each hop, m/s: one more than contact times. */
  readonly takeoffVelocities: readonly number[];
  /** s. */
  readonly contactTimes: readonly number[];
  /** How much lower each landing is, m; one for each flight. @default zeros */
  readonly lower?: readonly number[];
}

export interface SyntheticPull {
  /** Force above body weight before the pull, N. @default 18 */
  readonly pretension?: number;
  /** Rise above it at the end of the pull, N. @default 1750 */
  readonly rise?: number;
  /** Time constant, s: the rate of force development is greatest this long after onset. @default 0.095 */
  readonly timeConstant?: number;
  /** From onset to release, s. @default 3 */
  readonly hold?: number;
}

/** What measuring adds. Every pair is left, right; a single plate takes the first of each. */
export interface SyntheticFaults {
  /** White noise, SD of each plate, N. */
  readonly noise?: number;
  /** Sway in quiet standing, SD of the force of the sum, N. Its velocity stays bounded, as a standing person's does. */
  readonly sway?: number;
  /** Reading of the empty plate, N. */
  readonly offset?: readonly [number, number];
  /** N/s. */
  readonly drift?: readonly [number, number];
  /** Step of the readings, N; 0 for none. */
  readonly quantum?: number;
  /** Greatest reading of a plate, N. */
  readonly clip?: number;
  /** The plate rings after take-off: amplitude of the sum, N, at this frequency, Hz, dying with this time constant, s. */
  readonly ringing?: { readonly amplitude: number; readonly frequency: number; readonly decay?: number };
  /** Readings of a plate below this were set to zero upstream, N. */
  readonly zeroedBelow?: number;
  /** Gain of each plate, no unit. */
  readonly gain?: readonly [number, number];
  /** Seconds cut from the start: a missing quiet stand. */
  readonly cutStart?: number;
  /** The record ends here, s from its uncut start. */
  readonly cutEnd?: number;
  /** Share of the force after landing that the plate still feels: 1 wholly on it, 0 stepped off. */
  readonly landingOnPlate?: number;
}
