import { describe, expect, test } from "vitest";
import { normalGravity } from "../../../src/metrics/normalGravity.ts";

describe("normalGravity", () => {
  // WGS 84 normal gravity at the equator and the pole as published with the ellipsoid (9.7803253359, 9.8321849378);
  // the others computed once with Python from the closed form of Somigliana.
  test.each([
    [0, 0, 9.7803253359],
    [19.4326, 2240, 9.779131272931533],
    [39.74, 1609, 9.796502070592087],
    [45, 0, 9.80619776937321],
    [51.5, 0, 9.81203357504786],
    [51.5, 50, 9.811879323623002],
    [60, 0, 9.819176953114335],
    [90, 0, 9.832184937858958],
  ])("at %d degrees and %d m gives %d m/s^2", (latitude, elevation, gravity) => {
    expect(normalGravity(latitude, elevation)).toBeCloseTo(gravity, 9);
  });

  test("is the same north and south of the equator", () => {
    expect(normalGravity(-33.9, 120)).toBe(normalGravity(33.9, 120));
  });

  // Independent route: the free-air gradient is about -3.086e-6 per second squared (textbook value).
  test("falls with height by the free-air gradient", () => {
    expect((normalGravity(45, 100) - normalGravity(45, 0)) / 100).toBeCloseTo(-3.086e-6, 8);
  });

  test.each([-500, 9000])("takes the whole range of places people live at, to %d m", (elevation) => {
    expect(Math.abs(normalGravity(45, elevation) - normalGravity(45, 0))).toBeLessThan(0.03);
  });

  test.each([
    [NaN, 0, "not-a-number"],
    [91, 0, "out-of-range"],
    [45, 12000, "out-of-range"],
    [45, -600, "out-of-range"],
  ])("refuses %d %d: %s", (latitude: number, elevation: number, code: string) => {
    expect(() => normalGravity(latitude, elevation)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });
});
