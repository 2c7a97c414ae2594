import type {
  Applied, ApplyOptions, CellInput, CellRef, CellValue, Edit, PictureOf, RangeContent, RangeRef, SheetHost, TableInfo, Unsubscribe,
} from "./SheetHost.ts";
import { officeInput, payloadBytes } from "./officeText.ts";

/** Bytes after which a batch of writes is sent: Excel on the web refuses requests of 5 MB. */
const REQUEST_BYTES = 2_000_000;
/** Rows of a wide table read in one request: its packed traces may hold 130,000 characters a row. */
const WIDE_ROWS = 24;
const READ_CELLS = 20_000;
/** Begins the name of every picture that is placed: a person's own has another. */
const OURS = "Leapsheet ";

const nameBeginning = (of: PictureOf) => `${OURS}${of} `;

/** How many batches can be undone. */
const UNDO_DEPTH = 20;
/** A calculation that is still pending after this long is reported as busy. */
const SETTLE_MS = 60_000;

type Run = typeof Excel.run;

/** The part of the global `Excel` the host needs; tests hand in a fake. */
export interface ExcelApi {
  readonly run: Run;
}

/** A range written by a batch: what stood there and what stands there now, as formulas. */
interface Written {
  readonly ref: RangeRef;
  readonly before: any[][];
  after: any[][];
}

interface Receipt {
  readonly id: number;
  readonly label: string;
  readonly written: readonly Written[];
  readonly addedSheets: readonly string[];
  readonly addedTables: readonly string[];
  readonly addedNames: readonly string[];
  /** Former range of tables that grew. */
  readonly grown: ReadonlyMap<string, RangeRef>;
  /** Former address of defined names that moved. */
  readonly movedNames: ReadonlyMap<string, string>;
  /** Names of the pictures that were placed. */
  readonly placedPictures: readonly string[];
  readonly takenPictures: readonly TakenPicture[];
}

/** A picture that was taken off its sheet, with all that puts it back. */
interface TakenPicture {
  /** Whether an undo that broke off later has put it back already. */
  isBack: boolean;
  readonly sheet: string;
  readonly base64: string;
  readonly look: Pick<Excel.Shape, "name" | "left" | "top" | "width" | "height" | "altTextDescription">;
}

/** The Office.js side of `SheetHost`. ExcelApi 1.14 is the floor; nothing above it is used. */
export function createOfficeHost(excel: ExcelApi): SheetHost {
  return new OfficeHost(excel);
}

class OfficeHost implements SheetHost {
  readonly kind = "excel" as const;
  private readonly receipts: Receipt[] = [];
  private lastId = 0;

  constructor(private readonly excel: ExcelApi) {}

  sheets(): Promise<readonly string[]> {
    return this.run(async (context) => {
      const sheets = context.workbook.worksheets;
      sheets.load("items/name");
      await context.sync();
      return sheets.items.map((sheet) => sheet.name);
    });
  }

  usedRange(sheet: string): Promise<RangeRef | undefined> {
    return this.run(async (context) => {
      const used = context.workbook.worksheets.getItem(sheet).getUsedRangeOrNullObject(true);
      used.load("rowIndex,columnIndex,rowCount,columnCount");
      await context.sync();
      return used.isNullObject ? undefined : { sheet, row: used.rowIndex, column: used.columnIndex, rows: used.rowCount, columns: used.columnCount };
    });
  }

  tables(): Promise<readonly TableInfo[]> {
    return this.run((context) => loadTables(context));
  }

  definedName(name: string): Promise<RangeRef | undefined> {
    return this.run(async (context) => {
      const item = context.workbook.names.getItemOrNullObject(name);
      const range = item.getRangeOrNullObject();
      range.load("rowIndex,columnIndex,rowCount,columnCount,worksheet/name");
      await context.sync();
      if (item.isNullObject || range.isNullObject) {
        return undefined;
      }
      return refOf(range, range.worksheet.name);
    });
  }

  read(ranges: readonly RangeRef[]): Promise<readonly RangeContent[]> {
    return this.run(async (context) => {
      const contents: RangeContent[] = [];
      for (const ref of ranges) {
        const values: CellValue[][] = [];
        const formulas: string[][] = [];
        for (const block of blocksOf(ref)) {
          const range = rangeOf(context, block);
          range.load("values,valueTypes,formulas");
          await context.sync();
          range.values.forEach((line, row) => {
            values.push(line.map((value, column) => cellValue(value, range.valueTypes[row]![column]!)));
            formulas.push(range.formulas[row]!.map((formula) => (typeof formula === "string" && formula.startsWith("=") ? formula : "")));
          });
        }
        contents.push({ ref, values, formulas });
      }
      return contents;
    });
  }

