import { expect, test } from "vitest";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import type { SyntheticOptions } from "../../../src/synthetic/SyntheticOptions.ts";
import { describeWithData } from "../../support/data.ts";
import { vector, vectorTotal } from "../../support/vectors.ts";

/** The parameters of each vector in words; noise is compared by its size, since another generator drew it. */
const RECIPES: Readonly<Record<string, SyntheticOptions>> = {
  V01: { test: "CMJ" },
  V02: {
    test: "CMJ",
    mass: 82.4,
    shape: { takeoffVelocity: 2.74, peakVelocity: 2.86, downwardVelocity: 1.38, unweightingTime: 0.31, lowestAcceleration: 13 },
    leftShare: { unweighting: 0.51, braking: 0.53, propulsion: 0.54, landing: 0.46 },
  },
  V03: { test: "CMJ", landingLower: 0.06 },
  V04: { test: "CMJ", arms: "swing" },
  V05: { test: "CMJ", mass: 68 },
  V06: { test: "CMJ", limb: "left", rate: 500 },
  V07: { test: "SJ" },
  V08: { test: "SJ", dip: 0.12 },
  V09: { test: "DJ", mass: 70 },
  V10: { test: "DJ", mass: 70, drop: 2.3 ** 2 / (2 * 9.80665), boxLeaveVelocity: 0.45 },
  V11: { test: "RH", mass: 72 },
  V12: { test: "IMTP", mass: 80, leftShare: 0.515, quietAfter: 1.7959 },
};

/** Names of the truths in the vector file and here. */
const NAMES: Readonly<Record<string, string>> = {
  mass: "bodyMass",
  BW: "bodyWeight",
  flight_time: "flightTime",
  v_takeoff: "takeoffVelocity",
  v_landing: "landingVelocity",
  h_tov: "jumpHeightTakeoffVelocity",
  h_ft: "jumpHeightFlightTime",
  h_tov_plus_z: "jumpHeightAboveStanding",
  time_to_takeoff: "timeToTakeoff",
  RSImod_tov: "rsiModified",
  F_peak_prop: "peakForcePropulsion",
  P_peak: "peakPower",
  v_peak: "peakVelocity",
  F_peak_landing: "peakLandingForce",
  landing_time_to_peak: "timeToPeakLandingForce",
  landing_duration: "landingTime",
  landing_net_impulse: "landingImpulse",
  landing_loading_rate_mean: "landingLoadingRate",
  TTS_5pctBW: "timeToStabilisation",
  depth: "countermovementDepth",
  v_min: "minimumVelocity",
  dur_unweighting: "unweightingTime",
  dur_braking: "brakingTime",
  dur_propulsion: "propulsionTime",
  impulse_unweighting: "unweightingImpulse",
  impulse_braking: "brakingImpulse",
  impulse_propulsion: "propulsionImpulse",
  F_mean_unweighting: "meanForceUnweighting",
  F_mean_braking: "meanForceBraking",
  F_mean_propulsion: "meanForcePropulsion",
  P_mean_propulsion: "meanPowerPropulsion",
  P_mean_braking: "meanPowerBraking",
  P_min_braking: "minimumPowerBraking",
  F_min_unweighting: "minimumForce",
  F_at_zero_v: "forceAtZeroVelocity",
  RFD_braking_mean: "brakingRfd",
  dz_propulsion: "propulsionDisplacement",
  F_mean_prop_L: "meanForcePropulsionLeft",
  F_mean_prop_R: "meanForcePropulsionRight",
  F_peak_landing_L: "peakLandingForceLeft",
  F_peak_landing_R: "peakLandingForceRight",
  dip_frac_bw: "dipFraction",
  contact_time: "contactTime",
  v_touchdown: "touchdownVelocity",
  drop_height: "measuredDropHeight",
  RSI_ft: "rsi",
  RSI_ratio: "flightToContactRatio",
  F_peak_contact: "peakForce",
  k_vert: "contactStiffness",
  pretension: "preTensionForce",
  F_peak_gross: "peakForce",
  F_50_gross: "force50ms",
  F_90_gross: "force90ms",
  F_100_gross: "force100ms",
  F_150_gross: "force150ms",
  F_200_gross: "force200ms",
  F_250_gross: "force250ms",
  RFD_0_50: "rfd0to50",
  RFD_0_100: "rfd0to100",
  RFD_0_150: "rfd0to150",
  RFD_0_200: "rfd0to200",
  RFD_0_250: "rfd0to250",
  RFD_50_100: "rfd50to100",
  RFD_100_200: "rfd100to200",
  RSI_best5_mean: "bestFiveRsi",
};
const EVENTS: Readonly<Record<string, string>> = { t_takeoff: "takeoff", t_landing: "landing", t_low: "lowest", t_minv: "minimumVelocity", t_touchdown: "touchdown" };

