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
});
