import { describe, expect, test } from "vitest";
import { analyse } from "../../../src/protocols/analyse.ts";
import { parseAdjust } from "../../../src/protocols/parseAdjust.ts";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import { readMetric } from "../../../src/protocols/readMetric.ts";
import { resolveMetricName } from "../../../src/catalogue/resolveMetricName.ts";
import { settingsFrom } from "../../../src/settings/settingsFrom.ts";
import type { SyntheticOptions } from "../../../src/synthetic/SyntheticOptions.ts";
import { syntheticTrial } from "../../../src/synthetic/syntheticTrial.ts";

const made = new Map<string, ReturnType<typeof syntheticTrial>>();
function trialOf(options: SyntheticOptions) {
  const key = JSON.stringify(options);
  if (!made.has(key)) made.set(key, syntheticTrial(options));
  return made.get(key)!;
}
const CMJ: SyntheticOptions = { test: "CMJ", faults: { noise: 1, sway: 1 } };
const run = (options: SyntheticOptions, protocol: string, settings: readonly (readonly [string, string | number])[] = [], adjust = "") =>
  analyse(trialOf(options).trace, parseProtocol(protocol), settingsFrom(settings), parseAdjust(adjust));
const value = (options: SyntheticOptions, protocol: string, id: string, settings: readonly (readonly [string, string | number])[] = []) => run(options, protocol, settings).metrics.get(id)!.value;

