import { describe, expect, test } from "vitest";
import { InputError } from "../../src/errors.ts";
import { analyse } from "../../src/protocols/analyse.ts";
import type { Analysis, EventName } from "../../src/protocols/Analysis.ts";
import { parseAdjust } from "../../src/protocols/parseAdjust.ts";
import { parseProtocol } from "../../src/protocols/parseProtocol.ts";
import { DEFAULT_SETTINGS } from "../../src/settings/defaultSettings.ts";
import { seededRandom } from "../../src/synthetic/seededRandom.ts";
import type { SyntheticOptions } from "../../src/synthetic/SyntheticOptions.ts";
import { type SyntheticTrial, syntheticTrial } from "../../src/synthetic/syntheticTrial.ts";
import { seeds } from "../support/randomTrial.ts";
import { PlainForce, plainCountermovement, plainMotion } from "./plainAnalysis.ts";
import { plainDrop, plainFlights, plainHops, plainLanding, plainPull, plainSide, plainSquat, plainSteepest } from "./plainTests.ts";

type Random = ReturnType<typeof seededRandom>;

/** Trials of a test for seeds from one on; targets that do not go together are drawn again. */
function trials(count: number, options: (random: Random, seed: number) => SyntheticOptions): { readonly seed: number; readonly trial: SyntheticTrial }[] {
  return seeds(count).map((seed) => {
    const random = seededRandom(1000 + seed);
    for (;;) {
      try {
        return { seed, trial: syntheticTrial({ seed, mass: random.between(45, 110), rate: seed % 3 === 0 ? 500 : 1000, faults: { noise: seed % 3, sway: seed % 4 }, ...options(random, seed) }) };
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
      }
    }
  });
}

const at = (analysis: Analysis, name: EventName): number => analysis.events.get(name)!.time;

/** The sum of the plates, or one, less a zero. */
function force({ trace }: SyntheticTrial, zero: number, plate?: number): PlainForce {
  const plates = plate === undefined ? trace.plates : [trace.plates[plate]!];
  return new PlainForce(Array.from(plates[0]!.force, (_, i) => plates.reduce((sum, each) => sum + each.force[i]!, -zero)), trace.rate);
}

/** Mean of the samples well inside flights, N. */
function zeroOf(raw: PlainForce, flights: readonly (readonly [number, number])[]): number {
  const inside = flights.flatMap(([takeoff, landing]) => raw.samples.slice(Math.ceil((takeoff + 0.03) * raw.rate), Math.floor((landing - 0.03) * raw.rate)));
  return inside.reduce((sum, value) => sum + value, 0) / inside.length;
}

function weight(sum: PlainForce, analysis: Analysis): number {
  const window = sum.samples.slice(Math.round(at(analysis, "weighingStart") * sum.rate), Math.round(at(analysis, "weighingEnd") * sum.rate));
  return window.reduce((total, value) => total + value, 0) / window.length;
}

/** Every metric of the second opinion is one of the product's and agrees with it; gives how many were compared. */
function expectSame(analysis: Analysis, plain: Readonly<Record<string, number>>, seed: number, suffix = ""): number {
  let compared = 0;
  for (const [name, value] of Object.entries(plain)) {
    const id = `${name}${suffix}`;
    const got = analysis.metrics.get(id)?.value;
    expect(got, `${id} of trial ${seed}`).toBeDefined();
    // The steepest window may end between two samples there.
    const allowed = (name === "maximumRfd" ? 0.02 : 0.0005) * Math.abs(value) + 3e-5;
    expect(Math.abs(got! - value), `${id} of trial ${seed}: ${got} against ${value}`).toBeLessThanOrEqual(allowed);
    compared++;
  }
  return compared;
}

