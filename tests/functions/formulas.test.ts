import { describe, expect, test } from "vitest";
import { FUNCTIONS } from "../../functions/index.ts";
import { evaluateFormula } from "../support/evaluateFormula.ts";
import { expectCase, FORMULA_CASES } from "../support/formulaCases.ts";

describe("formulas.json, in Node", () => {
  test.each(FORMULA_CASES.map((row) => [row.formula.slice(0, 120), row] as const))("%s", async (_, row) => {
    expectCase(row, await evaluateFormula(row.formula));
  });

  test("names a source for every expectation, and covers every function", () => {
    for (const row of FORMULA_CASES) expect(row.source.length, row.formula).toBeGreaterThan(5);
    const used = new Set(FORMULA_CASES.flatMap((row) => [...row.formula.matchAll(/LEAP\.([A-Z_]+)\(/gi)].map((match) => match[1].toUpperCase())));
    expect([...FUNCTIONS.keys()].filter((id) => !used.has(id))).toEqual([]);
  });
});
