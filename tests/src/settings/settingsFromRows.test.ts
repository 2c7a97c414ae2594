import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { DEFAULT_SETTINGS } from "../../../src/settings/defaultSettings.ts";
import { SETTINGS } from "../../../src/settings/definitions.ts";
import { settingsFromRows } from "../../../src/settings/settingsFromRows.ts";

describe("settingsFromRows", () => {
  test("reads a full sheet back to the defaults", () => {
    const rows = [["Setting", "Value", "Default"], ...SETTINGS.map((definition) => [definition.id, definition.default, definition.default, definition.unit ?? ""])];
    expect(settingsFromRows(rows)).toEqual(DEFAULT_SETTINGS);
  });

  test("passes over a head row and rows without an id, blank cells arriving as 0, null or text", () => {
    const settings = settingsFromRows([["id", "value"], [0, 0], ["", ""], [null, null], [" gravity ", 9.81]]);
    expect(settings.values.gravity).toBe(9.81);
  });

  test("refuses a value that was cleared, by name", () => {
    for (const blank of [0, "", null, undefined]) {
      expect(() => settingsFromRows([["gravity", blank]])).toThrow(expect.objectContaining({ message: expect.stringContaining("gravity requires") }));
    }
  });

  test("refuses one column, and a value that is neither text nor number", () => {
    expect(() => settingsFromRows([["gravity"]])).toThrow(expect.objectContaining({ code: "wrong-shape" }));
    expect(() => settingsFromRows([["gravity", true]])).toThrow(expect.objectContaining({ code: "wrong-shape", where: "row 1" }));
  });

  test("answers any rows with complete settings or a sentence", () => {
    const cell = fc.oneof(fc.constantFrom(...SETTINGS.map(({ id }) => id), "none", "5 SD", 0, 1, 20, null, undefined, true, NaN, Infinity, "0,5", ""), fc.string(), fc.double());
    fc.assert(
      fc.property(fc.array(fc.array(cell, { maxLength: 3 }), { maxLength: 6 }), (rows) => {
        try {
          const { values } = settingsFromRows(rows);
          expect(Object.keys(values)).toHaveLength(SETTINGS.length);
          for (const value of Object.values(values)) expect(typeof value === "string" || (Number.isFinite(value) && value !== 0)).toBe(true);
        } catch (error) {
          expect(error).toMatchObject({ name: "InputError" });
        }
      }),
      { numRuns: 2000 },
    );
  });
});
