import { SetNumfmtMutation, SetRangeValuesMutation, SetWorksheetColWidthMutation, SetWorksheetRowHeightMutation } from "@univerjs/sheets";
import type { ChangeByHand } from "../storage/savedParts.ts";

/** Rows of a sheet that are stored together. */
export const PART_ROWS = 100;

/** A change as the sheet makes it. */
interface Change {
  readonly id: string;
  readonly params?: unknown;
}

/** What changed: every part, or of each sheet every part or some. */
export interface Changes {
  readonly everything: boolean;
  readonly sheets: ReadonlyMap<string, "all" | ReadonlySet<number>>;
  /** What a person changed in cells, in order. */
  readonly byHand: readonly ChangeByHand[];
}

/** Changes that can be made once more in the workbook as it was before a batch: what cells hold and how they look. */
const MADE_AGAIN: ReadonlySet<string> = new Set([SetRangeValuesMutation.id, SetNumfmtMutation.id, SetWorksheetColWidthMutation.id, SetWorksheetRowHeightMutation.id]);

/** Changes that leave the cells of a sheet alone; what they change is stored with every save. */
const NO_CELLS =
  /^sheet\.mutation\.((set-worksheet|toggle-gridlines|set-gridlines|set-tab-color|set-workbook-name|set-frozen)|(add|remove)-worksheet-merge$|set-col-(data|hidden|visible)$|set-row-(data|hidden|visible)$|.*(table|filter|theme|protection|drawing|default-style)|empty$)/;

/** Notes which parts of a workbook have to be stored again. In doubt it notes more than was changed, never less. */
export class ChangedRows {
  private everything: boolean;
  private readonly sheets = new Map<string, "all" | Set<number>>();
  private byHand: ChangeByHand[] = [];
  /** Whether rows, columns or sheets were changed by hand: where later changes belong is known only with these. */
  private moved = false;

  /** @param everything Whether all of the workbook has to be stored: nothing of it is yet, or what is stored is out of date. */
  constructor(everything: boolean) {
    this.everything = everything;
  }

  /** @param byHand Whether a person made the change, neither a batch nor a calculation. */
  note({ id, params }: Change, byHand = false): void {
    if (byHand && MADE_AGAIN.has(id) && !this.moved) this.byHand.push({ id, params: params as object });
    if (!id.startsWith("sheet.mutation.") || NO_CELLS.test(id)) return;
    if (byHand && !MADE_AGAIN.has(id)) this.moved = true;
    const { subUnitId, cellValue, sheet } = (params ?? {}) as { subUnitId?: unknown; cellValue?: object; sheet?: { id?: unknown } };
    const place = typeof subUnitId === "string" ? subUnitId : sheet?.id;
    if (typeof place !== "string") {
      this.everything = true;
    } else if (id === SetRangeValuesMutation.id) {
      for (const row in cellValue) this.noteRow(place, Number(row));
    } else {
      this.sheets.set(place, "all");
    }
  }

  private noteRow(sheet: string, row: number): void {
    const noted = this.sheets.get(sheet);
    if (noted === "all") return;
    const part = Math.floor(row / PART_ROWS);
    if (noted) noted.add(part);
    else this.sheets.set(sheet, new Set([part]));
  }

  /** What a person changed in cells so far. */
  get changedByHand(): readonly ChangeByHand[] {
    return this.byHand;
  }

  /** What changed so far. */
  get(): Changes {
    return { everything: this.everything, sheets: new Map([...this.sheets].map(([sheet, parts]) => [sheet, parts === "all" ? parts : new Set(parts)])), byHand: [...this.byHand] };
  }

  /** Begins anew: what changed so far is being stored. */
  clear(): void {
    this.everything = false;
    this.sheets.clear();
    this.byHand = [];
    this.moved = false;
  }

  /** Takes changes up again that could not be stored. */
  putBack({ everything, sheets, byHand }: Changes): void {
    this.everything ||= everything;
    this.byHand.unshift(...byHand);
    for (const [sheet, parts] of sheets) {
      if (parts === "all") this.sheets.set(sheet, parts);
      else for (const part of parts) this.noteRow(sheet, part * PART_ROWS);
    }
  }
}
