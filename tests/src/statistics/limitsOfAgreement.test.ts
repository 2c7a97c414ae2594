import { describe, expect, test } from "vitest";
import { dataText, describeWithData } from "../../support/data.ts";
import { limitsOfAgreement } from "../../../src/statistics/limitsOfAgreement.ts";

describe("limitsOfAgreement", () => {
  const first = Object.freeze([34.1, 38.6, 41.2, 29.8, 45.0, 36.7, 33.0, 40.3]);
  const second = Object.freeze([34.9, 38.0, 42.3, 30.1, 44.1, 37.9, 32.4, 41.2]);

  // By hand: bias 0.275, SD 0.854818, 1.96 SD; small-n limits with SciPy t.ppf(0.975, 7).
  test("gives bias, limits and their errors of an invented retest", () => {
    const agreement = limitsOfAgreement(first, second);
    expect(agreement.bias).toBeCloseTo(0.275, 12);
    expect(agreement.sd).toBeCloseTo(0.8548182764273844, 10);
    expect(agreement.low).toBeCloseTo(-1.4004438217976745, 10);
    expect(agreement.high).toBeCloseTo(1.9504438217976725, 10);
    expect(agreement.biasError).toBeCloseTo(0.30222389997200005, 10);
    expect(agreement.limitError).toBeCloseTo(0.5234671500131183, 10);
    const small = limitsOfAgreement(first, second, "t");
    expect(small.low).toBeCloseTo(-1.8689378898542293, 9);
    expect(small.high).toBeCloseTo(2.418937889854229, 9);
  });

  test("turns round with the order of the methods", () => {
    const [one, other] = [limitsOfAgreement(first, second), limitsOfAgreement(second, first)];
    expect(other.bias).toBeCloseTo(-one.bias, 12);
    expect(other.low).toBeCloseTo(-one.high, 12);
  });

  test("leaves out a pair with a gap and counts it", () => {
    const agreement = limitsOfAgreement([...first, undefined], [...second, 40]);
    expect([agreement.n, agreement.leftOut]).toEqual([8, 1]);
    expect(agreement.bias).toBeCloseTo(0.275, 12);
  });

  test("refuses unequal lengths and a single pair", () => {
    expect(() => limitsOfAgreement([1, 2], [1])).toThrow(expect.objectContaining({ code: "wrong-shape" }));
    expect(() => limitsOfAgreement([1], [2])).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => limitsOfAgreement([1, NaN], [2, 3])).toThrow(expect.objectContaining({ code: "not-a-number" }));
  });
});

describeWithData("limitsOfAgreement of the peak-flow table", () => {
  // Bland & Altman (1986): mean difference -2.1 l/min, SD 38.8, limits -80 and 76 with 2 SD; with 1.96 SD by hand below.
  test("gives the published bias and spread", () => {
    const rows = dataText("real/stats/bland_altman_1986_PEFR.csv")
      .trim()
      .split(/\r?\n/)
      .slice(1)
      .map((line) => line.split(",").map(Number));
    // Large meter minus mini meter, first readings.
    const agreement = limitsOfAgreement(rows.map((row) => row[2]), rows.map((row) => row[0]));
    expect(agreement.n).toBe(17);
    expect(agreement.bias).toBeCloseTo(-2.117647, 6);
    expect(agreement.sd).toBeCloseTo(38.76513, 5);
    expect(agreement.low).toBeCloseTo(-78.097, 3);
    expect(agreement.high).toBeCloseTo(73.862, 3);
    expect(agreement.limitError).toBeCloseTo(16.28461, 5);
  });
});
