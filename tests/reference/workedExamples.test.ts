import { expect, test } from "vitest";
import { armSwingGain } from "../../src/metrics/armSwingGain.ts";
import { asymmetry } from "../../src/metrics/asymmetry.ts";
import { bilateralIndex } from "../../src/metrics/bilateralIndex.ts";
import { dynamicStrengthIndex } from "../../src/metrics/dynamicStrengthIndex.ts";
import { eccentricUtilisationRatio } from "../../src/metrics/eccentricUtilisationRatio.ts";
import { flightTimeFromFramesUncertainty } from "../../src/metrics/flightTimeFromFramesUncertainty.ts";
import { flightTimeFromJumpHeight } from "../../src/metrics/flightTimeFromJumpHeight.ts";
import { hopPower } from "../../src/metrics/hopPower.ts";
import { hopStiffness } from "../../src/metrics/hopStiffness.ts";
import { jumpHeightFromFlightTime } from "../../src/metrics/jumpHeightFromFlightTime.ts";
import { jumpHeightFromTakeoffVelocity } from "../../src/metrics/jumpHeightFromTakeoffVelocity.ts";
import { meanPushOffForce } from "../../src/metrics/meanPushOffForce.ts";
import { meanPushOffPower } from "../../src/metrics/meanPushOffPower.ts";
import { meanPushOffVelocity } from "../../src/metrics/meanPushOffVelocity.ts";
import { normalGravity } from "../../src/metrics/normalGravity.ts";
import { powerEstimate } from "../../src/metrics/powerEstimate.ts";
import { prestretchAugmentation } from "../../src/metrics/prestretchAugmentation.ts";
import { reactiveStrengthIndex } from "../../src/metrics/reactiveStrengthIndex.ts";
import { springMassHop } from "../../src/metrics/springMassHop.ts";
import { touchdownVelocityFromDropHeight } from "../../src/metrics/touchdownVelocityFromDropHeight.ts";
import { loadProfile } from "../../src/sessions/loadProfile.ts";
import { baselineBand } from "../../src/statistics/baselineBand.ts";
import { bestOfBias } from "../../src/statistics/bestOfBias.ts";
import { exponentiallyWeightedMean } from "../../src/statistics/exponentiallyWeightedMean.ts";
import { individualChange } from "../../src/statistics/individualChange.ts";
import { intraclassCorrelation } from "../../src/statistics/intraclassCorrelation.ts";
import { largerVariationRule } from "../../src/statistics/largerVariationRule.ts";
import { limitsOfAgreement } from "../../src/statistics/limitsOfAgreement.ts";
import { mannWhitney } from "../../src/statistics/mannWhitney.ts";
import { minimalDetectableChange } from "../../src/statistics/minimalDetectableChange.ts";
import { ratioInterval } from "../../src/statistics/ratioInterval.ts";
import { reliableChangeIndex } from "../../src/statistics/reliableChangeIndex.ts";
import { tScore } from "../../src/statistics/tScore.ts";
import { typicalError } from "../../src/statistics/typicalError.ts";
import { zScore } from "../../src/statistics/zScore.ts";
import { dataText, describeWithData } from "../support/data.ts";

/** Numbers worked out by an independent script before this code was written. */
interface Examples {
  readonly [name: string]: unknown;
}

const near = (actual: number, expected: unknown, relative = 1e-8): void => {
  expect(typeof expected).toBe("number");
  expect(Math.abs(actual - (expected as number))).toBeLessThanOrEqual(relative * Math.max(1, Math.abs(expected as number)));
};

