import {
  ArrayValueObject,
  AsyncObject,
  BaseFunction,
  BooleanValueObject,
  ErrorType,
  ErrorValueObject,
  FunctionType,
  NullValueObject,
  NumberValueObject,
  StringValueObject,
} from "@univerjs/engine-formula";
import { cellAddress, sheetPrefix } from "../../workbook/addresses.ts";
import type { FunctionMetadata, LeapFunction } from "./FunctionMetadata.ts";
import { marshal, type Argument, type SheetValue } from "./marshal.ts";
import { isErrorValue, SheetError, toSheetError } from "./SheetError.ts";

/** Keeps the sentence of every error cell; the sheet itself keeps the code only. */
export interface ErrorSentences {
  /** Forgets the sentences of the formula whose anchor is this cell. */
  clear(sheetId: string, row: number, column: number): void;
  /** A sentence for the cell `down` and `right` of the anchor. */
  set(sheetId: string, row: number, column: number, down: number, right: number, sentence: string): void;
  /** The sentence of a cell; at an anchor, for want of its own, the first its formula gave (a call inside another). */
  get(sheetId: string, row: number, column: number): string | undefined;
  /** All sentences of the formula in a cell, each with its place from there. */
  of(sheetId: string, row: number, column: number): readonly { readonly down: number; readonly right: number; readonly sentence: string }[];
}

export function createErrorSentences(): ErrorSentences {
  const sentences = new Map<string, string>();
  const ofAnchor = new Map<string, string[]>();
  const key = (sheetId: string, row: number, column: number) => `${sheetId}!${row}!${column}`;
  return {
    clear(sheetId, row, column) {
      const anchor = key(sheetId, row, column);
      for (const cell of ofAnchor.get(anchor) ?? []) sentences.delete(cell);
      ofAnchor.delete(anchor);
    },
    set(sheetId, row, column, down, right, sentence) {
      const anchor = key(sheetId, row, column);
      const cell = key(sheetId, row + down, column + right);
      const cells = ofAnchor.get(anchor);
      if (cells) cells.push(cell);
      else ofAnchor.set(anchor, [cell]);
      sentences.set(cell, sentence);
    },
    get(sheetId, row, column) {
      const cell = key(sheetId, row, column);
      const [nested] = ofAnchor.get(cell) ?? [];
      return sentences.get(cell) ?? (nested === undefined ? undefined : sentences.get(nested));
    },
    of(sheetId, row, column) {
      return [...new Set(ofAnchor.get(key(sheetId, row, column)) ?? [])].flatMap((cell) => {
        const sentence = sentences.get(cell);
        const [down, right] = cell.slice(sheetId.length + 1).split("!").map(Number) as [number, number];
        return sentence === undefined ? [] : [{ down: down - row, right: right - column, sentence }];
      });
    },
  };
}

/**
 * A class of the sheet's formula engine for one of our functions. Whatever the function does, the engine gets a value: an
 * exception that reaches it would stop it for good.
 */
export function functionClass(metadata: FunctionMetadata, name: string, run: LeapFunction, sentences: ErrorSentences): new (name: string) => BaseFunction {
  const { parameters } = metadata;
  return class extends BaseFunction {
    override minParams = parameters.filter((parameter) => !parameter.optional && !parameter.repeating).length;
    override maxParams = parameters.some((parameter) => parameter.repeating) ? 255 : parameters.length;
    // Ranges arrive as references and are read directly: several times faster than a value object per cell.
    override needsReferenceObject = true;
    override needsSheetsInfo = true;

    override calculate(...variants: any[]): any {
      const sheetId = this.subUnitId ?? "";
      const { row, column } = this;
      sentences.clear(sheetId, row, column);
      const place: Place = { unitId: this.unitId ?? "", sheetId, row, column };
      try {
        const sheetName = this.getSheetsInfo().sheetNameMap?.[sheetId] ?? "";
        const invocation = { address: `${sheetPrefix(sheetName)}${cellAddress(row, column)}`, functionName: name };
        const result = run(...marshal(parameters, variants.map((variant) => readArgument(variant, sentences))), invocation);
        return isPromise(result)
          ? new AsyncObject(result.then((value) => toVariant(value, place, sentences), (error) => failed(error, place, sentences)) as Promise<any>)
          : toVariant(result, place, sentences);
      } catch (error) {
        return failed(error, place, sentences);
      }
    }
  };
}

/** What the sheet shows while a formula is being typed. */
export function functionDescription(metadata: FunctionMetadata, name: string) {
  return {
    functionName: name,
    functionType: FunctionType.User,
    description: metadata.description ?? "",
    abstract: metadata.description ?? "",
    functionParameter: metadata.parameters.map((parameter) => ({
      name: parameter.name,
      detail: parameter.description ?? parameter.name,
      example: parameter.dimensionality === "matrix" ? "A1:C10" : "1",
      require: parameter.optional ? 0 : 1,
      repeat: parameter.repeating ? 1 : 0,
    })),
  };
}

