import { describe, expect, test } from "vitest";
import { requireAboveZero, requireAllFinite, requireCount, requireFinite, requireLevel, requireZeroOrMore } from "../../src/guards.ts";

const code = (name: string, message: RegExp) => expect.objectContaining({ name: "InputError", code: name, message: expect.stringMatching(message) });

describe("guards", () => {
  test("name the thing asked for and the condition, without a full stop", () => {
    expect(() => requireAboveZero("jump height", "gravity", 0)).toThrow(code("out-of-range", /^jump height requires gravity above zero$/));
    expect(() => requireZeroOrMore("jump height", "a flight time", -1)).toThrow(code("out-of-range", /^jump height requires a flight time of zero or more$/));
    expect(() => requireLevel("change", 95)).toThrow(code("out-of-range", /^change requires a level between 0 and 1, such as 0\.95$/));
    expect(() => requireCount("change", "the number of trials", 1.5, 1)).toThrow(code("out-of-range", /whole number of at least 1$/));
  });

  test.each([NaN, Infinity, -Infinity, "3", null, undefined])("refuse %s as a number", (value) => {
    expect(() => requireFinite("mean", value as number)).toThrow(code("not-a-number", /^mean requires finite numbers$/));
    expect(() => requireAboveZero("mean", "x", value as number)).toThrow(code("not-a-number", /finite/));
    expect(() => requireAllFinite("mean", [1, 2], [value as number])).toThrow(code("not-a-number", /finite/));
  });

  test("let good values pass, also in very long lists", () => {
    expect(requireAllFinite("mean", new Array(300000).fill(1))).toBeUndefined();
    expect(requireFinite("mean", -1, 0, 1)).toBeUndefined();
    expect(requireZeroOrMore("mean", "x", 0)).toBeUndefined();
    expect(requireLevel("mean", 0.5)).toBeUndefined();
    expect(requireCount("mean", "n", 2, 2)).toBeUndefined();
  });
});
