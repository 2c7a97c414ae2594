import { describe, expect, test } from "vitest";
import { METRICS } from "../../../src/catalogue/metrics.ts";
import { InputError } from "../../../src/errors.ts";
import { findTrials } from "../../../src/events/findTrials.ts";
import { analyse } from "../../../src/protocols/analyse.ts";
import { parseAdjust } from "../../../src/protocols/parseAdjust.ts";
import { TESTS } from "../../../src/protocols/Protocol.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { seededRandom } from "../../../src/synthetic/seededRandom.ts";
import type { Trace } from "../../../src/trace/Trace.ts";

const ADJUSTS = ["", "", "", "bodyWeight=700", "onset=0.1", "takeoff=0.3; landing=0.6", "weighingStart=0; weighingEnd=0.2", "touchdown=0.2; landing=1", "pullOnset=0.4", "holdEnd=0.1; onset=0.3", "lowest=0.2"];

/** A record of stretches at levels that a plate may read, with ramps and noise: nothing that anybody did on purpose. */
function anyTrace(seed: number): Trace {
  const random = seededRandom(seed);
  const pick = <T>(from: readonly T[]): T => from[random.integer(0, from.length - 1)]!;
  const samples = pick([2, 3, 5, 10, 50, 333, 1000, 2500]);
  const plate = (): Float64Array => {
    const force = new Float64Array(samples);
    for (let i = 0; i < samples; ) {
      const level = pick([0, 0, 700, 700, 1500, -600, 3000, 15]) + (random.uniform() < 0.5 ? 0 : random.between(-100, 100));
      const slope = random.uniform() < 0.3 ? random.between(-20, 20) : 0;
      const noise = random.uniform() < 0.5 ? 3 : 0;
      for (let k = random.integer(1, Math.max(1, samples / 3)); k > 0 && i < samples; k--, i++) force[i] = level + slope * k + noise * random.normal();
    }
    return force;
  };
  const roles = pick([["total"], ["left", "right"], ["left", "right", "box"], ["total", "box"], ["left"]] as const);
  return { rate: pick([1, 10, 50, 100, 1000, 5000]), start: 0, step: 0, rounding: 0, plates: roles.map((role) => ({ role, force: plate() })) };
}

describe("whatever is on the record", () => {
  test("every number is finite, every metric has a value or a reason, every finding is a sentence", () => {
    for (let seed = 1; seed <= 400; seed++) {
      const trace = anyTrace(seed);
      for (const name of TESTS) {
        const where = `${name}, seed ${seed}`;
        let analysis;
        try {
          analysis = analyse(trace, { test: name }, DEFAULT_SETTINGS, parseAdjust(ADJUSTS[seed % ADJUSTS.length]!));
        } catch (error) {
          // A moved event outside the record, or out of order, is refused with a sentence.
          expect(error, where).toBeInstanceOf(InputError);
          expect((error as InputError).message, where).toMatch(/^a? ?moved events? requires? /);
          continue;
        }
        for (const { id, value, u } of analysis.metrics.values()) {
          expect(Number.isFinite(value), `${id} of ${where}`).toBe(true);
          expect(u === undefined || Number.isFinite(u), `u of ${id} of ${where}`).toBe(true);
        }
        for (const { time } of analysis.events.values()) expect(Number.isFinite(time), where).toBe(true);
        for (const { message } of analysis.findings) expect(message, where).toMatch(/^[A-Z0-9].{20,}[.?]$/s);
        for (const { id, tests } of METRICS) {
          if (tests.includes(name) && !analysis.metrics.has(id)) expect(analysis.missing.get(id), `${id} of ${where}`).toMatch(/\w+ \w+/);
        }
        expect(analysis.timeSeries().time.length).toBe(trace.plates[0]!.force.length);
        for (const { start, end } of findTrials(trace, name)) expect(end > start && start >= 0, where).toBe(true);
      }
    }
  });

  test("a record that is no record is refused: one sample, unlike plates, NaN, no rate", () => {
    const run = (plates: Trace["plates"], rate = 1000) => analyse({ rate, start: 0, step: 0, rounding: 0, plates }, { test: "CMJ" }, DEFAULT_SETTINGS);
    const of = (...force: number[]) => ({ role: "total" as const, force: Float64Array.from(force) });
    expect(() => run([of(700)])).toThrow(expect.objectContaining({ code: "wrong-shape" }));
    expect(() => run([])).toThrow(expect.objectContaining({ code: "wrong-shape" }));
    expect(() => run([{ ...of(1, 2), role: "left" }, { ...of(1, 2, 3), role: "right" }])).toThrow(expect.objectContaining({ code: "wrong-shape" }));
    expect(() => run([of(700, NaN, 700)])).toThrow(expect.objectContaining({ code: "not-a-number" }));
    expect(() => run([of(700, Infinity, 700)])).toThrow(expect.objectContaining({ code: "not-a-number" }));
    expect(() => run([of(700, 700)], 0)).toThrow(expect.objectContaining({ code: "out-of-range" }));
  });
});
