import { CommandType, DrawingTypeEnum, generateRandomId, ICommandService, ImageSourceType, type IAccessor, type ICommand, type Worksheet } from "@univerjs/core";
import { DrawingApplyType, ISheetDrawingService, SetDrawingApplyMutation, type ISheetDrawing } from "@univerjs/preset-sheets-drawing";
import { convertPositionCellToSheetOverGrid, SheetSkeletonService } from "@univerjs/sheets";
import type { Edit, PictureOf } from "../SheetHost.ts";
import type { Batch } from "./Batch.ts";
import type { Book } from "./editSheet.ts";
import { pictureId, placedFor } from "./pictureIds.ts";

type PictureEdit = Extract<Edit, { kind: "picture" }>;

/** How the sheet describes a change of its drawings. */
interface DrawingChange {
  readonly redo: unknown;
  readonly unitId: string;
  readonly subUnitId: string;
  readonly objects: unknown;
}

interface Place {
  readonly drawings: readonly ISheetDrawing[];
}

interface Take {
  readonly unitId: string;
  readonly drawingIds: readonly string[];
}

/**
 * The sheet's own change of pictures names them by their order, which holds no longer where a person placed or removed one
 * since. These two go by id, so that either can be carried out at any time.
 */
const PlaceDrawings: ICommand<Place> = {
  id: "sheet.mutation.place-drawings",
  type: CommandType.MUTATION,
  handler(services, params) {
    const service = services.get(ISheetDrawingService);
    const commands = services.get(ICommandService);
    for (const drawing of params!.drawings) {
      if (service.getDrawingByParam(drawing)) continue;
      const { redo, unitId, subUnitId, objects } = service.getBatchAddOp([structuredClone(drawing)]) as DrawingChange;
      commands.syncExecuteCommand(SetDrawingApplyMutation.id, { op: redo, unitId, subUnitId, objects, type: DrawingApplyType.INSERT });
    }
    return true;
  },
};

const TakeDrawings: ICommand<Take> = {
  id: "sheet.mutation.take-drawings",
  type: CommandType.MUTATION,
  handler(services, params) {
    const service = services.get(ISheetDrawingService);
    const commands = services.get(ICommandService);
    const ids = new Set(params!.drawingIds);
    // Wherever they are now: a sheet may have got another name, and a picture another place.
    for (const drawing of drawingsOf(services, params!.unitId).filter(({ drawingId }) => ids.has(drawingId))) {
      const { redo, unitId, subUnitId, objects } = service.getBatchRemoveOp([drawing]) as DrawingChange;
      commands.syncExecuteCommand(SetDrawingApplyMutation.id, { op: redo, unitId, subUnitId, objects, type: DrawingApplyType.REMOVE });
    }
    return true;
  },
};

/** Lets batches place pictures and take them off. */
export function registerPictures(services: IAccessor): void {
  const commands = services.get(ICommandService);
  commands.registerCommand(PlaceDrawings);
  commands.registerCommand(TakeDrawings);
}

/** Places a picture with its top left corner at a cell. */
export function placePicture({ services, unitId }: Book, batch: Batch, sheet: Worksheet, edit: PictureEdit): void {
  if (!/^data:image\/(png|svg\+xml|jpeg)[;,]/.test(edit.dataUrl)) throw new Error("a picture requires PNG, JPEG or SVG data");
  const subUnitId = sheet.getSheetId();
  const skeleton = services.get(SheetSkeletonService).ensureSkeleton(unitId, subUnitId);
  if (!skeleton) throw new Error("the sheet refused a change");
  const { row, column, width, height } = edit;
  const still = { flipX: false, flipY: false, angle: 0, skewX: 0, skewY: 0 };
  const from = { row, rowOffset: 0, column, columnOffset: 0 };
  const { transform } = convertPositionCellToSheetOverGrid(unitId, subUnitId, from, width, height, skeleton);
  // Widths and heights that were set a moment ago, on a sheet that was never shown, are not known to the drawing yet: its corner is counted here.
  const sheetTransform = { from, to: cornerOf(sheet, edit), ...still };
  const drawing: ISheetDrawing & { title: string; description: string } = {
    unitId,
    subUnitId,
    drawingId: pictureId(edit.of, generateRandomId()),
    drawingType: DrawingTypeEnum.DRAWING_IMAGE,
    imageSourceType: ImageSourceType.BASE64,
    source: edit.dataUrl,
    transform: { ...transform, ...still },
    sheetTransform,
    axisAlignSheetTransform: sheetTransform,
    title: edit.altText,
    description: edit.altText,
  };
  batch.run(PlaceDrawings.id, { drawings: [drawing] } satisfies Place, { id: TakeDrawings.id, params: { unitId, drawingIds: [drawing.drawingId] } satisfies Take });
}

/** Takes the pictures off a sheet that were placed there for this; no others. */
export function takePictures({ services, unitId }: Book, batch: Batch, sheet: Worksheet, of: PictureOf): void {
  const drawings = structuredClone(drawingsOn(services, unitId, sheet.getSheetId()).filter(({ drawingId }) => placedFor(drawingId) === of));
  if (drawings.length === 0) return;
  batch.run(TakeDrawings.id, { unitId, drawingIds: drawings.map(({ drawingId }) => drawingId) } satisfies Take, { id: PlaceDrawings.id, params: { drawings } satisfies Place });
}

/** Whether something is drawn on a sheet that no batch placed. */
export function holdsForeignDrawing({ services, unitId }: Book, sheet: Worksheet): boolean {
  return drawingsOn(services, unitId, sheet.getSheetId()).some(({ drawingId }) => placedFor(drawingId) === undefined);
}

const drawingsOn = (services: IAccessor, unitId: string, subUnitId: string): readonly ISheetDrawing[] => Object.values(services.get(ISheetDrawingService).getDrawingData(unitId, subUnitId) ?? {});

const drawingsOf = (services: IAccessor, unitId: string): readonly ISheetDrawing[] =>
  Object.keys(services.get(ISheetDrawingService).getDrawingDataForUnit(unitId) ?? {}).flatMap((sheet) => drawingsOn(services, unitId, sheet));

/** The cell in which the far corner of a picture lies, and how far inside it, px. */
function cornerOf(sheet: Worksheet, { row, column, width, height }: PictureEdit) {
  let [toColumn, columnOffset, toRow, rowOffset] = [column, width, row, height];
  for (let size = sheet.getColumnWidth(toColumn); columnOffset > size && toColumn < sheet.getColumnCount() - 1; size = sheet.getColumnWidth(toColumn)) {
    columnOffset -= size;
    toColumn += 1;
  }
  for (let size = sheet.getRowHeight(toRow); rowOffset > size && toRow < sheet.getRowCount() - 1; size = sheet.getRowHeight(toRow)) {
    rowOffset -= size;
    toRow += 1;
  }
  return { column: toColumn, columnOffset, row: toRow, rowOffset };
}