  async apply(edits: readonly Edit[], options: ApplyOptions): Promise<Applied> {
    const receipt = await this.run(async (context) => {
      const batch = new Batch(context, options);
      try {
        await batch.perform(edits);
        await batch.readBack();
        return batch.receipt(++this.lastId);
      } catch (error) {
        // What went wrong first is what the person is told.
        await batch.rollBack().catch(() => {});
        throw error;
      }
    });
    this.receipts.push(receipt);
    this.receipts.splice(0, this.receipts.length - UNDO_DEPTH);
    return { id: receipt.id, label: receipt.label };
  }

  async undo(applied: Applied): Promise<void> {
    const at = this.receipts.findIndex((candidate) => candidate.id === applied.id);
    const receipt = this.receipts[at];
    if (!receipt) {
      throw new Error("this step can no longer be undone");
    }
    await this.run(async (context) => {
      await refuseIfChanged(context, receipt);
      await restore(context, receipt);
    });
    this.receipts.splice(at, 1);
  }

  selection(): Promise<CellRef | undefined> {
    return this.run(async (context) => {
      const cell = context.workbook.getActiveCell();
      cell.load("rowIndex,columnIndex,worksheet/name");
      await context.sync();
      return { sheet: cell.worksheet.name, row: cell.rowIndex, column: cell.columnIndex };
    });
  }

  onSelection(listener: (cell: CellRef) => void): Unsubscribe {
    return this.listen((context) => [
      context.workbook.onSelectionChanged.add(async () => {
        const cell = await this.selection();
        if (cell) {
          listener(cell);
        }
      }),
    ]);
  }

  onChange(listener: () => void): Unsubscribe {
    let pending = false;
    const soon = async () => {
      if (!pending) {
        pending = true;
        setTimeout(() => {
          pending = false;
          listener();
        }, 300);
      }
    };
    return this.listen((context) => [context.workbook.worksheets.onCalculated.add(soon), context.workbook.worksheets.onChanged.add(soon)]);
  }

  async select(cell: CellRef): Promise<void> {
    await this.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem(cell.sheet);
      sheet.activate();
      sheet.getRangeByIndexes(cell.row, cell.column, 1, 1).select();
      await context.sync();
    });
  }

  spillAnchor(cell: CellRef): Promise<CellRef> {
    return this.run(async (context) => {
      const parent = rangeOf(context, { ...cell, rows: 1, columns: 1 }).getSpillParentOrNullObject();
      parent.load("rowIndex,columnIndex");
      await context.sync();
      return parent.isNullObject ? cell : { sheet: cell.sheet, row: parent.rowIndex, column: parent.columnIndex };
    });
  }

  async recalculate(ranges?: readonly RangeRef[]): Promise<void> {
    await this.run(async (context) => {
      if (!ranges) {
        context.workbook.application.calculate("Full");
        await context.sync();
        return;
      }
      // One block at a time: a whole session at once may exceed what Excel on the web carries.
      for (const ref of ranges) {
        const range = rangeOf(context, ref);
        range.load("formulas");
        await context.sync();
        // Only formulas are written again: text that looks like a number would become one.
        range.formulas = range.formulas.map((line) => line.map((cell) => (typeof cell === "string" && cell.startsWith("=") ? cell : null)));
        await context.sync();
      }
    });
  }

  async settled(): Promise<void> {
    const until = Date.now() + SETTLE_MS;
    for (let pause = 100; ; pause = Math.min(1000, 1.5 * pause)) {
      const state = await this.run(async (context) => {
        const application = context.workbook.application;
        application.load("calculationState");
        await context.sync();
        return application.calculationState;
      });
      if (state === "Done") {
        return;
      }
      if (Date.now() > until) {
        throw new Error("Excel is still calculating; recalculate in blocks, or wait");
      }
      await new Promise((resolve) => setTimeout(resolve, pause));
    }
  }

  /** Runs a batch and turns Excel's errors into sentences. */
  private async run<T>(work: (context: Excel.RequestContext) => Promise<T>): Promise<T> {
    try {
      return await this.excel.run(work);
    } catch (error) {
      throw new Error(sentenceOf(error), { cause: error });
    }
  }

  private listen(add: (context: Excel.RequestContext) => OfficeExtension.EventHandlerResult<any>[]): Unsubscribe {
    const handlers = this.excel.run(async (context) => {
      const added = add(context);
      await context.sync();
      return added;
    });
    return () => {
      void handlers.then((added) =>
        Promise.all(
          added.map((handler) =>
            this.excel.run(handler.context as Excel.RequestContext, async (context) => {
              handler.remove();
              await context.sync();
            }),
          ),
        ),
      );
    };
  }
}

