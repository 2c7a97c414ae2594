import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { CellError, FUNCTIONS } from "../../functions/index.ts";
import { syntheticTrial } from "../../src/synthetic/syntheticTrial.ts";
import type { SyntheticOptions } from "../../src/synthetic/SyntheticOptions.ts";
import { packTrace } from "../../src/trace/packTrace.ts";
import { startBrowserTests, type BrowserTests, type OpenPage } from "./support/page.ts";

const TRIALS: readonly SyntheticOptions[] = [
  { test: "CMJ", seed: 3, faults: { noise: 1, sway: 3, offset: [6, -4] } },
  { test: "SJ", seed: 4, faults: { noise: 1 } },
  { test: "DJ", seed: 5, faults: { noise: 1 } },
  { test: "RH", seed: 6, faults: { noise: 1 } },
  { test: "IMTP", seed: 7, faults: { noise: 2 } },
];
const SPILLS = ["ANALYSE", "EVENTS", "FINDINGS"] as const;
/** Room for the widest and the longest of them. */
const [WIDE, LONG] = [8, 400];

describe("the same packed text in the embedded sheet and in Node", () => {
  let tests: BrowserTests;
  let open: OpenPage;
  beforeAll(async () => {
    tests = await startBrowserTests();
    open = await tests.open();
  });
  afterAll(async () => {
    await open?.close();
    await tests?.close();
  });

  test.each(TRIALS)("gives the same numbers to the last bit: $test", async (options) => {
    const cells = [...packTrace(syntheticTrial(options).trace), "", "", ""].slice(0, 4);
    const shown = await open.page.evaluate(
      async ({ sheet, cells, spills, wide, long, protocol }) => {
        const { host } = window.leapsheet!;
        await host.apply(
          [
            { kind: "addSheet", sheet, rows: long + 20, columns: wide * spills.length + 10 },
            { kind: "cells", sheet, row: 0, column: 0, cells: [cells] },
            ...spills.map((name, index) => ({ kind: "cells", sheet, row: 1, column: index * wide, cells: [[{ formula: `=LEAP.${name}($A$1:$D$1,"${protocol}")` }]] }) as const),
          ],
          { label: "Spills" },
        );
        await host.settled();
        const contents = await host.read(spills.map((_, index) => ({ sheet, row: 1, column: index * wide, rows: long, columns: wide })));
        return contents.map(({ values }) => values.map((row) => [...row]));
      },
      { sheet: `Same ${options.test}`, cells, spills: [...SPILLS], wide: WIDE, long: LONG, protocol: options.test },
    );
    SPILLS.forEach((name, index) => {
      const expected = (FUNCTIONS.get(name)!([cells], options.test) as unknown[][]).map((row) => row.map((cell) => (cell instanceof CellError ? { error: cell.code, message: cell.message } : cell)));
      expect(expected.length, name).toBeGreaterThan(1);
      const rows = shown[index]!.slice(0, expected.length).map((row) => row.slice(0, expected[0]!.length));
      // Exact: a difference in the last bit of any number is one.
      expect(rows, name).toEqual(expected);
    });
  });
});