describe("choices change what they say, and nothing else", () => {
  test("the height that jumpHeight gives", () => {
    const { metrics } = run(CMJ, "CMJ");
    expect(metrics.get("jumpHeight")!.value).toBe(metrics.get("jumpHeightTakeoffVelocity")!.value);
    expect(value(CMJ, "CMJ", "jumpHeight", [["height-method", "flight time"]])).toBe(metrics.get("jumpHeightFlightTime")!.value);
    expect(value(CMJ, "CMJ", "jumpHeight", [["height-method", "above standing"]])).toBe(metrics.get("jumpHeightAboveStanding")!.value);
    // Moir (2008): take-off velocity, then flight time, then above standing.
    expect(metrics.get("jumpHeightAboveStanding")!.value).toBeGreaterThan(metrics.get("jumpHeightFlightTime")!.value);
  });

  // Pérez-Castilla et al. (2021): a higher threshold gives an earlier take-off, a longer flight and more height.
  test("the threshold of take-off", () => {
    const at = (threshold: number | string) => value(CMJ, "CMJ", "flightTime", [["take-off-threshold", threshold]]);
    expect(at(10)).toBeLessThan(at(20));
    expect(at(20)).toBeLessThan(at(50));
    expect(at("peak residual")).toBeLessThan(at("5 SD"));
  });

  // Owen et al. (2014): 30 ms before the exit from 5 SD.
  test("the onset rule moves time to take-off by 30 ms and height by little", () => {
    const late = run(CMJ, "CMJ", [["onset-rule", "5 SD"]]).metrics;
    const early = run(CMJ, "CMJ").metrics;
    expect(early.get("timeToTakeoff")!.value - late.get("timeToTakeoff")!.value).toBeCloseTo(0.03, 9);
    expect(Math.abs(early.get("jumpHeight")!.value - late.get("jumpHeight")!.value)).toBeLessThan(0.001);
    const onset = (rule: string) => run(CMJ, "CMJ", [["onset-rule", rule], ["onset-force", 40]]).events.get("onset")!.time;
    expect(onset("fixed force")).toBeGreaterThan(onset("2.5 % BW"));
    expect(onset("2.5 % BW")).toBeGreaterThan(onset("5 SD"));
    expect(onset("backward 1 SD")).toBeLessThanOrEqual(onset("5 SD"));
  });

  // Harry et al. (2020): the way down in two parts, which meet at the least force.
  test("the names of the phases, and no metric", () => {
    const usual = run(CMJ, "CMJ");
    const other = run(CMJ, "CMJ", [["phase-names", "unloading, yielding, braking, propulsion"]]);
    const named = (analysis: typeof usual) => analysis.phases.map(({ name }) => name);
    expect(named(usual)).toEqual(["weighing", "unweighting", "braking", "propulsion", "flight", "landing"]);
    expect(named(other)).toEqual(["weighing", "unloading", "yielding", "braking", "propulsion", "flight", "landing"]);
    const ends = (analysis: typeof usual, name: string) => analysis.phases.find((phase) => phase.name === name)!;
    expect(ends(other, "unloading").end).toBe(usual.events.get("minimumForce")!.time);
    expect([ends(other, "unloading").start, ends(other, "yielding").end]).toEqual([ends(usual, "unweighting").start, ends(usual, "unweighting").end]);
    for (const [id, { value }] of usual.metrics) expect(other.metrics.get(id)!.value, id).toBe(value);
  });

  test("the basis of reactive strength, with its unit", () => {
    for (const [protocol, ids] of [["DJ drop=0.30", ["rsi"]], ["RH", ["bestFiveRsi", "lastFiveRsi", "meanHopRsi"]]] as const) {
      const options = { test: protocol.slice(0, 2) as "DJ" | "RH", faults: { noise: 1 } };
      for (const id of ids) {
        expect(run(options, protocol).metrics.get(id)!.unit, id).toBe("m/s");
        const byFlight = run(options, protocol, [["rsi-basis", "flight"]]);
        expect(byFlight.metrics.get(id)!.unit, id).toBe("");
        expect(readMetric(byFlight, resolveMetricName(id)).value).toBe(byFlight.metrics.get(id)!.value);
        // A ratio cannot be given in cm/s.
        expect(() => readMetric(byFlight, resolveMetricName(`${id} cm/s`))).toThrow(/by flight time it has none/);
        expect(readMetric(run(options, protocol), resolveMetricName(`${id} cm/s`)).unit).toBe("m/s");
      }
    }
  });

  test("the form of the countermovement stiffness", () => {
    const { metrics } = run(CMJ, "CMJ");
    const depth = Math.abs(metrics.get("countermovementDepth")!.value);
    const low = metrics.get("forceAtZeroVelocity")!.value;
    expect(metrics.get("countermovementStiffness")!.value).toBeCloseTo((low - metrics.get("bodyWeight")!.value) / depth, 6);
    expect(value(CMJ, "CMJ", "countermovementStiffness", [["stiffness-form", "gross"]])).toBeCloseTo(low / depth, 6);
    // At peak downward velocity the force is body weight, so the change of force is the net force.
    expect(value(CMJ, "CMJ", "countermovementStiffness", [["stiffness-form", "braking change"]]) * Math.abs(metrics.get("brakingDisplacement")!.value)).toBeCloseTo(low - metrics.get("bodyWeight")!.value, -2);
  });

  // An independent script gave: h by velocity 0.3444, 0.3408 and 0.3269 m, landing peak 3482, 3378 and 3061 N at 100, 50 and 20 Hz, where unfiltered gives 0.3458 m and 3580 N.
  test.each([
    [100, 0.3444, 3482],
    [50, 0.3408, 3378],
    [20, 0.3269, 3061],
  ])("a low-pass filter at %d Hz", (cutOff, height, landing) => {
    const clean: SyntheticOptions = { test: "CMJ" };
    expect(value(clean, "CMJ", "jumpHeightTakeoffVelocity", [["filter", "low-pass"], ["filter-cut-off", cutOff]])).toBeCloseTo(height, 3);
    expect(Math.abs(value(clean, "CMJ", "peakLandingForce", [["filter", "low-pass"], ["filter-cut-off", cutOff]]) / landing - 1)).toBeLessThan(0.002);
  });

  // A filter smears the push into the flight: the flight and the zero are looked for before it.
  test("a low-pass filter at 10 Hz, which leaves the jump a jump", () => {
    for (const faults of [{ noise: 1, sway: 1 }, { noise: 1, sway: 1, offset: [9, -4] as const }]) {
      const analysis = run({ test: "CMJ", faults }, "CMJ", [["filter", "low-pass"], ["filter-cut-off", 10]]);
      const plain = run({ test: "CMJ", faults }, "CMJ");
      expect(analysis.findings.filter(({ action }) => action === "leave out")).toEqual([]);
      expect(analysis.metrics.get("flightOffset")!.value).toBeCloseTo(plain.metrics.get("flightOffset")!.value, 9);
      expect(analysis.metrics.get("jumpHeightTakeoffVelocity")!.value).toBeLessThan(plain.metrics.get("jumpHeightTakeoffVelocity")!.value);
      expect(analysis.metrics.get("bodyWeight")!.value).toBeCloseTo(plain.metrics.get("bodyWeight")!.value, 0);
    }
  });

  test("a low-pass filter leaves hops and drop jumps what they are, and a force that was cut off a cut one", () => {
    const filter = [["filter", "low-pass"], ["filter-cut-off", 15]] as const;
    expect(run({ test: "RH", faults: { noise: 1 } }, "RH", filter).hops).toHaveLength(10);
    expect(run({ test: "DJ", faults: { noise: 1 } }, "DJ drop=0.30", filter).metrics.get("contactTime")!.value).toBeGreaterThan(0.19);
    expect(run({ test: "CMJ", faults: { clip: 800 } }, "CMJ", filter).findings.map(({ rule }) => rule)).toContain("Q5");
  });

  test("the window of the maximal rate of force development", () => {
    expect(value(CMJ, "CMJ", "maximumRfd", [["rfd-window", 0.02]])).toBeGreaterThan(value(CMJ, "CMJ", "maximumRfd", [["rfd-window", 0.1]]));
  });

  test("the form of the loading rate", () => {
    const { metrics } = run(CMJ, "CMJ");
    expect(metrics.get("landingLoadingRate")!.value).toBeCloseTo(metrics.get("peakLandingForce")!.value / metrics.get("timeToPeakLandingForce")!.value, 6);
    // By hand, from the series: the slope from the first sample at 20 % of the peak to the first at 80 %.
    const { force } = run(CMJ, "CMJ").timeSeries();
    const landing = Math.ceil(run(CMJ, "CMJ").events.get("landing")!.time * 1000);
    const peak = metrics.get("peakLandingForce")!.value;
    const first = (share: number) => landing + force.slice(landing).findIndex((f) => f >= share * peak);
    const slope = ((force[first(0.8)]! - force[first(0.2)]!) * 1000) / (first(0.8) - first(0.2));
    expect(value(CMJ, "CMJ", "landingLoadingRate", [["loading-rate-form", "20 to 80 %"]])).toBeCloseTo(slope, 6);
  });

  test("the band and length of stabilisation", () => {
    const at = (band: number, length: number) => value(CMJ, "CMJ", "timeToStabilisation", [["stabilisation-band", band], ["stabilisation-length", length]]);
    expect(at(10, 1)).toBeLessThan(at(5, 1));
    expect(at(5, 0.1)).toBeLessThanOrEqual(at(5, 1));
  });

  const DJ: SyntheticOptions = { test: "DJ", boxLeaveVelocity: 0.4, faults: { noise: 1 } };
  test("the route to the velocity at touchdown, and what each gives of the drop", () => {
    const truth = trialOf(DJ).truth["measuredDropHeight"]!;
    const drop = (route: string) => run(DJ, "DJ drop=0.30", [["drop-velocity", route]]).metrics.get("measuredDropHeight")?.value;
    expect(drop("automatic")).toBe(drop("two plates"));
    expect(drop("two plates")).toBeCloseTo(truth, 2);
    expect(drop("backward")).toBeCloseTo(truth, 2);
    expect(drop("box")).toBeUndefined();
    // Landing 2 cm lower than take-off lengthens the flight: about a centimetre of drop is missed.
    expect(truth - drop("flight")!).toBeGreaterThan(0.003);
    // By hand: sqrt(2 g 0.30) = 2.42569 m/s.
    expect(run(DJ, "DJ drop=0.30", [["drop-velocity", "box"]]).metrics.get("touchdownVelocity")!.value).toBeCloseTo(-2.42569, 4);
  });

  test("reactive strength by height or flight, and by which height", () => {
    const { metrics } = run(DJ, "DJ");
    const contact = metrics.get("contactTime")!.value;
    expect(metrics.get("rsi")!.value).toBeCloseTo(metrics.get("jumpHeightFlightTime")!.value / contact, 9);
    expect(value(DJ, "DJ", "rsi", [["rsi-height", "take-off velocity"]])).toBeCloseTo(metrics.get("jumpHeightTakeoffVelocity")!.value / contact, 9);
    expect(value(DJ, "DJ", "rsi", [["rsi-basis", "flight"]])).toBeCloseTo(metrics.get("flightTime")!.value / contact, 9);
    // Identity (by algebra): RSI by height is g t_f / 8 times the ratio.
    expect(metrics.get("rsi")!.value).toBeCloseTo(((9.80665 * metrics.get("flightTime")!.value) / 8) * metrics.get("flightToContactRatio")!.value, 9);
  });

  test("which hops are in the means", () => {
    const RH: SyntheticOptions = { test: "RH", faults: { noise: 1 } };
    const { hops, metrics } = run(RH, "RH");
    const best = [...hops].sort((a, b) => b.rsi - a.rsi).slice(0, 5);
    const mean = (of: typeof hops) => of.reduce((sum, hop) => sum + hop.contactTime, 0) / of.length;
    expect(metrics.get("meanContactTime")!.value).toBeCloseTo(mean(best), 9);
    expect(value(RH, "RH", "meanContactTime", [["hops-used", "last five"]])).toBeCloseTo(mean(hops.slice(-5)), 9);
    expect(value(RH, "RH", "meanContactTime", [["hops-used", "all valid"]])).toBeCloseTo(mean(hops), 9);
  });

  test("impulse of a pull above body weight or above its baseline", () => {
    const IMTP: SyntheticOptions = { test: "IMTP", mass: 80 };
    const above = run(IMTP, "IMTP", [], "bodyWeight=784.532").metrics.get("impulse0to200")!.value;
    const baseline = value(IMTP, "IMTP", "impulse0to200", [["isometric-impulse-baseline", "baseline"]]);
    // By hand: 18 N of pretension over 0.2 s.
    expect(above - baseline).toBeCloseTo(18 * 0.2, 3);
  });
});

