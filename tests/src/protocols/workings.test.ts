import { describe, expect, test } from "vitest";
import { placeOf } from "../../../src/protocols/MetricTable.ts";
import { combinedMetric, type Formula, GROUP_BITS, INTEGRAL, LANDING_GROUP, SIDES, TIMES, WEIGHT, WorkedMetric, Workings } from "../../../src/protocols/workings.ts";
import { BODY_WEIGHT, GAIN, NOISE, SAMPLING, SOURCE_COUNT, ZERO } from "../../../src/uncertainty/sources.ts";

// JCGM 100 (2008), 5.1 and 5.2: contributions are slopes times standard uncertainties; what two inputs share adds with its sign, and
// different influences add in quadrature. Slopes here are derivatives worked by hand.

function formula(gives: string, compute: Formula["compute"], more: Partial<Omit<Formula, "gives" | "place">> = {}): Formula {
  return { gives, place: placeOf(gives), unit: "N", text: `formula of ${gives}`, symbols: [["a", "N", "first"], ["b", "N"], ["c", "s"], ["d", ""]], inner: false, compute, ...more };
}

describe("a derived quantity", () => {
  test("has the value of its formula, and each slope times the contributions of its input", () => {
    const work = new Workings();
    const a = work.quantity(2, TIMES, BODY_WEIGHT, 0.1);
    const b = work.quantity(3, WEIGHT, ZERO, 0.2);
    const c = work.quantity(5, INTEGRAL, NOISE, 0.3);
    const d = work.quantity(7, SIDES, GAIN, 0.4);
    const result = work.derive(formula("x", (p, q, r, s) => p * p * q + 10 * r * r - p * s * s * s), a, b, c, d);
    expect(result.value).toBe(4 * 3 + 250 - 2 * 343);
    // 2 p q - s^3, p^2, 20 r, -3 p s^2
    expect(work.part(result, BODY_WEIGHT)).toBeCloseTo(0.1 * (12 - 343), 6);
    expect(work.part(result, ZERO)).toBeCloseTo(0.2 * 4, 8);
    expect(work.part(result, NOISE)).toBeCloseTo(0.3 * 100, 7);
    expect(work.part(result, GAIN)).toBeCloseTo(0.4 * -294, 6);
    expect(result.needs).toBe(TIMES | WEIGHT | INTEGRAL | SIDES);
  });

  test("takes slopes over a step that rounding does not spoil, at large values and at zero", () => {
    const work = new Workings();
    const slopes = [5000, 1, 0, -400].map((value) => {
      const result = work.derive(formula("x", (p) => 3 * p), work.quantity(value, 0, ZERO, 1));
      return work.part(result, ZERO);
    });
    for (const slope of slopes) expect(Math.abs(slope - 3)).toBeLessThan(1e-8);
    // Nor curvature: the third derivative of x^3 is 6, so the error of a central difference is the square of the step.
    for (const value of [0, 1e-4]) expect(Math.abs(work.part(work.derive(formula("x", (p) => 1e6 * p ** 3), work.quantity(value, 0, ZERO, 1)), ZERO) - 3e6 * value ** 2)).toBeLessThan(1e-6);
  });

  test("takes no slope by an exact number, where a formula may end", () => {
    const work = new Workings();
    const known = work.quantity(2, 0, ZERO, 0.5);
    const root: Formula["compute"] = (p, q, r, s) => Math.sqrt(p) + Math.sqrt(q) + Math.sqrt(r) + Math.sqrt(s);
    for (const place of [0, 1, 2, 3]) {
      const inputs = [0, 1, 2, 3].map((k) => (k === place ? known : work.exact(0)));
      expect(work.part(work.derive(formula("x", root), inputs[0]!, inputs[1], inputs[2], inputs[3]), ZERO)).toBeCloseTo(0.5 / (2 * Math.SQRT2), 8);
    }
    expect(work.part(work.linear(1, 0, known, 2, work.exact(1), Infinity, work.exact(1), Infinity), ZERO)).toBe(1);
  });
});

