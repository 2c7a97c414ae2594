import { describe, expect, test } from "vitest";
import { RULES as CHECKS } from "../../../src/quality/rules.ts";
import { FINDINGS } from "../../../src/wording/en/findings.ts";
import { RULES } from "../../../src/wording/en/rules.ts";
import { keysOf } from "../../../src/wording/fillTemplate.ts";
import { findingSentence } from "../../../src/wording/findingSentence.ts";

const WORDS: Readonly<Record<string, string>> = { plate: "left", route: "backward", event: "takeoff", why: "double" };

describe("findingSentence", () => {
  test("fills in the values in the units a person reads", () => {
    expect(findingSentence("Q9", { difference: 0.0294 })).toMatch(/^The height by flight time is 2\.9 cm above/);
    expect(findingSentence("Q14", { case: "split", split: 0.031 })).toMatch(/^The feet touched down 31 ms apart/);
  });

  test("turns ids of plates, routes and events into words", () => {
    expect(findingSentence("Q5", { plate: "left", level: 3000 })).toMatch(/^The force of the left plate is cut off at 3000 N/);
    expect(findingSentence("dropRoute", { route: "backward" })).toMatch(/comes from the final stand/);
    expect(findingSentence("eventMoved", { event: "takeoff", time: 2.479 })).toBe("Take-off was moved by hand to 2.479 s.");
  });

  test("falls back to the plain sentence of a rule for an unknown case", () => {
    expect(findingSentence("Q16", { case: "other", contact: 0.31, limit: 0.25 })).toMatch(/^The contact of 310 ms is longer than 250 ms/);
  });

  test("has a text for each rule that the analysis or a session can report", () => {
    for (const rule of Object.keys(RULES)) expect(FINDINGS).toHaveProperty([rule]);
    for (const { id } of CHECKS) expect(FINDINGS).toHaveProperty([id]);
  });

  test.each(Object.entries(FINDINGS))("%s is a whole sentence, and blames nobody", (id, template) => {
    expect(template).toMatch(/^(\p{Lu}|\{)/u);
    expect(template).toMatch(/[.?]\]?$/);
    expect(template).not.toMatch(/injur|fault|you must/i);
    const [rule, kind] = id.split(".") as [string, string?];
    const values: Record<string, number | string> = Object.fromEntries(keysOf(template).map((key) => [key, WORDS[key] ?? 1]));
    const sentence = findingSentence(rule, kind === undefined ? values : { ...values, case: kind });
    expect(sentence).not.toMatch(/[{}[\]]|undefined|NaN|unknown value/);
  });
});
