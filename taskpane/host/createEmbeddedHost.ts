import { CommandType, CustomCommandExecutionError, ICommandService, type ICellData, type IWorkbookData, type Nullable, type Worksheet } from "@univerjs/core";
import { FormulaDataModel, IDefinedNamesService } from "@univerjs/engine-formula";
import { SheetsSelectionsService } from "@univerjs/sheets";
import { SheetTableService } from "@univerjs/sheets-table";
import { cellAddress, columnIndex } from "../workbook/addresses.ts";
import { Batch, BY_BATCH } from "./embedded/Batch.ts";
import { Calculation } from "./embedded/Calculation.ts";
import { computedCells, type ComputedCells } from "./embedded/computedCells.ts";
import { createUniver, type SheetFunction } from "./embedded/createUniver.ts";
import { editSheet, findTable, holdsSomething, openBook, sheetNamed, type Book, type WrittenCell } from "./embedded/editSheet.ts";
import { createErrorSentences, type ErrorSentences } from "./embedded/functionClass.ts";
import { ChangedRows, type Changes } from "./embedded/ChangedRows.ts";
import { ERROR_CODES } from "./embedded/SheetError.ts";
import { holdsForeignDrawing, registerPictures } from "./embedded/pictures.ts";
import { changedParts, eachCellOf, partsOf, readHead, readPart, restoreComputed } from "./embedded/workbookParts.ts";
import type { ChangedWorkbook } from "./storage/keepSaved.ts";
import { isLong } from "./storage/savedForm.ts";
import type { ChangeByHand, WorkbookPart } from "./storage/savedParts.ts";
import type { Applied, ApplyOptions, CellRef, CellValue, Edit, RangeContent, RangeRef, SheetHost } from "./SheetHost.ts";

/** The spreadsheet in the page: the host the pane talks to, and what the page needs to keep the workbook. */
export interface EmbeddedSheet {
  readonly host: SheetHost;
  /** The workbook as plain data, everything included. */
  save(): IWorkbookData;
  /** What the workbook as plain data leaves out because it can be computed again. */
  computed(): ComputedCells;
  /** Long texts of the parts that changed. */
  changedTexts(): readonly string[];
  /** The head of the workbook and copies of its parts that changed since the last time. */
  takeChanged(): ChangedWorkbook;
  /** Marks as changed again what could not be stored. */
  putBack(changes: Changes): void;
  /** What a person changed in cells since copies were last taken. */
  byHand(): readonly ChangeByHand[];
  /** Whether a batch is under way: no whole copy is to be had. */
  isHalfWritten(): boolean;
  /** Called after every change that a saved workbook must hold; computed results included. */
  onWorkbookChange(listener: () => void): () => void;
  /** Resolves when nothing is left to compute. */
  settled(): Promise<void>;
  /** Runs something when no batch is half written: now, or between the present one and the next. */
  between<T>(run: () => T): Promise<T>;
  /** Called before a batch that takes its time to write, which waits for it: until it ends no whole copy is to be had. */
  onLargeBatch(listener: () => Promise<void>): () => void;
  dispose(): void;
}

export interface EmbeddedOptions {
  /** Where the sheet is drawn; fills it. */
  readonly container: HTMLElement;
  readonly functions: readonly SheetFunction[];
  /** A saved workbook; an empty one where left out. */
  readonly workbook?: Partial<IWorkbookData>;
  /** Parts of the saved workbook, where they are stored already and … */
  readonly parts?: readonly WorkbookPart[];
  /** … whether what its formulas gave still holds: then nothing is computed on opening. */
  readonly computed?: boolean;
  /** What a person changed in cells after the workbook was saved. */
  readonly byHand?: readonly ChangeByHand[];
  /** Called for each of these changes that is lost, since its sheet was not saved. */
  readonly onLost?: () => void;
  /** Called when a calculation begins. */
  readonly onCalculation?: () => void;
  /** Called where a person wants to do what has to wait until a batch is written. */
  readonly onWait?: () => void;
}

