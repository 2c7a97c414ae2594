import { describe, expect, test } from "vitest";
import { squadTable } from "../../../src/sessions/squadTable.ts";

describe("squadTable", () => {
  const squad = Object.freeze([
    { name: "A", value: 34.1 },
    { name: "B", value: 38.6 },
    { name: "C", value: 41.2 },
    { name: "D", value: 29.8 },
    { name: "E" },
    { name: "F", value: 39.4 },
  ]);

  test("sorts by T score, states n and names who is missing", () => {
    const table = squadTable(squad, "higher");
    expect(table.rows.map((row) => row.name)).toEqual(["C", "F", "B", "A", "D"]);
    expect([table.n, table.missing]).toEqual([5, ["E"]]);
    expect(table.rows.every((row) => row.placeFrom === undefined)).toBe(true);
  });

  // By hand: margin 1.96 * sqrt(2) * 0.8 = 2.2174; C, F are within it, F, B too, C and B are 2.6 apart.
  test("gives places as ranges over all who cannot be told apart", () => {
    const table = squadTable(squad, "higher", 0.8);
    expect(table.margin).toBeCloseTo(2.2174, 4);
    expect(table.rows.map(({ name, placeFrom, placeTo }) => [name, placeFrom, placeTo])).toEqual([
      ["C", 1, 2],
      ["F", 1, 3],
      ["B", 2, 3],
      ["A", 4, 4],
      ["D", 5, 5],
    ]);
  });

  test("with a large typical error everybody shares all places", () => {
    for (const row of squadTable(squad, "higher", 20).rows) expect([row.placeFrom, row.placeTo]).toEqual([1, 5]);
  });

  test("turns round where less is better", () => {
    const higher = squadTable(squad, "higher", 0.8).rows;
    const lower = squadTable(squad, "lower", 0.8).rows;
    expect(lower.map((row) => row.name)).toEqual(higher.map((row) => row.name).reverse());
    expect(lower[0].placeFrom).toBe(1);
  });

  test("refuses a squad of one and an error of zero", () => {
    expect(() => squadTable([{ name: "A", value: 1 }], "higher")).toThrow(expect.objectContaining({ code: "not-available" }));
    expect(() => squadTable(squad, "higher", 0)).toThrow(expect.objectContaining({ code: "out-of-range" }));
  });
});
