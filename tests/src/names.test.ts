import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { nearestNames, plainName } from "../../src/names.ts";

describe("nearestNames", () => {
  const names = ["jumpHeight", "flightTime", "peakForce", "peakForceBraking", "rsi"];

  test("puts the name with the fewest edits first", () => {
    expect(nearestNames("jumpheigth", names)[0]).toBe("jumpHeight");
    expect(nearestNames("peekforce", names)[0]).toBe("peakForce");
  });

  test("counts a name that starts with the text as near", () => {
    expect(nearestNames("flight", names)[0]).toBe("flightTime");
    expect(nearestNames("braking", names)[0]).toBe("peakForceBraking");
  });

  test("always finds a name with one letter left out", () => {
    fc.assert(
      fc.property(fc.constantFrom(...names.slice(0, 4)), fc.nat(8), (name, at) => {
        const damaged = name.slice(0, at % name.length) + name.slice((at % name.length) + 1);
        return nearestNames(damaged, names).includes(name);
      }),
    );
  });
});

describe("plainName", () => {
  test("drops what people write differently", () => {
    expect(plainName("Take-off (velocity)_x")).toBe("takeoffvelocityx");
  });
});