/** Starts the embedded spreadsheet; resolves when it can be used. */
export async function createEmbeddedHost({ container, functions, workbook, parts, computed = false, byHand = [], onLost = () => {}, onCalculation = () => {}, onWait = () => {} }: EmbeddedOptions): Promise<EmbeddedSheet> {
  const sentences = createErrorSentences();
  const { univer, api } = createUniver(container, functions, sentences, workbook ?? {}, computed);
  const services = univer.__getInjector();
  const book = openBook(services);
  registerPictures(services);
  const calculation = new Calculation(services, onCalculation);
  const sheet = new EmbeddedSheetHost(book, calculation, sentences, api);
  services.get(ICommandService).beforeCommandExecuted(({ id }) => {
    if (!sheet.applying || !HAS_TO_WAIT.test(id)) return;
    onWait();
    throw new CustomCommandExecutionError("a batch is being written");
  });
  // What is computed anew has to be stored anew.
  const rows = new ChangedRows(parts === undefined || !computed);
  if (parts && computed) restoreComputed(book, sentences, parts);
  const release = computed ? calculation.hold() : () => {};
  services.get(ICommandService).onCommandExecuted((command, options) => {
    if (command.type === CommandType.MUTATION) rows.note(command, !options?.[BY_BATCH] && !options?.onlyLocal && !options?.fromFormula);
  });
  await new Promise<void>((resolve) => {
    const rendered = api.addEvent(api.Event.LifeCycleChanged, ({ stage }: { stage: number }) => {
      if (stage < RENDERED) return;
      resolve();
      rendered.dispose();
    });
  });
  release();
  for (const { id, params } of byHand) {
    // A change that no longer fits has lost its sheet.
    const made = attempt(() => services.get(ICommandService).syncExecuteCommand(id, structuredClone(params)));
    if (!made) onLost();
  }
  // With nothing changed the engine computes what gives something else each time.
  if (computed && isVolatile(workbook)) calculation.recompute([]);
  return {
    host: sheet,
    save: () => api.getActiveWorkbook()!.save(),
    computed: () => computedCells(book),
    changedTexts() {
      const texts: string[] = [];
      for (const { sheet: id, part } of changedParts(partsOf(book), rows.get())) {
        eachCellOf(book, id, part, ({ v }) => {
          if (isLong(v)) texts.push(v);
        });
      }
      return texts;
    },
    takeChanged() {
      const all = partsOf(book);
      const changes = rows.get();
      const taken = {
        head: readHead(book),
        present: [...all].flatMap(([id, numbers]) => numbers.map((part) => ({ sheet: id, part }))),
        changed: changedParts(all, changes).map(({ sheet: id, part }) => readPart(book, sentences, id, part)),
        changes,
        settled: calculation.idle,
      };
      rows.clear();
      return taken;
    },
    putBack: (changes) => rows.putBack(changes),
    byHand: () => rows.changedByHand,
    isHalfWritten: () => sheet.applying,
    settled: () => calculation.settled(),
    onWorkbookChange: (listener) => sheet.onWorkbookChange(listener),
    between: (run) => sheet.between(run),
    onLargeBatch: (listener) => sheet.onLargeBatch(listener),
    dispose: () => univer.dispose(),
  };
}

const RENDERED = 2;

/** What would move the cells, tables or sheets that a batch is about to write, or take back half of it. */
const HAS_TO_WAIT =
  /^(univer\.command\.(undo|redo)|sheet\.command\.(insert-(row|col|multi|range|sheet)|append-row|remove-(row|col|sheet(-confirm)?$)|delete-range|move-(rows|cols|range)|copy-sheet|set-worksheet-(name|order)|sort-range|reorder-range|split-text|(add|delete|set)-table|table-))/;

function attempt(run: () => boolean): boolean {
  try {
    return run();
  } catch {
    return false;
  }
}

