import { describe, expect, test } from "vitest";
import { FINDINGS } from "../../../src/wording/en/findings.ts";
import { RULES } from "../../../src/wording/en/rules.ts";
import { keysOf } from "../../../src/wording/fillTemplate.ts";
import { findingSentence } from "../../../src/wording/findingSentence.ts";

describe("findingSentence", () => {
  test("fills in the values in the units a person reads", () => {
    expect(findingSentence("Q9", { difference: 0.0294 })).toMatch(/^The height by flight time is 2\.9 cm above/);
    expect(findingSentence("Q14", { case: "split", split: 0.031 })).toMatch(/^The feet touched down 31 ms apart/);
  });

  test("falls back to the plain sentence of a rule for an unknown case", () => {
    expect(findingSentence("Q16", { case: "other", contact: 0.31, limit: 0.25 })).toMatch(/^The contact of 310 ms is longer than 250 ms/);
  });

  test("has a sentence for every rule", () => {
    for (const rule of Object.keys(RULES)) expect(FINDINGS, rule).toHaveProperty(rule);
  });

  test.each(Object.entries(FINDINGS))("%s is a sentence that says what is missing, and blames nobody", (id, template) => {
    expect(template).toMatch(/^(\p{Lu}|\{)/u);
    expect(template).toMatch(/[.?]\]?$/);
    expect(template).not.toMatch(/injur|wrongly|fault|you must/i);
    const [rule, kind] = id.split(".") as [string, string | undefined];
    const values: Record<string, number | string> = Object.fromEntries(keysOf(template).map((key) => [key, key === "route" || key === "why" || key === "plate" || key === "label" || key === "event" ? "words" : 1]));
    const sentence = findingSentence(rule, kind === undefined ? values : { ...values, case: kind });
    expect(sentence).not.toMatch(/[{}[\]]|undefined|NaN|unknown value/);
  });
});
