import { describe, expect, test } from "vitest";
import { analyse } from "../../../src/protocols/analyse.ts";
import type { Analysis } from "../../../src/protocols/Analysis.ts";
import { parseAdjust } from "../../../src/protocols/parseAdjust.ts";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { settingsFrom } from "../../../src/settings/settingsFrom.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";
import type { Source } from "../../../src/uncertainty/sources.ts";

// JCGM 100 (2008), 5.1.3 with note 2: a contribution is the slope of the value by the input, times the standard uncertainty of the input. Here
// the slope is taken from outside: the input is moved a little in both directions and the whole trial analysed again.

/** What is moved, by how much, and the metric whose contribution is the uncertainty of the input itself. */
interface Input {
  readonly source: Source;
  readonly by: number;
  readonly moved: (base: Analysis, by: number) => { adjust?: string; settings?: readonly (readonly [string, number])[] };
  readonly known: string;
}

const time = (base: Analysis, name: "takeoff" | "landing" | "touchdown" | "onset"): number => base.events.get(name)!.time;
const INPUTS: Readonly<Record<string, Input>> = {
  "body weight": { source: "bodyWeight", by: 0.2, known: "bodyWeight", moved: (base, by) => ({ adjust: `bodyWeight=${base.metrics.get("bodyWeight")!.value + by}` }) },
  "take-off": { source: "takeoff", by: 0.0004, known: "flightTime", moved: (base, by) => ({ adjust: `takeoff=${time(base, "takeoff") + by}` }) },
  landing: { source: "landing", by: 0.0004, known: "flightTime", moved: (base, by) => ({ adjust: `landing=${time(base, "landing") + by}` }) },
  touchdown: { source: "touchdown", by: 0.0004, known: "contactTime", moved: (base, by) => ({ adjust: `touchdown=${time(base, "touchdown") + by}` }) },
  onset: { source: "onset", by: 0.002, known: "timeToTakeoff", moved: (base, by) => ({ adjust: `onset=${time(base, "onset") + by}` }) },
  gravity: { source: "gravity", by: 0.005, known: "", moved: (_, by) => ({ settings: [["gravity", 9.80665 + by]] }) },
};

/** Metrics of a trial whose contribution from a source is not the slope found from outside, or too small for it to be found. */
function unlike(kind: string, protocol: string, input: string): readonly string[] {
  const trace = syntheticTrial({ test: kind as "CMJ", seed: 3, leftShare: 0.53, faults: { sway: 0.5 } }).trace;
  const { source, by, moved, known } = INPUTS[input]!;
  const of = (change: { adjust?: string; settings?: readonly (readonly [string, number])[] }): Analysis =>
    analyse(trace, parseProtocol(protocol), change.settings === undefined ? DEFAULT_SETTINGS : settingsFrom(change.settings), parseAdjust(change.adjust ?? ""));
  const base = of({});
  const part = (id: string): number => base.metrics.get(id)?.budget?.find((one) => one.source === source)?.u ?? 0;
  const u = source === "gravity" ? 9.80665 * (Number(DEFAULT_SETTINGS.values["gravity-u"]) / 100) : part(known);
  expect(u).toBeGreaterThan(0);
  const [less, more] = [of(moved(base, -by)), of(moved(base, by))];
  const faults: string[] = [];
  let agreeing = 0;
  for (const [id, { value, u: total }] of base.metrics) {
    const [a, b] = [less.metrics.get(id)?.value, more.metrics.get(id)?.value];
    if (a === undefined || b === undefined) continue;
    const slope = Math.abs(((b - a) / (2 * by)) * u);
    // Less than a thousandth of the whole, or than rounding can show, is none.
    const nothing = Math.max(1e-3 * (total ?? 0), 1e-9 * Math.abs(value), 1e-9);
    if (slope < nothing && part(id) < nothing) continue;
    if (Math.abs(part(id) - slope) <= 0.02 * slope) agreeing++;
    else faults.push(id);
  }
  expect(agreeing).toBeGreaterThan(0);
  return faults.sort();
}

