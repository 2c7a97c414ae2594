import { IConfigService, type IAccessor } from "@univerjs/core";
import { BaseReferenceObject, ENGINE_FORMULA_PLUGIN_CONFIG_KEY, FORMULA_REF_TO_ARRAY_CACHE, IDependencyManagerService, IFormulaDependencyGenerator, IFormulaRuntimeService } from "@univerjs/engine-formula";

/** A rectangle that a formula fills. */
interface Block {
  readonly startRow: number;
  readonly endRow: number;
  readonly startColumn: number;
  readonly endColumn: number;
}

/** What formulas of one sheet fill, by row and column of the formula. */
type Spills = Record<number, Record<number, Block | undefined> | undefined>;

interface Placed {
  readonly row: number;
  readonly column: number;
  readonly block: Block;
}

/** Formulas after which the engine lets the page breathe. A new trial costs a millisecond or less: no frame is held up for long. */
const FORMULAS_AT_ONCE = 25;

/** How long the engine may collect what formulas read before it lets the page breathe, ms. */
const COLLECTING_AT_ONCE = 20;

/** Formulas whose parsed form the engine keeps. By itself it keeps 5,000, and with one more than that it parses all of them at every change. */
const FORMULAS_KEPT = 60_000;

/** Rows in one drawer of the index. */
const DRAWER_BITS = 5;

/**
 * Makes the engine fit for a season of trials, with the same results.
 *
 * For each cell that a formula fills, and for each filled cell that is read, the engine goes through all formulas of the sheet that fill
 * cells: the square of their number. Here it looks them up by row. And it pauses more often, so that the page goes on answering.
 */
export function tuneEngine(services: IAccessor): void {
  const config = services.get(IConfigService).getConfig(ENGINE_FORMULA_PLUGIN_CONFIG_KEY) as { intervalCount?: number } | undefined;
  if (config) config.intervalCount = FORMULAS_AT_ONCE;
  const runtime = services.get(IFormulaRuntimeService) as any;
  const index = spillIndex();
  // What formulas fill stays as it was at the start of each stage.
  for (const method of ["reset", "setFormulaExecuteStage"]) {
    const original = runtime[method].bind(runtime);
    runtime[method] = (...given: unknown[]) => {
      index.clear();
      return original(...given);
    };
  }
  runtime._isInOtherArrayFormulaRange = (unitId: string, sheetId: string, formulaRow: number, formulaColumn: number, row: number, column: number): boolean => {
    const spills = runtime._currentConfigService.getArrayFormulaRange()[unitId]?.[sheetId] as Spills | undefined;
    if (!spills) return false;
    const computed = runtime._runtimeData[unitId]?.[sheetId];
    return index.at(spills, row, column, (other) => (other.row !== formulaRow || other.column !== formulaColumn) && computed?.getValue(other.row, other.column)?.v !== "#SPILL!");
  };
  const references = BaseReferenceObject.prototype as any;
  references.getCellData = function getCellData(row: number, column: number) {
    const now = this.getCurrentRuntimeSheetData()?.getValue(row, column) || this.getCurrentRuntimeActiveArrayFormulaCellData()?.getValue(row, column) || this.getRuntimeFeatureCellValue(row, column);
    if (now) return now;
    const filled = this.getCurrentActiveArrayFormulaCellData()?.getValue(row, column);
    if (!filled) return this.getCurrentActiveSheetData()?.cellData.getValue(row, column);
    // Filled by a formula that was computed just now and no longer reaches as far: blank.
    const before = this.getCurrentActiveArrayFormulaRange() as Spills | undefined;
    const after = this.getCurrentRuntimeActiveArrayFormulaRange() as Spills | undefined;
    if (!before || !after) return filled;
    return index.at(before, row, column, (formula) => after[formula.row]?.[formula.column] !== undefined) ? null : filled;
  };
  keepParsed();
  pauseWhileCollecting(services.get(IFormulaDependencyGenerator), services.get(IDependencyManagerService));
}

/**
 * The engine knows a formula of more than 64 characters by 32 bits of it: among some thousand, two could be taken for one another. Here each is
 * known by its whole text. And a season's formulas stay parsed.
 */
function keepParsed(): void {
  const caches = Object.getPrototypeOf(FORMULA_REF_TO_ARRAY_CACHE) as any;
  caches._hash = (formula: string) => formula;
  caches.set = function set(formula: string, node: unknown) {
    if (this._cache.limit === 5000) this._cache.limit = FORMULAS_KEPT;
    this._cache.set(formula, node);
  };
}

/**
 * Before each calculation the engine goes through all formulas in one go. Between two of them nothing is half done: a change that comes meanwhile starts
 * a calculation of its own, of what was changed before too.
 */
function pauseWhileCollecting(generator: any, dependencies: any): void {
  const collect = generator._getRangeListByNode.bind(generator);
  const { port1, port2 } = new MessageChannel();
  const waiting: (() => void)[] = [];
  port1.onmessage = () => waiting.shift()?.();
  let breath = 0;
  const generate = generator.generate.bind(generator);
  // A formula that goes while the engine collects would be entered again at the end, and be found for ever: then all is collected anew the next time.
  let collecting = false;
  let gone = false;
  for (const method of ["removeFormulaDependency", "clearFormulaDependency", "removeOtherFormulaDependency", "clearOtherFormulaDependency", "removeFormulaDependencyByDefinedName"]) {
    const original = dependencies[method].bind(dependencies);
    dependencies[method] = (...given: unknown[]) => {
      gone ||= collecting;
      return original(...given);
    };
  }
  generator.generate = async (...given: unknown[]) => {
    breath = performance.now();
    [collecting, gone] = [true, false];
    try {
      return await generate(...given);
    } finally {
      collecting = false;
      if (gone) dependencies.reset();
    }
  };
  generator._getRangeListByNode = async (given: unknown) => {
    const ranges = await collect(given);
    if (performance.now() - breath > COLLECTING_AT_ONCE) {
      await new Promise<void>((resolve) => {
        waiting.push(resolve);
        port2.postMessage(undefined);
      });
      breath = performance.now();
    }
    return ranges;
  };
}

function spillIndex() {
  let drawers = new WeakMap<Spills, Map<number, Placed[]>>();
  return {
    clear() {
      drawers = new WeakMap();
    },
    /** Whether a formula that fills this cell is one that is looked for. */
    at(spills: Spills, row: number, column: number, wanted: (formula: Placed) => boolean): boolean {
      let sorted = drawers.get(spills);
      if (!sorted) drawers.set(spills, (sorted = sortedByRow(spills)));
      return (sorted.get(row >> DRAWER_BITS) ?? []).some((formula) => {
        const { startRow, endRow, startColumn, endColumn } = formula.block;
        return row >= startRow && row <= endRow && column >= startColumn && column <= endColumn && wanted(formula);
      });
    },
  };
}

function sortedByRow(spills: Spills): Map<number, Placed[]> {
  const sorted = new Map<number, Placed[]>();
  for (const [row, columns] of Object.entries(spills)) {
    for (const [column, block] of Object.entries(columns ?? {})) {
      if (!block) continue;
      const placed = { row: Number(row), column: Number(column), block };
      for (let drawer = block.startRow >> DRAWER_BITS; drawer <= block.endRow >> DRAWER_BITS; drawer++) {
        const content = sorted.get(drawer);
        if (content) content.push(placed);
        else sorted.set(drawer, [placed]);
      }
    }
  }
  return sorted;
}
