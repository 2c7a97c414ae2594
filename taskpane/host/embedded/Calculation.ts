import { ICommandService, type IAccessor } from "@univerjs/core";
import {
  FormulaDataModel,
  IActiveDirtyManagerService,
  SetArrayFormulaDataMutation,
  SetFormulaCalculationStartMutation,
  SetFormulaCalculationStopMutation,
  SetTriggerFormulaCalculationStartMutation,
} from "@univerjs/engine-formula";
import { SetRangeValuesMutation } from "@univerjs/sheets";
import { FormulaCalculationSessionService, TriggerCalculationController } from "@univerjs/sheets-formula";

interface Block {
  readonly startRow: number;
  readonly endRow: number;
  readonly startColumn: number;
  readonly endColumn: number;
}

interface Spill {
  readonly unitId: string;
  readonly sheetId: string;
  readonly block: Block;
}

/** Knows whether the sheet still computes, and mends what its engine leaves stale. */
export class Calculation {
  /** A change was made whose computing has not begun. */
  private waiting = false;
  private spills: ReadonlyMap<string, Spill> = new Map();
  private repairs = 0;

  /** `onStart` is called when a calculation begins. */
  constructor(
    private readonly services: IAccessor,
    onStart: () => void,
  ) {
    const dirty = services.get(IActiveDirtyManagerService);
    services.get(ICommandService).onCommandExecuted(({ id, params }, options) => {
      // Values that only this copy gets are results on their way into their cells.
      if (dirty.get(id) && !(id === SetRangeValuesMutation.id && options?.onlyLocal)) this.waiting = true;
      if (id === SetFormulaCalculationStartMutation.id) {
        this.waiting = false;
        onStart();
      }
      if (id === SetArrayFormulaDataMutation.id) this.repairShrunkenSpills((params as { arrayFormulaRange?: object }).arrayFormulaRange);
    });
  }

  /** Whether nothing is computed now or waits for it. */
  get idle(): boolean {
    return !this.waiting && !this.running;
  }

  private get running(): boolean {
    const { state } = this.services.get(FormulaCalculationSessionService);
    return state.started && !(state.resultApplied && (state.stopped || state.completed || state.resultEmitted));
  }

  /** Resolves when nothing is left to compute; rejects after `limit` milliseconds. */
  async settled(limit = 120_000): Promise<void> {
    const started = performance.now();
    for (;;) {
      const running = this.running;
      if (!this.waiting && !running) {
        await pause(0);
        if (!this.waiting) return;
      } else if (performance.now() - started > limit) {
        throw new Error("the sheet is still computing; try again in a while");
      } else {
        await pause(running ? 5 : 15);
      }
    }
  }

  /** Lets what was changed wait for more: a batch is half written. Whoever calls it calls `begin` in the end. */
  wait(): void {
    clearTimeout((this.services.get(TriggerCalculationController) as any)._setTimeoutKey);
  }

  /** Begins to compute what was changed; by itself the engine waits a tenth of a second for more changes. */
  begin(): void {
    const trigger = this.services.get(TriggerCalculationController) as any;
    if (!trigger._waitingCommandQueue?.length) return;
    clearTimeout(trigger._setTimeoutKey);
    trigger._executingDirtyData = trigger._mergeDirty(trigger._executingDirtyData, trigger._generateDirty(trigger._waitingCommandQueue));
    trigger._waitingCommandQueue = [];
    const commands = this.services.get(ICommandService);
    if (trigger._executionInProgressParams == null) {
      commands.executeCommand(SetFormulaCalculationStartMutation.id, { ...trigger._executingDirtyData }, { onlyLocal: true });
    } else {
      trigger._restartCalculation = true;
      commands.executeCommand(SetFormulaCalculationStopMutation.id, {});
    }
  }

  /**
   * Computes nothing of what opening a workbook tells the engine: what formulas show holds.
   *
   * @returns To be called when the workbook is open: from then on changes count.
   */
  hold(): () => void {
    const trigger = this.services.get(TriggerCalculationController) as any;
    const generate = trigger._generateDirty;
    trigger._generateDirty = () => generate.call(trigger, []);
    return () => {
      clearTimeout(trigger._setTimeoutKey);
      trigger._waitingCommandQueue = [];
      trigger._generateDirty = generate;
      this.waiting = false;
    };
  }

  /** Computes every formula, or those of the given ranges, afresh. */
  recompute(ranges?: readonly { unitId: string; sheetId: string; range: Block }[]): void {
    this.waiting = true;
    const commands = this.services.get(ICommandService);
    const nothing = { dirtyNameMap: {}, dirtyDefinedNameMap: {}, dirtySuperTableMap: {}, dirtyUnitFeatureMap: {}, dirtyUnitOtherFormulaMap: {}, clearDependencyTreeCache: {} };
    commands.syncExecuteCommand(SetTriggerFormulaCalculationStartMutation.id, { ...nothing, forceCalculation: ranges === undefined, dirtyRanges: ranges ?? [] }, { onlyLocal: true });
    this.begin();
  }

  /** The spill that covers a cell, by its range; the first cell of the range is the anchor. */
  spillAt(unitId: string, sheetId: string, row: number, column: number): Block | undefined {
    const rows = (this.services.get(FormulaDataModel).getArrayFormulaRange()?.[unitId]?.[sheetId] ?? {}) as Record<string, Record<string, Block>>;
    for (const columns of Object.values(rows)) {
      for (const block of Object.values(columns ?? {})) {
        if (block && row >= block.startRow && row <= block.endRow && column >= block.startColumn && column <= block.endColumn) return block;
      }
    }
    return undefined;
  }

  /** Cells that read a spill are not told when it becomes smaller: those that read what it no longer fills are computed once more then. */
  private repairShrunkenSpills(ranges: object | undefined): void {
    const now = flatten(ranges ?? {});
    const left = [...this.spills].flatMap(([key, old]) => leftBy(old, now.get(key)));
    this.spills = now;
    if (left.length === 0) {
      this.repairs = 0;
    } else if (this.repairs < 3) {
      this.repairs++;
      this.waiting = true;
      setTimeout(() => this.recompute(left), 0);
    }
  }
}

/** What a spill filled before and fills no longer; not its first cell, which holds the formula. */
function leftBy({ unitId, sheetId, block: before }: Spill, now: Spill | undefined): { unitId: string; sheetId: string; range: Block }[] {
  const { startRow, startColumn, endRow, endColumn } = before;
  const after = now?.block ?? { startRow, startColumn, endRow: startRow, endColumn: startColumn };
  const parts: Block[] = [];
  if (after.endColumn < endColumn) parts.push({ startRow, endRow, startColumn: after.endColumn + 1, endColumn });
  if (after.endRow < endRow) parts.push({ startRow: after.endRow + 1, endRow, startColumn, endColumn });
  return parts.map((range) => ({ unitId, sheetId, range }));
}

const pause = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds));

function flatten(ranges: any): Map<string, Spill> {
  const flat = new Map<string, Spill>();
  for (const unitId in ranges) {
    for (const sheetId in ranges[unitId]) {
      for (const row in ranges[unitId][sheetId] ?? {}) {
        for (const column in ranges[unitId][sheetId][row]) {
          const block = ranges[unitId][sheetId][row][column];
          if (block) flat.set(`${unitId}|${sheetId}|${row}|${column}`, { unitId, sheetId, block: { ...block } });
        }
      }
    }
  }
  return flat;
}
