import { describe, expect, test } from "vitest";
import { KEY_HEAD, keyRows, keysFromRows } from "../../../src/coursework/keyRows.ts";
import { makeCoursework } from "../../../src/coursework/makeCoursework.ts";

const { keys } = makeCoursework({ test: "DJ", students: ["A", "B", "C"], faults: ["offset"], noise: 1, seed: 3 });

describe("keyRows", () => {
  test("writes one row a question, as wide as the head, of text and finite numbers", () => {
    const rows = keyRows(keys);
    expect(rows).toHaveLength(keys.reduce((sum, { answers }) => sum + answers.length, 0));
    for (const row of rows) {
      expect(row).toHaveLength(KEY_HEAD.length);
      for (const cell of row) expect(typeof cell === "string" || Number.isFinite(cell)).toBe(true);
    }
  });

  test("reads back exactly what it wrote, blank rows passed over", () => {
    expect(keysFromRows([...keyRows(keys), ["", "", "", ""], [null]])).toEqual(keys);
  });

  test.each([
    [["A", "x", "bodyWeight", "N", 700, 2, ""]],
    [["A", 1, "", "N", 700, 2, ""]],
    [["A", 1, "bodyWeight", "N", NaN, 2, ""]],
    [["A", 1, "bodyWeight", "N", 700, 2, "sign=much"]],
  ])("refuses the damaged row %j and says which", (row) => {
    expect(() => keysFromRows([row])).toThrow(expect.objectContaining({ name: "InputError", code: "damaged", where: "row 1" }));
  });
});