describe("analyse and a second opinion written apart from it agree, given the same events", () => {
  test("on squat jumps, with sides and landing", () => {
    let compared = 0;
    for (const { seed, trial } of trials(60, (random, n) => ({ test: "SJ", height: random.between(0.18, 0.42), dip: n % 5 === 0 ? 0.02 : 0, leftShare: random.between(0.45, 0.55), landingLower: random.between(0, 0.02) }))) {
      const analysis = analyse(trial.trace, parseProtocol("SJ"), DEFAULT_SETTINGS);
      const events = { holdEnd: at(analysis, "holdEnd"), onset: at(analysis, "onset"), takeoff: at(analysis, "takeoff"), landing: at(analysis, "landing") };
      const flight = [[events.takeoff, events.landing]] as const;
      const sum = force(trial, zeroOf(force(trial, 0), flight));
      compared += expectSame(analysis, plainSquat(sum, weight(sum, analysis), events), seed);
      compared += expectSame(analysis, { maximumRfd: plainSteepest(sum, events.onset, at(analysis, "peakForce"), 0.05) }, seed);
      for (const [plate, side] of ["Left", "Right"].entries()) {
        const one = force(trial, zeroOf(force(trial, 0, plate), flight), plate);
        compared += expectSame(analysis, plainSide(one, "Propulsion", events.onset, events.takeoff), seed, side);
      }
    }
    expect(compared).toBeGreaterThan(60 * 30);
  });

  test("on drop jumps whose velocity comes from the stand after the landing, with sides", () => {
    let compared = 0;
    for (const { seed, trial } of trials(60, (random) => ({ test: "DJ", height: random.between(0.2, 0.4), drop: random.between(0.18, 0.45), contactTime: random.between(0.17, 0.3), leftShare: random.between(0.45, 0.55) }))) {
      const analysis = analyse(trial.trace, parseProtocol("DJ drop=0.30"), DEFAULT_SETTINGS);
      const events = { touchdown: at(analysis, "touchdown"), takeoff: at(analysis, "takeoff"), landing: at(analysis, "landing"), standStart: at(analysis, "weighingStart"), standEnd: at(analysis, "weighingEnd") };
      const flight = [[events.takeoff, events.landing]] as const;
      const sum = force(trial, zeroOf(force(trial, 0), flight));
      compared += expectSame(analysis, plainDrop(sum, weight(sum, analysis), events), seed);
      for (const [plate, side] of ["Left", "Right"].entries()) {
        const one = force(trial, zeroOf(force(trial, 0, plate), flight), plate);
        compared += expectSame(analysis, { ...plainSide(one, "Braking", events.touchdown, at(analysis, "lowest")), ...plainSide(one, "Propulsion", at(analysis, "lowest"), events.takeoff) }, seed, side);
      }
    }
    expect(compared).toBeGreaterThan(60 * 40);
  });

  test.each(["left", "right"] as const)("on countermovement jumps on the %s leg: the loaded plate alone counts", (limb) => {
    let compared = 0;
    for (const { seed, trial } of trials(30, (random) => ({ test: "CMJ", limb, height: random.between(0.1, 0.22), timeToTakeoff: random.between(0.7, 0.95), depth: random.between(0.15, 0.25) }))) {
      const analysis = analyse(trial.trace, parseProtocol(`CMJ limb=${limb}`), DEFAULT_SETTINGS);
      const events = { onset: at(analysis, "onset"), takeoff: at(analysis, "takeoff"), landing: at(analysis, "landing") };
      const plate = limb === "left" ? 0 : 1;
      const leg = force(trial, zeroOf(force(trial, 0, plate), [[events.takeoff, events.landing]]), plate);
      const bodyWeight = weight(leg, analysis);
      const { heightDifference, ...plain } = plainCountermovement(leg, bodyWeight, events);
      compared += expectSame(analysis, { ...plain, ...plainLanding(leg, bodyWeight, events.landing, plainMotion(leg, bodyWeight, events.onset, leg.end)) }, seed);
      expect(Math.abs(analysis.metrics.get("heightDifference")!.value - heightDifference!), `seed ${seed}`).toBeLessThan(0.0005);
    }
    expect(compared).toBeGreaterThan(30 * 35);
  });

  test("on isometric pulls, with sides", () => {
    let compared = 0;
    for (const { seed, trial } of trials(60, (random) => ({ test: "IMTP", pull: { pretension: random.between(5, 40), rise: random.between(900, 2600), timeConstant: random.between(0.06, 0.15) }, leftShare: random.between(0.45, 0.55) }))) {
      const bodyWeight = Number(trial.truth.bodyWeight!.toFixed(1));
      const analysis = analyse(trial.trace, parseProtocol("IMTP"), DEFAULT_SETTINGS, parseAdjust(`bodyWeight=${bodyWeight}`));
      const weighing = [at(analysis, "weighingStart"), at(analysis, "weighingEnd")] as const;
      const sum = force(trial, 0);
      const onset = at(analysis, "pullOnset");
      const plain = plainPull(sum, onset, weighing, bodyWeight);
      // On the flat top of a pull any sample may be the greatest.
      const { timeToPeakForce, ...others } = plain;
      compared += expectSame(analysis, others, seed);
      expect(Math.abs(sum.at(onset + analysis.metrics.get("timeToPeakForce")!.value) - sum.at(onset + timeToPeakForce!)), `seed ${seed}`).toBeLessThan(1e-6);
      for (const [plate, side] of ["Left", "Right"].entries()) {
        const one = force(trial, 0, plate);
        const sides = plainPull(one, onset, weighing, 0);
        compared += expectSame(analysis, Object.fromEntries(Object.entries(sides).filter(([name]) => /^(baselineForce|force\d|impulse)/.test(name))), seed, side);
      }
    }
    expect(compared).toBeGreaterThan(60 * 35);
  });
});

describe("analyse and a second opinion agree, each finding its own events", () => {
  test("on repeated hops: every contact and flight, and what is made of them", () => {
    let hopsSeen = 0;
    for (const { seed, trial } of trials(40, (random) => ({
      test: "RH",
      hops: { takeoffVelocities: Array.from({ length: 11 }, () => random.between(1.9, 2.9)), contactTimes: Array.from({ length: 10 }, () => random.between(0.15, 0.24)) },
    }))) {
      const analysis = analyse(trial.trace, parseProtocol("RH"), DEFAULT_SETTINGS);
      const raw = force(trial, 0);
      const rough = plainFlights(raw, Math.max(...raw.samples) / 5, 40).map(({ takeoff, landing }) => [takeoff, landing] as const);
      const sum = force(trial, zeroOf(raw, rough));
      const bodyWeight = weight(sum, analysis);
      const residual = Math.max(...rough.map(([takeoff, landing]) => Math.max(...sum.samples.slice(Math.ceil((takeoff + 0.1) * sum.rate), Math.floor((landing - 0.1) * sum.rate)).map(Math.abs))));
      const flights = plainFlights(sum, bodyWeight, Math.max(20, 1.2 * residual));
      const { hops, metrics } = plainHops(sum, bodyWeight, flights);
      expectSame(analysis, metrics, seed);
      expect(analysis.hops).toHaveLength(hops.length);
      for (const [index, hop] of hops.entries()) {
        const own = analysis.hops![index]!;
        expect(Math.abs(own.contactTime - hop.contactTime), `contact ${index} of seed ${seed}`).toBeLessThan(0.0003);
        expect(Math.abs(own.flightTime - hop.flightTime), `flight ${index} of seed ${seed}`).toBeLessThan(0.0003);
        expect(Math.abs(own.rsi / hop.rsi - 1), `index ${index} of seed ${seed}`).toBeLessThan(0.003);
        hopsSeen++;
      }
    }
    expect(hopsSeen).toBe(400);
  });
});