describe("what a person moves", () => {
  test("a take-off by hand is used, marked, and noted", () => {
    const analysis = run(CMJ, "CMJ", [], "takeoff=2.47");
    expect(analysis.events.get("takeoff")).toEqual({ name: "takeoff", time: 2.47, byHand: true });
    expect(analysis.metrics.get("flightTime")!.value).toBeCloseTo(analysis.events.get("landing")!.time - 2.47, 12);
    expect(analysis.findings.map(({ rule }) => rule)).toContain("eventMoved");
  });

  test("a weighing window and an onset by hand are used", () => {
    const analysis = run(CMJ, "CMJ", [], "weighingStart=0.2; weighingEnd=0.9; onset=1.7");
    expect(analysis.events.get("weighingStart")!.time).toBeCloseTo(0.2, 9);
    expect(analysis.events.get("onset")).toMatchObject({ time: 1.7, byHand: true });
    expect(analysis.metrics.get("timeToTakeoff")!.value).toBeCloseTo(analysis.events.get("takeoff")!.time - 1.7, 9);
  });

  test("a body weight by hand replaces the weighing, and 1 N of it costs 3.7 mm of height", () => {
    const at = (w: number) => run({ test: "CMJ" }, "CMJ", [], `bodyWeight=${w}`).metrics.get("jumpHeightTakeoffVelocity")!.value;
    // By hand: (v / g) (v + g T) / BW with v 2.604 m/s, T 0.774 s and BW 735.5 N is 3.68 mm per newton.
    expect(at(736.49875) - at(735.49875)).toBeCloseTo(-0.00367, 4);
  });
});

