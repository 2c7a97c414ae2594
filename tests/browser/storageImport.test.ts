import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { serve } from "../../scripts/serve.js";
import { demoTrials } from "../../taskpane/workbook/demoSession.ts";
import { DIST, launchProfile, temporaryProfile, usable } from "./support/page.ts";

/** How often the browser is killed; a longer run is recorded by hand with LEAPSHEET_KILLS=50. */
const KILLS = Number(process.env.LEAPSHEET_KILLS ?? 3);
/** Trials of the demo session. */
const DEMO = demoTrials().length;
/** Trials of one import: enough for it to be under way when the browser is killed. */
const IMPORT = 60;

describe("a browser that is killed in the middle of an import", () => {
  let server: { url: string; close: () => Promise<void> };
  const profile = temporaryProfile();
  beforeAll(async () => {
    server = await serve({ folder: DIST });
  });
  afterAll(async () => {
    await server?.close();
    profile.remove();
  });

  test(`has all of an import or nothing of it when it is opened again, killed ${KILLS} times at random moments`, async () => {
    const counts: number[] = [];
    for (let round = 0; round <= KILLS; round++) {
      const { context, page } = await launchProfile(profile.folder);
      await page.goto(server.url);
      await usable(page);
      const found = await page.evaluate(async () => {
        const { host, workbook } = window.leapsheet!;
        await host.settled();
        const trials = await workbook.trials();
        const head = (await host.definedName("LeapResults"))!;
        const used = (await host.usedRange(head.sheet))!;
        const [content] = await host.read([{ ...head, row: head.row + 1, rows: used.row + used.rows - head.row - 1, columns: 1 }]);
        const cells = await Promise.all(trials.map(({ key }) => workbook.resultCell(key)));
        return {
          imported: trials.filter(({ key }) => key.startsWith("import")).map(({ key }) => key),
          whole: trials.every(({ packed }) => packed[0].startsWith("LEAPF1 ") && packed[0].length > 500),
          rows: content.formulas.filter(([formula]) => formula.includes("LEAP.METRIC")).length,
          trials: trials.length,
          cells: new Set(cells.map((cell) => cell?.row)).size,
        };
      });
      // Every trial with its trace and its own row of results, those of the demo among them; each import whole.
      expect(found.whole).toBe(true);
      expect([found.rows, found.cells]).toEqual([found.trials, found.trials]);
      expect(found.imported.length % IMPORT).toBe(0);
      expect(found.trials).toBe(DEMO + found.imported.length);
      expect(found.imported.length, "an import that was once found stays").toBeGreaterThanOrEqual(counts.at(-1) ?? 0);
      counts.push(found.imported.length);
      if (round === KILLS) {
        await context.close();
        break;
      }
      const { readlinkSync } = await import("node:fs");
      const processId = Number(/-(\d+)$/.exec(readlinkSync(`${profile.folder}/SingletonLock`))![1]);
      const importing = page
        .evaluate(
          async ({ round, count }) => {
            const force = (seed: number): Float64Array => Float64Array.from({ length: 3000 }, (_, i) => 700 + ((i * 7919 + seed * 104729) % 31) / 10);
            const drafts = Array.from({ length: count }, (_, index) => ({
              athlete: `Invented ${index % 9}`,
              date: "2026-03-15",
              protocol: { test: "CMJ" as const },
              file: `import${round}-${index}.csv`,
              startInFile: 0,
              hash: `import${round}-${index}`,
              trace: { rate: 1000, plates: [{ role: "total" as const, force: force(round * 100 + index) }], start: 0, step: 0.1, rounding: 0 },
            }));
            await window.leapsheet!.workbook.addTrials(drafts);
          },
          { round, count: IMPORT },
        )
        .catch(() => {});
      await new Promise((resolve) => setTimeout(resolve, 100 + Math.random() * 2500));
      process.kill(processId, "SIGKILL");
      await importing;
      await context.close().catch(() => {});
    }
    expect(counts).toHaveLength(KILLS + 1);
  }, 60_000 + KILLS * 40_000);
});
