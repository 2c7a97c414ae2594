import { describe, expect, test } from "vitest";
import { normalFrom, seededRandom } from "../../support/seededRandom.ts";
import { squatJumpHeights } from "../../support/squatJumpHeights.ts";
import { describeWithData } from "../../support/data.ts";
import { iccFormByName, ICC_FORMS, intraclassCorrelation } from "../../../src/statistics/intraclassCorrelation.ts";

describe("intraclassCorrelation", () => {
  // The example table of Shrout & Fleiss (1979), six targets by four judges.
  const table = Object.freeze(
    [
      [9, 2, 5, 8],
      [6, 1, 3, 2],
      [8, 4, 6, 8],
      [7, 1, 2, 6],
      [10, 5, 6, 9],
      [6, 2, 4, 7],
    ].map((row) => Object.freeze(row)),
  );

  // Published .17 .29 .71 .44 .62 .91; further digits by hand from the mean squares; limits with SciPy 1.17.1 f.ppf.
  test.each([
    ["1,1", 0.16574176840547553, -0.13293232487475096, 0.7225600623281211],
    ["2,1", 0.2897637795275592, 0.018786513374712044, 0.7610843696489529],
    ["3,1", 0.7148407148407154, 0.34246476503392614, 0.9458582599553597],
    ["1,k", 0.4427971336792688, -0.8844421552381201, 0.9124154203407755],
    ["2,k", 0.6200505475989893, 0.07113681530250336, 0.9272320401677219],
    ["3,k", 0.9093155423770697, 0.6756747138163046, 0.9858916781690623],
  ] as const)("ICC(%s) of the published table is %d, from %d to %d", (form, value, low, high) => {
    const icc = intraclassCorrelation(table, form);
    expect(icc.value).toBeCloseTo(value, 10);
    expect(icc.low).toBeCloseTo(low, 8);
    expect(icc.high).toBeCloseTo(high, 8);
  });

  // Eight invented athletes, test and retest; digits by hand, limits with SciPy.
  test("gives agreement and consistency of a retest with limits", () => {
    const retest = [
      [34.1, 34.9],
      [38.6, 38.0],
      [41.2, 42.3],
      [29.8, 30.1],
      [45.0, 44.1],
      [36.7, 37.9],
      [33.0, 32.4],
      [40.3, 41.2],
    ];
    const consistency = intraclassCorrelation(retest, "3,1");
    expect(consistency.value).toBeCloseTo(0.9848957987287654, 10);
    expect(consistency.low).toBeCloseTo(0.9267653713800056, 8);
    expect(consistency.high).toBeCloseTo(0.9969577050329744, 8);
    const agreement = intraclassCorrelation(retest, "2,1");
    expect(agreement.value).toBeCloseTo(0.9852158180408365, 10);
    expect(agreement.low).toBeCloseTo(0.9345552802756755, 7);
    expect(agreement.high).toBeCloseTo(0.9969664879215405, 8);
  });

  test("consistency ignores a common gain, agreement does not", () => {
    const raised = table.map(([a, b, c, d]) => [a, b + 5, c, d]);
    expect(intraclassCorrelation(raised, "3,1").value).toBeCloseTo(intraclassCorrelation(table, "3,1").value, 10);
    expect(intraclassCorrelation([[1, 3], [2, 4], [4, 6]], "3,1").value).toBe(1);
    expect(intraclassCorrelation([[1, 3], [2, 4], [4, 6]], "2,1").value).toBeLessThan(0.8);
  });

  test("no form depends on unit or zero", () => {
    const changed = table.map((row) => row.map((value) => 3 * value - 40));
    for (const form of ICC_FORMS) {
      const [one, two] = [intraclassCorrelation(table, form), intraclassCorrelation(changed, form)];
      expect(two.value).toBeCloseTo(one.value, 9);
      expect(two.low).toBeCloseTo(one.low, 7);
    }
  });

  test("covers the true correlation in about 95 of 100 simulated tables", () => {
    const normal = normalFrom(seededRandom(3));
    let inside = 0;
    const runs = 1500;
    for (let run = 0; run < runs; run++) {
      const simulated = Array.from({ length: 12 }, () => {
        const person = 2 * normal();
        return [person + normal(), person + normal(), person + normal()];
      });
      const { low, high } = intraclassCorrelation(simulated, "3,1");
      // True value: 4 / (4 + 1).
      if (low <= 0.8 && 0.8 <= high) inside++;
    }
    expect(inside / runs).toBeGreaterThan(0.93);
    expect(inside / runs).toBeLessThan(0.97);
  });

  test("is one with limits of one where every trial repeats exactly", () => {
    for (const form of ICC_FORMS) {
      const { value, low, high } = intraclassCorrelation([[1, 1], [2, 2], [5, 5]], form);
      expect([value, low, high]).toEqual([1, 1, 1]);
    }
  });

  test("takes names of the forms in several spellings", () => {
    expect(iccFormByName("ICC(3,1)")).toBe("3,1");
    expect(iccFormByName("2,k")).toBe("2,k");
    expect(iccFormByName("A,1")).toBe("2,1");
    expect(iccFormByName("C,k")).toBe("3,k");
    expect(() => iccFormByName("4,1")).toThrow(expect.objectContaining({ name: "InputError", code: "unknown-name" }));
  });

  test("refuses people who do not differ, and too few of them", () => {
    expect(() => intraclassCorrelation([[1, 2], [1, 2]])).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => intraclassCorrelation([[1, 2]])).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => intraclassCorrelation(table, "3,1", 95)).toThrow(expect.objectContaining({ code: "out-of-range" }));
  });
});

describeWithData("intraclassCorrelation of squat-jump heights at five times", () => {
  // Jimenez-Reyes et al. (2019), open data of 60 people, the last four occasions; values recomputed once outside.
  test("gives agreement and consistency over the last four occasions", () => {
    const table = squatJumpHeights().map((row) => row.slice(1));
    const agreement = intraclassCorrelation(table, "2,1");
    expect(agreement.value).toBeCloseTo(0.99525, 5);
    expect(agreement.low).toBeCloseTo(0.974884, 5);
    expect(agreement.high).toBeCloseTo(0.998233, 5);
    expect(intraclassCorrelation(table, "3,1").value).toBeCloseTo(0.99871, 5);
  });
});
