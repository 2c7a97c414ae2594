import { describe, expect, test } from "vitest";
import { springMassHop } from "../../../src/metrics/springMassHop.ts";
import { hopStiffness } from "../../../src/metrics/hopStiffness.ts";

describe("hopStiffness", () => {
  // By hand from the sine model: F_max 4259.44 N, compression 0.168528 m.
  test("gives 25274.4 N/m for 72 kg, 0.534 s in the air and 0.188 s of contact", () => {
    expect(hopStiffness(72, 0.534, 0.188)).toBeCloseTo(25274.396036115024, 6);
  });

  // Independent route: integrate the half sine of force numerically, twice, and divide peak by compression.
  test("agrees with a half sine of force integrated twice", () => {
    const [mass, flight, contact, g] = [72, 0.534, 0.188, 9.80665];
    const peak = ((mass * g * Math.PI) / 2) * (flight / contact + 1);
    const steps = 20000;
    const dt = contact / steps;
    let velocity = (-g * flight) / 2;
    let position = 0;
    let lowest = 0;
    for (let i = 0; i < steps; i++) {
      const acceleration = (peak * Math.sin((Math.PI * (i + 0.5)) / steps)) / mass - g;
      position += velocity * dt + 0.5 * acceleration * dt * dt;
      velocity += acceleration * dt;
      lowest = Math.min(lowest, position);
    }
    expect(hopStiffness(mass, flight, contact)).toBeCloseTo(peak / -lowest, 0);
  });

  test("comes within one per cent of a true spring", () => {
    const hop = springMassHop(72, 25000, 2.6);
    // From the exact spring: 24821.2, which is 0.7 per cent low.
    expect(hopStiffness(72, hop.flightTime, hop.contactTime)).toBeCloseTo(24821.238467936957, 4);
  });

  test.each([
    [NaN, 0.5, 0.2, "not-a-number"],
    [0, 0.5, 0.2, "out-of-range"],
    [72, 0, 0.2, "out-of-range"],
    [72, 0.5, 0, "out-of-range"],
  ])("refuses %d %d %d: %s", (mass: number, flight: number, contact: number, code: string) => {
    expect(() => hopStiffness(mass, flight, contact)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
