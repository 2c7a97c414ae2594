import { describe, expect, test } from "vitest";
import { hopPower } from "../../../src/metrics/hopPower.ts";

describe("hopPower", () => {
  // By hand from the formula: 15 hops in 15 s with 9 s in the air.
  test("gives 36.0639 W/kg for 15 hops in 15 s with 9 s in the air", () => {
    expect(hopPower(15, 9, 15)).toBeCloseTo(36.063894083437496, 10);
  });

  // Independent route, one hop: rise from braking at constant acceleration over half the contact. Work of the push-off
  // per kilogram is g (h + s), s = v * (c / 2) / 2 the distance covered; it is done in half the contact.
  test("agrees with the work of a push-off at constant acceleration", () => {
    const [flight, contact, g] = [0.5, 0.25, 9.80665];
    const speed = (g * flight) / 2;
    const work = 0.5 * speed ** 2 + (g * speed * contact) / 4;
    expect(hopPower(flight + contact, flight, 1)).toBeCloseTo(work / (contact / 2), 10);
  });

  test.each([
    [NaN, 9, 15, "not-a-number"],
    [9, 9, 15, "out-of-range"],
    [15, 0, 15, "out-of-range"],
    [15, 9, 0, "out-of-range"],
    [15, 9, 2.5, "out-of-range"],
  ])("refuses %d %d %d: %s", (total: number, flight: number, hops: number, code: string) => {
    expect(() => hopPower(total, flight, hops)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