describeWithData("syntheticTrial against the published vectors", () => {
  test.each(Object.entries(RECIPES))("%s has the same truths", (id, recipe) => {
    const { truth: expected } = vector(id);
    const { truth, events } = syntheticTrial(recipe);
    let compared = 0;
    for (const [name, value] of Object.entries(expected)) {
      if (typeof value !== "number") continue;
      const got = name in EVENTS ? events[EVENTS[name] as keyof typeof events] : truth[NAMES[name]];
      if (got === undefined) continue;
      // The file holds nine significant digits.
      expect(Math.abs(got - value), `${id} ${name}: ${got} against ${value}`).toBeLessThanOrEqual(2e-8 * Math.max(1, Math.abs(value)));
      compared++;
    }
    expect(compared).toBeGreaterThanOrEqual(id === "V11" ? 2 : 15);
  });

  test.each(Object.entries(RECIPES))("%s has the same segments", (id, recipe) => {
    const { nodes } = vector(id);
    const { segments } = syntheticTrial(recipe);
    expect(segments.length).toBe(nodes.length);
    for (const [i, node] of nodes.entries()) {
      const segment = segments[i];
      const pairs = [
        [segment.start, node.t0],
        [segment.start + segment.duration, node.t1],
        [segment.v0, node.v0],
        [segment.v1, node.v1],
        [segment.a0, node.a0],
        [segment.a1, node.a1],
        [segment.z1, node.z1],
      ];
      for (const [got, expected] of pairs) expect(Math.abs(got - expected), `${id} node ${i}`).toBeLessThanOrEqual(5e-8);
    }
  });

  // The noise-free ones sample by sample; six decimals in the file.
  test.each(["V01", "V03", "V07", "V09", "V11", "V12"])("%s has the same samples", (id) => {
    const given = vector(id);
    const { trace } = syntheticTrial(RECIPES[id]);
    expect(trace.plates[0].force.length).toBe(given.samples);
    for (const [k, column] of given.columns.entries()) {
      let worst = 0;
      for (let i = 0; i < column.length; i++) worst = Math.max(worst, Math.abs(column[i] - trace.plates[k].force[i]));
      expect(worst, `${id} column ${k}`).toBeLessThan(2e-5);
    }
  });

  // Noise of both plates adds as the root of two; quantisation of 0.25 N adds 0.25 / sqrt(12) a plate.
  test.each([
    ["V02", 1.5],
    ["V04", 1],
    ["V06", 1],
    ["V08", 1],
  ])("%s differs from the noise-free trace by its noise alone", (id, noise) => {
    const given = vector(id);
    const total = vectorTotal(given);
    const { trace } = syntheticTrial(RECIPES[id]);
    expect(trace.plates[0].force.length).toBe(given.samples);
    let sum = 0;
    let square = 0;
    for (let i = 0; i < total.length; i++) {
      const difference = total[i] - trace.plates[0].force[i] - trace.plates[1].force[i];
      sum += difference;
      square += difference ** 2;
    }
    const deviation = Math.sqrt(square / total.length);
    expect(deviation / (noise * Math.SQRT2)).toBeGreaterThan(0.95);
    expect(deviation / (noise * Math.SQRT2)).toBeLessThan(1.06);
    expect(Math.abs(sum / total.length)).toBeLessThan(0.12);
  });
});