describe("a widened quantity", () => {
  test("has the uncertainty of the sum of its shares, in the row that was its own", () => {
    const work = new Workings();
    const a = work.quantity(2, WEIGHT, ZERO, 0.5, NOISE, 1);
    const b = work.quantity(3, INTEGRAL, ZERO, 0.25, GAIN, 2);
    const sum = work.linear(7, TIMES, work.quantity(7, SIDES, ZERO, 1, SAMPLING, 4), 1, a, 3, b, -2);
    const own = work.quantity(7, TIMES | SIDES, ZERO, 1, SAMPLING, 4);
    const widened = work.widened(own, a, 3, b, -2);
    expect(widened).toEqual({ value: 7, needs: TIMES | SIDES | WEIGHT | INTEGRAL, row: own.row });
    for (const source of [BODY_WEIGHT, ZERO, NOISE, GAIN, SAMPLING]) expect(work.part(widened, source)).toBe(work.part(sum, source));
    expect([ZERO, NOISE, GAIN, SAMPLING].map((source) => work.part(widened, source))).toEqual([1 + 1.5 - 0.5, 3, -4, 4]);
    // The others keep theirs.
    expect([work.part(a, ZERO), work.part(a, NOISE), work.part(b, ZERO), work.part(b, GAIN)]).toEqual([0.5, 1, 0.25, 2]);
  });

  test("takes nothing from an exact number, whatever its factor", () => {
    const work = new Workings();
    const own = work.quantity(1, 0, NOISE, 2);
    const widened = work.widened(own, work.exact(4, WEIGHT), Infinity, work.exact(1), NaN);
    expect([work.part(widened, NOISE), work.part(widened, ZERO), widened.needs]).toEqual([2, 0, WEIGHT]);
  });
});

describe("quantities", () => {
  test("take contributions by source, add those of one source, and are put in again", () => {
    const work = new Workings();
    const quantity = work.quantity(1, TIMES, ZERO, 0.5, SAMPLING, 2, ZERO, 0.25);
    expect([work.part(quantity, ZERO), work.part(quantity, SAMPLING), work.part(quantity, NOISE)]).toEqual([0.75, 2, 0]);
    const four = work.quantity(1, 0, ZERO, 1, NOISE, 2, GAIN, 3, SAMPLING, 4);
    expect([ZERO, NOISE, GAIN, SAMPLING, BODY_WEIGHT].map((source) => work.part(four, source))).toEqual([1, 2, 3, 4, 0]);
    const blank = work.blank(4, WEIGHT);
    expect([blank.value, blank.needs, work.part(blank, ZERO)]).toEqual([4, WEIGHT, 0]);
    work.put(blank, ZERO, 3);
    work.put(blank, ZERO, 6);
    expect([work.part(blank, ZERO), work.part(quantity, ZERO)]).toEqual([6, 0.75]);
    expect(Array.from({ length: SOURCE_COUNT }, (_, source) => work.part(work.exact(9, SIDES), source))).toEqual(Array(SOURCE_COUNT).fill(0));
    expect(work.exact(9, SIDES)).toMatchObject({ value: 9, needs: SIDES });
    expect(work.exact(9).needs).toBe(0);
  });

  test("mix by their factors, with what each needs", () => {
    const work = new Workings();
    const shared = [work.quantity(1, TIMES, ZERO, 2), work.quantity(1, WEIGHT, ZERO, 3, NOISE, 5), work.quantity(1, SIDES, ZERO, 7)] as const;
    const mixed = work.linear(11, LANDING_GROUP, shared[0], 10, shared[1], -1, shared[2], 0.5);
    expect([mixed.value, work.part(mixed, ZERO), work.part(mixed, NOISE)]).toEqual([11, 20 - 3 + 3.5, -5]);
    expect(mixed.needs).toBe(TIMES | WEIGHT | SIDES | LANDING_GROUP);
  });

  test("have a mean whose shared contributions do not shrink", () => {
    const work = new Workings();
    const mean = work.mean([work.quantity(1, TIMES, ZERO, 4), work.quantity(5, WEIGHT, ZERO, 4), work.quantity(9, 0, ZERO, 4, NOISE, 3)]);
    expect(mean.value).toBeCloseTo(5, 12);
    expect(work.part(mean, ZERO)).toBeCloseTo(4, 12);
    expect(work.part(mean, NOISE)).toBeCloseTo(1, 12);
    expect(mean.needs).toBe(TIMES | WEIGHT);
  });

  test("keep their contributions when there are more than was reckoned with", () => {
    const work = new Workings();
    const many = Array.from({ length: 1000 }, (_, k) => work.quantity(k, 0, SAMPLING, k, BODY_WEIGHT, -k));
    for (const [k, quantity] of many.entries()) expect([work.part(quantity, SAMPLING), work.part(quantity, BODY_WEIGHT), work.part(quantity, ZERO)]).toEqual([k, -k || 0, 0]);
    const next = new Workings();
    expect(next.part(next.blank(1, 0), SAMPLING)).toBe(0);
  });
});

