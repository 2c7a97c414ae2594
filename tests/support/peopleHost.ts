import { parseA1Ref, stringifyA1Ref, tokenize } from "@borgar/fx";
import type { Applied, ApplyOptions, Edit, RangeRef } from "../../taskpane/host/SheetHost.ts";
import { MemoryHost } from "./memoryHost.ts";

type Place = { sheet: string; row: number; column: number; rows: number; columns: number };
type Axis = "row" | "column";

/**
 * A spreadsheet in memory in which a person does what people do: rename, move, insert, delete, sort, paste values,
 * protect. References, tables and names follow as in every spreadsheet; formulas are not evaluated.
 */
export class PeopleHost extends MemoryHost {
  private readonly protectedSheets = new Set<string>();

  renameSheet(from: string, to: string): void {
    const order = [...this.cells].map(([name, content]) => [name === from ? to : name, content] as const);
    this.cells.clear();
    order.forEach(([name, content]) => this.cells.set(name, content));
    this.eachPlace((place) => (place.sheet === from ? { ...place, sheet: to } : place));
    this.eachFormula((formula) => rewritten(formula, (reference) => (reference.context?.[0] === from ? { ...reference, context: [to] } : reference)));
  }

  insertRows(sheet: string, at: number, count = 1): void {
    this.shift(sheet, "row", at, count);
  }

  insertColumns(sheet: string, at: number, count = 1): void {
    this.shift(sheet, "column", at, count);
  }

  deleteRows(sheet: string, at: number, count = 1): void {
    this.shift(sheet, "row", at, -count);
  }

  deleteColumns(sheet: string, at: number, count = 1): void {
    this.shift(sheet, "column", at, -count);
  }

  /** Cuts a column out and puts it in before another, as dragging a table's column does: references follow the cells. */
  moveColumn(sheet: string, from: number, before: number): void {
    this.insertColumns(sheet, before);
    const source = from >= before ? from + 1 : from;
    const moved = [...this.cells.get(sheet)!].filter(([key]) => Number(key.split(",")[1]) === source);
    for (const [key, cell] of moved) {
      this.cells.get(sheet)!.set(`${key.split(",")[0]},${before}`, cell);
      this.cells.get(sheet)!.delete(key);
    }
    this.eachFormula((formula, own) =>
      rewritten(formula, (reference) => {
        const { range } = reference;
        const here = reference.context?.[0] ?? own;
        return here === sheet && range.left === source && range.right === source ? { ...reference, range: { ...range, left: before, right: before } } : reference;
      }),
    );
    this.deleteColumns(sheet, source);
  }

  /** Sorts the rows of a table by the values of a column; formulas move with their row and read the row they come to stand in. */
  sortTable(name: string, column: string, descending = false): void {
    const table = this.tablesByName.get(name)!;
    const { sheet, row, rows, columns } = table.range;
    const by = this.columnOf(name, column);
    const lines = Array.from({ length: rows - 1 }, (_, index) => row + 1 + index);
    const key = (line: number): string => String(this.cell(sheet, line, by).value);
    const sorted = [...lines].sort((a, b) => (descending ? -1 : 1) * (key(a) < key(b) ? -1 : key(a) > key(b) ? 1 : 0));
    const former = new Map(lines.map((line) => [line, Array.from({ length: columns }, (_, index) => ({ ...this.cell(sheet, line, table.range.column + index) }))]));
    sorted.forEach((from, index) => {
      former.get(from)!.forEach((cell, offset) => {
        const formula = rewritten(cell.formula, (reference) =>
          reference.range.$top ? reference : { ...reference, range: { ...reference.range, top: reference.range.top! + lines[index]! - from, bottom: reference.range.bottom! + lines[index]! - from } },
        );
        this.cells.get(sheet)!.set(`${lines[index]},${table.range.column + offset}`, { ...cell, formula });
      });
    });
  }

  /** Copy, paste values: what a formula gave stays, the formula goes. */
  pasteValues({ sheet, row, column, rows, columns }: RangeRef): void {
    for (let i = row; i < row + rows; i++) {
      for (let j = column; j < column + columns; j++) this.setResult(sheet, i, j, this.cell(sheet, i, j).value);
    }
    for (let i = row; i < row + rows; i++) {
      for (let j = column; j < column + columns; j++) this.cells.get(sheet)!.set(`${i},${j}`, { value: this.cell(sheet, i, j).value, formula: "" });
    }
  }

