import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { EVENT_NAMES } from "../../../src/protocols/eventNames.ts";
import { formatAdjust } from "../../../src/protocols/formatAdjust.ts";
import { NO_ADJUST, parseAdjust } from "../../../src/protocols/parseAdjust.ts";

describe("parseAdjust", () => {
  test("reads body weight, mass and moved events", () => {
    const adjust = parseAdjust("bodyWeight=589; mass=61; onset=1.734; takeoff=2.479");
    expect(adjust.bodyWeight).toBe(589);
    expect(adjust.mass).toBe(61);
    expect([...adjust.events]).toEqual([["onset", 1.734], ["takeoff", 2.479]]);
  });

  test("takes a blank, in any form a host hands over, as nothing adjusted", () => {
    for (const blank of ["", "  ", "0"]) expect(parseAdjust(blank)).toBe(NO_ADJUST);
  });

  test("reads keys in any case, with spaces, and a decimal comma", () => {
    expect(parseAdjust("BODY WEIGHT = 589,5;\nlanding_lowest=3").bodyWeight).toBe(589.5);
    expect(parseAdjust("landing_lowest=3").events.get("landingLowest")).toBe(3);
  });

  test.each([
    ["bodyweigth=589", "unknown-name"],
    ["589", "wrong-shape"],
    ["mass=61; mass=62", "wrong-shape"],
    ["mass=heavy", "not-a-number"],
    ["mass=", "not-a-number"],
    ["bodyWeight=0", "out-of-range"],
    ["mass=0", "out-of-range"],
    ["onset=-1", "out-of-range"],
  ])("refuses %j: %s", (text, code) => {
    expect(() => parseAdjust(text)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });

  test("names the nearest keys for a mistyped one", () => {
    expect(() => parseAdjust("onsett=1")).toThrow(/nearest: onset/);
  });

  test("reads back everything that formatAdjust writes", () => {
    const time = fc.double({ min: 0, max: 600, noNaN: true, noDefaultInfinity: true }).map((value) => value + 0);
    const any = fc.record({ bodyWeight: fc.option(fc.double({ min: 50, max: 10000, noNaN: true })), times: fc.dictionary(fc.constantFrom(...EVENT_NAMES), time) });
    fc.assert(
      fc.property(any, ({ bodyWeight, times }) => {
        const adjust = { ...(bodyWeight === null ? {} : { bodyWeight }), events: new Map(EVENT_NAMES.filter((name) => name in times).map((name) => [name, times[name]])) };
        expect(parseAdjust(formatAdjust(adjust))).toEqual(adjust);
      }),
    );
  });

  test("answers any text with finite facts or a sentence", () => {
    const parts = fc.constantFrom("bodyWeight=600", "mass=", "onset=1.5", "onset=1e999", "=", "=3", "landing=0x10", "takeoff=-0", ";;", "mass=61,5", "x=NaN", "onset=Infinity");
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.array(parts, { maxLength: 5 }).map((list) => list.join(";"))), (text) => {
        try {
          const { bodyWeight, mass, events } = parseAdjust(text);
          for (const value of [bodyWeight ?? 1, mass ?? 1, ...events.values()]) expect(Number.isFinite(value)).toBe(true);
        } catch (error) {
          expect(error).toMatchObject({ name: "InputError" });
        }
      }),
      { numRuns: 2000 },
    );
  });
});
