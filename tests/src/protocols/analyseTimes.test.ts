import { describe, expect, test } from "vitest";
import { analyseTimes } from "../../../src/protocols/analyseTimes.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { settingsFrom } from "../../../src/settings/settingsFrom.ts";

describe("analyseTimes", () => {
  // By hand: 9.80665 * 0.5^2 / 8 = 0.30646 m; over 0.2 s 1.5323 m/s; 0.5 / 0.2 = 2.5.
  test("gives height and reactive strength of a mat", () => {
    const { metrics, missing } = analyseTimes({ flight: 0.5, contact: 0.2, source: "mat" }, { test: "DJ", dropHeight: 0.3 }, DEFAULT_SETTINGS);
    expect(metrics.get("jumpHeightFlightTime")!.value).toBeCloseTo(0.3064578125, 9);
    expect(metrics.get("rsi")!.value).toBeCloseTo(1.5322890625, 9);
    expect(metrics.get("flightToContactRatio")!.value).toBeCloseTo(2.5, 12);
    expect(metrics.get("nominalDropHeight")!.value).toBe(0.3);
    expect(missing.get("peakForce")).toContain("times");
    expect(missing.get("jumpHeight")).toContain("times");
  });

  test("gives the ratio as reactive strength, and the height as jump height, where the settings say so", () => {
    const settings = settingsFrom([["rsi-basis", "flight"], ["height-method", "flight time"]]);
    const { metrics } = analyseTimes({ flight: 0.5, contact: 0.2, source: "mat" }, { test: "DJ" }, settings);
    expect(metrics.get("rsi")).toMatchObject({ unit: "", value: expect.closeTo(2.5, 12) });
    expect(metrics.get("jumpHeight")!.value).toBe(metrics.get("jumpHeightFlightTime")!.value);
  });

  test("is less certain from 30 frames a second than from 240", () => {
    const at = (framesPerSecond: number) => analyseTimes({ flight: 0.5, source: "video", framesPerSecond }, { test: "CMJ" }, settingsFrom([["landing-posture-mean", "none"], ["landing-posture-u", "none"]])).metrics.get("jumpHeightFlightTime")!.u!;
    expect(at(30)).toBeGreaterThan(5 * at(240));
  });

  test("without a contact, or in another test, gives no reactive strength", () => {
    for (const [times, test] of [[{ flight: 0.5, source: "mat" }, "DJ"], [{ flight: 0.5, contact: 0, source: "mat" }, "DJ"], [{ flight: 0.5, contact: 0.2, source: "mat" }, "CMJ"]] as const) {
      const { metrics } = analyseTimes(times, { test }, DEFAULT_SETTINGS);
      expect(["contactTime", "rsi", "flightToContactRatio"].filter((id) => metrics.has(id))).toEqual([]);
      expect(metrics.get("flightTime")!.value).toBe(0.5);
    }
  });

  test("of a contact alone gives the contact, in a drop jump only", () => {
    expect([...analyseTimes({ contact: 0.2, source: "mat" }, { test: "DJ" }, DEFAULT_SETTINGS).metrics.keys()]).toEqual(["contactTime"]);
    expect([...analyseTimes({ contact: 0.2, source: "mat" }, { test: "CMJ" }, DEFAULT_SETTINGS).metrics.keys()]).toEqual([]);
  });

  test("states a box in a drop jump only, and no index by a velocity that times do not give", () => {
    expect(analyseTimes({ flight: 0.5, source: "mat" }, { test: "DJ" }, DEFAULT_SETTINGS).metrics.has("nominalDropHeight")).toBe(false);
    const byVelocity = analyseTimes({ flight: 0.5, contact: 0.2, source: "mat" }, { test: "DJ" }, settingsFrom([["rsi-height", "take-off velocity"]]));
    expect(byVelocity.metrics.has("rsi")).toBe(false);
    expect(byVelocity.metrics.has("flightToContactRatio")).toBe(true);
  });

  // By hand: a mat to the millisecond has 1 ms / sqrt 6 on a difference of two edges; the height's own budget is tested with its formula.
  test("knows how sure a mat is of a flight, and says which trial it was", () => {
    const analysis = analyseTimes({ flight: 0.5, contact: 0.2, source: "mat" }, { test: "DJ" }, DEFAULT_SETTINGS);
    expect(analysis.metrics.get("flightTime")!.u).toBeCloseTo(0.001 / Math.sqrt(6), 12);
    expect(analysis.metrics.get("contactTime")!.u).toBeCloseTo(0.001 / Math.sqrt(6), 12);
    expect(analysis).toMatchObject({ verdict: "keep", phases: [], hops: [], trace: { rate: 0, plates: [] }, findings: [{ rule: "times", action: "note", removes: ["B", "V", "L", "A"] }] });
    expect(analysis.timeSeries()).toEqual({ time: new Float64Array(0), force: new Float64Array(0) });
    expect(analysis.steps.map(({ gives }) => gives)).toContain("rsi");
    expect([...analysis.missing.keys()].some((id) => analysis.metrics.has(id))).toBe(false);
  });

  test("a drop height belongs to a drop jump, whatever a protocol in another form says", () => {
    expect(analyseTimes({ flight: 0.5, source: "mat" }, { test: "CMJ", dropHeight: 0.3 }, DEFAULT_SETTINGS).metrics.has("nominalDropHeight")).toBe(false);
  });
});
