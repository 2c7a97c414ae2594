import { ICommandService, type IAccessor } from "@univerjs/core";
import {
  FormulaDataModel,
  FormulaExecutedStateType,
  ICalculateFormulaService,
  IFormulaRuntimeService,
  SetArrayFormulaDataMutation,
  SetFormulaCalculationStartMutation,
  SetFormulaCalculationStopMutation,
  SetTriggerFormulaCalculationStartMutation,
} from "@univerjs/engine-formula";
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

/** How long the engine's own trigger waits for more changes by hand before it computes, ms. */
const MORE_CHANGES = 100;

/** The name of the engine's only lock: what holds it computes. */
const LOCK = "FORMULA_EXECUTION_LOCK";

/**
 * Says what is computed and when, knows whether the sheet still computes, and mends what its engine leaves stale.
 *
 * By itself the engine loses changes: one that comes while it computes stops it, and what the stopped calculation was for is forgotten when it is
 * stopped once more, or when it ends before it hears of the stop. Here one calculation runs at a time, and what was changed is kept until a
 * calculation that began afterwards has ended.
 */
export class Calculation {
  /** What was changed and is not computed, in the engine's terms. */
  private pending: object | undefined;
  /** What the calculation under way is for. */
  private current: object | undefined;
  private stopped = false;
  /** A repair was found necessary and is about to be asked for. */
  private repairing = false;
  private timer: ReturnType<typeof setTimeout> | undefined;
  private spills: ReadonlyMap<string, Spill> = new Map();
  private repairs = 0;
  private readonly trigger: any;

  /** `onStart` is called when a calculation begins. */
  constructor(
    private readonly services: IAccessor,
    onStart: () => void,
  ) {
    this.trigger = services.get(TriggerCalculationController);
    this.followEngine();
    services.get(ICommandService).onCommandExecuted(({ id, params }) => {
      // The trigger has sorted out what changes no value, and put the rest on its list; when it is computed is decided here.
      if (this.listed) this.later();
      if (id === SetFormulaCalculationStartMutation.id) onStart();
      if (id === SetArrayFormulaDataMutation.id) this.repairShrunkenSpills((params as { arrayFormulaRange?: object }).arrayFormulaRange);
    });
    if (this.listed) this.later();
  }

  /** Whether nothing is computed now or waits for it. */
  get idle(): boolean {
    return !this.waiting && !this.running;
  }

  /** A change was made whose computing has not begun. */
  private get waiting(): boolean {
    return this.repairing || this.pending !== undefined || this.listed;
  }

  private get listed(): boolean {
    return this.trigger._waitingCommandQueue.length > 0;
  }

  private get running(): boolean {
    const { state } = this.services.get(FormulaCalculationSessionService);
    return this.current !== undefined || (state.started && !(state.resultApplied && (state.stopped || state.completed || state.resultEmitted)));
  }

  /** Resolves when nothing is left to compute; rejects after `limit` milliseconds. */
  async settled(limit = 120_000): Promise<void> {
    const started = performance.now();
    for (;;) {
      const running = this.running;
      if (!this.waiting && !running) {
        await pause(0);
        if (this.idle) return;
      } else if (performance.now() - started > limit) {
        throw new Error("the sheet is still computing; try again in a while");
      } else {
        await pause(running ? 5 : 15);
      }
    }
  }

  /** Lets what was changed wait for more: a batch is half written. Whoever calls it calls `begin` in the end. */
  wait(): void {
    clearTimeout(this.timer);
    clearTimeout(this.trigger._setTimeoutKey);
  }

  private later(): void {
    this.wait();
    this.timer = setTimeout(() => this.begin(), MORE_CHANGES);
  }

  /** Begins to compute what was changed; without it that waits a tenth of a second for more changes. */
  begin(): void {
    this.wait();
    const { trigger } = this;
    if (this.listed) {
      const changed = trigger._generateDirty(trigger._waitingCommandQueue);
      trigger._waitingCommandQueue = [];
      this.pending = this.merged(this.pending, changed);
    }
    if (this.pending === undefined) return;
    if (this.current === undefined) this.start();
    else this.services.get(ICommandService).syncExecuteCommand(SetFormulaCalculationStopMutation.id, {});
  }

  private start(): void {
    this.current = this.pending;
    this.pending = undefined;
    this.stopped = false;
    this.services.get(ICommandService).syncExecuteCommand(SetFormulaCalculationStartMutation.id, { ...this.current }, { onlyLocal: true });
  }

  /** What two changes together make necessary; neither is altered. */
  private merged(first: object | undefined, second: object | undefined): object | undefined {
    return first && second ? this.trigger._mergeDirty(structuredClone(first), second) : (first ?? second);
  }

  /** Hears of the end of each calculation; one that was to stop counts as stopped even where it hears of it too late, and its results as none. */
  private followEngine(): void {
    const runtime = this.services.get(IFormulaRuntimeService);
    const allData = runtime.getAllRuntimeData.bind(runtime);
    runtime.getAllRuntimeData = () => {
      const data = allData();
      return runtime.isStopExecution() ? { ...data, functionsExecutedState: FormulaExecutedStateType.STOP_EXECUTION } : data;
    };
    const engine = this.services.get(ICalculateFormulaService) as any;
    engine.executionCompleteListener$.subscribe(({ functionsExecutedState }: { functionsExecutedState: FormulaExecutedStateType }) => {
      this.stopped = functionsExecutedState === FormulaExecutedStateType.STOP_EXECUTION;
    });
    const lock = engine._executeLock;
    const acquire = lock.acquire.bind(lock);
    lock.acquire = (name: string, work: () => Promise<unknown>) => {
      const done = acquire(name, work);
      // Its results are in their cells when all that was waiting has run.
      if (name === LOCK) void done.catch(() => {}).then(() => setTimeout(() => this.ended(), 0));
      return done;
    };
  }

  private ended(): void {
    if (this.stopped) this.pending = this.merged(this.current, this.pending);
    this.current = undefined;
    this.stopped = false;
    if (this.pending !== undefined) this.start();
  }

  /**
   * Computes nothing of what opening a workbook tells the engine: what formulas show holds.
   *
   * @returns To be called when the workbook is open: from then on changes count.
   */
  hold(): () => void {
    const { trigger } = this;
    const generate = trigger._generateDirty;
    trigger._generateDirty = () => generate.call(trigger, []);
    return () => {
      this.wait();
      trigger._waitingCommandQueue = [];
      trigger._generateDirty = generate;
      this.pending = undefined;
    };
  }

  /** Computes every formula, or those of the given ranges, afresh. */
  recompute(ranges?: readonly { unitId: string; sheetId: string; range: Block }[]): void {
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
      this.repairing = true;
      setTimeout(() => {
        this.repairing = false;
        this.recompute(left);
      }, 0);
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
