import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeEach, describe, expect, test, vi } from "vitest";
import { analyseFile } from "../../command/analyseFile.ts";
import { parseOptions } from "../../command/options.ts";
import { analyse } from "../../src/protocols/analyse.ts";
import { textTable } from "../../src/read/textTable.ts";
import { syntheticTrial } from "../../src/synthetic/syntheticTrial.ts";
import { loadProfile } from "../../src/trace/loadProfile.ts";

// Counted work, which no other program on the machine can disturb: whatever is done twice for a file shows here.

vi.mock(import("../../src/protocols/analyse.ts"), async (importOriginal) => {
  const original = await importOriginal();
  return { ...original, analyse: vi.fn(original.analyse) };
});
vi.mock(import("../../src/trace/loadProfile.ts"), async (importOriginal) => {
  const original = await importOriginal();
  return { ...original, loadProfile: vi.fn(original.loadProfile) };
});
const columnsRead: number[][] = [];
vi.mock(import("../../src/read/textTable.ts"), async (importOriginal) => {
  const original = await importOriginal();
  return {
    ...original,
    textTable: vi.fn((...words: Parameters<typeof original.textTable>) => {
      const table = original.textTable(...words);
      return {
        ...table,
        values(indexes: readonly number[]) {
          columnsRead.push([...indexes]);
          return table.values(indexes);
        },
      };
    }),
  };
});

const JUMPS = 3;

describe("a file of several jumps", () => {
  const folder = mkdtempSync(join(tmpdir(), "leapsheet-"));
  const file = join(folder, "jumps.csv");
  const lines = ["time,left,right"];
  for (let seed = 1; seed <= JUMPS; seed++) {
    const [left, right] = syntheticTrial({ test: "CMJ", seed, mass: 70, faults: { noise: 1, sway: 1 } }).trace.plates.map(({ force }) => force);
    left!.forEach((force, i) => lines.push(`${(lines.length - 1) / 1000},${force.toFixed(2)},${right![i]!.toFixed(2)}`));
  }
  writeFileSync(file, lines.join("\n"));
  afterAll(() => rmSync(folder, { recursive: true }));
  beforeEach(() => {
    for (const counted of [analyse, loadProfile, textTable]) vi.mocked(counted).mockClear();
    columnsRead.length = 0;
  });

  test.each([[[]], [["--as-packed"]], [["--samples", join(folder, "samples.parquet")]]])("is read once and each jump analysed once %j", async (words) => {
    const entries = await analyseFile(file, parseOptions([file, "--test", "CMJ", ...words]), "0");
    expect(entries.map(({ entry }) => ("error" in entry ? entry.error : entry.trial))).toEqual(Array.from({ length: JUMPS }, (_, k) => k + 1));
    expect(analyse).toHaveBeenCalledTimes(JUMPS);
    expect(textTable).toHaveBeenCalledTimes(1);
    // Every column is parsed once: whatever the guesses ask for comes from one pass over the text.
    expect(columnsRead).toEqual([[0, 1, 2]]);
  });

  test("is summed and cut into blocks once to find the jumps, and once for each of them", async () => {
    await analyseFile(file, parseOptions([file, "--test", "CMJ"]), "0");
    expect(loadProfile).toHaveBeenCalledTimes(1 + JUMPS);
  });
});
