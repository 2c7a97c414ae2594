import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { CellError, FUNCTIONS } from "../../functions/index.ts";
import { functionsMetadata } from "../../scripts/metadata.js";

const { functions } = (await functionsMetadata()) as { functions: { id: string; parameters: { dimensionality?: string; optional?: boolean }[] }[] };

const cell = fc.oneof(
  { weight: 4, arbitrary: fc.double({ noNaN: true, noDefaultInfinity: true, min: -5000, max: 5000 }) },
  { weight: 2, arbitrary: fc.constantFrom<unknown>(0, 1, 2, 0.5, 1000, "", null, true, false, "CMJ", "DJ drop=0.3", "jumpHeight", "peakForceLeft kN", "left", "flight", "log", "t", "table", "SYNTHETIC", "0.25") },
  { weight: 1, arbitrary: fc.double() },
  { weight: 1, arbitrary: fc.string({ maxLength: 12 }) },
  { weight: 1, arbitrary: fc.constant<unknown>(new CellError("#N/A", "no flight")) },
);
const range = fc.tuple(fc.integer({ min: 1, max: 6 }), fc.integer({ min: 1, max: 4 })).chain(([rows, columns]) => fc.array(fc.array(cell, { minLength: columns, maxLength: columns }), { minLength: rows, maxLength: rows }));

/** Faults of a result as a sheet takes it; functions may also throw a `CellError` with a sentence. */
function faultsOf(run: () => unknown): string[] {
  let result: unknown;
  try {
    result = run();
  } catch (thrown) {
    if (!(thrown instanceof CellError)) return [`threw ${String(thrown)}`];
    return thrown.message === "" || thrown.message.includes("fault of its own") ? [thrown.message] : [];
  }
  const rows = Array.isArray(result) ? (result as unknown[][]) : [[result]];
  const faults: string[] = [];
  if (rows.length === 0) faults.push("no row");
  for (const row of rows) {
    if (!Array.isArray(row) || row.length === 0 || row.length !== rows[0].length) faults.push("ragged or no array");
    for (const value of row) {
      if (value instanceof CellError ? value.message.includes("fault of its own") : !(typeof value === "string" || typeof value === "boolean" || Number.isFinite(value))) faults.push(`${String(value)} in a cell`);
    }
  }
  return faults;
}

describe("every cell function", () => {
  test("declares as many parameters as it takes, so that the invocation is found behind them", () => {
    expect(functions.map(({ id }) => id)).toEqual([...FUNCTIONS.keys()].sort());
  });

  for (const { id, parameters } of functions) {
    test(`${id} gives finite numbers, text, TRUE, FALSE or a sentence for any arguments`, () => {
      const args = parameters.map((parameter) => {
        const filled = parameter.dimensionality === "matrix" ? range : cell;
        return parameter.optional ? fc.option(filled, { nil: null }) : filled;
      });
      fc.assert(
        fc.property(fc.tuple(...args), (values) => {
          expect(faultsOf(() => FUNCTIONS.get(id)?.(...values, { address: "Any!A1" }))).toEqual([]);
        }),
        { numRuns: 60, seed: 20240229 },
      );
    });
  }

  test("gives the same for the same arguments, and leaves them as they were", () => {
    const rows = Object.freeze([Object.freeze([0.5]), Object.freeze([0.6])]);
    const once = FUNCTIONS.get("HEIGHT_FLIGHT")?.(rows, null);
    expect(FUNCTIONS.get("HEIGHT_FLIGHT")?.(rows, null)).toEqual(once);
  });
});
