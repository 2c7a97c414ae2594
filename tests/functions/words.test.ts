import { describe, expect, test } from "vitest";
import { FUNCTIONS } from "../../functions/index.ts";

const call = (id: string, ...args: unknown[]): unknown => (FUNCTIONS.get(id) as (...args: unknown[]) => unknown)(...args);

describe("EXPLAIN and SOURCE", () => {
  test("give words and literature for every name of a column", () => {
    const [[height], [rule]] = call("EXPLAIN", [["jumpHeight"], ["Q9"]]) as string[][];
    expect(height).toMatch(/height/i);
    expect(rule.length).toBeGreaterThan(30);
    expect((call("SOURCE", [["rsi modified"]]) as string[][])[0][0]).toContain("2010");
  });
});

describe("METHODS", () => {
  test("names the version and only the tests asked for", () => {
    const text = call("METHODS", null, [["DJ drop=0.30"], [""]]) as string;
    expect(text).toContain("0.1.0");
    expect(text).toMatch(/drop jump/i);
    expect(text).not.toMatch(/isometric mid-thigh/i);
    expect(call("METHODS", null, null)).toMatch(/isometric mid-thigh/i);
  });

  test("follows the settings of the sheet", () => {
    const standard = call("METHODS", null, [["CMJ"]]);
    expect(call("METHODS", [["setting", "value"], ["take-off-threshold", 10]], [["CMJ"]])).not.toBe(standard);
    expect(() => call("METHODS", [["take-off-threshold", 0]], null)).toThrow(expect.objectContaining({ code: "#VALUE!", message: expect.stringContaining("take-off-threshold") as string }));
  });
});
