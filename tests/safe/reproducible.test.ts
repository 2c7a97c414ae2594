import { execFile } from "node:child_process";
import { join } from "node:path";
import { promisify } from "node:util";
import { Worker } from "node:worker_threads";
import { expect, test } from "vitest";
import { ROOT } from "../../scripts/sources.js";
import { analyse } from "../../src/protocols/analyse.ts";
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
