import { describe, expect, test } from "vitest";
import { completeRows, present, requireTable, tableUse } from "../../../src/statistics/RepeatTable.ts";

describe("RepeatTable", () => {
  const table = Object.freeze([
    [1, 2, 3],
    [4, undefined, 6],
    [7, 8],
    [undefined, undefined, 9],
  ]);

  test("counts columns by the longest row and gaps by what is missing in it", () => {
    expect(requireTable("test", table)).toBe(3);
    expect(tableUse(table, 3, table.map(present).filter((row) => row.length > 1))).toEqual({
      people: 3,
      trials: 3,
      values: 7,
      gaps: 4,
      leftOut: 1,
    });
  });

  test("keeps only full rows as complete", () => {
    expect(completeRows(table, 3)).toEqual([[1, 2, 3]]);
  });

  test("refuses people in columns and takes many people in rows", () => {
    expect(() => requireTable("test", [new Array(300).fill(1)])).toThrow(expect.objectContaining({ code: "too-large" }));
    expect(requireTable("test", Array.from({ length: 150000 }, () => [1, 2]))).toBe(2);
  });

  test("refuses one column and what is not a number", () => {
    expect(() => requireTable("test", [[1], [2]])).toThrow(expect.objectContaining({ code: "wrong-shape" }));
    expect(() => requireTable("test", [[1, NaN]])).toThrow(expect.objectContaining({ code: "not-a-number" }));
  });
});
