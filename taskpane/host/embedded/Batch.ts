import { ICommandService, IUndoRedoService, type IAccessor, type IMutationInfo } from "@univerjs/core";
import { InsertSheetMutation, SetWorksheetActiveOperation } from "@univerjs/sheets";

/** Marks the changes of a batch, for those who hear of them. */
export const BY_BATCH = "byBatch";

/**
 * Changes that belong together: each is carried out at once, its inverse kept. All of it can be taken back, and the
 * whole is one step for the sheet's own undo.
 */
export class Batch {
  private readonly redoMutations: IMutationInfo[] = [];
  private readonly undoMutations: IMutationInfo[] = [];

  constructor(
    private readonly services: IAccessor,
    private readonly unitId: string,
  ) {}

  /** Carries out one change; `inverse` holds what takes it back, in the order to run it. */
  run(id: string, params: object, ...inverse: IMutationInfo[]): void {
    this.execute({ id, params });
    this.redoMutations.push({ id, params });
    this.undoMutations.unshift(...inverse);
  }

  /** Several changes that are taken back together. */
  runAll(redos: readonly IMutationInfo[], inverse: readonly IMutationInfo[]): void {
    for (const redo of redos) {
      this.execute(redo);
      this.redoMutations.push(redo);
    }
    this.undoMutations.unshift(...inverse);
  }

  /** Takes back all that was done so far; `pause` is called between two changes. */
  async rollBack(pause: () => Promise<void>): Promise<void> {
    for (const mutation of this.undoMutations) {
      await pause();
      this.execute(mutation);
    }
  }

  /** Hands the batch to the sheet's undo as one step. */
  commit(): void {
    this.push(this.undoMutations, this.redoMutations);
  }

  /** Takes the batch back as a new step of its own. */
  async revert(pause: () => Promise<void>): Promise<void> {
    await this.rollBack(pause);
    this.push([...this.redoMutations], [...this.undoMutations]);
  }

  private push(undoMutations: IMutationInfo[], redoMutations: IMutationInfo[]): void {
    this.services.get(IUndoRedoService).pushUndoRedo({ unitID: this.unitId, undoMutations, redoMutations });
  }

  private execute({ id, params }: IMutationInfo): void {
    // A new sheet is not shown by itself: whoever works in another one stays there.
    const options = id === InsertSheetMutation.id ? { fromCollab: true } : {};
    const done = this.services.get(ICommandService).syncExecuteCommand(id, params, { ...options, [BY_BATCH]: true });
    if (!done && id !== SetWorksheetActiveOperation.id) throw new Error("the sheet refused a change");
  }
}
