import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { ParameterMetadata } from "../../../taskpane/host/embedded/FunctionMetadata.ts";
import { marshal, type Argument, type SheetValue } from "../../../taskpane/host/embedded/marshal.ts";
import { isErrorValue, SheetError, toSheetError } from "../../../taskpane/host/embedded/SheetError.ts";

const parameter = (type: ParameterMetadata["type"], more: Partial<ParameterMetadata> = {}): ParameterMetadata => ({ name: "x", type, ...more });
const matrix = (type: ParameterMetadata["type"]) => parameter(type, { dimensionality: "matrix" });
const value = (each: SheetValue): Argument => ({ kind: "value", value: each });
const cells = (...rows: SheetValue[][]): Argument => ({ kind: "cells", cells: rows });

describe("marshal", () => {
  test("gives null for what is left out, one entry per parameter", () => {
    expect(marshal([parameter("any"), matrix("any"), parameter("number", { optional: true })], [{ kind: "omitted" }])).toEqual([null, null, null]);
  });

  test("gives rows of values for a range, also for a single value", () => {
    expect(marshal([matrix("any"), matrix("any")], [cells([1, "a"], [true, 2]), value(3)])).toEqual([[[1, "a"], [true, 2]], [[3]]]);
  });

  // As on the desktop: Microsoft's documentation and issue office-js 1951.
  test("gives 0 for a blank cell inside a range, and null for a blank cell alone", () => {
    expect(marshal([matrix("any"), parameter("any"), parameter("number"), parameter("string")], [cells([null, 1]), cells([null]), cells([null]), cells([null])])).toEqual([[[0, 1]], null, 0, ""]);
  });

  test("turns a value into the type the parameter asks for", () => {
    const numbers = ["5", true, 2.5].map((each) => marshal([parameter("number")], [value(each)])[0]);
    expect(numbers).toEqual([5, 1, 2.5]);
    const texts = ["a", true, 2.5].map((each) => marshal([parameter("string")], [value(each)])[0]);
    expect(texts).toEqual(["a", "TRUE", "2.5"]);
    const flags = ["true", "FALSE", 1, 0, false].map((each) => marshal([parameter("boolean")], [value(each)])[0]);
    expect(flags).toEqual([true, false, true, false, false]);
  });

  test("refuses text where a number is asked for, naming the parameter", () => {
    expect(() => marshal([parameter("number")], [value("high")])).toThrow("x requires a number");
    expect(() => marshal([parameter("number")], [value(" ")])).toThrow("x requires a number");
  });

  test("refuses a range where a single cell is asked for", () => {
    expect(() => marshal([parameter("any")], [cells([1, 2])])).toThrow("x requires a single cell");
  });

  test("hands an error on to a parameter of any type, and answers with it for the others", () => {
    const error = new SheetError("#N/A", "there is no flight");
    expect(marshal([matrix("any"), parameter("any")], [cells([error]), value(error)])).toEqual([[[error]], error]);
    expect(() => marshal([parameter("number")], [value(error)])).toThrow(error);
    expect(() => marshal([matrix("number")], [cells([1, error])])).toThrow(error);
  });

  test("gathers what is left for a repeating parameter", () => {
    expect(marshal([parameter("any"), parameter("number", { repeating: true })], [value("a"), value(1), value(2)])).toEqual(["a", [1, 2]]);
    expect(marshal([parameter("number", { repeating: true })], [])).toEqual([[]]);
  });

  test("changes nothing in a range of numbers, texts and booleans", () => {
    const cell = fc.oneof(fc.double({ noNaN: true }), fc.string(), fc.boolean());
    fc.assert(
      fc.property(fc.array(fc.tuple(cell, cell), { minLength: 1 }), (rows) => {
        expect(marshal([matrix("any")], [{ kind: "cells", cells: rows }])).toEqual([rows]);
      }),
    );
  });
});

describe("errors of cells", () => {
  test("keep a known code with its sentence, and count as a wrong value without one", () => {
    expect(toSheetError(Object.assign(new Error("no flight"), { code: "#N/A" }))).toMatchObject({ code: "#N/A", message: "no flight" });
    expect(toSheetError(new TypeError("x is undefined"))).toMatchObject({ code: "#VALUE!", message: "x is undefined" });
    expect(toSheetError("broken")).toMatchObject({ code: "#VALUE!", message: "broken" });
    expect(toSheetError(undefined)).toMatchObject({ code: "#VALUE!" });
  });

  test("are told from values that only look like them", () => {
    expect(isErrorValue({ code: "#N/A" })).toBe(true);
    for (const each of ["#N/A", { code: 5 }, { code: "#NO" }, null, undefined, 1]) expect(isErrorValue(each)).toBe(false);
  });
});
