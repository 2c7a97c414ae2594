import { describe, expect, test } from "vitest";
import { springMassHop } from "../../../src/metrics/springMassHop.ts";

describe("springMassHop", () => {
  // By hand from the closed form; also by integrating the equation of motion in the next test.
  test("gives contact, peak and compression of 72 kg on 25 kN/m at 2.6 m/s", () => {
    const hop = springMassHop(72, 25000, 2.6);
    expect(hop.contactTime).toBeCloseTo(0.19003142993545993, 12);
    expect(hop.peakForce).toBeCloseTo(4265.088110441523, 8);
    expect(hop.compression).toBeCloseTo(0.1706035244176609, 12);
    expect(hop.flightTime).toBeCloseTo(0.5302524307485227, 12);
  });

  // Independent route: leap-frog integration of m z'' = -k z - m g from touchdown until the spring is long again.
  test("agrees with the equation of motion integrated in small steps", () => {
    const dt = 1e-6;
    let [position, velocity, time, peak] = [0, -2.6, 0, 0];
    do {
      velocity += 0.5 * dt * ((-25000 * position) / 72 - 9.80665);
      position += dt * velocity;
      velocity += 0.5 * dt * ((-25000 * position) / 72 - 9.80665);
      time += dt;
      peak = Math.max(peak, -25000 * position);
    } while (position < 0);
    const hop = springMassHop(72, 25000, 2.6);
    expect(hop.contactTime).toBeCloseTo(time, 5);
    expect(hop.peakForce).toBeCloseTo(peak, 2);
  });

  test.each([
    [NaN, 25000, 2.6, "not-a-number"],
    [0, 25000, 2.6, "out-of-range"],
    [72, 0, 2.6, "out-of-range"],
    [72, 25000, 0, "out-of-range"],
  ])("refuses %d %d %d: %s", (mass: number, stiffness: number, speed: number, code: string) => {
    expect(() => springMassHop(mass, stiffness, speed)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
