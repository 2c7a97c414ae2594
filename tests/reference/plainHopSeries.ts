import { type PlainForce, plainMotion } from "./plainAnalysis.ts";
import type { Influence } from "../support/secondOpinion.ts";

/**
 * A series of hops whose every input can be moved. From the method alone (2.10, 4.3), as plain as the analyses beside it; with it goes what is known
 * of each input.
 */
export interface PlainSeriesInputs {
  readonly sum: PlainForce;
  /** N. */
  readonly bodyWeight: number;
  readonly gravity: number;
  /** All flights, the first jump's too, s; hop k is the contact before flight k with that flight. */
  readonly flights: readonly { readonly takeoff: number; readonly landing: number }[];
  /** How much lower each landing is than thought, m. */
  readonly lower: number;
  /** Numbers of the hops that count, from one on. */
  readonly valid: readonly number[];
  readonly used: "best five" | "last five" | "all valid";
  /** Force of the stiffness: the largest of the contact, or that at the lowest point. */
  readonly stiffnessBy: "peak" | "lowest point";
}

export interface PlainSeriesHop {
  readonly touchdown: number;
  readonly takeoff: number;
  readonly contactTime: number;
  readonly flightTime: number;
  readonly height: number;
  readonly rsi: number;
  readonly stiffness: number;
  readonly peakForce: number;
}

export function plainSeries(x: PlainSeriesInputs): { readonly hops: readonly PlainSeriesHop[]; readonly metrics: Record<string, number> } {
  const { sum, bodyWeight, gravity, flights } = x;
  const hops = flights.slice(1).map(({ takeoff, landing }, k): PlainSeriesHop => {
    const before = flights[k]!;
    const contactTime = takeoff - before.landing;
    const flightTime = landing - takeoff;
    const height = (gravity * flightTime ** 2) / 8 + x.lower / 2;
    const speed = (gravity * (before.landing - before.takeoff)) / 2;
    // By algebra: a landing lower by d takes g d / (2 v) off the velocity by flight time, near enough.
    const motion = plainMotion(sum, bodyWeight, before.landing, takeoff, -speed + (gravity * x.lower) / (2 * speed), gravity);
    const deepest = Math.min(...motion.displacement);
    const peakForce = sum.greatest(before.landing, takeoff);
    const force = x.stiffnessBy === "peak" ? peakForce : sum.at(motion.times[motion.displacement.indexOf(deepest)]!);
    return { touchdown: before.landing, takeoff, contactTime, flightTime, height, rsi: height / contactTime, stiffness: force / Math.abs(deepest), peakForce };
  });
  const mean = (of: readonly PlainSeriesHop[], key: keyof PlainSeriesHop): number => of.reduce((total, hop) => total + hop[key], 0) / of.length;
  const valid = x.valid.map((number) => hops[number - 1]!);
  const best = [...valid].sort((a, b) => b.rsi - a.rsi).slice(0, 5);
  const used = valid.length < 5 || x.used === "all valid" ? valid : x.used === "last five" ? valid.slice(-5) : best;
  const total = flights.at(-1)!.landing - flights[0]!.landing;
  const flying = hops.reduce((time, hop) => time + hop.flightTime, 0);
  return {
    hops,
    metrics: {
      hopCount: valid.length,
      ...(valid.length < 5 ? {} : { bestFiveRsi: mean(best, "rsi"), lastFiveRsi: mean(valid.slice(-5), "rsi") }),
      meanHopRsi: mean(valid, "rsi"),
      meanContactTime: mean(used, "contactTime"),
      meanFlightTime: mean(used, "flightTime"),
      meanHopHeight: mean(used, "height"),
      hopStiffness: mean(used, "stiffness"),
      // Bosco, Luhtanen & Komi (1983), from memory.
      hopPowerFromTimes: (gravity ** 2 * flying * total) / (4 * hops.length * (total - flying)),
    },
  };
}

/** What is known of the inputs: standard uncertainties in the units of the inputs. */
export interface PlainSeriesDoubts {
  readonly bodyWeight: number;
  readonly takeoff: number;
  readonly landing: number;
  readonly lower: number;
  /** Relative. */
  readonly gravity: number;
  readonly gain: number;
  /** Threshold over the mean slope of each kind of edge, over the root of three, s. */
  readonly thresholds: { readonly takeoff: number; readonly landing: number };
}

/** The influences that move the inputs of a series: all take-offs together, all landings together. */
export function plainSeriesInfluences(doubts: PlainSeriesDoubts): Influence<PlainSeriesInputs>[] {
  const edges = (x: PlainSeriesInputs, takeoff: number, landing: number): PlainSeriesInputs => ({ ...x, flights: x.flights.map((flight) => ({ takeoff: flight.takeoff + takeoff, landing: flight.landing + landing })) });
  return [
    { source: "bodyWeight", u: doubts.bodyWeight, step: 0.05, moved: (x, by) => ({ ...x, bodyWeight: x.bodyWeight + by }) },
    { source: "takeoff", u: doubts.takeoff, step: 1e-6, moved: (x, by) => edges(x, by, 0) },
    { source: "landing", u: doubts.landing, step: 1e-6, moved: (x, by) => edges(x, 0, by) },
    { source: "threshold", u: 1, step: 1e-3, moved: (x, by) => edges(x, by * doubts.thresholds.takeoff, -by * doubts.thresholds.landing) },
    { source: "posture", u: doubts.lower, step: 1e-3, moved: (x, by) => ({ ...x, lower: x.lower + by }) },
    { source: "gravity", u: doubts.gravity, step: 1e-4, moved: (x, by) => ({ ...x, gravity: x.gravity * (1 + by) }) },
  ];
}
