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

  // Both ends of what is plausible belong to it.
  test("reads up to its limits, and names them beyond", () => {
    expect([parseAdjust("bodyWeight=50").bodyWeight, parseAdjust("bodyWeight=10000").bodyWeight, parseAdjust("mass=5").mass, parseAdjust("mass=1000").mass]).toEqual([50, 10000, 5, 1000]);
    expect([...parseAdjust("onset=0; takeoff=86400").events.values()]).toEqual([0, 86400]);
    expect(() => parseAdjust("bodyWeight=49")).toThrow("bodyWeight from 50 to 10000 N, not 49");
    expect(() => parseAdjust("bodyWeight=10001")).toThrow("bodyWeight from 50 to 10000 N");
    expect(() => parseAdjust("mass=4")).toThrow("mass from 5 to 1000 kg, not 4");
    expect(() => parseAdjust("mass=1001")).toThrow("mass from 5 to 1000 kg");
    expect(() => parseAdjust("landing=86401")).toThrow("landing from 0 to 86400 s");
  });

  test("says nothing of what was not stated, whatever stands between the parts", () => {
    expect(Object.keys(parseAdjust(";; \n onset = ,5 ;")).sort()).toEqual(["events"]);
    expect([...parseAdjust(";; \n onset = ,5 ;").events]).toEqual([["onset", 0.5]]);
    expect(Object.keys(parseAdjust("mass=61")).sort()).toEqual(["events", "mass"]);
    expect(parseAdjust("bodyWeight=5.89e2; mass=+61.").bodyWeight).toBe(589);
    expect(() => parseAdjust("onset=1; onset=1")).toThrow("onset is stated twice");
    expect(() => parseAdjust("onset=1x")).toThrow("a number in onset=, not “1x”");
    expect(() => parseAdjust("onset")).toThrow("key=value, not “onset”");
    expect(NO_ADJUST.events.size).toBe(0);
  });

  test("reads a number from its first sign to its last", () => {
    expect(() => parseAdjust("onset=x1")).toThrow("a number in onset=, not “x1”");
    expect([...parseAdjust("onset=.125").events.values()]).toEqual([0.125]);
    expect(() => parseAdjust("=3")).toThrow(expect.objectContaining({ code: "unknown-name" }));
    expect(() => parseAdjust("  onset  ")).toThrow("not “onset”");
  });
});