describe("what is recorded as a metric", () => {
  test("has the root of the summed squares of its own contributions, and a budget from the largest on", () => {
    const work = new Workings();
    const quantity = work.quantity(10, WEIGHT, BODY_WEIGHT, 2, SAMPLING, -3, NOISE, 6);
    work.quantity(0, 0, BODY_WEIGHT, 1000);
    work.measured(formula("f", undefined), quantity);
    const metric = work.metrics.get("f")!;
    expect(metric).toMatchObject({ id: "f", value: 10, unit: "N", needs: WEIGHT, u: 7 });
    expect(metric.budget).toEqual([{ source: "noise", u: 6 }, { source: "sampling", u: 3 }, { source: "bodyWeight", u: 2 }]);
    expect(metric.parts).toHaveLength(SOURCE_COUNT);
    expect([metric.parts[BODY_WEIGHT], metric.parts[SAMPLING]]).toEqual([2, -3]);
    expect(work.metrics.get("f")).toBe(metric);
    expect(work.metrics.get("g")).toBeUndefined();
  });

  test("has no uncertainty where it is exact, or where a contribution is not finite", () => {
    const work = new Workings();
    work.measured(formula("exact", undefined), work.exact(3));
    work.measured(formula("wild", undefined), work.quantity(3, 0, ZERO, Infinity));
    for (const id of ["exact", "wild"]) expect([work.metrics.get(id)!.u, work.metrics.get(id)!.budget]).toEqual([undefined, undefined]);
    work.measured(formula("still", undefined), work.blank(3, 0));
    expect([work.metrics.get("still")!.u, work.metrics.get("still")!.budget]).toEqual([0, []]);
  });

  test("is no stepping stone and no number without a value, but gives both on", () => {
    const work = new Workings();
    const two = work.exact(2);
    expect(work.give(formula("inner", (a) => a + 1, { inner: true }), two).value).toBe(3);
    expect(work.give(formula("nothing", (a) => a / 0), two).value).toBe(Infinity);
    expect(work.give(formula("whole", (a, b) => a * b), two, work.exact(4)).value).toBe(8);
    expect([...work.metrics.keys()]).toEqual(["whole"]);
  });

  test("is the latest of its id, whether or not somebody has asked before", () => {
    for (const asked of [false, true]) {
      const work = new Workings();
      work.measured(formula("f", undefined), work.exact(1));
      work.measured(formula("g", undefined), work.exact(2));
      if (asked) expect([...work.metrics.keys()]).toEqual(["f", "g"]);
      work.measured(formula("f", undefined), work.exact(3));
      work.measured(formula("h", undefined), work.exact(4));
      expect([...work.metrics.values()].map(({ id, value }) => [id, value])).toEqual([["f", 3], ["g", 2], ["h", 4]]);
      expect([work.metrics.get("f")?.value, work.metrics.get("g")?.value, work.metrics.get("h")?.value, work.metrics.get("x")]).toEqual([3, 2, 4, undefined]);
      expect(work.metrics).toBe(work.metrics);
    }
  });

  test("goes with the groups that it needs, and with them alone", () => {
    const work = new Workings();
    for (const [id, needs] of [["times", TIMES], ["both", TIMES | WEIGHT], ["weight", WEIGHT], ["none", 0]] as const) work.measured(formula(id, undefined), work.exact(1, needs));
    expect([...work.remove(WEIGHT | SIDES)]).toEqual([["both", WEIGHT], ["weight", WEIGHT]]);
    expect([...work.metrics.keys()]).toEqual(["times", "none"]);
    // Each group has a bit of its own.
    expect(Object.values(GROUP_BITS).reduce((sum, bit) => sum + bit, 0)).toBe(31);
    expect([GROUP_BITS.T, GROUP_BITS.B, GROUP_BITS.V, GROUP_BITS.L, GROUP_BITS.A]).toEqual([TIMES, WEIGHT, INTEGRAL, LANDING_GROUP, SIDES]);
  });
});

