import { describe, expect, test } from "vitest";
import { filledFrom, matchPlanned } from "../../../taskpane/workbook/matchPlanned.ts";
import type { PlannedRow } from "../../../taskpane/workbook/WorkbookModel.ts";

const row = (at: number, protocol: PlannedRow["protocol"], more: Partial<PlannedRow> = {}): PlannedRow => ({ row: at, athlete: "Ada Example", date: "2026-03-14", protocol, ...more });
const trial = (protocol: PlannedRow["protocol"], more: Partial<PlannedRow> = {}) => ({ athlete: "Ada Example", date: "2026-03-14", protocol, ...more });
const rows = (...args: Parameters<typeof matchPlanned>): (number | undefined)[] => matchPlanned(...args).map((match) => match?.row);

describe("matchPlanned", () => {
  test("fills the next empty row of that athlete and test, each row once", () => {
    const planned = [row(1, { test: "SJ" }), row(2, { test: "CMJ" }), row(3, { test: "CMJ" }), row(4, { test: "CMJ" }, { athlete: "Bo Example" })];
    expect(rows([trial({ test: "CMJ" }), trial({ test: "CMJ" }), trial({ test: "CMJ" })], planned)).toEqual([2, 3, undefined]);
  });

  test("takes boxes from low to high where a file does not say the height, and the right box where it does", () => {
    const planned = [row(1, { test: "DJ", dropHeight: 0.2 }), row(2, { test: "DJ", dropHeight: 0.3 })];
    expect(rows([trial({ test: "DJ" }), trial({ test: "DJ" })], planned)).toEqual([1, 2]);
    expect(rows([trial({ test: "DJ", dropHeight: 0.3 })], planned)).toEqual([2]);
    expect(rows([trial({ test: "DJ", dropHeight: 0.4 })], planned)).toEqual([undefined]);
  });

  test("prefers the row with most facts in common", () => {
    const planned = [row(1, { test: "CMJ" }), row(2, { test: "CMJ", arms: "swing" })];
    expect(rows([trial({ test: "CMJ", arms: "swing" }), trial({ test: "CMJ", arms: "hips" })], planned)).toEqual([2, 1]);
  });

  test("keeps unlike trials out: another day, another leg, another load, other arms", () => {
    const planned = [row(1, { test: "CMJ", arms: "hips" })];
    expect(rows([trial({ test: "CMJ" }, { date: "2026-03-15" })], planned)).toEqual([undefined]);
    expect(rows([trial({ test: "CMJ", arms: "swing" })], planned)).toEqual([undefined]);
    // A plan without a leg means both, and without a load none.
    expect(rows([trial({ test: "CMJ", limb: "left" })], planned)).toEqual([undefined]);
    expect(rows([trial({ test: "CMJ", load: 20 })], planned)).toEqual([undefined]);
    expect(rows([trial({ test: "CMJ", limb: "both" })], planned)).toEqual([1]);
  });

  test("reads a name whatever its capitals and spaces, and matches nobody without a name", () => {
    const planned = [row(1, { test: "CMJ" }), row(2, { test: "CMJ" }, { athlete: "" })];
    expect(rows([trial({ test: "CMJ" }, { athlete: " ada  EXAMPLE" }), trial({ test: "CMJ" }, { athlete: "" })], planned)).toEqual([1, undefined]);
  });
});

describe("filledFrom", () => {
  test("adds what the plan states, and leaves what the trial states", () => {
    const planned = row(1, { test: "DJ", arms: "hips", dropHeight: 0.3 }, { mass: 61 });
    expect(filledFrom({ athlete: "ada example", date: "", protocol: { test: "DJ" } }, planned)).toEqual({ athlete: "Ada Example", date: "2026-03-14", mass: 61, protocol: { test: "DJ", arms: "hips", dropHeight: 0.3 } });
    expect(filledFrom({ athlete: "Ada Example", date: "2026-03-14", mass: 62, protocol: { test: "DJ", dropHeight: 0.3 } }, planned)).toMatchObject({ mass: 62 });
  });
});
