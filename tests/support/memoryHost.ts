import type {
  Applied, ApplyOptions, CellInput, CellRef, CellValue, Edit, PictureOf, RangeContent, RangeRef, SheetHost, TableInfo,
} from "../../taskpane/host/SheetHost.ts";

interface Cell {
  value: CellValue;
  formula: string;
}

/** A spreadsheet in memory for tests of what is written: it stores formulas and evaluates none of them, unless told how. */
export class MemoryHost implements SheetHost {
  readonly kind = "embedded" as const;
  readonly cells = new Map<string, Map<string, Cell>>();
  protected readonly tablesByName = new Map<string, TableInfo>();
  protected readonly namesByName = new Map<string, RangeRef>();
  private readonly past: { id: number; restore: () => void }[] = [];
  private count = 0;
  /** Batches applied so far, for tests of how writing is grouped. */
  readonly batches: { label: string; edits: readonly Edit[] }[] = [];

  async sheets(): Promise<readonly string[]> {
    return [...this.cells.keys()];
  }

  async usedRange(sheet: string): Promise<RangeRef | undefined> {
    let [rows, columns] = [0, 0];
    for (const [key, cell] of this.sheet(sheet)) {
      if (cell.value !== "" || cell.formula !== "") {
        const [row, column] = key.split(",").map(Number) as [number, number];
        rows = Math.max(rows, row + 1);
        columns = Math.max(columns, column + 1);
      }
    }
    return rows === 0 ? undefined : { sheet, row: 0, column: 0, rows, columns };
  }

  async tables(): Promise<readonly TableInfo[]> {
    return [...this.tablesByName.values()].map((table) => ({
      ...table,
      columns: Array.from({ length: table.range.columns }, (_, index) => String(this.cell(table.range.sheet, table.range.row, table.range.column + index).value)),
    }));
  }

  async definedName(name: string): Promise<RangeRef | undefined> {
    return this.namesByName.get(name);
  }

  async read(ranges: readonly RangeRef[]): Promise<readonly RangeContent[]> {
    return ranges.map((ref) => {
      const grid = Array.from({ length: ref.rows }, (_, row) => Array.from({ length: ref.columns }, (_, column) => this.cell(ref.sheet, ref.row + row, ref.column + column)));
      return { ref, values: grid.map((row) => row.map((cell) => cell.value)), formulas: grid.map((row) => row.map((cell) => cell.formula)) };
    });
  }

  async apply(edits: readonly Edit[], options: ApplyOptions): Promise<Applied> {
    const before = structuredClone({ cells: this.cells, tables: this.tablesByName, names: this.namesByName, pictures: this.pictures });
    const restore = () => {
      replace(this.cells, before.cells);
      replace(this.tablesByName, before.tables);
      replace(this.namesByName, before.names);
      replace(this.pictures, before.pictures);
    };
    try {
      for (const edit of edits) {
        this.perform(edit);
      }
    } catch (error) {
      restore();
      throw error;
    }
    this.batches.push({ label: options.label, edits });
    this.count += 1;
    this.past.push({ id: this.count, restore });
    return { label: options.label, id: this.count };
  }

  async undo(applied: Applied): Promise<void> {
    this.past.find((entry) => entry.id === applied.id)?.restore();
  }

  async selection(): Promise<CellRef | undefined> {
    return undefined;
  }
  onSelection(): () => void {
    return () => {};
  }
  onChange(): () => void {
    return () => {};
  }
  async select(): Promise<void> {}
  async spillAnchor(cell: CellRef): Promise<CellRef> {
    return cell;
  }
  async recalculate(): Promise<void> {}
  async settled(): Promise<void> {}
  /** Pictures on each sheet. */
  readonly pictures = new Map<string, { readonly of: PictureOf | "a person"; readonly altText: string }[]>();

  /** One cell as stored. */
  cell(sheet: string, row: number, column: number): Cell {
    return this.sheet(sheet).get(`${row},${column}`) ?? { value: "", formula: "" };
  }

  /** Writes the result of a formula, as a host would after calculating. */
  setResult(sheet: string, row: number, column: number, value: CellValue): void {
    this.sheet(sheet).set(`${row},${column}`, { ...this.cell(sheet, row, column), value });
  }

  private sheet(name: string): Map<string, Cell> {
    const sheet = this.cells.get(name);
    if (!sheet) {
      throw new Error(`there is no sheet named ${name}`);
    }
    return sheet;
  }

  private perform(edit: Edit): void {
    switch (edit.kind) {
      case "addSheet":
        if (this.cells.has(edit.sheet)) {
          throw new Error(`a sheet named ${edit.sheet} exists already`);
        }
        this.cells.set(edit.sheet, new Map());
        return;
      case "cells":
        this.write(edit.sheet, edit.row, edit.column, edit.cells);
        return;
      case "table":
        this.write(edit.sheet, edit.row, edit.column, [edit.columns, ...edit.rows]);
        this.tablesByName.set(edit.name, {
          name: edit.name,
          range: { sheet: edit.sheet, row: edit.row, column: edit.column, rows: edit.rows.length + 1, columns: edit.columns.length },
          columns: edit.columns,
        });
        return;
      case "appendRows": {
        const table = this.tablesByName.get(edit.table);
        if (!table) {
          throw new Error(`there is no table named ${edit.table}`);
        }
        this.write(table.range.sheet, table.range.row + table.range.rows, table.range.column, edit.rows);
        this.tablesByName.set(edit.table, { ...table, range: { ...table.range, rows: table.range.rows + edit.rows.length } });
        return;
      }
      case "appendColumns": {
        const table = this.tablesByName.get(edit.table);
        if (!table) {
          throw new Error(`there is no table named ${edit.table}`);
        }
        this.write(table.range.sheet, table.range.row, table.range.column + table.range.columns, [edit.columns]);
        this.tablesByName.set(edit.table, { ...table, range: { ...table.range, columns: table.range.columns + edit.columns.length } });
        return;
      }
      case "definedName":
        this.namesByName.set(edit.name, edit.range);
        return;
      case "deleteSheet":
        this.cells.delete(edit.sheet);
        return;
      case "format":
      case "columns":
      case "rowHeight":
      case "freezeRows":
        this.sheet("sheet" in edit ? edit.sheet : edit.range.sheet);
        return;
      case "picture":
        this.sheet(edit.sheet);
        this.pictures.set(edit.sheet, [...(this.pictures.get(edit.sheet) ?? []), { of: edit.of, altText: edit.altText }]);
        return;
      case "takePictures":
        this.pictures.set(edit.sheet, (this.pictures.get(edit.sheet) ?? []).filter(({ of }) => of !== edit.of));
        return;
      case "deleteRows":
        throw new Error("not modelled");
    }
  }

  private write(sheet: string, row: number, column: number, cells: readonly (readonly CellInput[])[]): void {
    const stored = this.sheet(sheet);
    cells.forEach((line, i) =>
      line.forEach((input, j) => {
        if (input !== null) {
          const isFormula = typeof input === "object";
          stored.set(`${row + i},${column + j}`, { value: isFormula ? "" : input, formula: isFormula ? input.formula : "" });
        }
      }),
    );
  }
}

function replace<K, V>(target: Map<K, V>, source: Map<K, V>): void {
  target.clear();
  source.forEach((value, key) => target.set(key, value));
}
