import { ICommandService, type IAccessor } from "@univerjs/core";
import {
  FormulaDataModel,
  IActiveDirtyManagerService,
  SetArrayFormulaDataMutation,
  SetFormulaCalculationStartMutation,
  SetTriggerFormulaCalculationStartMutation,
} from "@univerjs/engine-formula";
import { SetRangeValuesMutation } from "@univerjs/sheets";
import { FormulaCalculationSessionService } from "@univerjs/sheets-formula";

interface Block {
  readonly startRow: number;
  readonly endRow: number;
  readonly startColumn: number;
  readonly endColumn: number;
}

/** Knows whether the sheet still computes, and mends what its engine leaves stale. */
export class Calculation {
  /** A change was made whose computing has not begun. */
  private waiting = false;
  private spills: Record<string, Block> = {};
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

  /** Resolves when nothing is left to compute; rejects after `limit` milliseconds. */
  async settled(limit = 120_000): Promise<void> {
    const session = this.services.get(FormulaCalculationSessionService);
    const started = performance.now();
    for (;;) {
      const { state } = session;
      const running = state.started && !(state.resultApplied && (state.stopped || state.completed || state.resultEmitted));
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

  /** Computes every formula, or those of the given ranges, afresh. */
  recompute(ranges?: readonly { unitId: string; sheetId: string; range: Block }[]): void {
    this.waiting = true;
    const commands = this.services.get(ICommandService);
    const nothing = { dirtyNameMap: {}, dirtyDefinedNameMap: {}, dirtySuperTableMap: {}, dirtyUnitFeatureMap: {}, dirtyUnitOtherFormulaMap: {}, clearDependencyTreeCache: {} };
    if (ranges) commands.executeCommand(SetTriggerFormulaCalculationStartMutation.id, { ...nothing, forceCalculation: false, dirtyRanges: ranges }, { onlyLocal: true });
    else commands.executeCommand(SetTriggerFormulaCalculationStartMutation.id, { ...nothing, forceCalculation: true, dirtyRanges: [] }, { onlyLocal: true });
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

  /** Cells that read a spill are not told when it becomes smaller: everything is computed once more then. */
  private repairShrunkenSpills(ranges: object | undefined): void {
    const now = flatten(ranges ?? {});
    const shrunk = Object.entries(this.spills).some(([key, old]) => !now[key] || now[key].endRow < old.endRow || now[key].endColumn < old.endColumn);
    this.spills = now;
    if (!shrunk) {
      this.repairs = 0;
    } else if (this.repairs < 3) {
      this.repairs++;
      this.waiting = true;
      setTimeout(() => this.recompute(), 0);
    }
  }
}

const pause = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds));

function flatten(ranges: any): Record<string, Block> {
  const flat: Record<string, Block> = {};
  for (const unit in ranges) {
    for (const sheet in ranges[unit]) {
      for (const row in ranges[unit][sheet] ?? {}) {
        for (const column in ranges[unit][sheet][row]) {
          const block = ranges[unit][sheet][row][column];
          if (block) flat[`${unit}|${sheet}|${row}|${column}`] = { ...block };
        }
      }
    }
  }
  return flat;
}