describeWithData("worked examples of an independent script", () => {
  const examples = (): Examples => JSON.parse(dataText("vectors/worked_examples.json")) as Examples;
  const group = (name: string): Record<string, unknown> => examples()[name] as Record<string, unknown>;

  test("local gravity", () => {
    for (const [place, value] of Object.entries(group("gravity_wgs84"))) {
      const [latitude, elevation] = place.match(/[\d.]+/g)!.map(Number);
      near(normalGravity(latitude, elevation), value, 1e-12);
    }
  });

  test("heights, times, velocities and their uncertainty", () => {
    const all = examples();
    near(jumpHeightFromFlightTime(0.5), all["h_ft_0.5s"]);
    near(jumpHeightFromTakeoffVelocity(2.6), all["h_v_2.6"]);
    near(flightTimeFromJumpHeight(0.3), all["tf_from_h0.30"]);
    near(-touchdownVelocityFromDropHeight(0.3), all["vtd_0.30"]);
    for (const [rate, value] of Object.entries(group("u_flight_time"))) {
      near(1000 * flightTimeFromFramesUncertainty(Number.parseFloat(rate), 0), (value as { u_tf_ms: number }).u_tf_ms);
    }
  });

  test("reactive strength, hops and spring", () => {
    near(reactiveStrengthIndex(jumpHeightFromFlightTime(0.5), 0.2), group("RSI").RSI);
    near(hopStiffness(72, 0.534, 0.188), examples().dalleau);
    near(hopPower(15, 9, 15), group("bosco").P);
    const spring = group("spring_mass_exact");
    const hop = springMassHop(72, 25000, 2.6);
    near(hop.contactTime, spring.tc);
    near(hop.peakForce, spring.Fpeak);
    near(hop.compression, spring.dz);
    near(hopStiffness(72, hop.flightTime, hop.contactTime), spring.dalleau);
  });

  test("power estimates", () => {
    const ids = {
      Sayers_SJ: "sayersSquatJump",
      Sayers_CMJ: "sayersCountermovementJump",
      Harman_minus: "harmanPeak",
      Harman_mean: "harmanMean",
      JB_peak: "johnsonBahamondePeak",
      JB_mean: "johnsonBahamondeMean",
      Canavan: "canavanVescovi",
    };
    for (const [name, id] of Object.entries(ids)) near(powerEstimate(0.4, 75, id, 1.78), group("power_eq")[name]);
  });

  test("loaded jumps", () => {
    const one = group("samozino");
    near(meanPushOffForce(80, 0.3, 0.4), one.F);
    near(meanPushOffVelocity(0.3), one.v);
    near(meanPushOffPower(80, 0.3, 0.4), one.P);
    const line = group("fv_profile");
    const profile = loadProfile([0, 20, 40, 60], [0.36, 0.29, 0.235, 0.19], 80, 0.4);
    near(profile.maximalForce.value, line.F0);
    near(profile.slope.value, line.Sfv);
    near(profile.maximalVelocity.value, line.v0);
    near(profile.maximalPower.value, line.Pmax);
  });

  test("ratios of tests", () => {
    const ratios = group("ratios");
    near(eccentricUtilisationRatio(38, 35), ratios.EUR);
    near(prestretchAugmentation(38, 35), ratios.PSA);
    near(dynamicStrengthIndex(2000, 2450), ratios.DSI_gross);
    near(dynamicStrengthIndex(2000, 2450, 735.5), ratios.DSI_netBW);
    near(armSwingGain(44, 38), ratios.arm);
    near(bilateralIndex(38, 20, 21), ratios.BLI);
    near(bilateralIndex(2000, 1150, 1100), ratios.BLI_force);
  });

  test("asymmetry formulas; the ones printed as right minus left have the opposite sign here", () => {
    const values = group("asym");
    const names = {
      LSI1: "limbSymmetryIndex1",
      LSI2: "limbSymmetryIndex2",
      BSA: "bilateralStrengthAsymmetry",
      BAI1: "bilateralAsymmetryIndex1",
      BAI2: "bilateralAsymmetryIndex2",
      ASI: "asymmetryIndex",
      SI_total: "symmetryIndex",
      pd: "standardPercentageDifference",
      ref_weak: "referenceWeaker",
      share_L: "leftShare",
      log: "logRatio",
    };
    for (const [key, formula] of Object.entries(names)) near(asymmetry(800, 700, formula), values[key]);
    for (const [key, formula] of Object.entries({ LSI3: "limbSymmetryIndex3", SA: "symmetryAngle", NSI: "normalisedSymmetryIndex" })) {
      near(-asymmetry(800, 700, formula), values[key]);
    }
  });

  test("sides against variation", () => {
    const [left, right] = [[812, 790, 805, 780, 813], [688, 705, 715, 690, 702]];
    const clear = group("exell");
    near(largerVariationRule(left, right).leftVariation, clear.cvL);
    near(largerVariationRule(left, right).percentage, clear.asym);
    near(mannWhitney(left, right).p, clear.p);
    near(mannWhitney([812, 761, 835, 700, 792], [740, 775, 815, 690, 760]).p, group("exell_ns").p);
  });

  test("reliability of a retest and of the table of Shrout & Fleiss", () => {
    const table = [[34.1, 34.9], [38.6, 38.0], [41.2, 42.3], [29.8, 30.1], [45.0, 44.1], [36.7, 37.9], [33.0, 32.4], [40.3, 41.2]];
    const values = group("reliability");
    const error = typicalError(table);
    near(error.value, values.TE);
    near(error.low, (values.TE_CI95 as number[])[0]);
    near(error.high, (values.TE_CI95 as number[])[1]);
    near(typicalError(table, "log").value, values.CV_log);
    near(typicalError(table, "cv").value, values.TE_pct_simple);
    near(typicalError(table, "rms").value, values.CV_rms);
    // The script rounds its quantiles to 1.96 and 1.645; here they are exact.
    near(minimalDetectableChange(error.value), values.MDC95, 4e-5);
    near(minimalDetectableChange(error.value, { level: 0.9 }), values.MDC90, 2e-4);
    near(reliableChangeIndex(38, 40.5, error.value), values.RCI_example);
    const agreement = limitsOfAgreement(table.map((row) => row[0]), table.map((row) => row[1]));
    near(agreement.low, (values.LoA as number[])[0]);
    near(agreement.limitError, values.LoA_limit_SE);
    const judges = [[9, 2, 5, 8], [6, 1, 3, 2], [8, 4, 6, 8], [7, 1, 2, 6], [10, 5, 6, 9], [6, 2, 4, 7]];
    const published = group("shrout_fleiss");
    for (const [form, key] of [["1,1", "11"], ["2,1", "21"], ["3,1", "31"]] as const) {
      const icc = intraclassCorrelation(judges, form);
      near(icc.value, published[`ICC${key}`]);
      near(icc.low, (published[`CI${key}`] as number[])[0], 1e-7);
      near(icc.high, (published[`CI${key}`] as number[])[1], 1e-7);
    }
    for (const model of ["1", "2", "3"] as const) near(intraclassCorrelation(judges, `${model},k`).value, published[`ICC${model}k`]);
  });

  test("change, monitoring and ratio limits", () => {
    const change = examples().change as Record<string, Record<string, unknown>>;
    for (const [key, options] of [["z", {}], ["t", { degreesOfFreedom: 7 }], ["z_mean3", { countBefore: 3, countAfter: 3 }]] as const) {
      const found = individualChange(0, 1.9, 0.8, { ...options, smallestWorthwhile: 0.95 });
      near(found.standardError, change[key].se);
      near(found.low, (change[key].CI90 as number[])[0]);
      near(found.probabilities!.up, change[key].p_up);
      near(found.probabilities!.down, change[key].p_down);
    }
    const history = [37.8, 38.4, 38.1, 37.5, 38.9, 38.2];
    const monitor = group("monitor");
    near(zScore(36.4, history), monitor.z);
    near(baselineBand(history).low, (monitor.pred as number[])[0]);
    near(baselineBand(history, { typicalError: 0.8 }).high, (monitor.band_TE as number[])[1], 1e-6);
    near(exponentiallyWeightedMean(history), monitor.ewma);
    const squad = [34.1, 38.6, 41.2, 29.8, 45.0, 36.7, 33.0, 40.3];
    squad.forEach((value, index) => near(tScore(value, squad), (group("tscore").T as number[])[index]));
    const ratio = group("ratio_unc");
    for (const method of ["delta", "fieller", "log"] as const) {
      const { low, high } = ratioInterval(38, 0.6, 35, 0.7, { method });
      near(low, (ratio[method] as number[])[0], 3e-6);
      near(high, (ratio[method] as number[])[1], 3e-6);
    }
    for (const [count, bias] of Object.entries(group("best_of_k_bias_SD"))) near(bestOfBias(Number(count)), bias);
  });
});
