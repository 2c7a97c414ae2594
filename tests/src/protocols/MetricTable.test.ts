import { describe, expect, test } from "vitest";
import { MetricTable, placeOf } from "../../../src/protocols/MetricTable.ts";

interface Entered {
  readonly id: string;
  readonly value: number;
}

/** The table and a map of the language after the same deeds: a map is what the table stands in for. */
function both(deeds: readonly (readonly ["enter" | "delete", string])[]): { table: MetricTable<Entered>; map: Map<string, Entered> } {
  const table = new MetricTable<Entered>();
  const map = new Map<string, Entered>();
  deeds.forEach(([deed, id], value) => {
    if (deed === "enter") {
      table.enter({ id, value }, placeOf(id));
      map.set(id, { id, value });
    } else {
      table.keep((metric) => metric.id !== id);
      map.delete(id);
    }
  });
  return { table, map };
}

describe("a table of metrics", () => {
  const ids = ["a", "b", "c", "d", "e", "f"];
  let seed = 7;
  const next = (below: number): number => {
    seed = (seed * 48271) % 2147483647;
    return seed % below;
  };

  test("reads as a map of the same metrics, whatever was entered, entered again and taken out", () => {
    for (let run = 0; run < 300; run++) {
      const deeds = Array.from({ length: next(14) }, () => [next(3) === 0 ? "delete" : "enter", ids[next(ids.length)]!] as const);
      const { table, map } = both(deeds);
      expect([...table]).toEqual([...map]);
      expect([...table.keys()]).toEqual([...map.keys()]);
      expect([...table.values()]).toEqual([...map.values()]);
      expect(table.size).toBe(map.size);
      for (const id of ids) expect([table.get(id), table.has(id)]).toEqual([map.get(id), map.has(id)]);
    }
  });

  test("takes an id that no formula gave before the table was made, and has nothing for one that none gives", () => {
    const { table } = both([["enter", "a"], ["delete", "never entered"]]);
    table.enter({ id: "new since", value: 2 }, placeOf("new since"));
    expect([...table.values()].map(({ value }) => value)).toEqual([0, 2]);
    expect(table.get("new since")?.value).toBe(2);
    expect([table.get("given by nothing"), table.has("given by nothing")]).toEqual([undefined, false]);
    expect(new MetricTable<Entered>().has("a")).toBe(false);
  });

  test("has one place for an id", () => {
    expect(placeOf("a")).toBe(placeOf("a"));
    expect(placeOf("a")).not.toBe(placeOf("b"));
  });
});
