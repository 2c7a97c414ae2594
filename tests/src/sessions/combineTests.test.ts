import { describe, expect, test } from "vitest";
import { normalFrom, seededRandom } from "../../support/seededRandom.ts";
import { ratioInterval } from "../../../src/statistics/ratioInterval.ts";
import { sessionValue } from "../../../src/sessions/sessionValue.ts";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import { combineTests } from "../../../src/sessions/combineTests.ts";

const part = (value: number, u?: number, protocol?: string) => ({ value, u, protocol: protocol === undefined ? undefined : parseProtocol(protocol) });

describe("combineTests", () => {
  // NumPy roots of Fieller's equation for 38 (0.6) over 35 (0.7), see ratioInterval.
  test("gives the eccentric utilisation ratio with Fieller limits and its components", () => {
    const ratio = combineTests("eccentricUtilisation", [part(38, 0.6, "CMJ arms=hips"), part(35, 0.7, "SJ arms=hips")]);
    expect(ratio.value).toBeCloseTo(1.0857142857142856, 12);
    expect(ratio.low).toBeCloseTo(1.03309406, 8);
    expect(ratio.high).toBeCloseTo(1.14167623, 8);
    expect(ratio.components.map((component) => component.value)).toEqual([38, 35]);
  });

  test("augmentation is the same in per cent", () => {
    const percent = combineTests("prestretchAugmentation", [part(38, 0.6), part(35, 0.7)]);
    expect(percent.value).toBeCloseTo(8.571428571428571, 10);
    expect(percent.low).toBeCloseTo(3.309406, 6);
    expect(percent.unit).toBe("%");
  });

  // By hand: u of the sum of 1150 (20) and 1100 (15) is 25.
  test("a bilateral index takes the uncertainty of both single limbs", () => {
    const index = combineTests("bilateral", [part(2000, 30), part(1150, 20), part(1100, 15)], { method: "delta" });
    expect(index.value).toBeCloseTo(-11.111111111111114, 10);
    expect(index.u).toBeCloseTo(100 * (2000 / 2250) * Math.hypot(30 / 2000, 25 / 2250), 8);
    expect(index.low! + index.high!).toBeCloseTo(2 * index.value, 8);
  });

  // By hand: 1264.5 / 1714.5, and the limits are of the net forces.
  test("a net strength index takes body weight off both forces and says so", () => {
    const net = combineTests("dynamicStrength", [part(2000, 20), part(2450, 20)], { bodyWeight: 735.5, method: "delta" });
    expect(net.value).toBeCloseTo(0.7375328083989501, 12);
    expect(net.basis).toBe("net");
    expect(net.u).toBeCloseTo(net.value * Math.hypot(20 / 1264.5, 20 / 1714.5), 10);
    expect(combineTests("dynamicStrength", [part(2000), part(2450)]).basis).toBe("gross");
  });

  // By hand: with five and three trials Student's t has two degrees of freedom; a squad's typical error may bring its own.
  test("takes Student's t with the fewest degrees of freedom of its parts", () => {
    const parts = [{ value: 38, u: 0.6, count: 5 }, { value: 35, u: 0.7, count: 3 }];
    const t2 = combineTests("eccentricUtilisation", parts);
    expect(t2.low).toBeCloseTo(ratioInterval(38, 0.6, 35, 0.7, { degreesOfFreedom: 2 }).low, 12);
    const squad = combineTests("eccentricUtilisation", parts.map((one) => ({ ...one, degreesOfFreedom: 20 })));
    expect(squad.low).toBeCloseTo(ratioInterval(38, 0.6, 35, 0.7, { degreesOfFreedom: 20 }).low, 12);
    expect(combineTests("eccentricUtilisation", parts, { degreesOfFreedom: 9 }).low).toBeCloseTo(ratioInterval(38, 0.6, 35, 0.7, { degreesOfFreedom: 9 }).low, 12);
  });

  test("holds the true ratio at least as often as it says with three trials each", () => {
    const normal = normalFrom(seededRandom(97));
    const session = (truth: number) => {
      const { value, u, count } = sessionValue([0, 1, 2].map(() => truth * (1 + 0.03 * normal())), { rule: "mean", trials: 3 });
      return { value, u, count };
    };
    const runs = 3000;
    let inside = 0;
    for (let run = 0; run < runs; run++) {
      const { low, high } = combineTests("eccentricUtilisation", [session(38.5), session(35)]);
      if (low === undefined || (low <= 1.1 && 1.1 <= high!)) inside++;
    }
    // NumPy, 60000 runs: 0.988; with the normal quantile it would be 0.879.
    expect(inside / runs).toBeGreaterThan(0.975);
  });

  test("gives no limits, and says why, without uncertainties or with a hopeless denominator", () => {
    const single = combineTests("armSwing", [part(44), part(38, 1)]);
    expect(single.value).toBeCloseTo(15.789473684210526, 10);
    expect(single.low).toBeUndefined();
    expect(single.noLimits).toMatch(/two trials/);
    expect(combineTests("armSwing", [part(44, 1), part(38, 30)]).noLimits).toMatch(/denominator/);
  });

  test("refuses unlike protocols with the reason, and the wrong number of results", () => {
    expect(() => combineTests("eccentricUtilisation", [part(38, 1, "CMJ arms=swing"), part(35, 1, "SJ arms=hips")])).toThrow(
      expect.objectContaining({ name: "InputError", code: "not-available", message: expect.stringMatching(/arms/) }),
    );
    expect(() => combineTests("bilateral", [part(1), part(2)])).toThrow(expect.objectContaining({ code: "wrong-shape" }));
    expect(() => combineTests("armSwing", [part(0), part(2)])).toThrow(expect.objectContaining({ code: "out-of-range" }));
  });
});
