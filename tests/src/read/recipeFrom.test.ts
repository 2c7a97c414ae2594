import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { InputError } from "../../../src/errors.ts";
import { recipeFrom } from "../../../src/read/recipeFrom.ts";

const WHOLE = { sheet: "A", delimiter: "tab", decimal: ",", headerLines: 3, time: "none", timeUnit: "ms", rate: 1000, forces: [{ column: 2, role: "left" }, { column: "Fz", role: "right" }], unit: "kN", invert: true };

describe("recipeFrom", () => {
  test("gives back a whole recipe, part for part", () => {
    expect(recipeFrom(JSON.parse(JSON.stringify(WHOLE)))).toEqual(WHOLE);
    expect(recipeFrom({})).toEqual({});
  });

  test("leaves out what it does not know", () => {
    expect(recipeFrom(JSON.parse('{"rate":500,"later":1,"__proto__":{"rate":1},"constructor":2}'))).toEqual({ rate: 500 });
  });

  test.each([
    ["rate", 0], ["rate", -1], ["rate", "1000"], ["rate", Infinity], ["headerLines", 1.5], ["headerLines", -1], ["time", 0], ["time", {}], ["timeUnit", "min"], ["delimiter", "constructor"],
    ["decimal", { toString: "." }], ["forces", {}], ["forces", [{ column: 2, role: "__proto__" }]], ["forces", [{ column: -1, role: "left" }]], ["forces", [null]], ["forces", Array(17).fill({ column: 1, role: "left" })],
    ["unit", "stone"], ["invert", "yes"], ["sheet", "x".repeat(1001)],
  ])("refuses %s of %j, by the name of the part", (part, value) => {
    expect(() => recipeFrom({ ...WHOLE, [part]: value })).toThrow(expect.objectContaining({ name: "InputError", code: "wrong-shape", message: expect.stringContaining(`another ${part} than`) }));
  });

  test.each([null, undefined, [], "text", 5])("refuses %j: no recipe", (kept) => {
    expect(() => recipeFrom(kept)).toThrow(expect.objectContaining({ code: "wrong-shape" }));
  });

  // Law: whatever comes in, out comes a recipe that passes again unchanged, or a sentence.
  test("is idempotent", () => {
    fc.assert(
      fc.property(fc.oneof(fc.anything(), fc.record({ ...Object.fromEntries(Object.keys(WHOLE).map((part) => [part, fc.oneof(fc.anything(), fc.constant(WHOLE[part as keyof typeof WHOLE]))])) }, { requiredKeys: [] })), (kept) => {
        try {
          const recipe = recipeFrom(kept);
          expect(recipeFrom(recipe)).toEqual(recipe);
        } catch (error) {
          if (!(error instanceof InputError)) throw error;
        }
      }),
      { numRuns: 300 },
    );
  });
});
