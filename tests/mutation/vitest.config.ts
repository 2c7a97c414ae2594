import { defineConfig } from "vitest/config";

/** The tests that a change in a room could upset: those of its own formulas and the examples worked by hand. */
const TESTS: Readonly<Record<string, readonly string[]>> = {
  metrics: ["tests/src/metrics/**/*.test.ts", "tests/src/guards.test.ts", "tests/reference/workedExamples.test.ts"],
  statistics: ["tests/src/statistics/**/*.test.ts", "tests/reference/workedExamples.test.ts"],
  motion: ["tests/src/motion/**/*.test.ts", "tests/reference/referenceAlgorithm.test.ts"],
  events: ["tests/src/events/**/*.test.ts"],
  protocolTexts: ["tests/src/protocols/{parseProtocol,parseAdjust,formatProtocol,formatAdjust,likeProtocols,missingReasons,otherLegCarries,readMetric,analyseTimes,oneLeg}.test.ts"],
  protocols: ["tests/src/protocols/**/*.test.ts", "tests/src/quality/**/*.test.ts", "tests/src/uncertainty/**/*.test.ts", "tests/reference/*.test.ts", "tests/safe/*.test.ts"],
};

/** Seconds of comparing with another program: too long for each of two thousand changes. */
const SLOW = ["tests/src/statistics/distributions.reference.test.ts"];

export default defineConfig({
  test: { include: process.env.MUTATION_TESTS?.split(",") ?? [...TESTS[process.env.MUTATION_ROOM ?? "metrics"]!], exclude: SLOW, runner: "tests/mutation/quickRunner.ts", testTimeout: 60_000 },
});
