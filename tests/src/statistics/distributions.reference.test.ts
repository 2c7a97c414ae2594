import { spawnSync } from "node:child_process";
import chiSquare from "@stdlib/stats-base-dists-chisquare-quantile";
import f from "@stdlib/stats-base-dists-f-quantile";
import normal from "@stdlib/stats-base-dists-normal-quantile";
import tCdfOf from "@stdlib/stats-base-dists-t-cdf";
import t from "@stdlib/stats-base-dists-t-quantile";
import { describe, expect, test } from "vitest";
import { chiSquareQuantile, fQuantile, normalCdf, normalQuantile, tCdf, tQuantile } from "../../../src/statistics/distributions.ts";

const PROBABILITIES = [1e-12, 1e-6, 0.001, 0.025, 0.05, 0.3, 0.5, 0.7, 0.95, 0.975, 0.995, 0.999, 0.999999];
const FREEDOMS = [0.5, 1, 1.5, 2, 3, 3.7, 5, 7, 10, 30, 59, 100, 500, 10_000, 1_000_000];

/** Largest relative difference, ends of the range that have no number left out. */
function worst(pairs: Iterable<readonly [number, number]>): number {
  let most = 0;
  for (const [own, other] of pairs) most = Math.max(most, other === 0 ? Math.abs(own) : Math.abs(own / other - 1));
  return most;
}

function* grid(): Generator<[probability: number, one: number, two: number]> {
  for (const probability of PROBABILITIES) for (const one of FREEDOMS) for (const two of FREEDOMS) yield [probability, one, two];
}

// Within the range where intervals live the general library @stdlib is exact; far out SciPy is the judge (below).
describe("distributions against a general library", () => {
  const usual = PROBABILITIES.filter((p) => p >= 0.001 && p <= 0.999);
  const freedoms = FREEDOMS.filter((d) => d >= 1 && d <= 500);

  test("quantiles agree to ten digits", () => {
    expect(worst(usual.map((p) => [normalQuantile(p), normal(p, 0, 1)]))).toBeLessThan(1e-10);
    expect(worst(usual.flatMap((p) => freedoms.map((d) => [tQuantile(p, d), t(p, d)] as const)))).toBeLessThan(1e-10);
    expect(worst(usual.flatMap((p) => freedoms.map((d) => [chiSquareQuantile(p, d), chiSquare(p, d)] as const)))).toBeLessThan(1e-10);
    expect(worst(usual.flatMap((p) => freedoms.flatMap((d) => freedoms.map((e) => [fQuantile(p, d, e), f(p, d, e)] as const))))).toBeLessThan(1e-10);
  });

  test("probabilities of t agree to eleven digits", () => {
    const xs = Array.from({ length: 41 }, (_, i) => -5 + i / 4);
    expect(worst(xs.flatMap((x) => freedoms.map((d) => [tCdf(x, d), tCdfOf(x, d)] as const)))).toBeLessThan(1e-11);
  });
});

const python = spawnSync("python3", ["-c", "import scipy"], { encoding: "utf8" });
const without = python.status === 0 ? undefined : "python3 with SciPy is not installed";

describe.skipIf(without !== undefined)(`distributions against SciPy${without === undefined ? "" : ` (${without})`}`, () => {
  test("quantiles agree to nine digits from the farthest tail to a million degrees of freedom", () => {
    const script = `
import json, sys
from scipy import stats
probabilities, freedoms = json.load(sys.stdin)
print(json.dumps({
  "normal": [stats.norm.ppf(p) for p in probabilities],
  "t": [stats.t.ppf(p, d) for p in probabilities for d in freedoms],
  "chi": [stats.chi2.ppf(p, d) for p in probabilities for d in freedoms],
  "f": [stats.f.ppf(p, d, e) for p in probabilities for d in freedoms for e in freedoms],
  "cdf": [stats.norm.cdf(x / 4) for x in range(-80, 81)],
}))`;
    const run = spawnSync("python3", ["-c", script], { input: JSON.stringify([PROBABILITIES, FREEDOMS]), encoding: "utf8", maxBuffer: 1 << 26 });
    expect(run.status, run.stderr).toBe(0);
    const scipy = JSON.parse(run.stdout) as Record<"normal" | "t" | "chi" | "f" | "cdf", number[]>;
    const pairs = (own: readonly number[], other: readonly number[]) => own.map((value, i) => [value, other[i]] as const).filter(([, value]) => Math.abs(value) < 1e200 && Math.abs(value) > 1e-200);
    expect(worst(pairs(PROBABILITIES.map(normalQuantile), scipy.normal))).toBeLessThan(1e-9);
    expect(worst(pairs(PROBABILITIES.flatMap((p) => FREEDOMS.map((d) => tQuantile(p, d))), scipy.t))).toBeLessThan(1e-9);
    expect(worst(pairs(PROBABILITIES.flatMap((p) => FREEDOMS.map((d) => chiSquareQuantile(p, d))), scipy.chi))).toBeLessThan(1e-9);
    expect(worst(pairs([...grid()].map(([p, d, e]) => fQuantile(p, d, e)), scipy.f))).toBeLessThan(1e-9);
    expect(worst(pairs(Array.from({ length: 161 }, (_, i) => normalCdf((i - 80) / 4)), scipy.cdf))).toBeLessThan(1e-12);
  });
});