/** Functions that give something else each time. */
const VOLATILE = /\b(RAND|RANDBETWEEN|NOW|TODAY)\s*\(/i;

function isVolatile(workbook: Partial<IWorkbookData> | undefined): boolean {
  for (const sheet of Object.values(workbook?.sheets ?? {})) {
    for (const cells of Object.values(sheet?.cellData ?? {})) for (const cell of Object.values((cells ?? {}) as Record<number, Nullable<ICellData>>)) if (cell?.f && VOLATILE.test(cell.f)) return true;
  }
  return false;
}

/** How often, at most, listeners hear of a change, in ms. */
const CHANGE_INTERVAL = 250;

/** How long a batch writes before the page gets to answer, ms. */
const WRITING_AT_ONCE = 25;

/** A batch of more cells than this may take a good part of a second to write. */
const LARGE_BATCH = 200;

/** Lets the page answer what waits. */
const breathe = () => new Promise<void>((resolve) => setTimeout(resolve, 0));

/** How long a selection rests before listeners hear of it, in ms. */
const SELECTION_REST = 30;

function cellsWritten(edits: readonly Edit[]): number {
  let count = 0;
  for (const edit of edits) {
    const rows = edit.kind === "cells" ? edit.cells : edit.kind === "table" || edit.kind === "appendRows" ? edit.rows : [];
    for (const row of rows) count += row.length;
  }
  return count;
}

/** What undo needs to know of a batch: how to take it back, and what must still be as the batch left it. */
interface Step {
  readonly batch: Batch;
  readonly written: readonly WrittenCell[];
  readonly addedSheets: readonly string[];
  /** Ranges of the tables the batch made or lengthened, by name. */
  readonly tables: ReadonlyMap<string, string>;
  /** Where the batch took rows or sheets away: how many edits there had been by then. Nothing may have come since. */
  readonly editsByThen?: number;
}

class EmbeddedSheetHost implements SheetHost {
  readonly kind = "embedded";
  applying = false;
  private readonly steps = new Map<number, Step>();
  private readonly changeListeners = new Set<() => void>();
  private readonly workbookListeners = new Set<() => void>();
  private lastStep = 0;
  /** Changes of cells, rows, sheets and tables so far, those of computing left out. */
  private edits = 0;
  private lastTurn: Promise<unknown> = Promise.resolve();
  private readonly largeBatchListeners = new Set<() => Promise<void>>();
  /** What runs when the present batch ends. */
  private afterBatch: (() => void)[] = [];
  private changeTimer: ReturnType<typeof setTimeout> | undefined;

  constructor(
    private readonly book: Book,
    private readonly calculation: Calculation,
    private readonly sentences: ErrorSentences,
    private readonly api: any,
  ) {
    book.services.get(ICommandService).onCommandExecuted((command, options) => {
      if (command.type === CommandType.MUTATION && command.id.startsWith("sheet.mutation.") && !options?.onlyLocal) this.edits++;
      if (command.type !== CommandType.MUTATION || !/^(sheet|formula)\.mutation\./.test(command.id) || /calculation-(start|notification|stop)|trigger/.test(command.id)) return;
      for (const listener of this.workbookListeners) listener();
      this.changeTimer ??= setTimeout(() => {
        this.changeTimer = undefined;
        for (const listener of this.changeListeners) listener();
      }, CHANGE_INTERVAL);
    });
  }

  async sheets(): Promise<readonly string[]> {
    return this.book.workbook.getSheets().map((sheet) => sheet.getName());
  }

  async usedRange(name: string): Promise<RangeRef | undefined> {
    const sheet = sheetNamed(this.book, name);
    let [top, left, bottom, right] = [Infinity, Infinity, -1, -1];
    const see = (row: number, column: number) => {
      top = Math.min(top, row);
      left = Math.min(left, column);
      bottom = Math.max(bottom, row);
      right = Math.max(right, column);
    };
    sheet.getCellMatrix().forValue((row, column, cell) => {
      if (holdsSomething(cell)) see(row, column);
    });
    const spilled = this.spilledCells(sheet);
    for (const row in spilled) for (const column in spilled[row]) if (holdsSomething(spilled[row][column])) see(Number(row), Number(column));
    return bottom < 0 ? undefined : { sheet: sheet.getName(), row: top, column: left, rows: bottom - top + 1, columns: right - left + 1 };
  }

  async tables() {
    return this.book.services
      .get(SheetTableService)
      .getTableList(this.book.unitId)
      .flatMap((table) => {
        const sheet = this.book.workbook.getSheetBySheetId(table.subUnitId);
        if (!sheet) return [];
        const { startRow, endRow, startColumn, endColumn } = table.range;
        const range = { sheet: sheet.getName(), row: startRow, column: startColumn, rows: endRow - startRow + 1, columns: endColumn - startColumn + 1 };
        const head = this.readRange({ ...range, rows: 1 }).values[0];
        return [{ name: table.name, range, columns: head.map(String) }];
      });
  }

  async definedName(name: string): Promise<RangeRef | undefined> {
    const all = this.book.services.get(IDefinedNamesService).getDefinedNameMap(this.book.unitId) ?? {};
    const found = Object.values(all).find((each) => each.name.toLowerCase() === name.toLowerCase());
    return found && parseRange(found.formulaOrRefString);
  }

  async read(ranges: readonly RangeRef[]): Promise<readonly RangeContent[]> {
    return ranges.map((range) => this.readRange(range));
  }

  apply(edits: readonly Edit[], options: ApplyOptions): Promise<Applied> {
    // One batch after the other: two at once would be one step for undo.
    return this.inTurn(() => this.applyNow(edits, options), cellsWritten(edits));
  }

  private inTurn<T>(run: () => Promise<T>, cells: number): Promise<T> {
    const turn = this.lastTurn
      .then(async () => {
        if (cells > LARGE_BATCH) await Promise.all([...this.largeBatchListeners].map((listener) => listener()));
        return run();
      })
      .finally(() => {
        for (const after of this.afterBatch.splice(0)) after();
      });
    this.lastTurn = turn.catch(() => {});
    return turn;
  }

  onLargeBatch(listener: () => Promise<void>): () => void {
    this.largeBatchListeners.add(listener);
    return () => this.largeBatchListeners.delete(listener);
  }

  /** Runs something when no batch is half written: now, or between the present one and the next. */
  between<T>(run: () => T): Promise<T> {
    return new Promise((resolve, reject) => {
      const attempt = () => {
        try {
          resolve(run());
        } catch (error) {
          reject(error as Error);
        }
      };
      if (this.applying) this.afterBatch.push(attempt);
      else attempt();
    });
  }

  private async applyNow(edits: readonly Edit[], options: ApplyOptions): Promise<Applied> {
    const batch = new Batch(this.book.services, this.book.unitId);
    const written: WrittenCell[] = [];
    this.applying = true;
    const rest = this.pauses();
    const pause = async () => {
      if (options.signal?.aborted) throw new Error("the change was cancelled; nothing was written");
      await rest();
    };
    try {
      for (const [index, edit] of edits.entries()) {
        await pause();
        const editing = editSheet(this.book, batch, edit);
        let step = editing.next();
        for (; !step.done; step = editing.next()) await pause();
        for (const cell of step.value) written.push(cell);
        options.onProgress?.((index + 1) / edits.length);
      }
      this.checkWritten(written, edits, ({ sheet, row, column }) => new Error(`the sheet did not take the cell ${cellAddress(row, column)} of ${sheet}; nothing was written`));
    } catch (error) {
      await batch.rollBack(rest);
      this.calculation.begin();
      throw error;
    } finally {
      this.applying = false;
    }
    batch.commit();
    if (edits.some((edit) => edit.kind === "deleteSheet")) this.calculation.recompute();
    this.calculation.begin();
    const id = ++this.lastStep;
    this.steps.set(id, {
      batch,
      written: stillThere(written, edits),
      addedSheets: edits.flatMap((edit) => (edit.kind === "addSheet" ? [edit.sheet] : [])),
      tables: new Map(edits.flatMap((edit) => (edit.kind === "table" ? [edit.name] : edit.kind === "appendRows" || edit.kind === "appendColumns" ? [edit.table] : [])).map((name) => [name, this.tableRange(name)])),
      ...(takesAway(edits) && { editsByThen: this.edits }),
    });
    return { label: options.label, id };
  }

  /** Called between two changes that belong together: lets the page answer now and then, and nothing be computed before all are made. */
  private pauses(): () => Promise<void> {
    let breath = performance.now();
    return async () => {
      if (performance.now() - breath < WRITING_AT_ONCE) return;
      this.calculation.wait();
      await breathe();
      breath = performance.now();
    };
  }

  private tableRange(name: string): string {
    const table = findTable(this.book, name);
    return table ? JSON.stringify([table.subUnitId, table.range.startRow, table.range.endRow, table.range.startColumn, table.range.endColumn]) : "";
  }

  /** Throws where something is no longer as the batch left it: taking it back would take more than the batch. */
  private checkUntouched(step: Step, label: string): void {
    const fault = (what: string) => new Error(`“${label}” cannot be undone: ${what}`);
    if (step.editsByThen !== undefined && step.editsByThen !== this.edits) throw fault("the workbook was changed since");
    this.checkWritten(step.written, [], ({ sheet }) => fault(`its cells on the sheet ${sheet} were changed since`));
    for (const [name, range] of step.tables) if (this.tableRange(name) !== range) throw fault(`the table ${name} was changed since`);
    for (const name of step.addedSheets) {
      const ours = new Set(step.written.flatMap((cell) => (cell.sheet === name ? [`${cell.row}!${cell.column}`] : [])));
      const sheet = this.book.workbook.getSheetBySheetName(name);
      sheet?.getCellMatrix().forValue((row, column, cell) => {
        if (holdsSomething(cell) && !ours.has(`${row}!${column}`)) throw fault(`something was added to the sheet ${name} since`);
      });
      if (sheet && holdsForeignDrawing(this.book, sheet)) throw fault(`something was added to the sheet ${name} since`);
    }
  }

  undo(applied: Applied): Promise<void> {
    return this.inTurn(() => this.undoNow(applied), this.steps.get(applied.id)?.written.length ?? 0);
  }

  private async undoNow({ id, label }: Applied): Promise<void> {
    const step = this.steps.get(id);
    if (!step) throw new Error(`“${label}” was undone already`);
    this.checkUntouched(step, label);
    this.applying = true;
    try {
      await step.batch.revert(this.pauses());
    } finally {
      this.applying = false;
    }
    this.steps.delete(id);
    // What is put back or goes as a whole, formulas elsewhere are not told of; of cells they are.
    if (step.editsByThen !== undefined || step.addedSheets.length > 0) this.calculation.recompute();
    else this.calculation.begin();
  }

  async selection(): Promise<CellRef | undefined> {
    return this.activeCell();
  }

  onSelection(listener: (cell: CellRef) => void) {
    let last = "";
    let timer: ReturnType<typeof setTimeout> | undefined;
    // Moving to a cell of another sheet is several events; only where it ends counts.
    const tell = () => {
      clearTimeout(timer);
      timer = setTimeout(() => {
        const cell = this.activeCell();
        const key = JSON.stringify(cell);
        if (!cell || key === last) return;
        last = key;
        listener(cell);
      }, SELECTION_REST);
    };
    const service = this.book.services.get(SheetsSelectionsService);
    const subscriptions = [service.selectionMoveEnd$.subscribe(tell), service.selectionSet$.subscribe(tell), this.book.workbook.activeSheet$.subscribe(tell)];
    return () => {
      clearTimeout(timer);
      subscriptions.forEach((subscription) => subscription.unsubscribe());
    };
  }

  private activeCell(): CellRef | undefined {
    const sheet = this.book.workbook.getActiveSheet();
    const cell = this.book.services.get(SheetsSelectionsService).getCurrentLastSelection()?.primary;
    return sheet && cell ? { sheet: sheet.getName(), row: cell.actualRow, column: cell.actualColumn } : undefined;
  }

  onChange(listener: () => void) {
    this.changeListeners.add(listener);
    return () => this.changeListeners.delete(listener);
  }

  onWorkbookChange(listener: () => void) {
    this.workbookListeners.add(listener);
    return () => this.workbookListeners.delete(listener);
  }

  async select(cell: CellRef): Promise<void> {
    sheetNamed(this.book, cell.sheet);
    const workbook = this.api.getActiveWorkbook();
    const sheet = workbook.getSheetByName(cell.sheet);
    workbook.setActiveSheet(sheet);
    sheet.getRange(cell.row, cell.column).activate();
    sheet.scrollToCell(Math.max(0, cell.row - 3), Math.max(0, cell.column - 1));
  }

  async spillAnchor(cell: CellRef): Promise<CellRef> {
    const spill = this.calculation.spillAt(this.book.unitId, sheetNamed(this.book, cell.sheet).getSheetId(), cell.row, cell.column);
    return spill ? { sheet: cell.sheet, row: spill.startRow, column: spill.startColumn } : cell;
  }

  async recalculate(ranges?: readonly RangeRef[]): Promise<void> {
    this.calculation.recompute(
      ranges?.map((range) => ({
        unitId: this.book.unitId,
        sheetId: sheetNamed(this.book, range.sheet).getSheetId(),
        range: { startRow: range.row, endRow: range.row + range.rows - 1, startColumn: range.column, endColumn: range.column + range.columns - 1 },
      })),
    );
    await this.calculation.settled();
  }

  settled(): Promise<void> {
    return this.calculation.settled();
  }

  private readRange(range: RangeRef): RangeContent {
    const sheet = sheetNamed(this.book, range.sheet);
    const spilled = this.spilledCells(sheet);
    const cells = sheet.getCellMatrix();
    const values: CellValue[][] = [];
    const formulas: string[][] = [];
    for (let row = range.row; row < range.row + range.rows; row++) {
      const valueRow: CellValue[] = [];
      const formulaRow: string[] = [];
      for (let column = range.column; column < range.column + range.columns; column++) {
        const stored = cells.getValue(row, column);
        const inSpill = spilled[row]?.[column];
        const cell = stored?.v !== undefined && stored.v !== null && stored.v !== "" ? stored : (inSpill ?? stored);
        const formula = this.formulaOf(sheet, stored, row, column);
        valueRow.push(this.cellValue(sheet, cell, row, column, formula !== "" || inSpill !== undefined));
        formulaRow.push(formula);
      }
      values.push(valueRow);
      formulas.push(formulaRow);
    }
    return { ref: range, values, formulas };
  }

  private cellValue(sheet: Worksheet, cell: Nullable<ICellData>, row: number, column: number, computed: boolean): CellValue {
    const value = cell?.v;
    if (value === undefined || value === null) return cell?.p?.body?.dataStream?.replace(/\r\n$/, "") ?? "";
    if (cell!.t === 3) return value === true || value === 1 || value === "TRUE";
    if (computed && typeof value === "string" && ERROR_CODES.includes(value as never)) {
      const message = this.sentences.get(sheet.getSheetId(), row, column);
      return message === undefined ? { error: value } : { error: value, message };
    }
    return value;
  }

  private formulaOf(sheet: Worksheet, cell: Nullable<ICellData>, row: number, column: number): string {
    if (cell?.f) return cell.f;
    if (!cell?.si) return "";
    return this.book.services.get(FormulaDataModel).getFormulaStringByCell(row, column, sheet.getSheetId(), this.book.unitId) ?? "";
  }

  private spilledCells(sheet: Worksheet): Record<number, Record<number, ICellData>> {
    return (this.book.services.get(FormulaDataModel).getArrayFormulaCellData()?.[this.book.unitId]?.[sheet.getSheetId()] ?? {}) as Record<number, Record<number, ICellData>>;
  }

  /** Compares what stands in the cells with what was written; cells a later edit of the same batch replaced do not count. */
  private checkWritten(written: readonly WrittenCell[], edits: readonly Edit[], fault: (cell: CellRef) => Error): void {
    for (const cell of stillThere(written, edits)) {
      const sheet = this.book.workbook.getSheetBySheetName(cell.sheet);
      if (!sheet || !holds(sheet.getCellMatrix().getValue(cell.row, cell.column), cell.input)) throw fault(cell);
    }
  }
}

/** What a batch leaves to be found: the last input of each cell, none on sheets or tables whose rows the batch moved. */
function stillThere(written: readonly WrittenCell[], edits: readonly Edit[]): readonly WrittenCell[] {
  if (takesAway(edits)) return [];
  const last = new Map<string, WrittenCell>();
  for (const cell of written) last.set(`${cell.row}!${cell.column}!${cell.sheet}`, cell);
  return last.size === written.length ? written : [...last.values()];
}

const takesAway = (edits: readonly Edit[]) => edits.some((edit) => edit.kind === "deleteRows" || edit.kind === "deleteSheet");

function holds(cell: Nullable<ICellData>, input: WrittenCell["input"]): boolean {
  if (typeof input === "object") return cell?.f === input.formula;
  if (cell?.f) return false;
  if (input === "") return !holdsSomething(cell);
  if (typeof input === "boolean") return cell?.t === 3 && cell.v === (input ? 1 : 0);
  return cell?.v === input;
}

/** Reads `Sheet!$A$1:$B$2` or `'My sheet'!A1`. */
function parseRange(text: string): RangeRef | undefined {
  const match = /^(?:'((?:[^']|'')+)'|([^'!]+))!\$?([A-Z]+)\$?(\d+)(?::\$?([A-Z]+)\$?(\d+))?$/i.exec(text.replace(/^=/, ""));
  if (!match) return undefined;
  const [, quoted, plain, firstColumn, firstRow, lastColumn = firstColumn, lastRow = firstRow] = match;
  const row = Number(firstRow) - 1;
  const column = columnIndex(firstColumn);
  return { sheet: quoted?.replaceAll("''", "'") ?? plain, row, column, rows: Number(lastRow) - row, columns: columnIndex(lastColumn) - column + 1 };
}
