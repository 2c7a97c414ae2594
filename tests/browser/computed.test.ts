import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { syntheticTrial } from "../../src/synthetic/syntheticTrial.ts";
import type { Applied, CellValue } from "../../taskpane/host/SheetHost.ts";
import { seededRandom } from "../support/seededRandom.ts";
import { startBrowserTests, type BrowserTests, type OpenPage } from "./support/page.ts";

/** One thing done to the workbook, and how long after it the next one comes; `check`: first all is computed and compared. */
interface Step {
  readonly does: "write" | "import" | "edit" | "note" | "undo" | "remove";
  readonly pick: number;
  readonly then: number;
  readonly check: boolean;
}

const KINDS = ["write", "import", "note", "edit", "note", "undo", "note", "note", "import", "edit", "note", "remove"] as const;

/** Pauses that fall before, in and after a calculation, ms. */
const PAUSES = [0, 0, 1, 3, 8, 15, 25, 40, 70, 110, 160];

describe("what the sheet shows", () => {
  let tests: BrowserTests;
  let open: OpenPage;

  beforeAll(async () => {
    tests = await startBrowserTests();
  });
  afterAll(async () => {
    await tests?.close();
  });

  test.each((process.env.LEAPSHEET_SEEDS ?? "1 3").split(" ").map(Number))("is what a full recalculation gives, whatever was done while it computed (seed %i)", async (seed) => {
    open = await tests.open();
    await open.page.locator("[data-line]").first().waitFor();
    const random = seededRandom(seed);
    const steps = Array.from({ length: 36 }, (_, at): Step => ({
      does: at < 2 ? "write" : KINDS[Math.floor(random() * KINDS.length)],
      pick: Math.floor(random() * 1000),
      then: PAUSES[Math.floor(random() * PAUSES.length)],
      check: at % 9 === 8,
    }));
    const { trace } = syntheticTrial({ test: "CMJ", seed, mass: 70, height: 0.35, faults: { noise: 0.5 } });
    const plain = { rate: trace.rate, plates: trace.plates.map(({ role, force }) => ({ role, force: [...force] })), start: trace.start, step: trace.step, rounding: trace.rounding };
    const { faults, compared } = await open.page.evaluate(runSteps, { steps, plain });
    expect(faults).toEqual([]);
    // Four comparisons of a workbook with some hundred formulas.
    expect(compared).toBeGreaterThan(4 * 100);
    expect(open.faults).toEqual({ console: [], foreign: [] });
    await open.close();
  });
});

/** Runs in the page: does the steps, and says where a value differs from that of a full recalculation, and of how many formulas it is true. */
async function runSteps({ steps, plain }: { steps: readonly Step[]; plain: { rate: number; plates: { role: string; force: number[] }[]; start: number; step: number; rounding: number } }) {
  const { host, workbook } = window.leapsheet!;
  const pause = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds));
  const faults: string[] = [];
  let compared = 0;
  let made = 0;
  let last: Applied | undefined;
  const written: string[] = [];

  const all = async () => {
    const found = new Map<string, { value: string; formula: string }>();
    for (const sheet of await host.sheets()) {
      const used = await host.usedRange(sheet);
      if (!used) continue;
      const [content] = await host.read([used]);
      content.values.forEach((row, down) => row.forEach((value: CellValue, right) => found.set(`${sheet} ${used.row + down} ${used.column + right}`, { value: JSON.stringify(value), formula: content.formulas[down][right] })));
    }
    return found;
  };
  const compare = async (after: string) => {
    await host.settled();
    const shown = await all();
    await host.recalculate();
    const right = await all();
    for (const place of new Set([...shown.keys(), ...right.keys()])) {
      const [is, should] = [shown.get(place), right.get(place)];
      if (should?.formula) compared++;
      if ((is?.value ?? '""') !== (should?.value ?? '""')) faults.push(`${after}: ${place} shows ${is?.value}, not ${should?.value}: ${should?.formula}`);
    }
  };
  const write = async () => {
    const sheet = `Sheet ${++made}`;
    written.push(sheet);
    last = await host.apply(
      [
        { kind: "addSheet", sheet },
        { kind: "cells", sheet, row: 0, column: 0, cells: [[{ formula: "=COUNTA(Trials!A2:A500)" }, { formula: "=SUM(Results!F2:F500)" }, { formula: '=FILTER(Results!A2:C500,Results!A2:A500<>"")' }]] },
        { kind: "cells", sheet, row: 0, column: 6, cells: Array.from({ length: 40 }, (_, row) => [{ formula: `=IF(Results!A${row + 2}="","",Results!A${row + 2}&" "&C${row + 1})` }, { formula: `=LEN(G${row + 1})+A1` }]) },
        { kind: "cells", sheet, row: 0, column: 9, cells: [[{ formula: '=FILTER(G1:H40,G1:G40<>"")' }]] },
      ],
      { label: sheet },
    );
  };
  const addTrial = async (pick: number) => {
    made++;
    const receipt = await workbook.addTrials(
      Array.from({ length: 2 + (pick % 20) }, (_, at) => ({
        athlete: `Person ${pick % 5}`, date: "2026-03-20", protocol: { test: "CMJ" as const, arms: "hips" as const }, file: "", startInFile: 0, hash: `made-${made}-${at}`,
        trace: { rate: plain.rate, plates: plain.plates.map(({ role, force }) => ({ role: role as "total", force: Float64Array.from(force, (value) => value + (made % 7)) })), start: plain.start, step: plain.step, rounding: plain.rounding },
      })),
    );
    last = receipt.applied;
  };
  const edit = async (pick: number) => {
    const table = (await host.tables()).find(({ name }) => name === "Trials")!;
    last = await host.apply([{ kind: "cells", sheet: table.range.sheet, row: table.range.row + 1 + (pick % (table.range.rows - 1)), column: table.range.column + table.columns.indexOf("athlete"), cells: [[`Name ${pick}`]] }], { label: "Edit" });
  };
  /** A word beside everything: what was changed before has nothing to do with it, and must not be forgotten over it. */
  const note = async (pick: number) => {
    await host.apply([{ kind: "cells", sheet: "Sheet 1", row: 60 + (pick % 20), column: 0, cells: [[pick]] }], { label: "Note" });
  };
  for (const [at, { does, pick, then, check }] of steps.entries()) {
    if (does === "write") await write();
    else if (does === "import") await addTrial(pick);
    else if (does === "edit") await edit(pick);
    else if (does === "note") await note(pick);
    else if (does === "undo" && last) {
      // Where something came since, the undo is refused: that is no fault here.
      await host.undo(last).catch(() => {});
      last = undefined;
    } else if (does === "remove" && written.length > 1) {
      const sheet = written.pop()!;
      if ((await host.sheets()).includes(sheet)) last = await host.apply([{ kind: "deleteSheet", sheet }], { label: "Away" });
    }
    if (check) await compare(`after step ${at} (${does})`);
    else await pause(then);
  }
  return { faults: faults.slice(0, 20), compared };
}
