import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { syntheticTrial } from "../../src/synthetic/syntheticTrial.ts";

const LAUNCHER = join(import.meta.dirname, "..", "..", "command", "leapsheet.js");
/** Several batches for each thread. */
const FILES = 61;

describe("threads", () => {
  let folder = "";
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "leapsheet-"));
    for (let k = 0; k < FILES; k++) {
      const { trace } = syntheticTrial({ test: "CMJ", seed: k + 1, mass: 50 + k, rate: 250, faults: { noise: 1 } });
      const [left, right] = trace.plates.map(({ force }) => force);
      const lines = Array.from(left!, (force, i) => `${i / trace.rate},${force.toFixed(2)},${right![i]!.toFixed(2)}`);
      writeFileSync(join(folder, `${String(k).padStart(2, "0")}.csv`), k === 30 ? "no recording" : ["time,left,right", ...lines].join("\n"));
    }
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  const places = () => Array.from({ length: FILES }, (_, k) => join(folder, `${String(k).padStart(2, "0")}.csv`));
  const command = (...words: string[]) => spawnSync(process.execPath, [LAUNCHER, "analyse", ...words], { encoding: "utf8" });
  const run = (jobs: number) => {
    const [out, samples] = [`${jobs}.json`, `${jobs}.parquet`].map((name) => join(folder, name));
    const done = command(...places(), "--test", "CMJ", "--jobs", String(jobs), "--format", "json", "--out", out!, "--samples", samples!);
    return { status: done.status, said: done.stderr, out: readFileSync(out!, "utf8"), samples: readFileSync(samples!) };
  };

  test("give the same bytes in the order of the files, however many there are", () => {
    // One reads and analyses; of two one reads for the other; the third does both.
    const one = run(1);
    const two = run(2);
    const three = run(3);
    const entries = JSON.parse(three.out) as { file: string; error?: string; metrics?: object }[];
    expect(entries.map(({ file }) => Number(/(\d+)\.csv$/.exec(file)![1]))).toEqual(Array.from({ length: FILES }, (_, k) => k));
    expect(entries.filter(({ error }) => error !== undefined)).toHaveLength(1);
    expect([two.out, three.out]).toEqual([one.out, one.out]);
    expect([two, three].map(({ samples }) => samples.equals(one.samples))).toEqual([true, true]);
    // One file of the folder could not be read.
    expect([one.status, two.status, three.status]).toEqual([1, 1, 1]);
    expect(three.said).toContain(`1 of ${FILES} files could not be read`);
  }, 180_000);

  test("give the same rows where columns stand in memory in which those of other files stood before", () => {
    // Each file comes nine times, which are more batches than the first worker has memory for at once.
    const many = Array.from({ length: 9 }, places).flat();
    const rows = [1, 2, 3].map((jobs) => {
      const out = join(folder, `${jobs}.csv.results`);
      command(...many, "--test", "CMJ", "--jobs", String(jobs), "--format", "csv", "--out", out);
      return readFileSync(out, "utf8");
    });
    expect(rows[0]!.trimEnd().split("\n")).toHaveLength(1 + many.length);
    expect([rows[1], rows[2]]).toEqual([rows[0], rows[0]]);
  }, 180_000);
});
