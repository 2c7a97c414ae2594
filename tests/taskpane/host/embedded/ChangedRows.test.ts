import { describe, expect, test } from "vitest";
import { ChangedRows, PART_ROWS } from "../../../../taskpane/host/embedded/ChangedRows.ts";

const SET = "sheet.mutation.set-range-values";
const cells = (sheet: string, ...rows: number[]) => ({ id: SET, params: { subUnitId: sheet, cellValue: Object.fromEntries(rows.map((row) => [row, { 0: { v: 1 } }])) } });
const noted = (...changes: { id: string; params?: unknown }[]) => {
  const rows = new ChangedRows(false);
  changes.forEach((change) => rows.note(change));
  return rows.get();
};

describe("parts that changed", () => {
  test("are those whose rows were written, of the sheets they are on", () => {
    const { everything, sheets } = noted(cells("a", 0, PART_ROWS - 1, 3 * PART_ROWS), cells("b", PART_ROWS));
    expect(everything).toBe(false);
    expect(sheets).toEqual(new Map([["a", new Set([0, 3])], ["b", new Set([1])]]));
  });

  test("are all of a sheet where rows move, and all there are where nobody says where", () => {
    expect(noted(cells("a", 5), { id: "sheet.mutation.insert-row", params: { subUnitId: "a" } }, cells("a", 900)).sheets).toEqual(new Map([["a", "all"]]));
    expect(noted({ id: "sheet.mutation.reorder-range", params: { subUnitId: "a" } }).sheets.get("a")).toBe("all");
    expect(noted({ id: "sheet.mutation.insert-sheet", params: { sheet: { id: "new" } } }).sheets.get("new")).toBe("all");
    expect(noted({ id: "sheet.mutation.move-range", params: { from: {}, to: {} } }).everything).toBe(true);
    expect(noted({ id: "sheet.mutation.of-a-later-version" }).everything).toBe(true);
  });

  test("are none for widths, tables and filters, and for what is no change of a sheet", () => {
    for (const id of ["sheet.mutation.set-worksheet-col-width", "sheet.mutation.set-col-hidden", "sheet.mutation.set-frozen", "sheet.mutation.add-table", "sheet.mutation.set-filter-criteria", "formula.mutation.set-defined-name"]) {
      expect(noted({ id, params: { subUnitId: "a" } })).toEqual({ everything: false, sheets: new Map(), byHand: [] });
    }
  });

  test("are all before anything was stored, none after, and again what could not be stored", () => {
    const rows = new ChangedRows(true);
    const first = rows.get();
    expect(first.everything).toBe(true);
    rows.clear();
    expect(rows.get()).toEqual({ everything: false, sheets: new Map(), byHand: [] });
    rows.note(cells("a", 7));
    const lost = rows.get();
    rows.clear();
    rows.note(cells("a", 2 * PART_ROWS));
    rows.putBack(lost);
    expect(rows.get().sheets).toEqual(new Map([["a", new Set([0, 2])]]));
    rows.putBack(first);
    expect(rows.get().everything).toBe(true);
  });
});

describe("changes that a person made", () => {
  const typed = (row: number) => cells("a", row);

  test("are those of cells and their looks by hand, in order, until a copy is taken", () => {
    const rows = new ChangedRows(false);
    const wide = { id: "sheet.mutation.set-worksheet-col-width", params: { subUnitId: "a", colWidth: 90 } };
    rows.note(typed(1), true);
    rows.note(typed(2));
    rows.note(wide, true);
    rows.note({ id: "sheet.mutation.set-frozen", params: { subUnitId: "a" } }, true);
    rows.note(typed(3), true);
    expect(rows.changedByHand).toEqual([typed(1), wide, typed(3)]);
    rows.clear();
    expect(rows.changedByHand).toEqual([]);
  });

  test("end where rows were moved by hand: what came later belongs elsewhere in the former rows", () => {
    const rows = new ChangedRows(false);
    rows.note(typed(1), true);
    rows.note({ id: "sheet.mutation.insert-row", params: { subUnitId: "a" } }, true);
    rows.note(typed(2), true);
    expect(rows.changedByHand).toEqual([typed(1)]);
    rows.clear();
    rows.note(typed(3), true);
    expect(rows.changedByHand).toEqual([typed(3)]);
  });

  test("stand before those made since, where their copy could not be stored", () => {
    const rows = new ChangedRows(false);
    rows.note(typed(1), true);
    const lost = rows.get();
    rows.clear();
    rows.note(typed(2), true);
    rows.putBack(lost);
    expect(rows.changedByHand).toEqual([typed(1), typed(2)]);
  });
});