/** One `apply`: performs edits, remembers what stood there, and can put it back. */
class Batch {
  private readonly written: Written[] = [];
  private readonly addedSheets: string[] = [];
  private readonly addedTables: string[] = [];
  private readonly addedNames: string[] = [];
  private readonly grown = new Map<string, RangeRef>();
  private readonly movedNames = new Map<string, string>();
  private readonly placedPictures: string[] = [];
  private readonly takenPictures: TakenPicture[] = [];
  private bytes = 0;

  constructor(
    private readonly context: Excel.RequestContext,
    private readonly options: ApplyOptions,
  ) {}

  async perform(edits: readonly Edit[]): Promise<void> {
    for (let index = 0; index < edits.length; index += 1) {
      this.options.signal?.throwIfAborted();
      await this.performOne(edits[index]!);
      this.options.onProgress?.((index + 1) / edits.length);
    }
    await this.send();
  }

  /** Compares what stands in the cells with what was sent, by count and by text. */
  async readBack(): Promise<void> {
    for (const written of this.written) {
      const after: any[][] = [];
      for (const block of blocksOf(written.ref)) {
        const range = rangeOf(this.context, block);
        range.load("formulas");
        await this.context.sync();
        after.push(...range.formulas);
      }
      written.after.forEach((line, row) =>
        line.forEach((sent, column) => {
          if (sent !== null && !sameCell(sent, after[row]?.[column])) {
            throw new Error(`a cell of ${written.ref.sheet} did not keep what was written (row ${written.ref.row + row + 1}); nothing was changed`);
          }
        }),
      );
      written.after = after;
    }
  }

  receipt(id: number): Receipt {
    const { written, addedSheets, addedTables, addedNames, grown, movedNames, placedPictures, takenPictures } = this;
    return { id, label: this.options.label, written, addedSheets, addedTables, addedNames, grown, movedNames, placedPictures, takenPictures };
  }

  async rollBack(): Promise<void> {
    await restore(this.context, this.receipt(0));
  }