/** The least velocity is found to a sample: a small change of weight does not move it, though the budget says how far it would. */
const OF_THE_TURN = [
  "brakingDisplacement", "brakingImpulseLeft", "brakingImpulseRight", "brakingRfd", "brakingTime", "meanForceBraking", "meanForceBrakingLeft", "meanForceBrakingRight",
  "meanVelocityBraking",
];
/** The force bends where it is largest: its slope over two samples is not quite that over a hundredth of one. */
const OF_THE_BEND = [
  "countermovementStiffness", "forceAtZeroVelocity", "forceAtZeroVelocityLeft", "forceAtZeroVelocityRight", "peakForceBraking", "peakForceBrakingLeft", "peakForceBrakingRight",
];
/** The stretch within the band begins at a sample. */
const OF_THE_BAND = ["timeToStabilisation"];
/** Within the doubt of the instant the force rises from zero, while the budget takes the plate for empty there: up to 7 % more than the slope. */
const OF_THE_IMPACT = ["landingImpulse", "landingImpulseLeft", "landingImpulseRight", "landingVelocity"];
const OF_THE_TOUCHDOWN = ["brakingImpulse", "brakingImpulseLeft", "brakingImpulseRight", "meanPowerBraking", "measuredDropHeight", "touchdownVelocity"];

describe("the contribution of an input is its slope times its uncertainty", () => {
  test.each([
    ["CMJ", "CMJ", "body weight", [...OF_THE_TURN, ...OF_THE_BEND, ...OF_THE_BAND]],
    ["SJ", "SJ", "body weight", []],
    ["DJ", "DJ drop=0.30", "body weight", OF_THE_BAND],
    ["RH", "RH", "body weight", []],
    ["CMJ", "CMJ", "gravity", []],
    ["SJ", "SJ", "gravity", []],
    ["DJ", "DJ drop=0.30", "gravity", []],
    ["RH", "RH", "gravity", []],
    // The two parts of the height nearly cancel.
    ["CMJ", "CMJ", "take-off", ["jumpHeightAboveStanding"]],
    ["SJ", "SJ", "take-off", ["heightDifference"]],
    ["DJ", "DJ drop=0.30", "take-off", []],
    ["CMJ", "CMJ", "landing", OF_THE_IMPACT],
    ["SJ", "SJ", "landing", OF_THE_IMPACT],
    ["DJ", "DJ drop=0.30", "landing", OF_THE_IMPACT],
    ["DJ", "DJ drop=0.30", "touchdown", OF_THE_TOUCHDOWN],
  ] as const)("%s as %s: %s", (kind, protocol, input, except: readonly string[]) => {
    expect(unlike(kind, protocol, input).filter((id) => !except.includes(id))).toEqual([]);
  });

  // What an earlier or later start of integration does to velocities is in the doubt of the velocity at the start.
  test("of the onset, in what is measured from it", () => {
    const others = unlike("CMJ", "CMJ", "onset");
    for (const id of ["timeToTakeoff", "rsiModified", "flightTimeToTakeoffTimeRatio", "unweightingTime", "unweightingImpulseLeft", "unweightingImpulseRight", "meanForceUnweighting", "meanForceUnweightingLeft", "meanForceUnweightingRight"]) expect(others).not.toContain(id);
  });

  test("of the gain of the plates, in every force, impulse and power of a jump and a pull", () => {
    for (const kind of ["CMJ", "IMTP"] as const) {
      const { trace } = syntheticTrial({ test: kind, seed: 3, leftShare: 0.53, faults: { sway: 0.5 } });
      const louder = { ...trace, plates: trace.plates.map(({ role, force }) => ({ role, force: force.map((f) => 1.001 * f) })) };
      // The start by hand: limits in newtons do not follow the gain.
      const start = kind === "CMJ" ? "onset" : "pullOnset";
      const found = analyse(trace, parseProtocol(kind), DEFAULT_SETTINGS).events.get(start)!.time;
      const [base, more] = [trace, louder].map((one) => analyse(one, parseProtocol(kind), DEFAULT_SETTINGS, parseAdjust(`${start}=${found}`)));
      const gain = Number(DEFAULT_SETTINGS.values["plate-gain-u"]) / 100;
      const forces = [...base!.metrics.values()].filter(({ id, unit }) => (unit === "N" || unit === "N s") && /force|bodyWeight$|impulse\d/i.test(id) && !/minimumForce|Offset/.test(id));
      expect(forces.length).toBeGreaterThan(15);
      for (const { id, value, budget } of forces) {
        const part = budget?.find(({ source }) => source === "gain")?.u ?? 0;
        const slope = Math.abs((more!.metrics.get(id)!.value - value) / 0.001) * gain;
        expect([id, Math.abs(part / slope - 1) < 0.02]).toEqual([id, true]);
      }
    }
  });
});
