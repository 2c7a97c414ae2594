import { describe, expect, test } from "vitest";
import { analyse } from "../../../src/protocols/analyse.ts";
import type { Analysis } from "../../../src/protocols/Analysis.ts";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { settingsFrom } from "../../../src/settings/settingsFrom.ts";
import type { SyntheticOptions } from "../../../src/synthetic/SyntheticOptions.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import { sliceTrace } from "../../../src/trace/sliceTrace.ts";
import type { Trace } from "../../../src/trace/Trace.ts";

const made = (options: SyntheticOptions): Trace => syntheticTrial({ faults: { noise: 1, sway: 1, offset: [5, -3] }, ...options }).trace;
const analysed = (trace: Trace, protocol: string): Analysis => analyse(trace, parseProtocol(protocol), DEFAULT_SETTINGS);

/** Everything an analysis says, made now. */
function said(analysis: Analysis): unknown {
  const { events, phases, metrics, missing, findings, verdict, hops, steps } = analysis;
  const series = Object.entries(analysis.timeSeries()).map(([name, column]) => [name, [...(column as Float64Array)]]);
  const values = [...metrics.values()].map(({ id, value, unit, u, budget }) => [id, value, unit, u, budget]);
  return { events: [...events], phases, values, missing: [...missing], findings, verdict, hops, steps, series };
}

const TRIALS = [["CMJ", "CMJ"], ["SJ", "SJ"], ["DJ", "DJ drop=0.30"], ["RH", "RH"], ["IMTP", "IMTP"]] as const;

describe("an analysis that is kept", () => {
  test.each(TRIALS)("of a %s says the same when it is asked after others were made", (kind, protocol) => {
    const trace = made({ test: kind, seed: 2 });
    const atOnce = said(analysed(trace, protocol));
    const kept = analysed(trace, protocol);
    for (const [other, otherProtocol] of TRIALS) analysed(made({ test: other, seed: 9, mass: 50, rate: 500 }), otherProtocol);
    expect(said(kept)).toEqual(atOnce);
  });

  test.each(TRIALS)("of a %s has a step with the very value of each metric of the sum and the sides", (kind, protocol) => {
    const { metrics, steps } = analysed(made({ test: kind, seed: 4 }), protocol);
    const values = new Map(steps.map(({ gives, value }) => [gives, value]));
    expect(metrics.size).toBeGreaterThan(10);
    for (const [id, { value }] of metrics) expect([id, values.get(id)]).toEqual([id, value]);
  });

  test("has its phases in the order of their starts", () => {
    for (const [kind, protocol] of TRIALS) {
      const starts = analysed(made({ test: kind, seed: 6 }), protocol).phases.map(({ start }) => start);
      expect(starts).toEqual([...starts].sort((a, b) => a - b));
    }
  });
});

test("leaves the recording as it was, filtered or not, on one plate or two", () => {
  for (const plates of ["sides", "total"] as const) {
    for (const settings of [DEFAULT_SETTINGS, settingsFrom([["filter", "low-pass"]])]) {
      const trace = made({ test: "CMJ", seed: 3, plates });
      const before = trace.plates.map(({ force }) => [...force]);
      analyse(trace, parseProtocol("CMJ"), settings).timeSeries();
      expect(trace.plates.map(({ force }) => [...force])).toEqual(before);
    }
  }
});

// Without noise any stretch of the stand weighs the same, so that what was long before the jump does not enter.
test("gives a jump at the end of a record of five minutes what it gives the jump alone", () => {
  const whole = made({ test: "CMJ", seed: 5, quietBefore: 300, faults: { offset: [5, -3] } });
  const seconds = whole.plates[0]!.force.length / whole.rate;
  const long = analysed(whole, "CMJ");
  const alone = analysed(sliceTrace(whole, seconds - 8, seconds), "CMJ");
  expect(whole.plates[0]!.force.length).toBeGreaterThan(1 << 18);
  expect([...long.metrics.keys()]).toEqual([...alone.metrics.keys()]);
  for (const id of ["bodyWeight", "jumpHeight", "flightTime", "peakPower", "landingImpulseLeft"]) {
    expect(long.metrics.get(id)!.value / alone.metrics.get(id)!.value).toBeCloseTo(1, 9);
  }
});
