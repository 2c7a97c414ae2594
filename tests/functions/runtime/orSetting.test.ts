import { describe, expect, test } from "vitest";
import { FUNCTIONS } from "../../../functions/index.ts";
import { SETTINGS } from "../../../src/settings/definitions.ts";

const call = (id: string, ...args: unknown[]): unknown => (FUNCTIONS.get(id) as (...args: unknown[]) => unknown)(...args);
const single = (result: unknown): unknown => (Array.isArray(result) ? (result as unknown[][])[0][0] : result);
/** The Settings sheet with one choice of its own. */
const settings = (id: string, chosen: string | number): unknown[][] => SETTINGS.map((definition) => [definition.id, definition.id === id ? chosen : definition.default, definition.unit ?? ""]);
const TABLE = [[30, 31, 30.4], [41, 40.2, 41.5], [35, 36.1, 35.2], [28.5, 28.9, 29.6]];

describe("the Settings range in place of a choice", () => {
  test.each([
    ["TYPICAL_ERROR", [TABLE], "typical-error-form", "cv", "cv"],
    ["TYPICAL_ERROR", [TABLE], "typical-error-form", "raw", "raw"],
    ["ICC", [TABLE], "icc-form", "ICC(1,k)", "1,k"],
    ["MDC", [0.6], "mdc-level", 90, 0.9],
    ["POWER_ESTIMATE", [0.35, 75], "power-equation", "Harman, peak", "harmanPeak"],
  ])("of %s%j by %s = %s", (id, args, setting, chosen, stated) => {
    const known = SETTINGS.find((definition) => definition.id === setting)!;
    const value = known.options?.find((option) => option.toLowerCase().startsWith(String(chosen).toLowerCase())) ?? chosen;
    const asked = single(call(id, ...args, settings(setting, value)));
    expect(asked).toBe(single(call(id, ...args, stated)));
    expect(Number.isFinite(asked)).toBe(true);
  });

  test("a choice of another setting changes nothing", () => {
    expect(single(call("ICC", TABLE, settings("mdc-level", 90)))).toBe(single(call("ICC", TABLE)));
  });
});
