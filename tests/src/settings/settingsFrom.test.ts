import { describe, expect, test } from "vitest";
import { SETTINGS } from "../../../src/settings/definitions.ts";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { settingsFrom } from "../../../src/settings/settingsFrom.ts";

describe("settingsFrom", () => {
  test("fills every setting with its default", () => {
    const settings = settingsFrom([]);
    expect(Object.keys(settings.values)).toEqual(SETTINGS.map((definition) => definition.id));
    for (const definition of SETTINGS) expect(settings.values[definition.id]).toBe(definition.default);
    expect(settings.digest).toBe(DEFAULT_SETTINGS.digest);
  });

  test("reads ids and words in any case and numbers as text with a decimal comma", () => {
    const settings = settingsFrom([
      ["Height-Method", "Flight Time"],
      ["weighing-length", "0,8"],
      ["take-off-threshold", "5 sd"],
    ]);
    expect(settings.values["height-method"]).toBe("flight time");
    expect(settings.values["weighing-length"]).toBe(0.8);
    expect(settings.values["take-off-threshold"]).toBe("5 SD");
  });

  test("gives equal digests for equal values in any order and unequal ones for unequal values", () => {
    const one = settingsFrom([["gravity", 9.81], ["rsi-basis", "flight"]]);
    const other = settingsFrom([["rsi-basis", "flight"], ["gravity", "9.81"]]);
    expect(one.digest).toBe(other.digest);
    const digests = SETTINGS.map((definition) => {
      const changed = definition.options?.find((option) => option !== definition.default) ?? definition.range!.find((end) => end !== definition.default && end !== 0)!;
      return settingsFrom([[definition.id, changed]]).digest;
    });
    expect(new Set([...digests, DEFAULT_SETTINGS.digest]).size).toBe(SETTINGS.length + 1);
  });

  test.each(SETTINGS.filter((definition) => definition.range !== undefined).map((definition) => definition.id))("refuses a 0 in %s by name", (id) => {
    expect(() => settingsFrom([[id, 0]])).toThrow(expect.objectContaining({ name: "InputError", code: "out-of-range", message: expect.stringContaining(`${id} requires`) }));
  });

  test.each([
    ["hieght-method", "flight time", "unknown-name", "height-method"],
    ["height-method", "guess", "unknown-name", "height-method requires"],
    ["height-method", 0, "unknown-name", "height-method requires"],
    ["height-method", "", "unknown-name", "not a blank"],
    ["gravity", 1.62, "out-of-range", "9.76"],
    ["gravity", "fast", "unknown-name", "9.76"],
    ["gravity", NaN, "out-of-range", "gravity requires"],
    ["gravity", Infinity, "out-of-range", "gravity requires"],
  ])("refuses %s = %s: %s", (id, value, code, words) => {
    expect(() => settingsFrom([[id, value]])).toThrow(expect.objectContaining({ name: "InputError", code, message: expect.stringContaining(words) }));
  });

  test("refuses an id stated twice with different values, and takes the same value twice", () => {
    expect(() => settingsFrom([["gravity", 9.81], ["gravity", 9.8]])).toThrow(expect.objectContaining({ code: "wrong-shape" }));
    expect(settingsFrom([["gravity", 9.81], ["gravity", "9.81"]]).values.gravity).toBe(9.81);
  });

  test("cannot be changed afterwards", () => {
    expect(() => {
      (DEFAULT_SETTINGS.values as Record<string, unknown>).gravity = 1;
    }).toThrow(TypeError);
  });
});