  private async performOne(edit: Edit): Promise<void> {
    const { context } = this;
    const sheets = context.workbook.worksheets;
    switch (edit.kind) {
      case "addSheet": {
        const existing = sheets.getItemOrNullObject(edit.sheet);
        await context.sync();
        if (!existing.isNullObject) {
          throw new Error(`a sheet named ${edit.sheet} exists already`);
        }
        sheets.add(edit.sheet);
        this.addedSheets.push(edit.sheet);
        return;
      }
      case "cells":
        await this.writeCells(edit.sheet, edit.row, edit.column, edit.cells);
        return;
      case "table": {
        await this.writeCells(edit.sheet, edit.row, edit.column, [edit.columns, ...edit.rows]);
        const table = context.workbook.tables.add(rangeOf(context, { sheet: edit.sheet, row: edit.row, column: edit.column, rows: edit.rows.length + 1, columns: edit.columns.length }), true);
        table.name = edit.name;
        this.addedTables.push(edit.name);
        await this.send();
        return;
      }
      case "appendRows": {
        const info = (await loadTables(context)).find((table) => table.name === edit.table);
        if (!info) {
          throw new Error(`there is no table named ${edit.table}`);
        }
        const { range } = info;
        // Below the table first; only when the cells are in does the table take them up.
        await this.writeCells(range.sheet, range.row + range.rows, range.column, edit.rows);
        if (!this.grown.has(edit.table)) {
          this.grown.set(edit.table, range);
        }
        context.workbook.tables.getItem(edit.table).resize(rangeOf(context, { ...range, rows: range.rows + edit.rows.length }));
        await this.send();
        return;
      }
      case "appendColumns": {
        const info = (await loadTables(context)).find((table) => table.name === edit.table);
        if (!info) {
          throw new Error(`there is no table named ${edit.table}`);
        }
        const { range } = info;
        await this.writeCells(range.sheet, range.row, range.column + range.columns, [edit.columns]);
        if (!this.grown.has(edit.table)) {
          this.grown.set(edit.table, range);
        }
        context.workbook.tables.getItem(edit.table).resize(rangeOf(context, { ...range, columns: range.columns + edit.columns.length }));
        await this.send();
        return;
      }
      case "definedName": {
        const item = context.workbook.names.getItemOrNullObject(edit.name);
        item.load("formula");
        await context.sync();
        if (item.isNullObject) {
          context.workbook.names.add(edit.name, rangeOf(context, edit.range));
          this.addedNames.push(edit.name);
        } else {
          this.movedNames.set(edit.name, item.formula);
          const range = rangeOf(context, edit.range);
          range.load("address");
          await context.sync();
          item.formula = `=${absolute(range.address)}`;
        }
        return;
      }
      case "format": {
        const range = rangeOf(context, edit.range);
        if (edit.numberFormat !== undefined) {
          range.numberFormat = [[edit.numberFormat]];
        }
        if (edit.bold !== undefined) {
          range.format.font.bold = edit.bold;
        }
        if (edit.wrap !== undefined) {
          range.format.wrapText = edit.wrap;
        }
        if (edit.fill !== undefined) {
          range.format.fill.color = edit.fill;
        }
        if (edit.align !== undefined) {
          range.format.horizontalAlignment = edit.align === "left" ? "Left" : edit.align === "right" ? "Right" : "Center";
        }
        return;
      }
      case "columns": {
        const range = sheets.getItem(edit.sheet).getRangeByIndexes(0, edit.column, 1, edit.count).getEntireColumn();
        if (edit.width !== undefined) {
          // Widths are given in pixels at 96 to the inch; Excel wants points.
          range.format.columnWidth = edit.width * 0.75;
        }
        if (edit.hidden !== undefined) {
          range.columnHidden = edit.hidden;
        }
        return;
      }
      case "rowHeight":
        sheets.getItem(edit.sheet).getRangeByIndexes(edit.row, 0, edit.count, 1).format.rowHeight = edit.height * 0.75;
        return;
      case "freezeRows":
        sheets.getItem(edit.sheet).freezePanes.freezeRows(edit.rows);
        return;
      case "picture":
        await this.placePicture(edit);
        return;
      case "takePictures":
        await this.takePictures(edit.sheet, edit.of);
        return;
      case "deleteRows": {
        const rows = [...edit.rows].sort((a, b) => b - a);
        const table = context.workbook.tables.getItem(edit.table);
        rows.forEach((row) => table.rows.getItemAt(row).delete());
        await this.send();
        return;
      }
      case "deleteSheet":
        sheets.getItem(edit.sheet).delete();
        await this.send();
        return;
    }
  }

  private async placePicture({ sheet, row, column, dataUrl, width, height, altText, of }: Extract<Edit, { kind: "picture" }>): Promise<void> {
    const base64 = pictureBytes(dataUrl);
    const cell = rangeOf(this.context, { sheet, row, column, rows: 1, columns: 1 });
    cell.load("left,top");
    await this.send();
    const name = `${nameBeginning(of)}${crypto.randomUUID()}`;
    this.placedPictures.push(name);
    const shape = this.context.workbook.worksheets.getItem(sheet).shapes.addImage(base64);
    Object.assign(shape, { name, left: cell.left, top: cell.top, width, height, altTextDescription: altText });
    // One by one: each alone may be large.
    await this.send();
  }

  private async takePictures(sheet: string, of: PictureOf): Promise<void> {
    const { shapes } = this.context.workbook.worksheets.getItem(sheet);
    shapes.load("items/name,items/left,items/top,items/width,items/height,items/altTextDescription");
    await this.send();
    for (const shape of lowestOfEach(shapes.items.filter(({ name }) => name.startsWith(nameBeginning(of))))) {
      const image = shape.getAsImage("PNG");
      await this.context.sync();
      const { name, left, top, width, height, altTextDescription } = shape;
      shape.delete();
      await this.send();
      this.takenPictures.push({ isBack: false, sheet, base64: image.value, look: { name, left, top, width, height, altTextDescription } });
    }
  }