interface Place {
  readonly unitId: string;
  readonly sheetId: string;
  readonly row: number;
  readonly column: number;
}

const isPromise = (value: unknown): value is Promise<unknown> => typeof (value as { then?: unknown } | undefined)?.then === "function";

function failed(error: unknown, place: Place, sentences: ErrorSentences): ErrorValueObject {
  const { code, message } = toSheetError(error);
  return errorVariant(code, message, place, sentences, 0, 0);
}

function errorVariant(code: string, message: string, place: Place, sentences: ErrorSentences, down: number, right: number): ErrorValueObject {
  if (message) sentences.set(place.sheetId, place.row, place.column, down, right, message);
  return ErrorValueObject.create(code as ErrorType, message);
}

function toVariant(result: unknown, place: Place, sentences: ErrorSentences): any {
  if (!Array.isArray(result)) return cellVariant(result, place, sentences, 0, 0);
  const rows: unknown[][] = Array.isArray(result[0]) ? (result as unknown[][]) : [result];
  const columns = rows[0]?.length ?? 0;
  if (columns === 0) return failed(new SheetError("#CALC!", "this formula gives no cells"), place, sentences);
  if (rows.length === 1 && columns === 1) return cellVariant(rows[0][0], place, sentences, 0, 0);
  return ArrayValueObject.create({
    calculateValueList: rows.map((row, down) => Array.from({ length: columns }, (_, right) => cellVariant(row[right], place, sentences, down, right))),
    rowCount: rows.length,
    columnCount: columns,
    unitId: place.unitId,
    sheetId: place.sheetId,
    row: place.row,
    column: place.column,
  });
}

function cellVariant(value: unknown, place: Place, sentences: ErrorSentences, down: number, right: number): any {
  if (typeof value === "number") {
    return Number.isFinite(value) ? NumberValueObject.create(value) : errorVariant("#NUM!", "the result is not a finite number", place, sentences, down, right);
  }
  if (typeof value === "string") return StringValueObject.create(value);
  if (typeof value === "boolean") return BooleanValueObject.create(value);
  if (value === null || value === undefined) return NullValueObject.create();
  const { code, message } = isErrorValue(value) ? toSheetError(value) : new SheetError("#VALUE!", "the result is of a kind a cell cannot hold");
  return errorVariant(code, message, place, sentences, down, right);
}

function readArgument(variant: any, sentences: ErrorSentences): Argument {
  if (variant.isReferenceObject()) return { kind: "cells", cells: readReference(variant, sentences) };
  if (variant.isArray()) {
    const rows: any[][] = variant.getArrayValue();
    return { kind: "cells", cells: rows.map((row) => Array.from(row, (each) => fromVariant(each))) };
  }
  // Between two commas the engine gives a null object.
  return variant.isNull() ? { kind: "omitted" } : { kind: "value", value: fromVariant(variant) };
}

function fromVariant(variant: any, sentence = ""): SheetValue {
  if (variant === null || variant === undefined || variant.isNull()) return null;
  return variant.isError() ? new SheetError(variant.getErrorType(), sentence || variant.getErrorContent?.()) : variant.getValue();
}

const BOOLEAN = 3;
const STRING = 1;
const FORCED_STRING = 4;

function readReference(reference: any, sentences: ErrorSentences): SheetValue[][] {
  const sheetId = reference.getForcedSheetId?.() || reference.getDefaultSheetId?.() || "";
  const missingSheet = reference.getForcedSheetName?.() && !reference.getForcedSheetId?.();
  const { startRow, endRow, startColumn, endColumn } = reference.getRangePosition();
  if (missingSheet || startRow < 0 || startColumn < 0) return [[new SheetError("#REF!")]];
  const rows: SheetValue[][] = [];
  for (let row = startRow; row <= endRow; row++) {
    const cells: SheetValue[] = [];
    for (let column = startColumn; column <= endColumn; column++) {
      // Results of this very calculation, spilled cells and stored cells alike.
      const cell = reference.getCellData(row, column);
      cells.push(fromCell(cell, reference, () => sentences.get(sheetId, row, column)));
    }
    rows.push(cells);
  }
  return rows;
}

function fromCell(cell: any, reference: any, sentence: () => string | undefined): SheetValue {
  const value = cell?.v;
  if (value === null || value === undefined || value === "") return null;
  if (typeof value === "number") return cell.t === BOOLEAN ? value !== 0 : value;
  if (typeof value === "boolean") return value;
  // Text that was written as text stays text, "#N/A" typed by hand included; a formula's text may be an error.
  if (cell.t === FORCED_STRING || (cell.t === STRING && !value.startsWith("#"))) return String(value);
  return fromVariant(reference.getCellValueObject(cell), sentence());
}
