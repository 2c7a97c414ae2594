import { expect, test } from "vitest";
import { describeWithData } from "../support/data.ts";
import { vector, vectorTotal } from "../support/vectors.ts";
import { referenceDrop, referenceHops, referenceJump, referencePull, referenceSide, referenceZero } from "./referenceAlgorithm.ts";

/** Every expected number must be there and agree to 1e-6 relative (1e-8 absolute near zero). */
function expectAll(got: object, expected: Readonly<Record<string, unknown>>): void {
  const values = got as Readonly<Record<string, number>>;
  let compared = 0;
  for (const [name, value] of Object.entries(expected)) {
    if (typeof value !== "number") continue;
    expect(values, name).toHaveProperty(name);
    expect(Math.abs(values[name] - value), `${name}: ${values[name]} against ${value}`).toBeLessThanOrEqual(1e-6 * Math.abs(value) + 1e-8);
    compared++;
  }
  expect(compared).toBeGreaterThan(0);
}

describeWithData("the reference algorithm gives the reference results", () => {
  test.each([
    ["V01", "cmj"],
    ["V03", "cmj"],
    ["V04", "cmj"],
    ["V07", "sj"],
    ["V08", "sj"],
  ] as const)("of %s", (id, kind) => {
    const given = vector(id);
    expectAll(referenceJump(vectorTotal(given), given.rate, kind), given.reference);
  });

  test("of V02, with its sides", () => {
    const given = vector("V02");
    const sum = referenceJump(vectorTotal(given), given.rate, "cmj");
    const [left, right] = given.columns.map((plate) => referenceSide(plate, given.rate, sum));
    expectAll(
      {
        ...sum,
        F_mean_prop_L: left.meanPropulsion,
        F_mean_prop_R: right.meanPropulsion,
        F_peak_landing_L: left.peakLanding,
        F_peak_landing_R: right.peakLanding,
        asym_total_pct_prop: (100 * (left.meanPropulsion - right.meanPropulsion)) / (left.meanPropulsion + right.meanPropulsion),
      },
      given.reference,
    );
  });

  test("of V05, as recorded, zeroed, and zeroed with the drift removed", () => {
    const given = vector("V05");
    const total = vectorTotal(given);
    expectAll(referenceJump(total, given.rate, "cmj"), given.reference.uncorrected);
    for (const [detrend, name] of [[false, "flight_zeroed"], [true, "flight_zeroed_detrended"]] as const) {
      const { force, offset, drift } = referenceZero(total, given.rate, detrend);
      expectAll({ ...referenceJump(force, given.rate, "cmj"), offset_flight: offset, drift_N_per_s: drift }, given.reference[name]);
    }
  });

  test("of V06, from the loaded plate", () => {
    const given = vector("V06");
    expectAll(referenceJump(given.columns[0], given.rate, "cmj"), given.reference);
  });

  test("of V09, by three routes to the velocity at touchdown", () => {
    const given = vector("V09");
    const total = vectorTotal(given);
    expectAll(referenceDrop(total, given.rate, { kind: "backward" }), given.reference.backward);
    expectAll(referenceDrop(total, given.rate, { kind: "flight" }), given.reference.from_flight);
    expectAll(referenceDrop(total, given.rate, { kind: "box", height: 0.3 }), given.reference.from_box);
  });

  test("of V10, from two plates and backward", () => {
    const given = vector("V10");
    const [box, landing] = given.columns;
    expectAll(referenceDrop(landing, given.rate, { kind: "plates", box }), given.reference.two_plate);
    expectAll(referenceDrop(landing, given.rate, { kind: "backward" }), given.reference.backward);
  });

  test("of V11, hop by hop", () => {
    const given = vector("V11");
    const { hops, ...means } = referenceHops(vectorTotal(given), given.rate);
    expect(hops).toHaveLength(given.reference.hops.length);
    for (const [i, hop] of hops.entries()) expectAll(hop, given.reference.hops[i]);
    expectAll(means, given.reference);
  });

  test("of V12", () => {
    const given = vector("V12");
    expectAll(referencePull(vectorTotal(given), given.rate), given.reference);
  });
});