  /** Former formulas first, then the new ones in pieces below the size of a request. */
  private async writeCells(sheet: string, row: number, column: number, cells: readonly (readonly CellInput[])[]): Promise<void> {
    const columns = Math.max(0, ...cells.map((line) => line.length));
    if (columns === 0) {
      return;
    }
    const ref: RangeRef = { sheet, row, column, rows: cells.length, columns };
    const before: any[][] = [];
    if (this.addedSheets.includes(sheet)) {
      before.push(...cells.map(() => Array.from({ length: columns }, () => "")));
    } else {
      for (const block of blocksOf(ref)) {
        const range = rangeOf(this.context, block);
        range.load("formulas");
        await this.context.sync();
        before.push(...range.formulas);
      }
    }
    const sent = cells.map((line) => Array.from({ length: columns }, (_, index) => officeInput(line[index] ?? null)));
    this.written.push({ ref, before, after: sent });
    let from = 0;
    for (let line = 0; line < cells.length; line += 1) {
      this.bytes += cells[line]!.reduce((sum: number, input) => sum + payloadBytes(input), 0);
      if (this.bytes > REQUEST_BYTES || line === cells.length - 1) {
        // `null` leaves a cell as it is.
        rangeOf(this.context, { ...ref, row: row + from, rows: line + 1 - from }).formulas = sent.slice(from, line + 1);
        await this.send();
        from = line + 1;
      }
    }
  }

  private async send(): Promise<void> {
    this.context.workbook.application.suspendApiCalculationUntilNextSync();
    await this.context.sync();
    this.bytes = 0;
  }
}

/**
 * Puts back what stood before. A step that Excel refuses (a protected sheet that was never written to, for one) does not
 * keep the others from being done; the first refusal is thrown at the end.
 */
async function restore(context: Excel.RequestContext, receipt: Receipt): Promise<void> {
  const { workbook } = context;
  const refusals: unknown[] = [];
  const step = async (work: () => void | Promise<void>): Promise<void> => {
    try {
      await work();
      await context.sync();
    } catch (error) {
      refusals.push(error);
    }
  };
  for (const name of receipt.addedNames) {
    await step(() => workbook.names.getItemOrNullObject(name).delete());
  }
  for (const [name, formula] of receipt.movedNames) {
    await step(() => {
      workbook.names.getItem(name).formula = formula;
    });
  }
  for (const [table, range] of receipt.grown) {
    await step(() => workbook.tables.getItem(table).resize(rangeOf(context, range)));
  }
  for (const written of [...receipt.written].reverse()) {
    if (!receipt.addedSheets.includes(written.ref.sheet)) {
      await step(() => {
        rangeOf(context, written.ref).formulas = written.before;
      });
    }
  }
  await step(() => restorePictures(context, receipt));
  for (const table of receipt.addedTables) {
    await step(async () => {
      const item = workbook.tables.getItemOrNullObject(table);
      await context.sync();
      if (!item.isNullObject) {
        item.convertToRange();
      }
    });
  }
  for (const sheet of receipt.addedSheets) {
    await step(async () => {
      const item = workbook.worksheets.getItemOrNullObject(sheet);
      await context.sync();
      if (!item.isNullObject) {
        item.delete();
      }
    });
  }
  if (refusals.length > 0) {
    throw refusals[0];
  }
}

/** Takes off what was placed, wherever it is now, and puts back what was taken. */
async function restorePictures(context: Excel.RequestContext, { placedPictures, takenPictures }: Receipt): Promise<void> {
  if (placedPictures.length + takenPictures.length === 0) {
    return;
  }
  const { worksheets } = context.workbook;
  worksheets.load("items/name");
  await context.sync();
  worksheets.items.forEach((sheet) => sheet.shapes.load("items/name"));
  await context.sync();
  const shapes = worksheets.items.flatMap((sheet) => lowestOfEach(sheet.shapes.items));
  shapes.filter(({ name }) => placedPictures.includes(name)).forEach((shape) => shape.delete());
  await context.sync();
  for (const taken of takenPictures.filter(({ isBack }) => !isBack)) {
    Object.assign(worksheets.getItem(taken.sheet).shapes.addImage(taken.base64), taken.look);
    await context.sync();
    taken.isBack = true;
  }
}

/** The lowest shape of each name: a copy that a person made has the same name and lies above. */
function lowestOfEach(shapes: readonly Excel.Shape[]): Excel.Shape[] {
  return [...new Map([...shapes].reverse().map((shape) => [shape.name, shape])).values()].reverse();
}

