import { describe, expect, test } from "vitest";
import { SETTINGS } from "../../../src/settings/definitions.ts";

describe("SETTINGS", () => {
  test("has each id once, in kebab case", () => {
    const ids = SETTINGS.map((definition) => definition.id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const id of ids) expect(id).toMatch(/^[a-z][a-z0-9]*(-[a-z0-9]+)*$/);
  });

  test.each(SETTINGS.map((definition) => [definition.id, definition] as const))("%s allows its own default and never the number 0", (_, definition) => {
    expect(definition.options !== undefined || definition.range !== undefined).toBe(true);
    expect(definition.default).not.toBe(0);
    if (typeof definition.default === "string") {
      expect(definition.options).toContain(definition.default);
    } else {
      expect(definition.range![0]).toBeLessThanOrEqual(definition.default);
      expect(definition.range![1]).toBeGreaterThanOrEqual(definition.default);
    }
    // Zero lies outside every range, or is refused because a word says it (the sign of the landing posture).
    if (definition.range !== undefined && definition.range[0] <= 0) expect(definition.options).toContain("none");
  });

  test("says label, description and source for each", () => {
    for (const definition of SETTINGS) {
      for (const words of [definition.label, definition.description, definition.source]) expect(words.trim().length).toBeGreaterThan(3);
      if (definition.description.includes(" ")) expect(definition.description).toMatch(/\.$/);
    }
  });
});
