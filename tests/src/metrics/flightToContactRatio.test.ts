import { describe, expect, test } from "vitest";
import { flightToContactRatio } from "../../../src/metrics/flightToContactRatio.ts";

describe("flightToContactRatio", () => {
  // By hand: 0.50 / 0.20.
  test("gives 2.5 for 0.50 s in the air after 0.20 s of contact", () => {
    expect(flightToContactRatio(0.5, 0.2)).toBe(2.5);
  });

  test("does not depend on the unit of time", () => {
    expect(flightToContactRatio(500, 200)).toBeCloseTo(flightToContactRatio(0.5, 0.2), 14);
  });

  test.each([
    [Infinity, 0.2, "not-a-number"],
    [-0.5, 0.2, "out-of-range"],
    [0.5, 0, "out-of-range"],
  ])("refuses %d %d: %s", (flight: number, contact: number, code: string) => {
    expect(() => flightToContactRatio(flight, contact)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