describe("the steps", () => {
  const first = formula("first", (a) => 2 * a);
  const second = formula("second", (a, b) => a - b);

  test("are the last of each result, with the inputs by the symbols of the formula", () => {
    const work = new Workings();
    work.give(second, work.exact(9), work.exact(9));
    work.give(first, work.exact(3));
    work.give(second, work.exact(7), work.exact(4));
    expect(work.steps()).toEqual([
      { gives: "first", formula: "formula of first", inputs: [{ symbol: "a", unit: "N", value: 3, from: "first" }], value: 6, unit: "N" },
      { gives: "second", formula: "formula of second", inputs: [{ symbol: "a", unit: "N", value: 7, from: "first" }, { symbol: "b", unit: "N", value: 4 }], value: 3, unit: "N" },
    ]);
    expect("from" in work.steps()[1]!.inputs[1]!).toBe(false);
  });

  test("are not written down unless asked for", () => {
    const work = new Workings(false);
    expect(work.give(first, work.exact(3)).value).toBe(6);
    expect(work.steps()).toEqual([]);
    expect(work.metrics.get("first")!.value).toBe(6);
  });
});

test("a function of two metrics counts what they share with its sign", () => {
  const row = (...parts: readonly (readonly [number, number])[]): number[] => {
    const rows = Array<number>(SOURCE_COUNT).fill(0);
    for (const [source, u] of parts) rows[source] = u;
    return rows;
  };
  const a = new WorkedMetric("a", 6, "N", TIMES, row([ZERO, 3], [NOISE, 4]), 0, 5);
  const b = new WorkedMetric("b", 2, "N", SIDES, row([ZERO, 1]), 0, 1);
  const exact = new WorkedMetric("c", 2, "N", 0, row(), 0, undefined);
  // a - 3 b: the zero cancels, the noise stays.
  const difference = combinedMetric("d", 0, "N", a, 1, b, -3);
  expect(difference).toMatchObject({ id: "d", value: 0, unit: "N", needs: TIMES | SIDES, u: 4 });
  expect(difference.budget).toEqual([{ source: "noise", u: 4 }]);
  expect(combinedMetric("d", 0, "N", a, 1, b, 1).u).toBeCloseTo(Math.hypot(4, 4), 12);
  expect([combinedMetric("d", 0, "N", a, 2, exact, 1).u, combinedMetric("d", 0, "N", exact, 1, a, 2).u, combinedMetric("d", 0, "N", exact, 1, exact, 2).u]).toEqual([10, 10, undefined]);
});
