import { describe, expect, test } from "vitest";
import { citation, fullReference, REFERENCES, referencesIn } from "../../../src/catalogue/references.ts";

describe("REFERENCES", () => {
  test("has one entry a key, with a plausible year", () => {
    for (const [key, reference] of Object.entries(REFERENCES)) {
      expect(reference.key).toBe(key);
      expect(reference.year).toBeGreaterThan(1900);
      expect(reference.year).toBeLessThan(2027);
      expect(reference.title.length).toBeGreaterThan(5);
    }
  });

  test("holds no two entries that print alike", () => {
    const printed = Object.keys(REFERENCES).map(fullReference);
    expect(new Set(printed).size).toBe(printed.length);
  });

  test("marks what was cited from memory", () => {
    expect(fullReference("fieller1954")).toMatch(/\[from memory\]$/);
    expect(fullReference("owen2014")).not.toMatch(/\[/);
  });

  test("finds the sources named in a text, in order", () => {
    expect(referencesIn("Moir (2008), after Linthorne 2001")).toEqual(["moir2008", "linthorne2001"]);
    expect(referencesIn("Owen et al. (2014)")).toEqual(["owen2014"]);
    expect(referencesIn("common practice")).toEqual([]);
  });

  test("finds every reference in its own citation", () => {
    for (const key of Object.keys(REFERENCES)) expect(referencesIn(citation(key)), key).toContain(key);
  });
});
