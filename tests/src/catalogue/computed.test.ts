import { describe, expect, test } from "vitest";
import { metricById, metricsOf } from "../../../src/catalogue/metrics.ts";
import { resolveMetricName } from "../../../src/catalogue/resolveMetricName.ts";
import { analyse } from "../../../src/protocols/analyse.ts";
import { parseAdjust } from "../../../src/protocols/parseAdjust.ts";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import { TESTS, type Test } from "../../../src/protocols/Protocol.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import { PAGE_EN } from "../../../src/wording/en/page.ts";

const PROTOCOLS: Readonly<Record<Test, string>> = { CMJ: "CMJ arms=hips", SJ: "SJ arms=hips", DJ: "DJ drop=0.30 arms=hips", RH: "RH", IMTP: "IMTP" };
/** A pull is made with straps on: its body weight comes from a weighing without the bar. */
const ADJUST: Readonly<Partial<Record<Test, string>>> = { IMTP: "bodyWeight=735.5" };
const analysed = (name: Test) => {
  const { trace } = syntheticTrial({ test: name, faults: { noise: 2 } });
  return analyse(trace, parseProtocol(PROTOCOLS[name]), DEFAULT_SETTINGS, parseAdjust(ADJUST[name] ?? ""));
};

describe.each(TESTS)("what the analysis of %s gives", (name) => {
  const { metrics, missing, steps } = analysed(name);

  test("is in the catalogue, for this test, in the unit of the catalogue", () => {
    for (const [id, { unit }] of metrics) {
      const { base, unit: expected, factor } = resolveMetricName(id);
      expect(base.tests, id).toContain(name);
      expect(unit, id).toBe(expected);
      expect(factor, id).toBe(1);
    }
  });

  test("is every metric of the test, or a reason for it", () => {
    const unexplained = metricsOf(name).filter(({ id }) => !metrics.has(id) && !missing.get(id));
    expect(unexplained.map(({ id }) => id)).toEqual([]);
    // A clean trial lacks next to nothing.
    expect(metricsOf(name).filter(({ id }) => !metrics.has(id)).map(({ id }) => id)).toEqual(LACKING[name]);
  });

  test("has left and right exactly where the catalogue says so", () => {
    const sided = (id: string): boolean => metrics.has(`${id}Left`) && metrics.has(`${id}Right`);
    for (const { id, forms } of metricsOf(name)) {
      if (metrics.has(id)) expect(sided(id), id).toBe(forms.sides === true);
    }
  });

  test("has steps that end in metrics of the catalogue, in its units", () => {
    for (const { gives, unit } of steps) {
      const metric = metricById(gives);
      if (metric) expect(unit, gives).toBe(metric.unit);
    }
  });

  test("has uncertainties whose parts have names", () => {
    for (const [id, { budget = [] }] of metrics) {
      for (const { source } of budget) expect(PAGE_EN.uncertainty, `${id}: ${source}`).toHaveProperty([source]);
    }
  });
});

/** What a clean synthetic trial of two plates cannot give. */
const LACKING: Readonly<Record<Test, readonly string[]>> = {
  CMJ: [],
  SJ: [],
  // Integrated backward from the final stand, it is zero by construction.
  DJ: ["endVelocity"],
  RH: [],
  // Body weight is given by hand, so there is no weighing to judge.
  IMTP: ["weighingSd", "bodyWeightUncertainty"],
};
