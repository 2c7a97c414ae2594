import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { CellValue } from "../../taskpane/host/SheetHost.ts";
import { expectCase, FORMULA_CASES } from "../support/formulaCases.ts";
import { startBrowserTests, type BrowserTests, type OpenPage } from "./support/page.ts";

/** Columns kept free for each formula, so that none spills into the next. */
const WIDE = 40;

const PLACES = FORMULA_CASES.map((row, index) => {
  const [rows, columns] = Array.isArray(row.expect) ? [row.expect.length, Math.max(...row.expect.map((cells) => cells.length))] : [1, 1];
  return { formula: row.formula, column: index * WIDE, rows, columns };
});

describe("formulas.json, in the embedded sheet", () => {
  let tests: BrowserTests;
  let open: OpenPage;
  let results: CellValue[][][];

  beforeAll(async () => {
    tests = await startBrowserTests();
    open = await tests.open();
    results = await open.page.evaluate(
      async ({ places, wide }) => {
        const { host } = window.leapsheet!;
        const sheet = "Formula cases";
        await host.apply(
          [
            { kind: "addSheet", sheet, rows: 20_000, columns: places.length * wide },
            ...places.map(({ formula, column }) => ({ kind: "cells", sheet, row: 0, column, cells: [[{ formula }]] }) as const),
          ],
          { label: "Formula cases" },
        );
        await host.settled();
        const contents = await host.read(places.map(({ column, rows, columns }) => ({ sheet, row: 0, column, rows, columns })));
        return contents.map(({ values }) => values.map((row) => [...row]));
      },
      { places: PLACES, wide: WIDE },
    );
  });
  afterAll(async () => {
    await open?.close();
    await tests?.close();
  });

  test.each(FORMULA_CASES.map((row, index) => [row.formula.slice(0, 120), index] as const))("%s", (_, index) => {
    expectCase(FORMULA_CASES[index], Array.isArray(FORMULA_CASES[index].expect) ? results[index] : results[index][0][0]);
  });

  test("no formula upset the page", () => {
    expect(open.faults.console).toEqual([]);
  });
});
