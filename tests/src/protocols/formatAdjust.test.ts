import { describe, expect, test } from "vitest";
import { formatAdjust } from "../../../src/protocols/formatAdjust.ts";
import { NO_ADJUST } from "../../../src/protocols/parseAdjust.ts";

describe("formatAdjust", () => {
  test("writes body weight, mass, then events in the order of a trial", () => {
    expect(formatAdjust({ mass: 61, bodyWeight: 589, events: new Map([["takeoff", 2.479], ["onset", 1.734]]) })).toBe("bodyWeight=589; mass=61; onset=1.734; takeoff=2.479");
  });

  test("writes nothing where nothing is adjusted", () => {
    expect(formatAdjust(NO_ADJUST)).toBe("");
  });
});
