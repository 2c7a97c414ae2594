import temml from "temml";
import { describe, expect, test } from "vitest";
import { metricFormula } from "../../../src/catalogue/metricFormula.ts";
import { METRICS } from "../../../src/catalogue/metrics.ts";

describe("metricFormula", () => {
  test("has a formula for every metric, each of which becomes MathML without an error", () => {
    for (const { id } of METRICS) {
      expect(metricFormula(id), id).not.toBe("");
      expect(temml.renderToString(metricFormula(id), { throwOnError: true, strict: true }), id).toMatch(/^<math/);
    }
  });

  test("writes the stretch of time that the name of a metric of the pull says", () => {
    // By hand: the rise from 50 to 100 ms takes 50 ms; from the onset there is nothing to add to its time.
    expect(metricFormula("rfd50to100")).toBe("\\frac{F(t_0 + 100\\,\\mathrm{ms}) - F(t_0 + 50\\,\\mathrm{ms})}{50\\,\\mathrm{ms}}");
    expect(metricFormula("rfd0to250")).toBe("\\frac{F(t_0 + 250\\,\\mathrm{ms}) - F(t_0)}{250\\,\\mathrm{ms}}");
    expect(metricFormula("force90ms")).toBe("F(t_0 + 90\\,\\mathrm{ms})");
    expect(metricFormula("impulse0to200")).toBe("\\int_{t_0}^{t_0 + 200\\,\\mathrm{ms}} (F - BW)\\,dt");
  });

  test("has none for what is no metric", () => {
    for (const id of ["", "jump height", "toString", "force1 ms", "jumpHeightLeft"]) expect(metricFormula(id)).toBe("");
  });
});
