import { describe, expect, test } from "vitest";
import { textLayout } from "../../../src/read/textLayout.ts";
import { textTable } from "../../../src/read/textTable.ts";

const columns = (text: string, ...indexes: readonly number[]) => {
  const bytes = new TextEncoder().encode(text);
  return textTable(bytes, textLayout(bytes)).values(indexes).map((values) => [...values]);
};

describe("the number of lines is not known before they are read", () => {
  // Lines are long at the start, in the middle and at the end, where their length is looked at, and short between.
  const wide = (i: number) => `${(1000 + i / 7).toFixed(9)}${" ".repeat(40)},${i}`;
  const rows = Array.from({ length: 40_000 }, (_, i) => (i < 100 || (i >= 19_000 && i < 21_000) || i >= 39_900 ? wide(i) : `${i % 10},${i % 10}`));

  test.each(["\n", "\r\n", "\r"])("many more short lines than the long ones let expect are all read (%j)", (end) => {
    const [first, second] = columns(`a,b${end}${rows.join(end)}${end}`, 0, 1);
    expect(first).toEqual(rows.map((row) => Number(row.split(",")[0])));
    expect(second).toEqual(rows.map((row) => Number(row.split(",")[1])));
  });

  test("also where every field stands in quotes", () => {
    const quoted = rows.map((row) => row.split(",").map((field) => `"${field.trim()}"`).join(","));
    expect(columns(`"a","b"\n${quoted.join("\n")}`, 1)[0]).toEqual(rows.map((row) => Number(row.split(",")[1])));
  });

  test("one line is enough", () => {
    expect(columns("1.5,2.5\n", 0, 1)).toEqual([[1.5], [2.5]]);
  });
});
