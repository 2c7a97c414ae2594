import { execFile } from "node:child_process";
import { join } from "node:path";
import { promisify } from "node:util";
import { Worker } from "node:worker_threads";
import { expect, test } from "vitest";
import { ROOT } from "../../scripts/sources.js";
import { analyse } from "../../src/protocols/analyse.ts";
import type { Analysis } from "../../src/protocols/Analysis.ts";
import { DEFAULT_SETTINGS } from "../../src/settings/defaultSettings.ts";
import { syntheticTrial } from "../../src/synthetic/syntheticTrial.ts";
import { packTrace } from "../../src/trace/packTrace.ts";
import { unpackTrace } from "../../src/trace/unpackTrace.ts";
import { analysisDigests } from "../support/analysisDigest.js";

const SCRIPT = join(ROOT, "tests/support/analysisDigest.js");
const here = (): string[] => analysisDigests({ syntheticTrial, packTrace, unpackTrace, analyse, settings: DEFAULT_SETTINGS });

test("the same packed text gives the same bytes again, whatever was analysed between", () => {
  const first = here();
  expect(first).toHaveLength(5);
  expect(new Set(first).size).toBe(5);
  analyse(syntheticTrial({ test: "CMJ", seed: 99, faults: { noise: 3 } }).trace, { test: "SJ" }, DEFAULT_SETTINGS);
  expect(here()).toEqual(first);
});

/** All that an analysis says, the parts first that are only worked out when they are asked for. */
function everythingOf(analysis: Analysis): string {
  const series = analysis.timeSeries();
  const columns = [series.time, series.force, series.velocity, series.displacement, series.power].map((column) => (column === undefined ? "none" : Buffer.from(Float64Array.from(column).buffer).toString("base64")));
  return JSON.stringify([analysis.steps, [...analysis.metrics].map(([id, { value, unit, u, budget }]) => [id, value, unit, u, budget]), [...analysis.events], analysis.phases, analysis.findings, [...analysis.missing], analysis.hops, analysis.verdict, columns]);
}

// Memory is used again from trial to trial: what an analysis gave, or gives only when asked later, must not change by that.
test("an analysis says the same before and after others were made, whatever was asked of it first", () => {
  const tests = ["CMJ", "SJ", "DJ", "RH", "IMTP"] as const;
  const traces = tests.map((test, index) => syntheticTrial({ test, seed: 20 + index, faults: { noise: 1, offset: [3, -2] } }).trace);
  const made = (index: number): Analysis => analyse(traces[index]!, { test: tests[index]! }, DEFAULT_SETTINGS);
  const asked = tests.map((_, index) => everythingOf(made(index)));
  const later = tests.map((_, index) => made(index));
  const again = tests.map((_, index) => made(index));
  again.forEach((analysis) => void everythingOf(analysis));
  for (let seed = 1; seed <= 30; seed++) {
    const other = analyse(syntheticTrial({ test: tests[seed % 5]!, seed, rate: seed % 2 === 0 ? 500 : 1000, mass: 50 + seed }).trace, { test: tests[seed % 5]! }, DEFAULT_SETTINGS);
    if (seed % 3 === 0) other.timeSeries();
  }
  expect(later.map(everythingOf)).toEqual(asked);
  expect(again.map(everythingOf)).toEqual(asked);
  traces.forEach((trace, index) => expect(trace.plates.map(({ force }) => force)).toEqual(syntheticTrial({ test: tests[index]!, seed: 20 + index, faults: { noise: 1, offset: [3, -2] } }).trace.plates.map(({ force }) => force)));
});

test("a digest tells a change of one step of one sample", () => {
  const changed = analysisDigests({
    syntheticTrial,
    packTrace,
    unpackTrace: (cells: readonly string[]) => {
      const trace = unpackTrace(cells);
      if ("plates" in trace) trace.plates[0]!.force[100]! += 0.01;
      return trace;
    },
    analyse,
    settings: DEFAULT_SETTINGS,
  });
  here().forEach((digest, index) => expect(changed[index]).not.toBe(digest));
});

test("the same packed text gives the same bytes in a process of its own and in a worker", async () => {
  const { stdout } = await promisify(execFile)(process.execPath, [SCRIPT, "--print"], { cwd: ROOT });
  expect(JSON.parse(stdout)).toEqual(here());
  const worker = new Worker(SCRIPT);
  const said = await new Promise<string[]>((resolve, reject) => {
    worker.once("message", resolve);
    worker.once("error", reject);
  });
  await worker.terminate();
  expect(said).toEqual(here());
}, 60_000);
