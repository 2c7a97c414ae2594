// What the same packed texts give: run in the test itself, in a worker of it and in a process of its own.
import { createHash } from "node:crypto";
import { parentPort } from "node:worker_threads";
import { loadSource } from "../../scripts/loadSource.js";

const MADE = [
  { test: "CMJ", seed: 3, faults: { noise: 1, sway: 3, offset: [6, -4] } },
  { test: "SJ", seed: 4, faults: { noise: 1 } },
  { test: "DJ", seed: 5, faults: { noise: 1 } },
  { test: "RH", seed: 6, faults: { noise: 1 } },
  { test: "IMTP", seed: 7, faults: { noise: 2 } },
];

/**
 * Digests of the packed text and of everything its analysis says, one of each made trial.
 *
 * @param {{ syntheticTrial: Function, packTrace: Function, unpackTrace: Function, analyse: Function, settings: object }} parts
 * @returns {string[]} Hexadecimal digits, SHA-256.
 */
export function analysisDigests({ syntheticTrial, packTrace, unpackTrace, analyse, settings }) {
  return MADE.map((options) => {
    const cells = packTrace(syntheticTrial(options).trace);
    const analysis = analyse(unpackTrace(cells), { test: options.test }, settings);
    const series = analysis.timeSeries();
    const digest = createHash("sha256");
    const plain = { events: [...analysis.events], phases: analysis.phases, missing: [...analysis.missing], findings: analysis.findings, verdict: analysis.verdict, hops: analysis.hops, steps: analysis.steps };
    const metrics = [...analysis.metrics].map(([id, { value, unit, u, budget }]) => ({ id, value, unit, u, budget }));
    digest.update(JSON.stringify([cells, plain, metrics]));
    // To the last bit, and in the same order of bytes everywhere.
    for (const column of [series.time, series.force, series.velocity, series.displacement, series.power]) if (column) digest.update(new Uint8Array(Float64Array.from(column).buffer));
    return digest.digest("hex");
  });
}

/** The same, by modules transpiled for Node alone. */
export async function digestsFromSources() {
  const [{ syntheticTrial }, { packTrace }, { unpackTrace }, { analyse }, { DEFAULT_SETTINGS }] = await Promise.all(
    ["synthetic/syntheticTrial", "trace/packTrace", "trace/unpackTrace", "protocols/analyse", "settings/defaultSettings"].map((name) => loadSource(`src/${name}.ts`)),
  );
  return analysisDigests({ syntheticTrial, packTrace, unpackTrace, analyse, settings: DEFAULT_SETTINGS });
}

if (parentPort) parentPort.postMessage(await digestsFromSources());
else if (process.argv[2] === "--print") console.log(JSON.stringify(await digestsFromSources()));
