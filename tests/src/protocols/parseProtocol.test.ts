import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { formatProtocol } from "../../../src/protocols/formatProtocol.ts";
import { parseProtocol } from "../../../src/protocols/parseProtocol.ts";
import type { Protocol } from "../../../src/protocols/Protocol.ts";

describe("parseProtocol", () => {
  test("reads what was stated, in any order and case, with a decimal comma", () => {
    expect(parseProtocol("DJ drop=0.30 arms=hips limb=both load=20")).toEqual({ test: "DJ", dropHeight: 0.3, arms: "hips", limb: "both", load: 20 });
    expect(parseProtocol("  dj ARMS=Hips  drop=0,30 ")).toEqual({ test: "DJ", dropHeight: 0.3, arms: "hips" });
    expect(parseProtocol("CMJ")).toEqual({ test: "CMJ" });
  });

  test.each([
    ["", "unknown-name"],
    ["jump", "unknown-name"],
    ["CMJ arms", "wrong-shape"],
    ["CMJ arms=crossed", "unknown-name"],
    ["CMJ hight=0.3", "unknown-name"],
    ["CMJ drop=0.30", "wrong-shape"],
    ["DJ drop=30", "out-of-range"],
    ["DJ drop=0", "out-of-range"],
    ["DJ drop=high", "not-a-number"],
    ["DJ drop=-0.3", "not-a-number"],
    ["CMJ load=20 load=30", "wrong-shape"],
    ["IMTP load=20", "wrong-shape"],
    ["IMTP arms=hips", "wrong-shape"],
    ["CMJ load=5000", "out-of-range"],
  ])("refuses %j: %s", (text, code) => {
    expect(() => parseProtocol(text)).toThrow(expect.objectContaining({ name: "InputError", code }));
  });

  test("reads back every protocol that formatProtocol writes", () => {
    const jump = fc.record<Protocol>(
      {
        test: fc.constantFrom("CMJ", "SJ", "DJ", "RH"),
        arms: fc.constantFrom("hips", "swing"),
        limb: fc.constantFrom("both", "left", "right"),
        load: fc.integer({ min: 0, max: 5000 }).map((tenths) => tenths / 10),
      },
      { requiredKeys: ["test"] },
    );
    fc.assert(
      fc.property(jump, fc.integer({ min: 5, max: 150 }), (protocol, centimetres) => {
        const stated = protocol.test === "DJ" ? { ...protocol, dropHeight: centimetres / 100 } : protocol;
        const text = formatProtocol(stated);
        expect(parseProtocol(text)).toEqual(stated);
        expect(formatProtocol(parseProtocol(text))).toBe(text);
      }),
    );
  });

  test("answers any text with a protocol or a sentence", () => {
    const words = fc.constantFrom("CMJ", "DJ", "IMTP", "drop=", "drop=0.3", "arms=hips", "limb=", "=", "load=1e9", "load=٣", ";", "drop=0,3", "\u0000", "😀");
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.array(words, { maxLength: 6 }).map((parts) => parts.join(" "))), (text) => {
        try {
          expect(formatProtocol(parseProtocol(text))).toMatch(/^(CMJ|SJ|DJ|RH|IMTP)/);
        } catch (error) {
          expect(error).toMatchObject({ name: "InputError" });
        }
      }),
      { numRuns: 2000 },
    );
  });

  test.each([
    ["CMJ arms=", "not “”"],
    ["CMJ =hips", "requires key=value after the test, not “=hips”"],
    ["CMJ hips", "requires key=value after the test, not “hips”"],
    ["DJ drop=.", "not “.”"],
    ["DJ drop=0.3m", "not “0.3m”"],
    ["CMJ arms=hips arms=hips", "arms is stated twice"],
    ["CMJ height=3", "requires drop, arms, limb or load, not “height”"],
    ["CMJ limb=none", "requires both or left or right in limb=, not “none”"],
    ["jump", "requires one of CMJ, SJ, DJ, RH, IMTP first, not “jump”"],
  ])("says of %j what it wanted", (text, sentence) => {
    expect(() => parseProtocol(text)).toThrow(sentence);
  });

  test("reads every way to write a number, and parts divided by semicolons", () => {
    expect([".3", "0.3", "0,3", ",3", "0.30"].map((text) => parseProtocol(`DJ drop=${text}`).dropHeight)).toEqual([0.3, 0.3, 0.3, 0.3, 0.3]);
    expect(parseProtocol("CMJ load=20.")).toEqual({ test: "CMJ", load: 20 });
    expect(parseProtocol("DJ;drop=0.3;  limb=left")).toEqual({ test: "DJ", dropHeight: 0.3, limb: "left" });
  });

  test("reads all figures of a number", () => {
    expect([".305", "0.305", ",305"].map((text) => parseProtocol(`DJ drop=${text}`).dropHeight)).toEqual([0.305, 0.305, 0.305]);
  });
});