describe("steps", () => {
  test("hold the formula, the numbers that went in, and the number of the metric", () => {
    const { steps, metrics } = run(CMJ, "CMJ");
    const step = steps.find(({ gives }) => gives === "jumpHeightTakeoffVelocity")!;
    expect(step.formula).toBe("v_TO^2 / (2 g)");
    const [v, g] = step.inputs;
    expect(v).toMatchObject({ symbol: "v_TO", from: "takeoffVelocity", value: metrics.get("takeoffVelocity")!.value });
    expect((v!.value ** 2 / (2 * g!.value))).toBeCloseTo(step.value, 12);
    expect(step.value).toBe(metrics.get("jumpHeightTakeoffVelocity")!.value);
  });

  test("are there once for every metric of every test", () => {
    for (const [options, protocol] of [[CMJ, "CMJ"], [{ test: "SJ" }, "SJ"], [{ test: "DJ" }, "DJ drop=0.3"], [{ test: "RH" }, "RH"], [{ test: "IMTP" }, "IMTP"]] as const) {
      const { steps, metrics } = run(options as SyntheticOptions, protocol);
      const given = steps.map(({ gives }) => gives);
      expect(new Set(given).size).toBe(given.length);
      for (const [id, metric] of metrics) expect(steps.find(({ gives }) => gives === id)?.value, `${protocol} ${id}`).toBe(metric.value);
    }
  });
});

describe("the columns over time", () => {
  test("agree with the metrics: peak velocity, depth, power, and rest at first", () => {
    const analysis = run(CMJ, "CMJ");
    const { velocity, displacement, power, force, left, right } = analysis.timeSeries();
    expect(Math.max(...velocity!.slice(0, 2470))).toBeCloseTo(analysis.metrics.get("peakVelocity")!.value, 9);
    expect(Math.min(...displacement!.slice(0, 2470))).toBeCloseTo(analysis.metrics.get("countermovementDepth")!.value, 5);
    expect(Math.max(...power!.slice(2200, 2470))).toBeCloseTo(analysis.metrics.get("peakPower")!.value, 6);
    expect(velocity![1000]).toBe(0);
    expect(left![1500]! + right![1500]!).toBeCloseTo(force[1500]!, 6);
    expect(analysis.timeSeries()).toBe(analysis.timeSeries());
  });

  test("of a drop jump run backward and forward from the contact", () => {
    const analysis = run({ test: "DJ" }, "DJ drop=0.30");
    const { velocity } = analysis.timeSeries();
    const touchdown = analysis.events.get("touchdown")!.time;
    expect(velocity![Math.round(touchdown * 1000)]).toBeCloseTo(analysis.metrics.get("touchdownVelocity")!.value, 1);
    expect(Math.abs(velocity![velocity!.length - 1]!)).toBeLessThan(0.01);
  });
});
