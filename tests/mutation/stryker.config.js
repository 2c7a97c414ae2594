// One room of the sources, named by MUTATION_ROOM, or some files of it by MUTATION_FILES: see scripts/mutation.js.
import { join } from "node:path";

const room = process.env.MUTATION_ROOM ?? "metrics";
const files = (process.env.MUTATION_FILES ?? "").split(",").filter((name) => name !== "");
const kept = join(".cache", "mutation");

/** What reads, writes and compares the texts of `src/protocols`: a room of its own, whose tests take seconds. */
const TEXTS = ["parseProtocol", "parseAdjust", "formatProtocol", "formatAdjust", "likeProtocols", "checkProtocol", "readMetric", "analyseTimes", "missingReasons", "eventNames", "otherLegCarries"].map((name) => `src/protocols/${name}.ts`);

function filesOf(name) {
  if (name === "protocolTexts") return TEXTS;
  return [`src/${name}/**/*.ts`, ...(name === "protocols" ? TEXTS.map((file) => `!${file}`) : [])];
}

export default {
  testRunner: "vitest",
  plugins: ["@stryker-mutator/vitest-runner"],
  vitest: { configFile: "tests/mutation/vitest.config.ts" },
  mutate: files.length > 0 ? files.map((name) => `src/${name}.ts`) : filesOf(room),
  // A sentence is checked by its reader and by the convention of its form, not word for word in a test of a formula.
  mutator: { excludedMutations: ["StringLiteral"] },
  ignorePatterns: ["dist", "docs", "taskpane", "functions", ".cache", "tests/browser", "tests/taskpane", "tests/output", "tests/bench"],
  coverageAnalysis: "perTest",
  // What a module computes while it loads belongs to no test: each such change would run all of them. Only where that is quick.
  ignoreStatic: room !== "metrics",
  concurrency: Number(process.env.MUTATION_JOBS ?? 1),
  incremental: true,
  incrementalFile: join(kept, `${room}.json`),
  reporters: ["progress-append-only", "json"],
  jsonReporter: { fileName: join(kept, `${room}.report.json`) },
  tempDirName: join(".cache", "stryker"),
  timeoutMS: 10_000,
  allowEmpty: false,
  clearTextReporter: { allowColor: false },
};