  renameTable(from: string, to: string): void {
    this.tablesByName.set(to, { ...this.tablesByName.get(from)!, name: to });
    this.tablesByName.delete(from);
  }

  /** “Convert to range”: the cells stay, the table goes. */
  convertToRange(name: string): void {
    this.tablesByName.delete(name);
  }

  deleteName(name: string): void {
    this.namesByName.delete(name);
  }

  protect(sheet: string): void {
    this.protectedSheets.add(sheet);
  }

  /** Zero-based sheet column of a table's column. */
  columnOf(table: string, column: string): number {
    const { range } = this.tablesByName.get(table)!;
    const index = Array.from({ length: range.columns }, (_, offset) => this.cell(range.sheet, range.row, range.column + offset).value).indexOf(column);
    if (index < 0) throw new Error(`the table ${table} has no column ${column}`);
    return range.column + index;
  }

  override async apply(edits: readonly Edit[], options: ApplyOptions): Promise<Applied> {
    for (const edit of edits) {
      const sheet = "sheet" in edit ? edit.sheet : "range" in edit ? edit.range.sheet : "table" in edit ? this.tablesByName.get(edit.table)?.range.sheet : undefined;
      if (sheet !== undefined && edit.kind !== "definedName" && this.protectedSheets.has(sheet)) throw new Error("the sheet is protected; unprotect it, then try again");
    }
    return super.apply(edits, options);
  }

  private shift(sheet: string, axis: Axis, at: number, count: number): void {
    const gone = (index: number): boolean => count < 0 && index >= at && index < at - count;
    const moved = (index: number): number => (index < at ? index : index + count);
    const former = this.cells.get(sheet)!;
    const next: typeof former = new Map();
    for (const [key, cell] of former) {
      const [row, column] = key.split(",").map(Number) as [number, number];
      const index = axis === "row" ? row : column;
      if (!gone(index)) next.set(axis === "row" ? `${moved(row)},${column}` : `${row},${moved(column)}`, cell);
    }
    this.cells.set(sheet, next);
    const [from, size] = axis === "row" ? (["row", "rows"] as const) : (["column", "columns"] as const);
    this.eachPlace((place) => {
      if (place.sheet !== sheet) return place;
      const stay = Array.from({ length: place[size] }, (_, index) => place[from] + index).filter((index) => !gone(index)).map(moved);
      return stay.length === 0 ? undefined : { ...place, [from]: stay[0]!, [size]: stay.at(-1)! - stay[0]! + 1 };
    });
    this.eachFormula((formula, own) =>
      rewritten(formula, (reference) => {
        if ((reference.context?.[0] ?? own) !== sheet) return reference;
        const { range } = reference;
        const [low, high] = axis === "row" ? [range.top!, range.bottom!] : [range.left!, range.right!];
        const stay = Array.from({ length: high - low + 1 }, (_, index) => low + index).filter((index) => !gone(index)).map(moved);
        if (stay.length === 0) return undefined;
        const [start, end] = [stay[0]!, stay.at(-1)!];
        return { ...reference, range: axis === "row" ? { ...range, top: start, bottom: end } : { ...range, left: start, right: end } };
      }),
    );
  }

  private eachPlace(change: (place: Place) => Place | undefined): void {
    for (const [name, table] of [...this.tablesByName]) {
      const range = change(table.range);
      if (range) this.tablesByName.set(name, { ...table, range });
      else this.tablesByName.delete(name);
    }
    for (const [name, place] of [...this.namesByName]) {
      const range = change(place);
      if (range) this.namesByName.set(name, range);
      else this.namesByName.delete(name);
    }
  }

  private eachFormula(change: (formula: string, sheet: string) => string): void {
    for (const [sheet, cells] of this.cells) {
      for (const [key, cell] of cells) if (cell.formula !== "") cells.set(key, { ...cell, formula: change(cell.formula, sheet) });
    }
  }
}

type Reference = { context?: string[]; range: { top?: number | null; left?: number | null; bottom?: number | null; right?: number | null; $top?: boolean } };

/** A formula with each of its references changed; a reference that is gone becomes `#REF!`. */
function rewritten(formula: string, change: (reference: any) => Reference | undefined): string {
  return formula === ""
    ? ""
    : tokenize(formula)
        .map(({ type, value }) => {
          if (type !== "range") return value;
          const changed = change(parseA1Ref(value) as Reference);
          return changed === undefined ? "#REF!" : stringifyA1Ref(changed as never);
        })
        .join("");
}