/** Refuses where a cell holds neither what was written nor, after an undo that broke off, what stood there before. */
async function refuseIfChanged(context: Excel.RequestContext, receipt: Receipt): Promise<void> {
  const gone = new Set<string>();
  for (const sheet of receipt.addedSheets) {
    const item = context.workbook.worksheets.getItemOrNullObject(sheet);
    await context.sync();
    if (item.isNullObject) {
      gone.add(sheet);
      continue;
    }
    item.shapes.load("items/name");
    await context.sync();
    if (item.shapes.items.some(({ name }) => !name.startsWith(OURS))) {
      throw new Error(`something was added to the sheet ${sheet} since; undoing would lose it`);
    }
  }
  for (const written of receipt.written.filter(({ ref }) => !gone.has(ref.sheet))) {
    const at: any[][] = [];
    for (const block of blocksOf(written.ref)) {
      const range = rangeOf(context, block);
      range.load("formulas");
      await context.sync();
      at.push(...range.formulas);
    }
    const changed = written.after.some((line, row) => line.some((cell, column) => !sameCell(cell, at[row]?.[column]) && !sameCell(written.before[row]?.[column], at[row]?.[column])));
    if (changed) {
      throw new Error(`cells of ${written.ref.sheet} were changed since; undoing would lose that change`);
    }
  }
}

async function loadTables(context: Excel.RequestContext): Promise<TableInfo[]> {
  const { tables } = context.workbook;
  tables.load("items/name");
  await context.sync();
  const found = tables.items.map((table) => {
    const range = table.getRange();
    range.load("rowIndex,columnIndex,rowCount,columnCount,worksheet/name");
    const head = table.getHeaderRowRange();
    head.load("values");
    return { name: table.name, range, head };
  });
  await context.sync();
  return found.map(({ name, range, head }) => ({ name, range: refOf(range, range.worksheet.name), columns: head.values[0]!.map(String) }));
}

function refOf(range: Excel.Range, sheet: string): RangeRef {
  return { sheet, row: range.rowIndex, column: range.columnIndex, rows: range.rowCount, columns: range.columnCount };
}

function rangeOf(context: Excel.RequestContext, ref: RangeRef): Excel.Range {
  return context.workbook.worksheets.getItem(ref.sheet).getRangeByIndexes(ref.row, ref.column, ref.rows, ref.columns);
}

/** Pieces of a range that each fit one response. */
function blocksOf(ref: RangeRef): RangeRef[] {
  const height = ref.columns > 8 ? WIDE_ROWS : Math.max(WIDE_ROWS, Math.floor(READ_CELLS / ref.columns));
  const blocks: RangeRef[] = [];
  for (let row = 0; row < ref.rows; row += height) {
    blocks.push({ ...ref, row: ref.row + row, rows: Math.min(height, ref.rows - row) });
  }
  return blocks;
}

function cellValue(value: any, type: string): CellValue {
  if (type === "Error") {
    return { error: String(value) };
  }
  return typeof value === "number" || typeof value === "boolean" ? value : String(value ?? "");
}

/** Whether a cell holds what was sent: a leading apostrophe is not part of the text, and Excel may space a formula its own way. */
function sameCell(sent: any, found: any): boolean {
  if (typeof sent === "string") {
    if (sent.startsWith("=")) {
      return typeof found === "string" && found.startsWith("=");
    }
    const text = sent.startsWith("'") ? sent.slice(1) : sent;
    return String(found ?? "").replace(/^'/, "") === text.replace(/^'/, "");
  }
  return sent === null || sent === found || String(sent).toUpperCase() === String(found).toUpperCase();
}

function absolute(address: string): string {
  const at = address.lastIndexOf("!");
  return `${address.slice(0, at + 1)}${address.slice(at + 1).replace(/([A-Z]+)(\d+)/g, "$$$1$$$2")}`;
}

/** The base64 of a PNG or JPEG data address: what `addImage` takes. */
function pictureBytes(dataUrl: string): string {
  const match = /^data:image\/(?:png|jpeg);base64,(.+)$/.exec(dataUrl);
  if (!match) {
    throw new Error("a picture requires PNG or JPEG data");
  }
  return match[1]!;
}

const SENTENCES: Readonly<Record<string, string>> = {
  AccessDenied: "the sheet is protected; unprotect it, then try again",
  InvalidOperationInCellEditMode: "a cell is being edited; press Enter or Esc in the sheet, then try again",
  ItemNotFound: "the sheet or table is not there any more",
  RequestPayloadSizeLimitExceeded: "this is more than Excel on the web takes at once; write fewer trials at a time",
  ResponsePayloadSizeLimitExceeded: "this is more than Excel on the web returns at once; read fewer trials at a time",
};

function sentenceOf(error: unknown): string {
  const { code, message } = error as { code?: string; message?: string };
  return (code && SENTENCES[code]) ?? message ?? String(error);
}
