import { describe, expect, test } from "vitest";
import { flightToContactRatio } from "../../../src/metrics/flightToContactRatio.ts";
import { jumpHeightFromFlightTime } from "../../../src/metrics/jumpHeightFromFlightTime.ts";
import { reactiveStrengthIndex } from "../../../src/metrics/reactiveStrengthIndex.ts";

describe("reactiveStrengthIndex", () => {
  // By hand: flight 0.50 s is 0.3064578125 m; over 0.20 s of contact.
  test("gives 1.5323 m/s for 0.3065 m after 0.20 s of contact", () => {
    expect(reactiveStrengthIndex(0.3064578125, 0.2)).toBeCloseTo(1.5322890625, 12);
  });

  // Identity of the two bases: rsi = (g t / 8) * (t / c).
  test("is tied to the ratio of times by an eighth of gravity and flight time", () => {
    const flight = 0.47;
    const byHeight = reactiveStrengthIndex(jumpHeightFromFlightTime(flight), 0.19);
    expect(byHeight).toBeCloseTo(((9.80665 * flight) / 8) * flightToContactRatio(flight, 0.19), 12);
  });

  test.each([
    [NaN, 0.2, "not-a-number"],
    [-0.3, 0.2, "out-of-range"],
    [0.3, 0, "out-of-range"],
  ])("refuses %d %d: %s", (height: number, contact: number, code: string) => {
    expect(() => reactiveStrengthIndex(height, contact)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
