import { describe, expect, test } from "vitest";
import { chiSquareQuantile, fQuantile, normalCdf, normalQuantile, tCdf, tQuantile } from "../../../src/statistics/distributions.ts";

// Expected values: SciPy 1.17.1, for instance scipy.stats.t.ppf(0.975, 3.7).
describe("distributions", () => {
  test.each([
    [0.975, 3.7, 2.8675207071911895],
    [0.95, 7, 1.8945786050900062],
    [0.999, 1, 318.30883898555015],
  ])("t quantile of %d with %d degrees of freedom is %d", (probability, freedom, value) => {
    expect(tQuantile(probability, freedom) / value).toBeCloseTo(1, 10);
  });

  test.each([
    [0.975, 5, 15, 3.5764153492790607],
    [0.975, 15, 5, 6.427728167078779],
    [0.975, 3.3, 10, 4.699540075939993],
    [0.975, 59, 4.2, 7.766996075468375],
  ])("F quantile of %d with %d and %d degrees of freedom is %d", (probability, one, two, value) => {
    expect(fQuantile(probability, one, two) / value).toBeCloseTo(1, 10);
  });

  test.each([
    [0.025, 7, 1.689869180677355],
    [0.975, 7, 16.012764274629326],
    [0.05, 1, 0.003932140000019522],
  ])("chi-squared quantile of %d with %d degrees of freedom is %d", (probability, freedom, value) => {
    expect(chiSquareQuantile(probability, freedom) / value).toBeCloseTo(1, 10);
  });

  test("normal quantiles and probabilities", () => {
    expect(normalQuantile(0.975)).toBeCloseTo(1.959963984540054, 12);
    expect(normalQuantile(0.95)).toBeCloseTo(1.6448536269514722, 12);
    expect(normalCdf(-3)).toBeCloseTo(0.0013498980316300933, 14);
    expect(tCdf(-2.5, 5)).toBeCloseTo(0.02724504967118813, 12);
  });

  test("t without degrees of freedom is the normal distribution", () => {
    expect(tQuantile(0.9)).toBe(normalQuantile(0.9));
    expect(tCdf(1.3)).toBe(normalCdf(1.3));
  });

  // Closed form: I_x(1, b) = 1 - (1 - x)^b, so that F with 2 and d degrees of freedom has d/2 (q^(-2/d) - 1) below an upper tail q, here a power of two, which 1 - q keeps.
  test.each([[20, 100], [40, 400], [50, 30], [3, 7]])("F quantiles at 2^-%d from an end, with 2 and %d degrees of freedom, are those of the closed form", (power, freedom) => {
    const exact = (freedom / 2) * Math.expm1((2 * power * Math.LN2) / freedom);
    expect(Math.abs(fQuantile(1 - 2 ** -power, 2, freedom) / exact - 1)).toBeLessThan(1e-13);
    expect(Math.abs(fQuantile(2 ** -power, freedom, 2) * exact - 1)).toBeLessThan(1e-13);
  });

  // Identity of the distributions: the square of t is F with one degree of freedom in the numerator.
  test("the square of a t quantile is an F quantile", () => {
    expect(tQuantile(0.975, 9) ** 2).toBeCloseTo(fQuantile(0.95, 1, 9), 9);
  });

  test("refuses a probability above one and degrees of freedom below zero", () => {
    expect(() => tQuantile(1.2, 5)).toThrow(expect.objectContaining({ name: "InputError", code: "out-of-range" }));
    expect(() => chiSquareQuantile(0.5, -1)).toThrow(expect.objectContaining({ code: "out-of-range" }));
  });

  // From one far tail to the other, on both sides of a half, of ten and of twenty degrees of freedom, where the way of computing changes.
  test.each([
    [1e-12, 0.5, -1.0284911563163399e23], [1e-12, 4, -1316.0727465592565], [0.001, 1, -318.30883898555044], [0.025, 19, -2.09302405440831], [0.025, 21, -2.079613844727681], [0.3, 2, -0.6172133998483678],
    [0.7, 0.5, 1.0095258786071653], [0.7, 20, 0.5328627916163321], [0.995, 500, 2.5856978351419415], [0.999999, 1000000, 4.7534523482738695], [0.6, 3, 0.2766706623326898], [0.05, 40, -1.6838510133356523],
  ])("t quantile of %d with %d degrees of freedom is %d, near and far", (probability, freedom, value) => {
    expect(Math.abs(tQuantile(probability, freedom) / value - 1)).toBeLessThan(1e-12);
  });

  test.each([
    [1e-6, 3, 9, 7.653862409003324e-5], [0.001, 0.5, 30, 2.7686015582365227e-12], [0.3, 20, 20, 0.7884051385955247], [0.5, 5, 5, 1], [0.5, 19, 21, 0.9965981478884942], [0.5, 7, 1, 1.9773685090978765],
    [0.7, 2, 100, 1.218585361206814], [0.95, 500, 500, 1.1586553765546177], [0.999, 1, 1, 405284.0679028482], [0.999999, 30, 60, 4.232457796162686], [0.025, 59, 10000, 0.6716533664502424],
    [0.05, 100, 3, 0.37098397031556124], [0.9, 40, 26, 1.6147248687506042],
  ])("F quantile of %d with %d and %d degrees of freedom is %d, near and far", (probability, one, two, value) => {
    expect(Math.abs(fQuantile(probability, one, two) / value - 1)).toBeLessThan(1e-13);
  });

  test.each([
    [1e-12, 3, 2.417987942718036e-8], [1e-6, 0.5, 1.3499395786223394e-24], [0.001, 20, 5.92104074548752], [0.3, 19, 15.35166026260527], [0.3, 500, 482.9461942897875], [0.5, 1, 0.454936423119572],
    [0.5, 19, 18.337652896756474], [0.5, 20, 19.337429229428256], [0.5, 21, 20.337227563547934], [0.5, 1000, 999.333412403381], [0.7, 2, 2.407945608651872], [0.999, 500, 603.4460057951776],
    [0.999999, 30, 82.044143136957], [0.025, 1000000, 997230.0871432901], [0.6, 21, 21.991497490918363], [0.4, 100, 95.80784785797354],
  ])("chi-squared quantile of %d with %d degrees of freedom is %d, near and far", (probability, freedom, value) => {
    expect(Math.abs(chiSquareQuantile(probability, freedom) / value - 1)).toBeLessThan(1e-13);
  });

  test.each([[-20, 2.7536241186061556e-89], [-8, 6.22096057427174e-16], [-1, 0.15865525393145707], [-0.25, 0.4012936743170763], [0, 0.5], [0.25, 0.5987063256829237], [1, 0.8413447460685429], [1.2, 0.8849303297782918], [3, 0.9986501019683699], [6, 0.9999999990134123]])(
    "normal probability up to %d is %d",
    (x, value) => {
      expect(Math.abs(normalCdf(x) / value - 1)).toBeLessThan(1e-13);
    },
  );

  test.each([[1e-300, -37.0470962993612], [1e-12, -7.034483825301131], [0.001, -3.090232306167813], [0.3, -0.5244005127080409], [0.45, -0.12566134685507402], [0.55, 0.12566134685507416], [0.7, 0.5244005127080407], [0.999, 3.090232306167813]])(
    "normal quantile of %d is %d",
    (probability, value) => {
      expect(Math.abs(normalQuantile(probability) / value - 1)).toBeLessThan(1e-13);
    },
  );

  test.each([[-30, 3, 4.067640213581979e-5], [-1, 0.5, 0.30112161084132205], [-0.3, 19, 0.3837173301696317], [0, 7, 0.5], [0.3, 21, 0.6164366866337743], [1, 1, 0.75], [2, 500, 0.9769796586154843], [4, 12, 0.9991191518778025], [0.9, 60, 0.8141408138059082]])(
    "probability of t up to %d with %d degrees of freedom is %d",
    (x, freedom, value) => {
      expect(Math.abs(tCdf(x, freedom) / value - 1)).toBeLessThan(1e-13);
    },
  );

  // By definition: nothing lies beyond the ends, half on each side of the middle.
  test("ends and middles are exact", () => {
    expect([normalQuantile(0), normalQuantile(1), tQuantile(0, 5), tQuantile(1, 5)]).toEqual([-Infinity, Infinity, -Infinity, Infinity]);
    expect([chiSquareQuantile(0, 5), chiSquareQuantile(1, 5), fQuantile(0, 3, 5), fQuantile(1, 3, 5)]).toEqual([0, Infinity, 0, Infinity]);
    expect([normalQuantile(0.5), tQuantile(0.5, 5)]).toEqual([0, 0]);
    expect([normalCdf(-Infinity), normalCdf(Infinity), tCdf(-Infinity), tCdf(1e200, 2)]).toEqual([0, 1, 0, 1]);
  });

  test("refuses what is no number, no probability and no count, by the name of the distribution", () => {
    const refused = (name: string) => expect.objectContaining({ name: "InputError", code: "out-of-range", message: expect.stringContaining(`${name} distribution requires`) });
    for (const probability of [-0.1, 1.1, NaN]) {
      expect(() => normalQuantile(probability)).toThrow(refused("normal"));
      expect(() => tQuantile(probability, 5)).toThrow(refused("t"));
      expect(() => fQuantile(probability, 5, 5)).toThrow(refused("F"));
      expect(() => chiSquareQuantile(probability, 5)).toThrow(refused("chi-squared"));
    }
    for (const freedom of [0, -1, NaN]) {
      expect(() => tQuantile(0.5, freedom)).toThrow(refused("t"));
      expect(() => tCdf(1, freedom)).toThrow(refused("t"));
      expect(() => fQuantile(0.5, freedom, 5)).toThrow(refused("F"));
      expect(() => fQuantile(0.5, 5, freedom)).toThrow(refused("F"));
      expect(() => chiSquareQuantile(0.5, freedom)).toThrow(refused("chi-squared"));
    }
    expect(() => fQuantile(0.5, 5, Infinity)).toThrow(refused("F"));
    expect(() => normalCdf(NaN)).toThrow(refused("normal"));
    expect(() => tCdf(NaN, 5)).toThrow(refused("t"));
  });
});
